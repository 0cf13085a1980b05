"""What the outside of a piece shows: folded, and with its brim turned up."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stripewright.draw.along import Band, between, stripes, turned

if TYPE_CHECKING:
    from stripewright.compute.worked_piece import WorkedPiece


def outer(piece: WorkedPiece) -> tuple[list[Band], float]:
    """The stripes of the outside, cast-on end first, and how long they are in cm.

    A folded piece shows the part that isn't inside, from its fold on; what a turned-up brim takes
    from the edge is left off, and what it covers is there.
    """
    found, length = _outside(piece)
    if piece.brim is None:
        return found, length
    part = piece.brim.rows / piece.brim.outer
    below = at_foot(piece)
    found = between(found, part, 1.0) if below else between(found, 0.0, 1 - part)
    return found, length * (1 - part)


def _outside(piece: WorkedPiece) -> tuple[list[Band], float]:
    found = stripes(piece)
    if not piece.fold:
        return found, piece.finished_length_cm
    share = (piece.fold - piece.hidden_first) / (piece.visible_rows or 1)
    if not 0 < share < 1:
        return found, piece.finished_length_cm
    if piece.inside == "last":
        return turned(between(found, 0.0, share)), piece.finished_length_cm * share
    return between(found, share, 1.0), piece.finished_length_cm * (1 - share)


def at_foot(piece: WorkedPiece) -> bool:
    """Whether its brim lies where `outer` begins."""
    return piece.brim is not None and (piece.brim.end == "first" or piece.fold is not None)


def cuff(piece: WorkedPiece) -> tuple[list[Band], float]:
    """The stripes of a turned-up brim, from its fold to its free edge, and its height in cm."""
    brim = piece.brim
    if brim is None:
        return [], 0.0
    found, done = [], 0
    for band in reversed(brim.bands):
        found.append((band.letter, done / brim.rows, (done + band.rows) / brim.rows))
        done += band.rows
    return found, _outside(piece)[1] * brim.rows / brim.outer
