"""What is done in the middle of a stripe, told beside the plan as well as in the steps."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stripewright.figures import rc

if TYPE_CHECKING:
    from stripewright.compute.worked import WorkedPiece


def marks(piece: WorkedPiece) -> str:
    """A piece's openings and its fold as one sentence; empty when it has none."""
    told = [
        f"{gap.what} in rows {gap.first}–{gap.last}"
        if gap.last > gap.first
        else f"{gap.what} in row {gap.first}"
        for gap in piece.openings
    ]
    if piece.fold is not None:
        told.append(f"mark the fold at {rc(piece.fold)}")
    return f"On the way: {'; '.join(told)}." if told else ""
