"""A filled piece, lying: two layers sewn at the ends, blown up like a paper bag."""

from __future__ import annotations

from math import cos, pi
from typing import TYPE_CHECKING

from stripewright.draw.figures import unit
from stripewright.draw.finished.along import bands, stripes
from stripewright.draw.finished.part import ENDS_X, ROUND_Y, Part

if TYPE_CHECKING:
    from stripewright.compute.worked import WorkedGauge, WorkedPiece


def foreshortened(place: float, half: float, thickness: float) -> float:
    """Where a place along the surface is seen, from the middle: -half to half.

    The profile is flat in the middle and turns away at both ends in a quarter round, so end stripes
    look narrower than they are.

    Args:
        place: 0 to 1 along the surface from end to end.
        half: half the length as seen.
        thickness: of the filled piece.
    """
    r = min(thickness / 2, half)
    surface = 2 * (half - r) + pi * r
    s = place * surface
    if s < pi * r / 2:
        return -half + r * (1 - cos(s / r))
    if s > surface - pi * r / 2:
        return half - r * (1 - cos((surface - s) / r))
    return -half + r + (s - pi * r / 2)


def solid_size(piece: WorkedPiece) -> tuple[float, float, float]:
    """Width, length and thickness in cm of a piece once filled."""
    if piece.solid:
        return piece.solid.width_cm, piece.solid.length_cm, piece.solid.thickness_cm
    width, length = piece.flat_width_cm, piece.finished_length_cm
    thick = 0.4 * min(width, length)
    return max(width - 0.57 * thick, width * 0.6), max(length - 0.57 * thick, length * 0.6), thick


def cushion(piece: WorkedPiece, gauge: WorkedGauge, per_cm: float, place: str) -> list[Part]:
    """A cushion with its middle at (0, 0), lying along x."""
    width, length, thick = (value * per_cm for value in solid_size(piece))
    a, b = length / 2, width / 2
    sag = min(a, b) * 0.09
    ear = min(a, b) * 0.07
    outline = (
        f"M{unit(-a - ear)} {unit(-b - ear)}"
        f"C{unit(-a * 0.6)} {unit(-b + sag * 0.5)} {unit(-a * 0.4)} {unit(-b - sag * 0.3)} 0 {unit(-b - sag * 0.3)}"
        f"S{unit(a * 0.6)} {unit(-b + sag * 0.5)} {unit(a + ear)} {unit(-b - ear)}"
        f"Q{unit(a - sag)} 0 {unit(a + ear)} {unit(b + ear)}"
        f"C{unit(a * 0.6)} {unit(b - sag * 0.5)} {unit(a * 0.4)} {unit(b + sag * 0.3)} 0 {unit(b + sag * 0.3)}"
        f"S{unit(-a * 0.6)} {unit(b - sag * 0.5)} {unit(-a - ear)} {unit(b + ear)}"
        f"Q{unit(-a + sag)} 0 {unit(-a - ear)} {unit(-b - ear)}z"
    )
    high = b + ear + 2

    def side(at: float) -> tuple[float, float]:
        x = foreshortened(at, a, thick)
        bow = (ear + sag) * (x / a) ** 3 if a else 0.0
        return x + bow * (1 + 4 / (b + 1)), x - bow

    def band(start: float, end: float) -> str:
        (x1, c1), (x2, c2) = side(start), side(end)
        return (
            f"M{unit(x1)} {unit(-high)}Q{unit(c1)} 0 {unit(x1)} {unit(high)}"
            f"H{unit(x2)}Q{unit(c2)} 0 {unit(x2)} {unit(-high)}z"
        )

    found = stripes(piece)
    drawn = bands(found, band)
    first, last = found[0][0], found[-1][0]
    edge = a + 2 * ear + sag
    drawn[first] += (
        f"M{unit(-edge)} {unit(-high)}h{unit(edge - a + 1)}v{unit(2 * high)}h{unit(a - edge - 1)}z"
    )
    drawn[last] += (
        f"M{unit(edge)} {unit(-high)}h{unit(a - edge - 1)}v{unit(2 * high)}h{unit(edge - a + 1)}z"
    )
    stitch = per_cm / gauge.stitches_per_cm, per_cm / gauge.rows_per_cm
    return [
        Part(
            outline=outline,
            bands=drawn,
            light=(("y", ROUND_Y), ("x", ENDS_X)),
            knit=stitch,
            turn="rotate(90)",
            lines=_creases(a, b, ear, sag),
            place=place,
            under=(_shadow(a, b),),
        )
    ]


def _creases(a: float, b: float, ear: float, sag: float) -> str:
    """Short creases that run in from the four corners."""
    d = ""
    for sx in (-1, 1):
        for sy in (-1, 1):
            x, y = sx * (a + ear * 0.4), sy * (b + ear * 0.1)
            d += (
                f"M{unit(x)} {unit(y)}q{unit(-sx * b * 0.16)} {unit(-sy * b * 0.05)} "
                f"{unit(-sx * b * 0.34)} {unit(-sy * b * 0.19)}"
            )
    return d


def _shadow(a: float, b: float) -> str:
    y = b * 0.98
    return (
        f"M{unit(-a * 1.02)} {unit(y)}C{unit(-a)} {unit(y + b * 0.34)} {unit(a)} {unit(y + b * 0.34)} "
        f"{unit(a * 1.06)} {unit(y)}z"
    )


__all__ = ["cushion", "foreshortened", "solid_size"]
