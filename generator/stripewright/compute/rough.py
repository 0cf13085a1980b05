"""Figures as everyone is told them of a paid pattern: roughly, from the true ones."""

from __future__ import annotations

from dataclasses import replace
from math import ceil
from typing import TYPE_CHECKING

from stripewright.compute.balls import FUZZ
from stripewright.compute.piece_context import whole
from stripewright.compute.worked import Figure

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stripewright.compute.worked import (
        BallCount,
        RoughGauge,
    )


QUARTER = 15.0
"""Minutes."""

ROUGH_G = 10
"""A weighed filling is told to this, rounded up."""

_FEW = 5
"""Balls that are told as they are; more are told roughly."""


def halves(count_10cm: float) -> float:
    """A gauge to half a stitch over 10 cm, in stitches per cm."""
    return max(whole(count_10cm * 2), 1) / 20


def half_counts(stitches: float, rows: float) -> RoughGauge:
    """Stitches and rows in halves, and whether those are the true ones."""
    told = halves(stitches) * 10, halves(rows) * 10
    true = all(abs(one - other) < FUZZ for one, other in zip(told, (stitches, rows), strict=True))
    return (*told, true)


def whole_cm(length: float, unit: float = 1.0) -> float:
    """A length to whole cm, or to whole units of so many cm; at least one."""
    return max(whole(length / unit), 1) * unit


def sure_figure(value: float, *, estimated: bool) -> Figure:
    """A figure without a range."""
    return Figure(value, value, value, estimated)


def rough_choices(counts: Sequence[BallCount]) -> tuple[BallCount, ...]:
    """What there is to buy, told roughly: never fewer balls than are needed.

    The largest balls tell the least, so their count is told, and those of smaller balls follow
    from it alone: together they give away no more than it does.
    """
    if not counts:
        return ()
    largest = max(counts, key=lambda count: count.length_m)
    told = roughly(largest.balls)
    reach_m = told * largest.length_m
    return tuple(
        _bought(
            one, told if one.length_m == largest.length_m else ceil(reach_m / one.length_m - FUZZ)
        )
        for one in counts
    )


def roughly(number: int) -> int:
    """1 to 5, then 7, 9, 12, 15, 19, 24, 30, ...: each step leaves at least a fifth open."""
    told = min(_FEW, number)
    while told < number:
        told = ceil(told * 1.25)
    return told


def _bought(count: BallCount, balls: int) -> BallCount:
    """So many balls of one, at their price."""
    cost = count.cost
    if cost is not None and balls != count.balls:
        cost = round(cost / count.balls * balls, 6)
    return replace(count, balls=balls, cost=cost, leftover_g=0.0)


def quarters(minutes: Figure) -> Figure:
    """Minutes in whole quarters of an hour, one at the least."""
    value, low, high = (
        max(whole(one / QUARTER), 1) * QUARTER for one in (minutes.value, minutes.low, minutes.high)
    )
    return Figure(value, low, high, estimated=True)
