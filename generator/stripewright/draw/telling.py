"""What a drawing shows, in words: its title and its description."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stripewright.catalogue import _, n_
from stripewright.figures import counted, listed, rc
from stripewright.words.pieces import the

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stripewright.compute.worked import WorkedPattern
    from stripewright.compute.worked_piece import PlanLine, WorkedPiece
    from stripewright.figures import Figures
    from stripewright.words.written import ToldEvent

_MOST = 12
"""Stripes told one by one; the table beside the drawing has all of them."""


def schematic_words(
    worked: WorkedPattern, piece: WorkedPiece, figures: Figures, events: Sequence[ToldEvent] = ()
) -> tuple[str, str]:
    """Title and description of a schematic, with what happens on the way."""
    title = _(
        "{pattern}: schematic of {piece}", pattern=worked.pattern.title, piece=the(piece.title)
    )
    form = _("A tube, laid flat") if piece.form == "tube" else _("A panel")
    if worked.nominal:
        return title, _(
            "{form}, from the cast-on edge up: {stripes}.", form=form, stripes=_order(piece.plan)
        )
    wide, long = (
        figures.measure("cm", cm).own for cm in (piece.flat_width_cm, piece.finished_length_cm)
    )
    told = "; ".join(_stripe(worked, line) for line in piece.plan[:_MOST])
    more = len(piece.plan) - _MOST
    if more > 0:
        told += n_(
            "; and {number} more stripe, which the table lists",
            "; and {number} more stripes, which the table lists",
            more,
        )
    whole = _(
        "{form}, {width} wide and {length} long, {stitches} and {rows}, "
        "from the cast-on edge up: {stripes}.",
        form=form,
        width=wide,
        length=long,
        stitches=counted(piece.stitches, "stitch", "stitches"),
        rows=counted(piece.worked_rows, "row", "rows"),
        stripes=told,
    )
    way = "; ".join(f"{event.title}, {rc(event.row)}" for event in events)
    return title, f"{whole} {_('On the way: {events}.', events=way)}" if way else whole


def _stripe(worked: WorkedPattern, line: PlanLine) -> str:
    name = worked.yarn(line.yarn).name
    if not line.rows:
        return _(
            "{yarn} {rows} by grafting",
            yarn=f"{line.letter} ({name})",
            rows=counted(line.grafted, "row", "rows"),
        )
    return _(
        "{yarn} {rows} to {reading}",
        yarn=f"{line.letter} ({name})",
        rows=counted(line.rows, "row", "rows"),
        reading=rc(line.last),
    )


def _order(plan: tuple[PlanLine, ...]) -> str:
    letters = [line.letter for line in plan]
    shown = " ".join(letters[: 4 * _MOST])
    more = len(letters) - 4 * _MOST
    if more > 0:
        return _("stripes {letters} and {number} more", letters=shown, number=more)
    return _("stripes {letters}", letters=shown)


def strip_words(worked: WorkedPattern, piece: WorkedPiece) -> tuple[str, str]:
    """Title and description of a stripe strip."""
    used = ", ".join(
        f"{yarn.letter} {yarn.name}" for yarn in worked.yarns if yarn.key in piece.yarns
    )
    return (
        _("{pattern}: order of colours", pattern=worked.pattern.title),
        _(
            "Order of colours of {piece}: {stripes} ({yarns}).",
            piece=the(piece.title),
            stripes=_order(piece.plan),
            yarns=used,
        ),
    )


def finished_words(worked: WorkedPattern, piece: WorkedPiece) -> tuple[str, str]:
    """Title and description of the finished view."""
    names = [worked.yarn(key).name for key in piece.yarns]
    kind = _(worked.pattern.kind) if worked.pattern.kind != "other" else piece.title
    title = _("{pattern}, finished", pattern=worked.pattern.title)
    if len(piece.plan) == 1:
        return title, _(
            "A drawing of the finished {kind}, plain, in {yarns}.", kind=kind, yarns=listed(names)
        )
    whole = _(
        "A drawing of the finished {kind}, with {number} stripes, in {yarns}.",
        kind=kind,
        number=len(piece.plan),
        yarns=listed(names),
    )
    return title, f"{whole} {_('Its brim is turned up.')}" if piece.brim else whole


def assembly_words(worked: WorkedPattern, told: list[str]) -> tuple[str, str]:
    """Title and description of the assembly."""
    pieces = "; ".join(
        _("{piece}, {number} alike", piece=piece.title, number=piece.make)
        if piece.make > 1
        else piece.title
        for piece in worked.pieces
    )
    whole = _("The pieces at one scale: {pieces}.", pieces=pieces)
    title = _("{pattern}: assembly", pattern=worked.pattern.title)
    return title, " ".join([whole, *told])
