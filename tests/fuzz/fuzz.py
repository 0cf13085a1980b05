"""A coverage-guided fuzzer over every kind of file and the whole line. Run by hand:

    pip install -e ".[test,fuzz]"
    python tests/fuzz/fuzz.py -runs=100000 -max_len=300 -len_control=0 -rss_limit_mb=300 corpus/

Bytes from the fuzzer decide how a valid file is altered (see `support/mutations.py`), so that its
coverage leads through the stages and not only through the reader. Options are libFuzzer's. At the
end, and every thousand inputs, a line on stderr says how many files were made, how many refused,
the longest time that one took, and the memory in use. Each file that breaks a promise is kept in
`broken/` beside the corpus, told in one line, and the run goes on.
"""

from __future__ import annotations

import atexit
import gc
import resource
import sys
import time
import traceback
from pathlib import Path

import atheris

sys.path[:0] = [str(Path(__file__).resolve().parents[1])]
with atheris.instrument_imports(include=["stripewright"]):
    from hostile.test_any_file import MADE, REFUSED
    from support.mutations import any_file
    from support.whole_line import demo, through

HEAVY = (*REFUSED.values(), *MADE.values())
"""Files that ask for much: what they are altered to must be refused or made as soon."""


BROKEN = Path(sys.argv[-1]).parent / "broken" if len(sys.argv) > 1 else Path("broken")
EVERY_PAPER = 50
"""One file in so many is set on paper too; each takes as long as the rest of these together."""

told = {"inputs": 0, "made": 0, "refused": 0, "broken": 0}
longest = [0.0]
begun = time.monotonic()
seen: set[str] = set()


def one(data: bytes) -> None:
    """Take what these bytes describe through the line."""
    chance = atheris.FuzzedDataProvider(data)
    kind, file = any_file(lambda n: chance.ConsumeIntInRange(0, n - 1) if n > 1 else 0, HEAVY)
    told["inputs"] += 1
    before = time.process_time()
    try:
        problems = through(kind, file, paper=told["inputs"] % EVERY_PAPER == 0)
        told["refused" if any(p.severity == "error" for p in problems) else "made"] += 1
    except Exception as fault:  # noqa: BLE001  # whatever it is, it is kept and the run goes on
        told["broken"] += 1
        keep(kind, file, fault)
    longest[0] = max(longest[0], time.process_time() - before)
    if told["inputs"] % 1000 == 0:
        tell()


def keep(kind: str, file: bytes, fault: Exception) -> None:
    """Keep a file that broke a promise, once a place in the code."""
    where = traceback.extract_tb(fault.__traceback__)[-1]
    key = f"{type(fault).__name__}-{Path(where.filename).stem}-{where.lineno}"
    if key not in seen:
        seen.add(key)
        BROKEN.mkdir(parents=True, exist_ok=True)
        (BROKEN / f"{key}.{kind}").write_bytes(file)
        (BROKEN / f"{key}.txt").write_text("".join(traceback.format_exception(fault)))
        print(f"BROKEN {kind} {key}: {str(fault)[:200]}", file=sys.stderr, flush=True)


def tell() -> None:
    """The figures so far."""
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024
    print(f"{told}, longest {longest[0]:.2f} s of processor, peak {peak} MB, "
          f"{time.monotonic() - begun:.0f} s", file=sys.stderr, flush=True)  # fmt: skip


if __name__ == "__main__":
    demo()
    gc.freeze()
    atexit.register(tell)
    atheris.Setup(sys.argv, one)
    atheris.Fuzz()
