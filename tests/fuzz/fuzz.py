"""A coverage-guided fuzzer over every kind of file and the whole line. Run by hand:

    pip install -e ".[test,fuzz]"
    python tests/fuzz/fuzz.py file -runs=100000 -max_len=300 -len_control=0 -rss_limit_mb=900 corpus/

The first word says of what: `file` (all kinds, one in fifty on paper), `template` (a text of
templates in a sound pattern), `paper` (patterns and sheets, each with its PDFs), `sheet` (planning
sheets, each with its PDF), `picture` (photos for a page, and pictures of coloured sheets). Bytes from the fuzzer decide how a valid file is altered (see `support/mutations.py`), so that its
coverage leads through the stages and not only through the reader. Options are libFuzzer's. At the
end, and every thousand inputs, a line on stderr says how many files were made, how many refused,
the longest time that one took, and the memory in use. Each file that breaks a promise is kept in
`broken/` beside the corpus, told in one line, and the run goes on.
"""

from __future__ import annotations

import atexit
import gc
import hashlib
import resource
import sys
import tempfile
import time
import traceback
from pathlib import Path
from typing import TYPE_CHECKING

import atheris

sys.path[:0] = [str(Path(__file__).resolve().parents[1])]
with atheris.instrument_imports(include=["stripewright"]):
    from hostile.test_any_file import MADE, REFUSED
    from stripewright.camera.read import read_pictures
    from stripewright.pipeline.photos import clean_photo
    from stripewright.problems import Place, Problem, has_errors
    from support.mutations import KINDS, any_file, any_picture, any_template
    from support.whole_line import MOST_CPU_S, demo, through

if TYPE_CHECKING:
    from collections.abc import Callable

WHAT = sys.argv.pop(1) if sys.argv[1:2] else "file"
HEAVY = (*REFUSED.values(), *MADE.values())
"""Files that ask for much: what they are altered to must be refused or made as soon."""


BROKEN = Path(sys.argv[-1]).parent / "broken" if len(sys.argv) > 1 else Path("broken")
EVERY_PAPER = 50
"""One file in so many is set on paper too; each takes as long as the rest of these together."""

told = {"inputs": 0, "made": 0, "refused": 0, "broken": 0}
longest = [0.0]
begun = time.monotonic()
seen: set[str] = set()
scratch = tempfile.mkdtemp(prefix="stripewright-fuzz-")


def one(data: bytes) -> None:
    """Take what these bytes describe through the line."""
    chance = atheris.FuzzedDataProvider(data)
    kind, file = made_of(lambda n: chance.ConsumeIntInRange(0, n - 1) if n > 1 else 0)
    told["inputs"] += 1
    before = time.process_time()
    try:
        problems = photographed(file) if kind == "picture" else through(kind, file, paper=papered())
        told["refused" if has_errors(problems) else "made"] += 1
    except Exception as fault:  # noqa: BLE001  # whatever it is, it is kept and the run goes on
        told["broken"] += 1
        keep(kind, file, fault)
    longest[0] = max(longest[0], time.process_time() - before)
    if told["inputs"] % 1000 == 0:
        tell()


def made_of(pick: Callable[[int], int]) -> tuple[str, bytes]:
    """A kind of file and its bytes, of what is fuzzed."""
    if WHAT == "template":
        return "patterns", any_template(pick)
    if WHAT == "picture":
        return "picture", any_picture(pick)
    kinds = {"file": KINDS, "sheet": ("sheets",), "paper": ("patterns", "sheets")}[WHAT]
    while True:
        kind, file = any_file(pick, HEAVY)
        if kind in kinds:
            return kind, file


def papered() -> bool:
    return WHAT in ("paper", "sheet") or told["inputs"] % EVERY_PAPER == 0


def photographed(file: bytes) -> list[Problem]:
    """A picture as a page's photo, and as one of a coloured sheet."""
    before = time.process_time()
    path = Path(scratch, "it.jpg")
    path.write_bytes(file)
    _, problems = clean_photo(path, Place("content/patterns/it.md", 3, 1))
    _, found = read_pictures([("it.jpg", file)])
    taken = time.process_time() - before
    assert taken < MOST_CPU_S, f"{taken:.1f} s"
    assert all(problem.message for problem in [*problems, *found])
    return [*problems, *found]


def keep(kind: str, file: bytes, fault: Exception) -> None:
    """Keep a file that broke a promise, once a place in the code; each that took too long.

    What the fuzzer watches runs about three times as slow: time those kept without it.
    """
    where = traceback.extract_tb(fault.__traceback__)[-1]
    key = f"{type(fault).__name__}-{Path(where.filename).stem}-{where.lineno}"
    if isinstance(fault, AssertionError) and str(fault).endswith(" s"):
        key = f"slow-{hashlib.sha256(file).hexdigest()[:8]}"
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
