"""Panels joined side by side: their order, and the size of the whole."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from stripewright.catalogue import say
from stripewright.compute.size import SEAM_STITCHES
from stripewright.compute.worked import WorkedJoin

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stripewright.compute.notes import Notes
    from stripewright.compute.worked import WorkedGauge
    from stripewright.compute.worked_piece import WorkedPiece


def joined_of(
    order: Sequence[str], pieces: Sequence[WorkedPiece], gauge: WorkedGauge, notes: Notes
) -> WorkedJoin | None:
    """The panels of a pattern whose sides are joined, as one cloth; None for less than two.

    The whole loses two stitches at each join, one of each panel. Panels of different lengths are
    warned of, and so are those that the order leaves out.

    Args:
        order: keys of the panels, side by side, as the author wrote them; empty for the pieces in
            their own order, each as often as it is made.
        pieces: all pieces.
        gauge: of the pattern.
        notes: where problems go.

    Source: geometry; the stitches that a seam takes up are common practice, no source.
    """
    panels = {piece.key: piece for piece in pieces if piece.sides == "joined"}
    _check(order, panels, notes)
    if order:
        laid = tuple(key for key in order if key in panels)
    else:
        laid = tuple(piece.key for piece in panels.values() for _ in range(piece.make))
    if len(laid) < 2:
        return None
    stitches = sum(panels[key].stitches for key in laid) - SEAM_STITCHES * (len(laid) - 1)
    length = max(panels[key].made_up_length_cm for key in laid)
    return WorkedJoin(laid, max(stitches, 1) / gauge.stitches_per_cm, length)


def fringed(join: WorkedJoin | None, pieces: list[WorkedPiece]) -> list[WorkedPiece]:
    """The pieces, a fringe that is alike on all panels of one cloth counted along the whole.

    The first tassel sits at the cloth's side edge, and one every so many stitches from there; a
    seam has taken one stitch of each panel.
    """
    panels = {piece.key: piece for piece in pieces if join and piece.key in join.order}
    kinds = {piece.fringe and replace(piece.fringe, tassels=0) for piece in panels.values()}
    if join is None or None in kinds or len(kinds) > 1:
        return pieces
    found = dict.fromkeys(panels, 0)
    done, last = 0, len(join.order) - 1
    for at, key in enumerate(join.order):
        fringe = panels[key].fringe
        end = done + panels[key].stitches - (at > 0) - (at < last)
        if fringe and fringe.every:
            found[key] += _up_to(end, fringe.every) - _up_to(done, fringe.every)
        done = end
    return [
        replace(one, fringe=replace(one.fringe, along=found[one.key]))
        if one.fringe and one.key in found
        else one
        for one in pieces
    ]


def _up_to(stitches: int, every: int) -> int:
    """Tassels on so many stitches from the side edge on."""
    return (stitches + every - 1) // every


def _check(order: Sequence[str], panels: dict[str, WorkedPiece], notes: Notes) -> None:
    for number, key in enumerate(order):
        if key not in panels:
            notes.error(
                ("join", number),
                say("{key} has no sides to join", key),
                say("write sides: joined for {key}, or take it out", key),
            )
    for key in panels:
        if order and key not in order:
            notes.error(
                ("join",),
                say("{key} is joined, and lies nowhere", key),
                say("add {key} to join", key),
            )
    lengths: dict[int, str] = {}
    for key, piece in panels.items():
        lengths.setdefault(piece.visible_rows, key)
    if len(lengths) > 1:
        (rows, one), *_, (others, other) = sorted(lengths.items())
        notes.warning(
            ("pieces", one),
            say(
                "{one} shows {rows} rows and {other} {others}, so their ends don't meet when "
                "joined",
                one,
                rows,
                other,
                others,
            ),
            say(
                "give {one} {others} rows more, or {other} as many less", one, others - rows, other
            ),
        )
