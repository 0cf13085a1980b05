"""What drawings of a paid pattern show where its maker reveals the heights of stripes.

The true share of each stripe in its piece, and nothing else of what is kept: all numbers are those
of the public twin. A drawing can be measured, so rows can be worked out from it.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from stripewright.compute.brim import nominal_brim
from stripewright.compute.events import events_of
from stripewright.compute.public import equal_bands
from stripewright.compute.worked_piece import PlanLine

if TYPE_CHECKING:
    from stripewright.compute.worked import WorkedPattern
    from stripewright.compute.worked_piece import WorkedPiece

HEIGHTS = "heights"
"""What `reveal:` says."""


def true_heights(worked: WorkedPattern) -> WorkedPattern | None:
    """The public twin whose stripes have their true share of each piece: for drawings alone.

    Rows can be worked out from such drawings. None unless the maker reveals the heights.
    """
    if worked.pattern.reveal != HEIGHTS:
        return None
    twin = equal_bands(worked)
    pieces = zip(twin.pieces, worked.pieces, strict=True)
    return replace(twin, pieces=tuple(_true_heights(one, true) for one, true in pieces))


def _true_heights(piece: WorkedPiece, true: WorkedPiece) -> WorkedPiece:
    """A piece of the twin with the visible rows of the true one's stripes."""
    plan: list[PlanLine] = []
    for line in true.plan:
        if line.visible > 0:
            done = plan[-1].last if plan else 0
            plan.append(PlanLine(line.letter, line.yarn, done + 1, done + line.visible))
    if not plan:
        return piece
    rows = plan[-1].last
    seen = replace(
        piece,
        plan=tuple(plan),
        brim=None,
        fold=None if piece.fold is None else max(rows // 2, 1),
        openings=tuple(
            replace(gap, first=rows // 3 + 1, last=max(2 * rows // 3, rows // 3 + 1))
            for gap in piece.openings
        ),
    )
    if piece.brim is not None:
        seen = replace(nominal_brim(seen), made_up_length_cm=piece.made_up_length_cm)
    return replace(seen, events=events_of(seen))
