"""Gestures at random on files in every style, by the page's own scripts, each file written back:
`python tests/bench/gestures.py [files]`.

Each is looked at as the suite's few are: what was meant is what is read again, and no line differs
that wasn't changed.
"""

from __future__ import annotations

import sys
import time
from pathlib import Path
from random import Random

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from support.browser import chromium
from support.written_files import gestures_at_random, holds, load_gestures


def main(files: int = 1000) -> None:
    begun, changed = time.perf_counter(), 0
    with chromium() as browser:
        page = browser.new_page()
        load_gestures(page)
        for seed in range(files):
            file, wanted = gestures_at_random(page, Random(seed))
            changed += holds(file, wanted) != file.data
    print(
        f"{files} files, {changed} changed; {time.perf_counter() - begun:.0f} s; none differs where it wasn't changed"
    )


if __name__ == "__main__":
    main(*map(int, sys.argv[1:]))
