"""Round things gathered at their ends: stripes run round them, and over the domes as rings."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from math import acos, cos, hypot, pi, sin, sqrt
from typing import TYPE_CHECKING

from stripewright.draw.along import bands, stripes
from stripewright.draw.canvas import ellipse, path
from stripewright.draw.finished.part import TubePart

if TYPE_CHECKING:
    from stripewright.compute.worked_piece import WorkedPiece

TILT = 0.4
"""Sine of the turn towards its last end at which it is seen: how wide a ring is, against how high.
"""
_UPRIGHT = sqrt(1 - TILT**2)
_PARTS = 48
"""Straight parts that an arc is measured in."""
_FAR = 2000.0


@dataclass(frozen=True, slots=True)
class Round:
    """A solid of revolution lying along x with its middle at 0, in units of the drawing.

    Attributes:
        radius: of the tube.
        straight: how long the tube is between its ends.
        depth: how far each end stands out, as half an ellipsoid; 0 for a flat disc.
    """

    radius: float
    straight: float
    depth: float

    @property
    def length(self) -> float:
        """How long it is seen."""
        return self.straight * _UPRIGHT + 2 * self.seen_depth

    @property
    def seen_depth(self) -> float:
        """How far an end is seen to stand out (the outline of a turned ellipsoid)."""
        return hypot(self.depth * _UPRIGHT, self.radius * TILT)

    def ring(self, place: float) -> tuple[float, float, float]:
        """The ring at a place along the fabric, 0 at the cast-on end to 1.

        Returns:
            Its x along the axis, its radius, and how much its surface faces along the axis against
            outward: 0 on the tube, over all bounds at the middle of an end.
        """
        lengths = _arc(self.radius, self.depth)
        along = place * (2 * lengths[-1] + self.straight)
        if lengths[-1] <= along <= lengths[-1] + self.straight:
            return along - lengths[-1] - self.straight / 2, self.radius, 0.0
        side = -1 if along < lengths[-1] else 1
        left = along if side < 0 else max(2 * lengths[-1] + self.straight - along, 0.0)
        number = next(n for n in range(1, _PARTS + 1) if left <= lengths[n] or n == _PARTS)
        step = lengths[number] - lengths[number - 1]
        turn = pi / 2 * (number - 1 + (left - lengths[number - 1]) / step) / _PARTS
        x = side * (self.straight / 2 + self.depth * cos(turn))
        facing = side * self.radius * cos(turn) / max(self.depth * sin(turn), 1e-9)
        return x, self.radius * sin(turn), facing

    def band(self, start: float, end: float) -> str:
        """What is seen of the fabric between two places; empty for what lies behind."""
        if self._turned(end)[2] <= -1:
            return ""
        return self._beyond(start) + (self._beyond(end, hole=True) if end < 1 else "")

    def _turned(self, place: float) -> tuple[float, float, float]:
        """Middle and height of a ring as seen, and how far it is turned to the eye.

        From -1 down all of it lies behind, and from 1 on all of it is seen.
        """
        x, radius, facing = self.ring(place)
        return x * _UPRIGHT, radius, facing * TILT / _UPRIGHT

    def _beyond(self, place: float, *, hole: bool = False) -> str:
        """All that is seen from a place on towards the last end; as a hole, drawn the other way."""
        middle, radius, turned = self._turned(place)
        rx = radius * TILT
        if turned <= -1:
            return path("M", -_FAR, -_FAR, "V", _FAR, "H", _FAR, "V", -_FAR, "z")
        if turned >= 1:
            return backwards(middle, rx, radius) if hole else ellipse(middle, 0, rx, radius)
        turn = acos(turned)
        at, high = middle + rx * turned, radius * sin(turn)
        large = "1" if turned > 0 else "0"
        if hole:
            beyond = path("M", at, -_FAR, "H", _FAR, "V", _FAR, "H", at, "V", high)
            return beyond + path("A", rx, radius, f" 0 {large} 1", at, -high, "z")
        seam = path("M", at, -_FAR, "V", -high, "A", rx, radius, f" 0 {large} 0", at, high)
        return seam + path("V", _FAR, "H", _FAR, "V", -_FAR, "z")


@lru_cache(maxsize=64)
def _arc(radius: float, depth: float) -> tuple[float, ...]:
    """How far it is along an end from its middle, at each of `_PARTS` even turns."""
    lengths, x, y = [0.0], 0.0, 0.0
    for number in range(1, _PARTS + 1):
        turn = pi / 2 * number / _PARTS
        to_x, to_y = depth * (1 - cos(turn)), radius * sin(turn)
        lengths.append(lengths[-1] + hypot(to_x - x, to_y - y))
        x, y = to_x, to_y
    return tuple(lengths)


def round_of(piece: WorkedPiece, per_cm: float) -> Round:
    """A filled piece with gathered ends, as far as its ends dome."""
    solid = piece.solid
    if solid is None:
        raise ValueError("only a piece that can be closed is round")
    straight = max(solid.length_cm - 2 * solid.dome_cm, 0.0)
    return Round(solid.width_cm / 2 * per_cm, straight * per_cm, solid.dome_cm * per_cm)


def domed_length(piece: WorkedPiece) -> float:
    """How long in cm it is seen."""
    return round_of(piece, 1.0).length


def domed(piece: WorkedPiece, stitch: tuple[float, float], per_cm: float, place: str) -> TubePart:
    """A round piece seen a little from its last end."""
    shape = round_of(piece, per_cm)
    r, out = shape.radius, shape.seen_depth
    x = shape.straight * _UPRIGHT / 2
    outline = path(
        "M", -x, -r, "A", out, r, " 0 0 0", -x, r, "L", x, r, "A", out, r, " 0 0 0", x, -r, "z"
    )
    pole = shape.ring(1.0)[0] * _UPRIGHT
    return TubePart(
        outline=outline,
        bands=bands(stripes(piece), shape.band),
        light=("lying", "rims"),
        knit=stitch,
        turn="rotate(90)",
        lines=_pleats(shape),
        holes=ellipse(pole, 0, r * 0.07 * TILT, r * 0.07),
        place=place,
        shadow=shadow(shape.length / 2, r),
    )


def _pleats(shape: Round) -> str:
    """The folds of the gathered end that is seen, running out from its middle."""
    long = _arc(shape.radius, shape.depth)[-1]
    whole = 2 * long + shape.straight
    d = ""
    for number in range(18):
        turn = 2 * pi * (number + 0.5) / 18
        spots = []
        for far in (0.13, 0.5 if number % 3 else 0.34):
            x, radius, _ = shape.ring(1 - far * long / whole)
            spots += [x * _UPRIGHT + radius * TILT * cos(turn), radius * sin(turn)]
        d += path("M", spots[0], spots[1], "L", spots[2], spots[3])
    return d


def backwards(x: float, rx: float, ry: float) -> str:
    """An ellipse drawn the other way round, so that it cuts a hole."""
    return path(
        "M", x - rx, 0, "a", rx, ry, " 0 1 1", 2 * rx, 0, "a", rx, ry, " 0 1 1", -2 * rx, 0, "z"
    )


def shadow(a: float, b: float) -> str:
    """What a lying thing throws on the ground."""
    y = b * 0.8
    return path("M", -a, y, "C", -a * 0.9, b * 1.34, a * 0.9, b * 1.34, a * 1.03, y, "z")
