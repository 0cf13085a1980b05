"""What a filled piece holds, and the shape it takes."""

from __future__ import annotations

from math import pi, sqrt
from typing import TYPE_CHECKING

from stripewright.compute.worked import Figure, WorkedFilling
from stripewright.compute.worked_piece import Solid

if TYPE_CHECKING:
    from collections.abc import Iterable

    from stripewright.compute.worked_piece import WorkedPiece
    from stripewright.pattern.edge import EdgeKind
    from stripewright.pattern.pieces import Fill

DENSITY = {"light": 20.0, "medium": 30.0, "firm": 45.0}
"""Fibre filling in kg/m³ (the same as g per litre) by firmness (common practice, no source)."""

SPREAD = 0.25
"""How far the filling of a maker may stand from the estimate, either way."""

DISC_WIDTH = 0.7627597636
"""Width of an inflated disc of unit diameter that can't stretch (see `cushion`)."""

DISC_THICKNESS = 0.9138931620 / 2
"""Its thickness."""


def robin_volume(short: float, long: float) -> float:
    """Volume of a filled paper bag, sealed all round, from its flat sides.

    Args:
        short: the shorter side w in cm, over 0.
        long: the longer side h in cm, not under `short`.

    Returns:
        V = w³(h/(πw) − 0.142(1 − 10^(−h/w))) in cm³. For a square it comes 7 to 12 % under what
        is known to be reached (0.2055 to 0.217 of the side cubed); for long bags it nears the
        cylinder w²h/π.

    Raises:
        ValueError: for sides that are not over 0, or the longer given first.

    Source: A. C. Robin, "Paper bag problem", Mathematics Today, June 2004, 104–107.
    """
    if not 0 < short <= long:
        raise ValueError("the shorter side comes first, and is over 0")
    ratio = long / short
    return float(short**3 * (ratio / pi - 0.142 * (1 - 10**-ratio)))


def cushion(width: float, length: float) -> Solid:
    """A filled piece of two flat layers, closed all round.

    Args:
        width: flat width in cm.
        length: flat length in cm.

    Returns:
        Volume by Robin's formula. Thickness and outline go from those of a disc that can't
        stretch (the Mylar balloon: unit diameter shrinks to 0.763 and rises to 0.457) for a
        square, to a cylinder of the same girth (2w/π both ways) for a long piece, with Robin's
        own term 10^(−h/w) for the way between; the long side shrinks by as much of its thickness
        as the disc does. The width is that across the middle. Knitting stretches: a firmly filled
        piece comes out fatter.

    Source: Robin 2004; for the disc W. H. Paulsen, "What is the shape of a Mylar balloon?",
    American Mathematical Monthly 101 (1994); the way between is our own.
    """
    short, long = sorted((width, length))
    way = 10 ** (1 - long / short)
    cylinder = 2 / pi
    thickness = short * (cylinder + (DISC_THICKNESS - cylinder) * way)
    across = short * (cylinder + (DISC_WIDTH - cylinder) * way)
    along = long - thickness * (1 - DISC_WIDTH) / DISC_THICKNESS
    outline = (across, along) if width <= length else (along, across)
    return Solid("cushion", *outline, thickness, robin_volume(short, long))


def quarter_ellipse(across: float, along: float) -> float:
    """A quarter of an ellipse's perimeter, from its half axes.

    Source: Ramanujan's second approximation, Quarterly Journal of Mathematics 45 (1914), 350–372
    (from memory); within 0.05 % at worst, when the ellipse is flat.
    """
    uneven = 3 * ((across - along) / (across + along)) ** 2
    return pi * (across + along) * (1 + uneven / (10 + sqrt(4 - uneven))) / 4


def dome(radius: float, length: float) -> float:
    """How far a gathered end stands out at most, as half an ellipsoid, in cm.

    The fabric from rim to middle is then a quarter of an ellipse. There is never more of it than
    half the tube's length, nor more than makes half a ball.

    Args:
        radius: of the tube, in cm.
        length: of the tube before gathering, in cm, over twice the radius.
    """
    if length >= pi * radius:
        return radius
    low, high = 0.0, radius
    for _ in range(50):
        middle = (low + high) / 2
        if quarter_ellipse(radius, middle) < length / 2:
            low = middle
        else:
            high = middle
    return low


def cylinder(girth: float, length: float) -> Solid | None:
    """A filled tube gathered at both ends, which come out anywhere between flat and domed.

    Args:
        girth: around the tube, in cm.
        length: of the tube before gathering, in cm.

    Returns:
        The solid as long as its ends make it when they dome (half ellipsoids), and how long it is
        with flat discs, whose radius r = girth/2π comes off at each end. Its volume is the mean of
        the two: how far an end domes is up to the maker. None when the tube is too short to close
        (length not over 2r).

    Source: geometry.
    """
    radius = girth / (2 * pi)
    flat = length - 2 * radius
    if flat <= 0:
        return None
    high = dome(radius, length)
    straight = max(length - pi * radius, 0.0)
    disc = pi * radius**2
    domed = disc * (straight + 4 / 3 * high)
    return Solid(
        "round",
        2 * radius,
        straight + 2 * high,
        2 * radius,
        (disc * flat + domed) / 2,
        low_length_cm=flat,
        dome_cm=high,
    )


def torus(girth: float, length: float) -> Solid | None:
    """A filled tube joined end to end: a torus, with its length along the middle of the filling.

    Args:
        girth: around the tube, in cm.
        length: of the tube before its ends are joined, in cm.

    Returns:
        The solid, as wide and as long as it is across; the fabric stretches on the outside of the
        ring and bunches on the inside. None when it is too short to go round (length not over the
        girth). Source: Pappus's second theorem, V = πr² · length.
    """
    if length <= girth:
        return None
    radius = girth / (2 * pi)
    across = length / pi + 2 * radius
    return Solid("ring", across, across, 2 * radius, pi * radius**2 * length)


def solid(width: float, length: float, edges: tuple[EdgeKind, EdgeKind]) -> Solid | None:
    """The shape of a filled piece, from its flat width and length in cm and its ends.

    With one end gathered, half of it is the cylinder's and half the cushion's, in cm and cm³. None
    when a gathered piece, or one grafted into a ring, is too short to close. Source: `cushion`,
    `cylinder` and `ring`.
    """
    if edges == ("grafted", "grafted"):
        return torus(2 * width, length)
    gathered = edges.count("gathered")
    if gathered == 0:
        return cushion(width, length)
    round_one = cylinder(2 * width, length)
    if gathered == 2 or round_one is None:
        return round_one
    flat_one = cushion(width, length)
    low = round_one.low_length_cm or round_one.length_cm
    return Solid(
        "cushion",
        (round_one.width_cm + flat_one.width_cm) / 2,
        (round_one.length_cm + flat_one.length_cm) / 2,
        (round_one.thickness_cm + flat_one.thickness_cm) / 2,
        (round_one.volume_cm3 + flat_one.volume_cm3) / 2,
        low_length_cm=(low + flat_one.length_cm) / 2,
    )


def filling(fill: Fill, pieces: Iterable[WorkedPiece]) -> WorkedFilling | None:
    """Filling for all filled pieces, a lining and its cover counted once; None when none is.

    The author's weighed mass wins and is no estimate; else volume × density, by firmness or as
    the author states it, give or take `SPREAD`. Source: common practice, no source.
    """
    held = [(piece, piece.solid.volume_cm3) for piece in pieces if piece.solid is not None]
    if not held:
        return None
    covers = {piece.key for piece, _ in held}
    told = [(piece, each) for piece, each in held if piece.lining_of not in covers]
    volume = sum(piece.make * each for piece, each in told)
    density = fill.density or DENSITY[fill.firmness]
    usual = volume * density / 1000
    mass = Figure(usual, usual * (1 - SPREAD), usual * (1 + SPREAD), estimated=True)
    if fill.mass is not None:
        mass = Figure(fill.mass, fill.mass, fill.mass)
    return WorkedFilling(
        fill.firmness,
        fill.material,
        volume,
        mass,
        weighed=fill.mass is not None,
        pieces=tuple((piece.key, _part(mass, each / volume)) for piece, each in told),
    )


def _part(mass: Figure, share: float) -> Figure:
    return Figure(mass.value * share, mass.low * share, mass.high * share, mass.estimated)
