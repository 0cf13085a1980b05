"""Balls to buy: how many of which size, what is left over, what it costs."""

from __future__ import annotations

from math import ceil
from typing import TYPE_CHECKING

from stripewright.compute.worked import BallCount

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stripewright.compute.worked import Figure
    from stripewright.pattern.yarns import BallOnSale

FUZZ = 1e-9
"""So that exactly one ball's worth isn't bought as two for the last bit of a float."""


def needed(length: Figure, margin: float) -> float:
    """Yarn to have at hand, in m: the margin on top; an estimate's high end, if that is more."""
    with_margin = length.value * (1 + margin)
    return max(with_margin, length.high) if length.estimated else with_margin


def ball_choices(
    on_sale: Sequence[BallOnSale], needed_m: float, used_m: float, currency: str
) -> tuple[BallCount, ...]:
    """For each size of ball on its own: how many reach `needed_m`, what is left of `used_m`.

    Lengths in m. An unpriced size has no cost; a price without a currency is in `currency`.
    """
    counts = []
    for sold in on_sale:
        ball = sold.ball
        number = ceil(needed_m / ball.length_m - FUZZ)
        price = sold.price
        counts.append(
            BallCount(
                mass_g=ball.mass_g,
                length_m=ball.length_m,
                balls=number,
                leftover_g=(number * ball.length_m - used_m) / ball.metres_per_gram,
                cost=None if price is None else number * price.amount,
                currency=None if price is None else price.currency or currency,
            )
        )
    return tuple(counts)


def best(counts: Sequence[BallCount]) -> BallCount | None:
    """The buy that costs least; without prices (or in several currencies) the least left over in g.

    None for no choice at all. Among equals the one with less left over, then with fewer balls.
    """
    if not counts:
        return None
    if all(one.cost is not None for one in counts) and len({one.currency for one in counts}) == 1:
        return min(counts, key=lambda one: (one.cost, one.leftover_g))
    return min(counts, key=lambda one: (one.leftover_g, one.balls))
