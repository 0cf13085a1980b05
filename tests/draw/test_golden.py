"""Golden drawings: one of each kind, looked at, kept, and compared line by line.

    pytest tests/draw --renew -s

writes them anew and prints what changed; look at the pictures before keeping them.
"""

from __future__ import annotations

import re
from difflib import unified_diff
from pathlib import Path

import pytest

from stripewright.draw.draw import draw_all
from stripewright.words.written import Prose, Step, StepGroup, Written
from support.drawn import KINDS, kind

GOLDEN = Path(__file__).parent / "golden"
LARGEST = 12_000
"""Bytes; a golden drawing stays small enough to read."""


def readable(svg: str) -> str:
    """One element a line, so that a difference says what moved."""
    return re.sub(r"(?<=>)(?=<(?!/(?:text|title|desc)))", "\n", svg) + "\n"


STEPS = {
    "cushion": [
        ("seam_end", "cover"), ("seam_end", "lining"), ("line", None), ("fill", "lining"),
        ("close_seam", "lining"), ("close_seam", "cover"),
    ],
    "hat": [("gather", "hat"), ("fold_layers", "hat"), ("weave_in", None)],
}  # fmt: skip
"""Making up as techniques and pieces: what words call them is tested elsewhere."""


def plain_words(name: str) -> Written:
    """Steps that are named by their techniques, counted from 9."""
    steps = tuple(
        Step(number, f"making-up.{number}", do.replace("_", " "), "", piece, do)
        for number, (do, piece) in enumerate(STEPS.get(name, []), 9)
    )
    nothing = Prose("", ())
    return Written((StepGroup("making-up", "Making up", steps),), (), nothing, nothing)


def drawings_of(name: str) -> dict[str, str]:
    """The finished view of a kind; for a cushion and a hat every drawing."""
    worked = kind(name)
    drawings = draw_all(worked, plain_words(name), prefix=worked.slug)
    shown = drawings.everything() if name in ("cushion", "hat") else (drawings.finished,)
    return {f"{drawing.name}.svg": readable(drawing.svg) for drawing in shown}


@pytest.mark.parametrize("name", KINDS)
def test_drawings_are_the_golden_ones(name: str, renewing: bool) -> None:
    for file, drawn in drawings_of(name).items():
        path = GOLDEN / file
        kept = path.read_text(encoding="utf-8") if path.is_file() else ""
        difference = "".join(
            unified_diff(kept.splitlines(True), drawn.splitlines(True), file, "now")
        )
        if renewing and difference:
            print(difference)
            GOLDEN.mkdir(exist_ok=True)
            path.write_text(drawn, encoding="utf-8")
        else:
            assert not difference, difference
        assert len(drawn) < LARGEST


def test_no_golden_drawing_is_orphaned() -> None:
    expected = {file for name in KINDS for file in drawings_of(name)}
    assert {path.name for path in GOLDEN.iterdir()} == expected
