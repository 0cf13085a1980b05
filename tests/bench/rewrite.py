"""Files in every style, changed at random and written back: `python tests/bench/rewrite.py [files]`.

Each is looked at as the suite's few are: what was meant is what is read again, and no line differs
that wasn't changed.
"""

from __future__ import annotations

import statistics
import sys
import time
from pathlib import Path
from random import Random

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from stripewright.preview.easel.rewrite import NotWritten, rewritten
from support.written_files import NAME, a_change, a_file, holds


def main(files: int = 1000) -> None:
    refused, times = 0, []
    for seed in range(files):
        rng = Random(seed)
        file = a_file(rng)
        wanted = a_change(rng, file.front)
        assert rewritten(file.data, NAME, file.front) == file.data
        begun = time.perf_counter()
        try:
            holds(file, wanted)
        except NotWritten:
            refused += 1
        times.append((time.perf_counter() - begun) * 1000)
    p95 = sorted(times)[int(files * 0.95)]
    print(
        f"{files} files: {refused} refused; p50 {statistics.median(times):.1f} ms, p95 {p95:.1f} ms, with the looking"
    )


if __name__ == "__main__":
    main(*map(int, sys.argv[1:]))
