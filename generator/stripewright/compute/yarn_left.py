"""Rows left of each yarn: what there is of it, less what the pattern takes, in rows of a piece."""

from __future__ import annotations

from math import floor
from typing import TYPE_CHECKING

from stripewright.compute.yarn import metres_per_gram

if TYPE_CHECKING:
    from collections.abc import Mapping

    from stripewright.compute.worked import WorkedPattern, WorkedYarn
    from stripewright.compute.worked_piece import WorkedPiece

_FUZZ = 1e-9


def rows_left(
    worked: WorkedPattern, piece: WorkedPiece, left_g: Mapping[str, float]
) -> dict[str, int]:
    """Whole rows of a piece, as often as it is made, that are left of each yarn; no margin kept.

    Args:
        worked: the pattern as it is now.
        piece: whose stitches a row has.
        left_g: what the stash has of yarns that come from it, in g, by their keys. Of others there
            is what has to be bought.

    Returns:
        Rows by yarn key, below 0 where more is taken than there is; a yarn of which nothing says
        how much there is isn't in it. A marl has the rows of its yarn that runs out first.
    """
    spare: dict[str, float] = {}
    row_m = piece.stitches * piece.make * worked.loop_cm.value / 100
    for yarn in worked.yarns:
        there = _there_is(worked, yarn, left_g)
        if there is not None and yarn.length_m is not None:
            spare[yarn.key] = (there - yarn.length_m.value) / (row_m * yarn.strands)
    for yarn in worked.yarns:
        if yarn.marl and all(key in spare for key in yarn.marl):
            spare[yarn.key] = min(spare[key] for key in yarn.marl)
    return {key: floor(rows + _FUZZ) for key, rows in spare.items()}


def _there_is(worked: WorkedPattern, yarn: WorkedYarn, left_g: Mapping[str, float]) -> float | None:
    """What there is of a yarn in m."""
    if yarn.key in left_g:
        reach = metres_per_gram(worked.pattern.yarns[yarn.key])
        if reach is None and yarn.mass_g and yarn.length_m and yarn.mass_g.value:
            reach = yarn.length_m.value / yarn.mass_g.value
        return None if reach is None else left_g[yarn.key] * reach
    return yarn.balls.balls * yarn.balls.length_m if yarn.balls else None
