"""Sizes of a piece: flat, and made up; and what reaches a width wished for."""

from __future__ import annotations

from math import ceil
from typing import TYPE_CHECKING

from stripewright.catalogue import N_, _
from stripewright.compute.worked import FinishedSize

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stripewright.compute.worked import WorkedGauge, WorkedJoin
    from stripewright.compute.worked_piece import WorkedPiece

SEAM_STITCHES = 2
"""Stitches of a panel that two sewn side edges take up, one each (common practice, no source)."""

_FUZZ = 1e-9
"""So that a width reached exactly isn't missed by the last bit of a float."""


def flat_width(form: str, stitches: int, gauge: WorkedGauge) -> float:
    """Width in cm laid flat: a tube is half its girth wide. Source: geometry."""
    across = stitches / gauge.stitches_per_cm
    return across / 2 if form == "tube" else across


def is_bag(form: str, sides: str, fold: int | None, rows: int) -> bool:
    """Whether a panel is folded over about its middle and its sides are sewn layer to layer.

    A fold in the middle third of the visible rows makes a bag; one nearer to an end is a hem or
    a cuff, and the sides are then sewn to each other, into a tube.
    """
    if form == "tube" or sides != "seamed" or fold is None:
        return False
    return rows <= 3 * fold <= 2 * rows


def made_up_width(
    form: str, sides: str, stitches: int, make: int, gauge: WorkedGauge, *, bag: bool = False
) -> float:
    """Width in cm once made up.

    A tube, or a panel with open sides, stays as wide as it lies flat. A panel whose sides are
    seamed to each other becomes a tube of two stitches less; folded into a bag it only loses the
    two stitches. Panels joined side by side make one cloth, that loses two stitches at each join.
    Source: geometry; the stitches that a seam takes up are common practice, no source.
    """
    if form == "tube" or sides == "open":
        return flat_width(form, stitches, gauge)
    if sides == "seamed":
        layers = 1 if bag else 2
        return max(stitches - SEAM_STITCHES, 1) / gauge.stitches_per_cm / layers
    return max(make * stitches - SEAM_STITCHES * (make - 1), 1) / gauge.stitches_per_cm


def made_up_length(rows: int, fold: int | None, gauge: WorkedGauge) -> float:
    """Length in cm of the visible rows once made up: folded, the longer part. Source: geometry."""
    longest = rows if fold is None else max(fold, rows - fold)
    return longest / gauge.rows_per_cm


def needles_to_width(form: str, width: float, gauge: WorkedGauge) -> int:
    """The fewest needles whose fabric, laid flat, is at least `width` cm wide."""
    layers = 2 if form == "tube" else 1
    return ceil(width * layers * gauge.stitches_per_cm - _FUZZ)


def panels_to_width(stitches: int, width: float, gauge: WorkedGauge) -> int:
    """The fewest panels of `stitches` that, joined side by side, are at least `width` cm wide."""
    wanted = width * gauge.stitches_per_cm
    each = max(stitches - SEAM_STITCHES, 1)
    return max(1, ceil((wanted - SEAM_STITCHES) / each - _FUZZ))


_SOLIDS = {"round": N_("filled, round"), "ring": N_("a filled ring")}
"""How a filled piece is told, by its kind."""


def finished_sizes(
    kind: str, pieces: Sequence[WorkedPiece], joined: WorkedJoin | None = None
) -> tuple[FinishedSize, ...]:
    """The pieces that show, panels that are joined as one; a lining is inside and has none."""
    shown = [piece for piece in pieces if piece.lining_of is None] or pieces
    if joined is None:
        return tuple(_finished(piece, flat=kind == "scarf") for piece in shown)
    note = _("{number} panels joined", number=len(joined.order))
    whole = FinishedSize(
        _(kind).capitalize() if kind != "other" else _("The whole"),
        joined.width_cm,
        joined.length_cm,
        note=note,
    )
    rest = (piece for piece in shown if piece.sides != "joined")
    return (whole, *(_finished(piece, flat=kind == "scarf") for piece in rest))


def _finished(piece: WorkedPiece, *, flat: bool) -> FinishedSize:
    """A piece made up. What is worn flat has a width, other tubes a girth."""
    title = (
        _("{piece}, each of {number}", piece=piece.title, number=piece.make)
        if piece.make > 1
        else piece.title
    )
    if piece.solid:
        solid = piece.solid
        note = _(_SOLIDS.get(solid.kind, N_("filled")))
        return FinishedSize(
            title,
            solid.width_cm,
            solid.length_cm,
            solid.thickness_cm,
            solid.low_length_cm,
            across=solid.kind == "ring",
            note=note,
        )
    if piece.ring:
        return FinishedSize(
            title,
            piece.made_up_length_cm,
            piece.flat_width_cm,
            around=True,
            note=_("a ring of two layers"),
        )
    around = not flat and piece.form == "tube" and piece.girth_cm is not None
    width = piece.girth_cm if around and piece.girth_cm is not None else piece.made_up_width_cm
    note = _("folded") if piece.fold is not None else ""
    if piece.brim:
        note = f"{note}, {_('brim turned up')}" if note else _("brim turned up")
    return FinishedSize(title, width, piece.made_up_length_cm, around=around, note=note)
