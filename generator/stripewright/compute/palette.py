"""A picture's colours -> the few that matter, kept apart for every kind of sight."""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt
from typing import TYPE_CHECKING, Any

from stripewright.compute.colour import colour_type, difference, lightness_apart, unseen_by

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

Lab = tuple[float, float, float]
"""OKLab: lightness 0 to 1, and two axes of about -0.4 to 0.4."""

MOST_KINDS = 1500
"""Different colours that are clustered: the most frequent ones."""
_ROUNDS = 30
LEAST_CLUSTERS, CLUSTERS = 12, 4
"""Clusters at least, and for each colour that is asked for: what is small and vivid gets one."""
VIVID = 0.15
"""Chroma in OKLab from which a colour counts twice."""
_NEAR = 6.0
"""CIEDE2000 under which two clusters are one colour to a knitter (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class PaletteColour:
    """One colour of a picture."""

    colour: str
    """#rrggbb."""
    share: float
    """Of the picture that is nearest to this colour, 0 to 1."""
    was: str = ""
    """The picture's own colour (#rrggbb), where it was made lighter or darker."""


@dataclass(slots=True)
class _Cluster:
    lab: Lab
    weight: float
    colour: str = ""

    @property
    def matters(self) -> float:
        """By the root of its share, so that small things count, and up to twice where vivid."""
        chroma = sqrt(self.lab[1] ** 2 + self.lab[2] ** 2)
        return sqrt(self.weight) * (1 + min(chroma / VIVID, 1))


def palette(counts: Mapping[tuple[int, int, int], int], most: int) -> list[PaletteColour]:
    """The colours of a picture that matter, the largest share first.

    Clustered in OKLab by k-means, begun from the most frequent colour and then always from what is
    farthest from all others, so that the same picture gives the same colours. Of the clusters those
    that matter are taken, each only if everyone can tell it from all taken before; where too few
    are left, one is made lighter or darker until they can. There may be fewer than asked for.

    Args:
        counts: pixels of each colour, sRGB of 8 bits.
        most: how many colours, 1 or more.

    Source: OKLab by B. Ottosson 2020, by coloraide; k-means by Lloyd 1982.
    """
    points = _points(counts)
    clusters = sorted(
        _clustered(points, max(LEAST_CLUSTERS, CLUSTERS * most)), key=lambda one: -one.matters
    )
    for cluster in clusters:
        cluster.colour = _hex(cluster.lab)
    taken: dict[str, str] = {}
    for one in clusters:
        if len(taken) < most and not any(unseen_by(other, one.colour) for other in taken):
            taken[one.colour] = ""
    for one in clusters:
        seen = [was or now for now, was in taken.items()]
        if len(taken) < most and min(difference(one.colour, other) for other in seen) >= _NEAR:
            moved = lightness_apart([*taken], one.colour)
            if moved:
                taken[moved] = one.colour
    return _with_shares(taken, points)


def _points(counts: Mapping[tuple[int, int, int], int]) -> list[tuple[Lab, float]]:
    often = sorted(counts.items(), key=lambda item: (-item[1], item[0]))[:MOST_KINDS]
    whole = sum(count for _, count in often)
    return [(_lab(rgb), count / whole) for rgb, count in often]


def _lab(rgb: Sequence[int]) -> Lab:
    exact = colour_type()("srgb", [part / 255 for part in rgb]).convert("oklab")
    return exact["lightness"], exact["a"], exact["b"]


def _hex(lab: Lab) -> str:
    exact: Any = colour_type()("oklab", list(lab)).convert("srgb").fit()
    return str(exact.to_string(hex=True))


def _far(one: Lab, other: Lab) -> float:
    return (one[0] - other[0]) ** 2 + (one[1] - other[1]) ** 2 + (one[2] - other[2]) ** 2


def _clustered(points: Sequence[tuple[Lab, float]], count: int) -> list[_Cluster]:
    middles = [points[0][0]]
    nearest = [_far(lab, middles[0]) for lab, _ in points]
    while len(middles) < count and max(nearest) > 0:
        lab = points[nearest.index(max(nearest))][0]
        middles.append(lab)
        nearest = [min(far, _far(one, lab)) for far, (one, _) in zip(nearest, points, strict=True)]
    clusters = [_Cluster(lab, 0.0) for lab in middles]
    for _ in range(_ROUNDS):
        now = _gathered(points, clusters)
        if now == clusters:
            break
        clusters = now
    return clusters


def _gathered(points: Sequence[tuple[Lab, float]], clusters: Sequence[_Cluster]) -> list[_Cluster]:
    sums = [[0.0, 0.0, 0.0, 0.0] for _ in clusters]
    for lab, weight in points:
        into = sums[min(range(len(clusters)), key=lambda n: _far(lab, clusters[n].lab))]
        for axis in range(3):
            into[axis] += lab[axis] * weight
        into[3] += weight
    return [
        _Cluster((l_sum / weight, a_sum / weight, b_sum / weight), weight)
        for l_sum, a_sum, b_sum, weight in sums
        if weight > 0
    ]


def _with_shares(
    taken: Mapping[str, str], points: Sequence[tuple[Lab, float]]
) -> list[PaletteColour]:
    """Each colour with the part of the picture that is nearest to what it was there."""
    labs = {now: _lab(bytes.fromhex((was or now)[1:])) for now, was in taken.items()}
    shares = dict.fromkeys(taken, 0.0)
    for lab, weight in points:
        shares[min(labs, key=lambda one: _far(lab, labs[one]))] += weight
    found = [PaletteColour(now, shares[now], was) for now, was in taken.items()]
    return sorted(found, key=lambda one: (-one.share, one.colour))
