"""Yarns held together: what a marl is made of, how it looks, and how far a gram of it goes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stripewright.pattern.quantities import BallSize

if TYPE_CHECKING:
    from collections.abc import Container, Mapping, Sequence

    from stripewright.pattern.yarns import Yarn

_UNKNOWN = "#808080"
"""A yarn that names no colour, in a pattern that is refused for it."""


def shown_colours(yarns: Mapping[str, Yarn]) -> dict[str, str]:
    """#rrggbb by yarn key; a marl has what its yarns come to, seen from afar.

    Source: light from fine threads side by side adds up, so the mean is taken of linear sRGB
    (IEC 61966-2-1).
    """
    plain = {key: yarn.colour or _UNKNOWN for key, yarn in yarns.items()}
    return {
        key: _mean([plain[strand] for strand in yarn.marl]) if yarn.marl else plain[key]
        for key, yarn in yarns.items()
    }


def _mean(colours: Sequence[str]) -> str:
    from coloraide import Color

    mean = Color.average(colours, space="srgb-linear", out_space="srgb")
    return str(mean.to_string(hex=True))


def knitted_yarns(yarns: Mapping[str, Yarn], used: Container[str]) -> list[Yarn]:
    """The yarns that are used, in their order, each as it is knitted."""
    return [as_knitted(yarns, key) for key in yarns if key in used]


def as_knitted(yarns: Mapping[str, Yarn], key: str) -> Yarn:
    """A yarn as it is knitted; a marl gets a ball of what its yarns are together, if all have one.

    A metre of the marl is a metre of each of its strands, so the grams of a metre add up.
    """
    yarn = yarns[key]
    if not yarn.marl:
        return yarn
    grams = 0.0
    for strand in yarn.marl:
        other = yarns[strand]
        if not other.on_sale:
            return yarn
        grams += other.strands / other.on_sale[0].ball.metres_per_gram
    return yarn.model_copy(update={"ball": BallSize(grams, 1.0)})
