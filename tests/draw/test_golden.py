"""Golden drawings: one of each kind, looked at, kept, and compared line by line.

    pytest tests/draw --renew -s

writes them anew and prints what changed; look at the pictures before keeping them.
"""

from __future__ import annotations

import re
from dataclasses import replace
from difflib import unified_diff
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from stripewright.draw.draw import draw_all

if TYPE_CHECKING:
    from stripewright.compute.worked import WorkedPattern
    from stripewright.words.written import Written
from support.drawn import KINDS, kind, words_of

GOLDEN = Path(__file__).parent / "golden"
LARGEST = 12_000
"""Bytes; a golden drawing stays small enough to read."""


def readable(svg: str) -> str:
    """One element a line, so that a difference says what moved."""
    return re.sub(r"(?<=>)(?=<(?!/(?:text|title|desc)))", "\n", svg) + "\n"


def plain_words(worked: WorkedPattern) -> Written:
    """A pattern's words, each step named by its technique: what words say is tested elsewhere."""
    written = words_of(worked)
    groups = tuple(
        replace(
            group,
            steps=tuple(
                replace(step, title=(step.technique or step.key).replace("_", " "))
                for step in group.steps
            ),
        )
        for group in written.groups
    )
    return replace(written, groups=groups)


def drawings_of(name: str) -> dict[str, str]:
    """The finished view of a kind; for a cushion and a hat every drawing."""
    worked = kind(name)
    drawings = draw_all(worked, plain_words(worked), prefix=worked.slug)
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
