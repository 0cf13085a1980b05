"""Time: knitting and making up, as ranges."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stripewright.compute.worked import Figure, WorkedTime

if TYPE_CHECKING:
    from collections.abc import Iterable

    from stripewright.compute.worked import WorkedPiece
    from stripewright.pattern.pattern import Pace

QUICK, SLOW = 0.8, 1.5
"""A quick and a slow maker against the stated pace (common practice, no source)."""


def work_time(pieces: Iterable[WorkedPiece], waste_rows: int, pace: Pace) -> WorkedTime:
    """Minutes to knit and to make up, each a range from `QUICK` to `SLOW` times the pace.

    Args:
        pieces: each knitted `make` times.
        waste_rows: rows of waste yarn at each end of each piece.
        pace: rows a minute, minutes a change, minutes to set a piece up and to make up the whole.
    """
    knitting = 0.0
    for piece in pieces:
        rows = piece.worked_rows + 2 * waste_rows
        once = rows / pace.rows_per_minute + len(piece.changes) * pace.change_minutes
        knitting += piece.make * (once + pace.setup_minutes)
    making_up = pace.making_up_minutes
    return WorkedTime(_range(knitting), _range(making_up), _range(knitting + making_up))


def _range(minutes: float) -> Figure:
    return Figure(minutes, minutes * QUICK, minutes * SLOW, estimated=True)
