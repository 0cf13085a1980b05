"""Tubes that stand: hat, cowl, wrist warmer, bag."""

from __future__ import annotations

from dataclasses import replace
from math import cos, pi, sin
from typing import TYPE_CHECKING

from stripewright.draw.along import Band, bands, between, stripes, turned
from stripewright.draw.canvas import ellipse, path
from stripewright.draw.finished.outside import at_foot, cuff, outer
from stripewright.draw.finished.part import Cord, TubePart

if TYPE_CHECKING:
    from collections.abc import Callable

    from stripewright.compute.worked import WorkedGauge
    from stripewright.compute.worked_piece import WorkedPiece

SEEN = 0.24
"""How high the opening of a tube is seen, against how wide."""

HAT_SAG, HAT_BULGE = 0.15, 1.05
"""How far a hat's edges sag, and how wide it stands out, against half the head's width."""


def _stitch(gauge: WorkedGauge, per_cm: float, squeeze: float = 1.0) -> tuple[float, float]:
    return squeeze * per_cm / gauge.stitches_per_cm, per_cm / gauge.rows_per_cm


def _across(half: float, y1: float, s1: float, y2: float, s2: float) -> str:
    """A band from one side to the other between two edges that sag by s1 and s2."""
    return path(
        "M", -half, y1, "Q", 0, y1 + 2 * s1, half, y1, "V", y2, "Q", 0, y2 + 2 * s2, -half, y2, "z"
    )


def _cuffed(
    piece: WorkedPiece,
    half: float,
    foot: float,
    sag: float,
    per_cm: float,
    *,
    up: bool,
    knit: tuple[float, float],
    place: str,
) -> list[TubePart]:
    """A brim turned up around a tube: from `foot`, where it is folded, upward or down."""
    found, tall = cuff(piece)
    if not found:
        return []
    far = foot + (-tall if up else tall) * per_cm
    half *= 1.035

    def band(start: float, end: float) -> str:
        y1, y2 = sorted((foot + (far - foot) * start, foot + (far - foot) * end))
        return _across(half + 2, y1, sag, y2 + (sag if y2 == max(foot, far) else 0), sag)

    high, low = min(foot, far), max(foot, far)
    outline = path("M", -half, high, "Q", 0, high + 2 * sag, half, high, "L", half * 0.99, low)
    outline += path("Q", 0, low + 2 * sag, -half * 0.99, low, "z")
    wrong = piece.brim is not None and piece.brim.layers == 1
    # The wrong side shows ridges that lie across, the right side wales that stand.
    return [
        TubePart(
            outline,
            bands(found, band),
            ("standing",),
            knit[::-1] if wrong else knit,
            turn="rotate(90)" if wrong else "",
            place=place,
        )
    ]


def hat(
    piece: WorkedPiece, gauge: WorkedGauge, per_cm: float, place: str, head: float
) -> list[TubePart]:
    """A hat with its brim at (0, 0), its crown gathered, on a head of `head` cm around.

    There is as much fabric from brim to crown as is knitted.
    """
    found, length = outer(piece)
    if piece.ends[1].edge != "gathered" and piece.ends[0].edge == "gathered":
        found = turned(found)
    half = head / pi * per_cm / 2
    knit = _stitch(gauge, per_cm, head / pi / piece.made_up_width_cm)
    tall = length * per_cm
    dome = min(half * 0.95, tall * 0.62)
    wall = max(tall - dome * pi / 2, 0.0)
    sag = half * HAT_SAG
    return [
        TubePart(
            outline=_hat_outline(half, wall, dome),
            bands=bands(found, _hat_band(half, wall, dome)),
            light=("standing", "dome"),
            knit=knit,
            lines=_crown(half, -(wall + dome), dome),
            place=place,
            shadow=ellipse(half * 0.06, sag * 0.7, half * 1.02, sag * 1.1),
        ),
        *_cuffed(piece, half * 1.045, 0.0, sag, per_cm, up=True, knit=knit, place=place),
    ]


def _hat_band(half: float, wall: float, dome: float) -> Callable[[float, float], str]:
    """How a stripe of a hat lies: around the wall, then over the dome, by places from the brim."""
    arc, sag = dome * pi / 2, half * HAT_SAG

    def at(place_: float) -> tuple[float, float]:
        """Height and sag of an edge, by its place from brim to crown."""
        s = place_ * (wall + arc)
        if s <= wall:
            return -s, sag
        turn = (s - wall) / dome
        return -wall - dome * sin(turn), sag * cos(turn) + 0.2

    def band(start: float, end: float) -> str:
        (y1, s1), (y2, s2) = at(end), at(start)
        y1 = y1 - dome * 0.1 if end >= 1 else y1
        y2 = y2 + sag if start <= 0 else y2
        return _across(half * HAT_BULGE + 2, y1, s1, y2, s2)

    return band


def _hat_outline(half: float, wall: float, dome: float) -> str:
    """A hat's outline, its brim at (0, 0)."""
    bulge, top = half * HAT_BULGE, -(wall + dome)
    side, eave, high = bulge * 0.985, -wall - dome * 0.08, -wall - dome * 0.7
    return (
        path("M", -half * 0.96, 0, "C", -bulge, -wall * 0.5, -bulge, -wall, -side, eave)
        + path("C", -bulge * 0.96, high, -half * 0.5, top, 0, top)
        + path("C", half * 0.5, top, bulge * 0.96, high, side, eave)
        + path("C", bulge, -wall, bulge, -wall * 0.5, half * 0.96, 0)
        + path("Q", 0, 2 * half * HAT_SAG, -half * 0.96, 0, "z")
    )


def _crown(half: float, top: float, dome: float) -> str:
    """The folds that run down from a gathered crown."""
    d = ""
    for number in range(9):
        lean = (number - 4) / 4.4
        reach = dome * (0.34 if number % 2 else 0.55)
        x = half * lean * 0.62
        d += path(
            "M", half * lean * 0.09, top + 1, "Q", x * 0.72, top + reach * 0.1, x, top + reach
        )
    return d


def hat_size(piece: WorkedPiece, head: float) -> tuple[float, float]:
    """Width and height in cm of a hat as drawn, on a head of `head` cm around."""
    _, length = outer(piece)
    half = head / pi / 2
    dome = min(half * 0.95, length * 0.62)
    return half * 2.1, max(length - dome * pi / 2, 0.0) + dome + half * 0.2


def tube(
    piece: WorkedPiece,
    gauge: WorkedGauge,
    per_cm: float,
    place: str,
    *,
    wide: float,
    lean: float = 0.0,
    cords: tuple[Cord, ...] = (),
    inside_letter: str = "",
) -> list[TubePart]:
    """An open tube that stands with its middle at (0, 0), its last end up.

    Args:
        piece: the piece.
        gauge: its gauge.
        per_cm: units to the cm.
        place: where it stands.
        wide: its width in cm as seen: between girth / π (round) and girth / 2 (flat).
        lean: how much narrower the top is than the foot, as a share.
        cords: straps, in front of the opening and behind the tube.
        inside_letter: of the yarn that shows inside; left out, that of the last stripe.
    """
    found, length = outer(piece)
    half, tall = wide * per_cm / 2, length * per_cm
    upper, top, foot = half * (1 - lean), -tall / 2, tall / 2
    sag = half * SEEN * (0.5 + piece.made_up_width_cm / pi / wide)
    inside = path("M", -upper, top, "Q", 0, top + 2 * sag, upper, top)
    inside += path("Q", 0, top - 2 * sag, -upper, top, "z")
    stitch = _stitch(gauge, per_cm, wide / piece.made_up_width_cm)
    rim = {inside_letter or found[-1][0]: inside}
    shade = ellipse(half * 0.05, foot + sag * 0.75, half * 1.03, sag * 0.9)
    body = _body(piece, found, (half, upper), tall, sag)
    brim = (half, foot) if at_foot(piece) else (upper, top)
    return [
        TubePart(inside, rim, ("inside",), stitch, place=place, cords=cords[:1], shadow=shade),
        replace(body, knit=stitch, place=place),
        *_cuffed(piece, *brim, sag, per_cm, up=at_foot(piece), knit=stitch, place=place),
        *(TubePart("", {}, place=place, cords=(cord,)) for cord in cords[1:]),
    ]


def _body(
    piece: WorkedPiece, found: list[Band], halves: tuple[float, float], tall: float, sag: float
) -> TubePart:
    """The outside of a tube with its middle at (0, 0); half its width at its foot and its top."""
    half, upper = halves
    top, foot, side = -tall / 2, tall / 2, tall * 0.5
    outline = (
        path("M", -upper, top, "Q", 0, top + 2 * sag, upper, top)
        + path("C", upper * 0.97, top + side * 0.5, half * 1.02, foot - side, half, foot)
        + path("Q", 0, foot + 2 * sag, -half, foot)
        + path("C", -half * 1.02, foot - side, -upper * 0.97, top + side * 0.5, -upper, top, "z")
    )

    def band(start: float, end: float) -> str:
        y1, y2 = foot - end * tall, foot - start * tall
        return _across(half + 2, y1, sag, y2 if start > 0 else y2 + sag, sag)

    holes = _gaps(piece, half, foot, tall)
    return TubePart(outline, bands(found, band), ("standing",), holes=holes)


def _gaps(piece: WorkedPiece, half: float, foot: float, tall: float) -> str:
    """Thumb holes and slits, as dark gaps near a side."""
    rows, before = piece.visible_rows or 1, piece.hidden_first
    if piece.brim:
        rows, before = rows - piece.brim.rows, before + piece.brim.rows * at_foot(piece)
    d = ""
    for gap in piece.openings:
        y1 = foot - (gap.last - before) / rows * tall
        y2 = foot - (gap.first - 1 - before) / rows * tall
        for side, x in (("left", -half * 0.7), ("right", half * 0.7)):
            if gap.side in (side, "both"):
                bow = (y2 - y1) * 0.28
                d += path("M", x, y1, "Q", x - bow, (y1 + y2) / 2, x, y2)
                d += path("Q", x + bow, (y1 + y2) / 2, x, y1, "z")
    return d


def ring(piece: WorkedPiece, gauge: WorkedGauge, per_cm: float, place: str) -> list[TubePart]:
    """A piece joined end to end, standing as a ring with its middle at (0, 0): stripes stand up."""
    around = piece.finished_length_cm * per_cm
    high = piece.made_up_width_cm * per_cm
    half = around / pi / 2 * 1.25
    parts = loop(stripes(piece), half, high, place)
    stitch = per_cm / gauge.stitches_per_cm, per_cm / gauge.rows_per_cm
    shade = ellipse(half * 0.05, high / 2 + half * SEEN * 0.8, half * 1.03, half * SEEN)
    back, front = parts
    return [
        TubePart(
            back.outline, back.bands, back.light, stitch, "rotate(90)", place=place, shadow=shade
        ),
        TubePart(front.outline, front.bands, front.light, stitch, "rotate(90)", place=place),
    ]


def loop(found: list[Band], half: float, high: float, place: str) -> tuple[TubePart, TubePart]:
    """The inside of the back, and the front, of a ring `high` units high; no stitches yet."""
    sag = half * SEEN
    top, foot = -high / 2, high / 2

    def seen(share: float) -> float:
        return -half * cos(pi * min(max(share, 0.0), 1.0))

    def post(start: float, end: float) -> str:
        x1, x2 = seen(start), seen(end)
        return path("M", x1, top - sag, "H", x2, "V", foot + sag, "H", x1, "z")

    front = path("M", -half, top, "A", half, sag, " 0 0 0", half, top, "V", foot)
    front += path("A", half, sag, " 0 0 1", -half, foot, "z")
    mouth = ellipse(0, top, half, sag)
    return (
        TubePart(mouth, bands(turned(between(found, 0.5, 1.0)), post), ("inside",), place=place),
        TubePart(front, bands(between(found, 0.0, 0.5), post), ("standing",), place=place),
    )


def strap(letter: str, half: float, top: float, high: float, width: float) -> Cord:
    """A strap that rises `high` units over the top, from one side to the other."""
    x = half * 0.52
    d = path("M", -x, top, "C", -x * 1.02, top - high * 1.32, x * 1.02, top - high * 1.32, x, top)
    return Cord(d, letter, width)
