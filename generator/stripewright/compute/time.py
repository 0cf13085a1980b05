"""Time: knitting and making up, as ranges."""

from __future__ import annotations

from math import fsum
from typing import TYPE_CHECKING

from stripewright.compute.tails import edge_length, side_seams
from stripewright.compute.worked import Figure, WorkedTime

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stripewright.compute.worked import WorkedFilling
    from stripewright.compute.worked_piece import WorkedPiece
    from stripewright.pattern.making import Pace

QUICK, SLOW = 0.8, 1.5
"""A quick and a slow maker against the stated pace (common practice, no source)."""


def work_time(
    pieces: Sequence[WorkedPiece], waste_rows: int, filling: WorkedFilling | None, pace: Pace
) -> WorkedTime:
    """Minutes to knit and to make up, each a range from `QUICK` to `SLOW` times the pace.

    Args:
        pieces: each knitted `make` times.
        waste_rows: rows of waste yarn at each end of each piece.
        filling: of all filled pieces.
        pace: the author's, in minutes and rows or cm a minute.
    """
    knitting = fsum(piece.make * _knitting(piece, waste_rows, pace) for piece in pieces)
    making_up = pace.making_up_minutes
    if making_up is None:
        grams = 0.0 if filling is None else filling.mass_g.value
        making_up = pace.finishing_minutes + pace.fill_minutes * grams / 100
        making_up += fsum(_sewing(piece, pieces, pace) for piece in pieces)
    return WorkedTime(_range(knitting), _range(making_up), _range(knitting + making_up))


def _knitting(piece: WorkedPiece, waste_rows: int, pace: Pace) -> float:
    """Minutes at the machine for one of a piece."""
    rows = piece.worked_rows + 2 * waste_rows
    return (
        rows / pace.rows_per_minute
        + len(piece.changes) * pace.change_minutes
        + (pace.setup_minutes)
    )


def _sewing(piece: WorkedPiece, pieces: Sequence[WorkedPiece], pace: Pace) -> float:
    """Minutes with needle and hook for all of a piece: ends, sides, tails, fringe, sewing on.

    Every end is gone along once, a ring's two at a time; each side seam is as long as the piece.
    Source: common practice, no source.
    """
    edges = piece.ends[1:] if piece.ring else piece.ends
    sewn = fsum(edge_length(piece, end.edge) for end in edges) * piece.make
    sewn += side_seams(piece, pieces) * piece.made_up_length_cm
    tails = piece.make * (piece.cut_tails + 2)
    tassels = 2 * piece.all_tassels
    sewn_on = 0 if piece.attachment is None else piece.make
    return (
        sewn / pace.seam_cm_per_minute
        + tails * pace.tail_minutes
        + tassels * pace.tassel_minutes
        + sewn_on * pace.attach_minutes
    )


def _range(minutes: float) -> Figure:
    return Figure(minutes, minutes * QUICK, minutes * SLOW, estimated=True)
