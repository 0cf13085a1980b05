"""What a drawing shows, in words: its title and its description."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stripewright.figures import counted, listed, rc
from stripewright.words.titles import the

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stripewright.compute.worked import PlanLine, WorkedPattern, WorkedPiece
    from stripewright.figures import Figures
    from stripewright.words.written import ToldEvent

_MOST = 12
"""Stripes told one by one; the table beside the drawing has all of them."""


def schematic_words(
    worked: WorkedPattern, piece: WorkedPiece, figures: Figures, events: Sequence[ToldEvent] = ()
) -> tuple[str, str]:
    """Title and description of a schematic, with what happens on the way."""
    title = f"{worked.pattern.title}: schematic of {the(piece.title)}"
    form = "tube, laid flat" if piece.form == "tube" else "panel"
    if worked.nominal:
        return title, f"A {form}, from the cast-on edge up: {_order(piece.plan)}."
    wide, long = (
        figures.measure("cm", cm).own for cm in (piece.flat_width_cm, piece.finished_length_cm)
    )
    head = (
        f"A {form}, {wide} wide and {long} long, "
        f"{counted(piece.stitches, 'stitch', 'stitches')} and "
        f"{counted(piece.worked_rows, 'row')}, from the cast-on edge up: "
    )
    told = "; ".join(_stripe(worked, line) for line in piece.plan[:_MOST])
    more = len(piece.plan) - _MOST
    rest = f"; and {counted(more, 'more stripe')}, which the table lists" if more > 0 else ""
    way = "; ".join(f"{event.title}, {rc(event.row)}" for event in events)
    return title, f"{head}{told}{rest}.{f' On the way: {way}.' if way else ''}"


def _stripe(worked: WorkedPattern, line: PlanLine) -> str:
    name = worked.yarn(line.yarn).name
    if not line.rows:
        return f"{line.letter} ({name}) {counted(line.grafted, 'row')} by grafting"
    return f"{line.letter} ({name}) {counted(line.rows, 'row')} to {rc(line.last)}"


def _order(plan: tuple[PlanLine, ...]) -> str:
    letters = [line.letter for line in plan]
    shown = " ".join(letters[: 4 * _MOST])
    more = len(letters) - 4 * _MOST
    return f"stripes {shown}" + (f" and {more} more" if more > 0 else "")


def strip_words(worked: WorkedPattern, piece: WorkedPiece) -> tuple[str, str]:
    """Title and description of a stripe strip."""
    used = ", ".join(
        f"{yarn.letter} {yarn.name}" for yarn in worked.yarns if yarn.key in piece.yarns
    )
    return (
        f"{worked.pattern.title}: order of colours",
        f"Order of colours of {the(piece.title)}: {_order(piece.plan)} ({used}).",
    )


def finished_words(worked: WorkedPattern, piece: WorkedPiece) -> tuple[str, str]:
    """Title and description of the finished view."""
    names = [worked.yarn(key).name for key in piece.yarns]
    kind = worked.pattern.kind if worked.pattern.kind != "other" else piece.title
    stripes = "plain" if len(piece.plan) == 1 else f"with {len(piece.plan)} stripes"
    return (
        f"{worked.pattern.title}, finished",
        f"A drawing of the finished {kind}, {stripes}, in {listed(names)}.",
    )


def assembly_words(worked: WorkedPattern, told: list[str]) -> tuple[str, str]:
    """Title and description of the assembly."""
    pieces = "; ".join(
        f"{piece.title}{f', {piece.make} alike' if piece.make > 1 else ''}"
        for piece in worked.pieces
    )
    steps = f" {' '.join(told)}" if told else ""
    return f"{worked.pattern.title}: assembly", f"The pieces at one scale: {pieces}.{steps}"
