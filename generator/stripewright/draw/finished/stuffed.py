"""Filled pieces: a cushion sewn at its ends, a bolster gathered at them, a ring grafted at them."""

from __future__ import annotations

from math import cos, pi, sin
from typing import TYPE_CHECKING

from stripewright.draw.along import bands, stripes
from stripewright.draw.canvas import ellipse, path
from stripewright.draw.finished.domes import backwards, domed, domed_length, shadow
from stripewright.draw.finished.part import TubePart

if TYPE_CHECKING:
    from stripewright.compute.worked import WorkedGauge
    from stripewright.compute.worked_piece import WorkedPiece

FLATTENED = 0.84
"""How high a ring that lies on a table is seen, against how wide."""

SWELL = ((0.0, "#000", 0.6), (0.16, "#000", 0.22), (0.42, "#fff", 0.1), (0.6, "#fff", 0.16),
         (0.82, "#000", 0.08))  # fmt: skip
"""How light falls on a ring: black and white from its hole (0) outward, but for the very rim."""


def solid_size(piece: WorkedPiece) -> tuple[float, float, float]:
    """Width, length and thickness in cm of a piece once filled."""
    if piece.solid:
        return piece.solid.width_cm, piece.solid.length_cm, piece.solid.thickness_cm
    width, length = piece.made_up_width_cm, piece.made_up_length_cm
    return width * 0.86, max(length - width * 0.2, length * 0.7), width * 0.45


def shape_of(piece: WorkedPiece) -> str:
    """The kind of its solid; one that can't be closed is shown as a cushion."""
    return piece.solid.kind if piece.solid else "cushion"


def stuffed(piece: WorkedPiece, gauge: WorkedGauge, per_cm: float, place: str) -> list[TubePart]:
    """A filled piece with its middle at (0, 0), lying along x."""
    shape = shape_of(piece)
    if shape == "ring":
        return [_ring(piece, per_cm, place)]
    make = domed if shape == "round" else _cushion
    return [
        make(piece, (per_cm / gauge.stitches_per_cm, per_cm / gauge.rows_per_cm), per_cm, place)
    ]


def stuffed_size(piece: WorkedPiece) -> tuple[float, float]:
    """Length and width in cm of the frame that it needs."""
    width, length, _ = solid_size(piece)
    if shape_of(piece) == "round":
        return domed_length(piece), width
    if shape_of(piece) == "ring":
        return length, width * FLATTENED
    ear = 0.18 * min(width, length)
    return length + ear, width + ear


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


def _cushion(
    piece: WorkedPiece, stitch: tuple[float, float], per_cm: float, place: str
) -> TubePart:
    width, length, thick = (value * per_cm for value in solid_size(piece))
    a, b = length / 2, width / 2
    ear = min(a, b) * 0.09
    sag = min(a, b) * 0.12
    high = b + ear + 2

    def side(at: float) -> tuple[float, float]:
        """Where a stripe's edge is at the long sides, and of the handle that bows it in between."""
        x = foreshortened(at, a, thick)
        pull = (x / a) ** 5
        return x + ear * pull, x - (2 * sag + ear) * pull

    def band(start: float, end: float) -> str:
        (x1, c1), (x2, c2) = side(start), side(end)
        x1, x2 = (x1 - ear if start <= 0 else x1), (x2 + ear if end >= 1 else x2)
        return path("M", x1, -high, "Q", c1, 0, x1, high, "H", x2, "Q", c2, 0, x2, -high, "z")

    belly = b + ear * 0.35
    waist = b - sag * 0.45
    ax, by = a + ear, b + ear
    outline = (
        path("M", -ax, -by, "C", -a * 0.72, -waist, -a * 0.4, -belly, 0, -belly)
        + path("S", a * 0.72, -waist, ax, -by, "Q", a - sag, 0, ax, by)
        + path("C", a * 0.72, waist, a * 0.4, belly, 0, belly, "S", -a * 0.72, waist, -ax, by)
        + path("Q", -a + sag, 0, -ax, -by, "z")
    )
    return TubePart(
        outline=outline,
        bands=bands(stripes(piece), band),
        light=("lying", "ends"),
        knit=stitch,
        turn="rotate(90)",
        lines=_creases(a, b, ear),
        place=place,
        shadow=shadow(ax, by),
    )


def _creases(a: float, b: float, ear: float) -> str:
    """Short creases that run in from the four corners and from the end seams."""
    d = ""
    for sx in (-1, 1):
        for sy in (-1, 1):
            x, y = sx * (a + ear * 0.5), sy * (b + ear * 0.35)
            d += path("M", x, y, "q", -sx * b * 0.15, -sy * b * 0.06, -sx * b * 0.3, -sy * b * 0.2)
            d += path("M", x - sx * ear * 0.6, y - sy * b * 0.3)
            d += path("q", -sx * b * 0.1, 0, -sx * b * 0.2, -sy * b * 0.05)
    return d


def _ring(piece: WorkedPiece, per_cm: float, place: str) -> TubePart:
    """A ring that lies on a table: stripes are wedges, from the join at the foot clockwise."""
    across, _, thick = (value * per_cm for value in solid_size(piece))
    far = across / 2
    near = max(far - thick, far * 0.06)

    def spot(share: float, radius: float) -> tuple[float, float]:
        turn = pi / 2 + 2 * pi * share
        return radius * cos(turn), radius * sin(turn)

    def wedge(start: float, end: float) -> str:
        if end - start > 0.4:  # an arc that goes far round would be ambiguous
            middle = (start + end) / 2
            return wedge(start, middle) + wedge(middle, end)
        high, low = far + 2, near * 0.9
        outer = path("M", *spot(start, high), "A", high, high, " 0 0 1", *spot(end, high))
        return outer + path("L", *spot(end, low), "A", low, low, " 0 0 0", *spot(start, low), "z")

    crease = "".join(
        path("M", *spot(n / 24, near), "L", *spot(n / 24, near + thick * (0.2 if n % 2 else 0.12)))
        for n in range(24)
    )
    join = path("M", *spot(0, near), "L", *spot(0, far))
    edge = near / far
    swell = tuple((edge + (1 - edge) * out, ink, dark) for out, ink, dark in SWELL)
    hole = backwards(0, near, near)
    return TubePart(
        outline=ellipse(0, 0, far, far) + hole,
        bands=bands(stripes(piece), wedge),
        light=("cloth",),
        swell=(*swell, (1.0, "#000", 0.44)),
        lines=crease + join,
        place=f"{place}scale(1 {FLATTENED:g})",
        shadow=ellipse(far * 0.03, far * 0.1, far * 1.01, far * 1.01)
        + backwards(far * 0.03, near * 0.8, near * 0.8),
    )
