"""By hand: paid patterns made by lot through publish, texts and packs, and what is private sought.

    python tests/bench/leaks.py 500

The same is done with their twins, which differ in nothing but what they keep; every file of the
public side must be the same, byte for byte. Says how much was looked through, and every leak.
"""

from __future__ import annotations

import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from support.leaks import leaks
from support.paid import paid
from support.public_side import public_side

PACKS = 5
"""Packs made on the way: what is remembered of them is public too."""
FIRST = 2000
"""The first lot's number: other patterns than the suite's."""


def main(many: int) -> int:
    """Take so many through everything, and say what came out."""
    lots, began = range(FIRST, FIRST + many), time.monotonic()
    patterns = [paid(number) for number in lots]
    with tempfile.TemporaryDirectory() as folder:
        files = public_side(Path(folder) / "one", patterns, packs=PACKS, workers=None)
        found = leaks(files, patterns)
        print(f"{many} patterns, {len(files):,} files, {sum(map(len, files.values())):,} bytes, "
              f"{len(found)} leaks; {time.monotonic() - began:.0f} s", flush=True)  # fmt: skip
        for leak in found[:50]:
            print(leak)
        twins = [paid(number, twin=True) for number in lots]
        others = public_side(Path(folder) / "two", twins, packs=PACKS, workers=None)
    differ = sorted(
        path
        for path in files.keys() | others.keys()
        if files.get(path) != others.get(path) and not path.startswith("packs/")
    )
    print(f"{len(differ)} files differ from the twins'; {time.monotonic() - began:.0f} s")
    for path in differ[:50]:
        print(path)
    return 1 if found or differ else 0


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 500))
