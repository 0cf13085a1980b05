"""Flat things: a panel or a tube laid flat, a blanket, a scarf, bunting."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import groupby
from math import pi
from typing import TYPE_CHECKING

from stripewright.compute.size import SEAM_STITCHES
from stripewright.compute.worked_piece import WorkedPiece
from stripewright.draw.along import Band, bands, between, joined_paths, stripes, turned
from stripewright.draw.canvas import box, path
from stripewright.draw.finished.outside import outer
from stripewright.draw.finished.part import Cord, TubePart
from stripewright.draw.finished.tubes import loop

if TYPE_CHECKING:
    from stripewright.compute.worked import WorkedGauge

NECK_CM = 64.0
"""Around a neck, with room: how much of a scarf a loop takes (common practice, no source)."""


def _stitch(gauge: WorkedGauge, per_cm: float) -> tuple[float, float]:
    return per_cm / gauge.stitches_per_cm, per_cm / gauge.rows_per_cm


LaidCloth = Sequence[WorkedPiece]
"""Pieces side by side, from left to right: one, or panels that are joined."""


def flat_size(laid: LaidCloth, gauge: WorkedGauge) -> tuple[float, float]:
    """Width and length in cm of what lies side by side."""
    if len(laid) == 1:
        return laid[0].made_up_width_cm, outer(laid[0])[1]
    stitches = sum(piece.stitches for piece in laid) - SEAM_STITCHES * (len(laid) - 1)
    return stitches / gauge.stitches_per_cm, max(outer(piece)[1] for piece in laid)


def _bands(
    laid: LaidCloth, w: float, h: float, length: float
) -> tuple[dict[str, str], list[float]]:
    """Bands of all that lies side by side, and x of the joins between; alike neighbours as one."""
    whole = sum(piece.stitches for piece in laid)
    drawn: dict[str, list[str]] = {}
    seams: list[float] = []
    done = 0
    for _, group in groupby(laid, key=lambda piece: piece.key):
        alike = list(group)
        found, long = outer(alike[0])
        high = h * long / length
        left = -w / 2 + w * done / whole
        seams += [left + w * n * alike[0].stitches / whole for n in range(len(alike))]
        done += sum(piece.stitches for piece in alike)
        right = -w / 2 + w * done / whole
        left, right = left - 4 * (left <= -w / 2), right + 4 * (done == whole)
        for letter, a, b in found:
            d = box(left, h / 2 - b * high, right - left, (b - a) * high + 0.05)
            drawn.setdefault(letter, []).append(d)
    return joined_paths(drawn), seams[1:]


def flat(laid: LaidCloth, gauge: WorkedGauge, per_cm: float, place: str) -> list[TubePart]:
    """What lies flat with its middle at (0, 0), knitted upward; joined panels side by side."""
    piece = laid[0]
    width, length = flat_size(laid, gauge)
    w, h = width * per_cm, length * per_cm
    found, joins = _bands(laid, w, h, length)
    soft = min(w, h) * 0.018
    outline = path("M", -w / 2, -h / 2, "q", w / 2, -soft, w, 0, "q", soft, h / 2, 0, h)
    outline += path("q", -w / 2, soft, -w, 0, "q", -soft, -h / 2, 0, -h, "z")
    seams = "".join(path("M", x, -h / 2 - soft, "V", h / 2 + soft) for x in joins)
    return [
        TubePart(
            outline=outline,
            bands=found,
            light=("cloth",),
            knit=_stitch(gauge, per_cm),
            lines=seams,
            place=place,
            cords=_fringes(piece, w / 2, (-h / 2, h / 2), per_cm),
            shadow=box(-w / 2 + 3, -h / 2 + 5, w, h),
        )
    ]


def blanket(laid: LaidCloth, gauge: WorkedGauge, per_cm: float, place: str) -> list[TubePart]:
    """A blanket laid flat, one corner turned over."""
    (whole,) = flat(laid, gauge, per_cm, place)
    w, h = (side * per_cm for side in flat_size(laid, gauge))
    turn = min(w, h) * 0.3
    x, y = w / 2, h / 2
    tip = x - turn * 0.86, y - turn * 0.86
    corner = path("M", x + 1, y - turn, "Q", x - turn * 0.42, y - turn * 0.66, *tip)
    corner += path("Q", x - turn * 0.66, y - turn * 0.42, x - turn, y + 1, "z")
    cut = path("M", -x, -y, "H", x, "V", y - turn, "L", x - turn, y, "H", -x, "z")
    found, _ = outer(laid[-1])
    turned_over = {found[0][0]: box(x - turn * 1.1, y - turn * 1.1, turn * 1.3, turn * 1.3)}
    shade = path("M", -x + 4, -y + 5, "H", x + 4, "V", y - turn + 9)
    shade += path("L", x - turn + 7, y + 6, "H", -x + 4, "z")
    return [
        replace(whole, outline=cut, shadow=shade),
        TubePart(corner, turned_over, ("fold",), whole.knit, "rotate(-45)", place=place),
    ]


def _fringes(
    piece: WorkedPiece, half: float, ends: tuple[float, float], per_cm: float
) -> tuple[Cord, ...]:
    """The fringe at the top and the foot of something flat."""
    if piece.fringe is None:
        return ()
    letters = {line.yarn: line.letter for line in piece.plan}
    first, last = (letters.get(key, piece.plan[0].letter) for key in piece.fringe.yarns)
    top, foot = ends
    long = piece.fringe.finished_cm * per_cm
    return (
        fringe(last, half, top, -long, piece.fringe.tassels),
        fringe(first, half, foot, long, piece.fringe.tassels),
    )


def fringe(letter: str, half: float, y: float, long: float, tassels: int) -> Cord:
    """Tassels that hang from a level edge; `long` is negative upward."""
    count = min(max(tassels, 2), 24)
    step = 2 * half / count
    d = ""
    for n in range(count):
        x = -half + step * (n + 0.5)
        sway = step * 0.22 * (1 if n % 2 else -1)
        d += path("M", x, y, "q", sway, long * 0.5, sway * 0.4, long)
    return Cord(d, letter, min(step * 0.5, 4.0))


def scarf(piece: WorkedPiece, gauge: WorkedGauge, per_cm: float, place: str) -> list[TubePart]:
    """A scarf as it is worn: once round the neck, both ends hanging in front."""
    found = stripes(piece)
    length, width, neck, legs = _worn(piece)
    half, high = neck / pi / 2 * per_cm * 1.1, min(width, 15.0) * per_cm
    first, last = legs[0] / length, 1 - legs[1] / length
    stitch = _stitch(gauge, per_cm)
    back, front = loop(between(found, first, last), half, high, place)
    lower = high * 0.1
    left = _leg(piece, turned(between(found, 0.0, first)), legs[0], per_cm, width)
    right = _leg(piece, between(found, last, 1.0), legs[1], per_cm, width, last=True)
    spots = (
        f"translate({-half * 0.36:.2f} {lower:.2f})rotate(5)",
        f"translate({half * 0.4:.2f} {lower:.2f})rotate(-6)",
    )
    return [
        TubePart(back.outline, back.bands, back.light, stitch, "rotate(90)", place=place),
        replace(right, knit=stitch, place=place + spots[1]),
        replace(left, knit=stitch, place=place + spots[0]),
        TubePart(front.outline, front.bands, front.light, stitch, "rotate(90)", place=place),
    ]


def _worn(piece: WorkedPiece) -> tuple[float, float, float, tuple[float, float]]:
    """Length, width as hung, what the neck takes and how long the two ends hang, in cm."""
    length = piece.finished_length_cm
    width = min(piece.made_up_width_cm, 22.0)
    rest = length - NECK_CM
    return length, width, NECK_CM, (rest * 0.53, rest * 0.47)


def scarf_size(piece: WorkedPiece) -> tuple[float, float]:
    """Width and height in cm of a scarf as worn."""
    _, width, neck, legs = _worn(piece)
    hang = max(legs) + (piece.fringe.finished_cm if piece.fringe else 0.0)
    return max(neck / pi * 1.1, width * 2), hang + min(width, 15.0) * 0.6 + 4


def _leg(
    piece: WorkedPiece,
    found: list[Band],
    length: float,
    per_cm: float,
    width: float,
    *,
    last: bool = False,
) -> TubePart:
    """A hanging end: from (0, 0) down, its stripes from the neck."""
    half, tall = width * per_cm / 2, length * per_cm

    def band(start: float, end: float) -> str:
        return box(-half - 2, start * tall, 2 * half + 4, (end - start) * tall + 0.05)

    outline = path("M", -half * 0.86, 0, "H", half * 0.86, "Q", half * 1.04, tall * 0.4, half, tall)
    outline += path("Q", 0, tall + 2, -half, tall)
    outline += path("Q", -half * 1.04, tall * 0.4, -half * 0.86, 0, "z")
    both = _fringes(piece, half, (tall, tall), per_cm)
    cords: tuple[Cord, ...] = ()
    if both and piece.fringe:
        letter = both[0].letter if last else both[1].letter
        long = piece.fringe.finished_cm * per_cm
        cords = (fringe(letter, half * 0.96, tall - 1, long, piece.fringe.tassels),)
    return TubePart(
        outline,
        bands(found, band),
        ("standing", "under"),
        cords=cords,
        shadow=path("M", -half + 4, 8, "h", 2 * half, "v", tall - 4, "h", -2 * half, "z"),
    )


def bunting(
    pieces: Sequence[WorkedPiece], gauge: WorkedGauge, frame: tuple[float, float], cord: str
) -> list[TubePart]:
    """Flags of every kind in turn, on a cord that sags across the frame."""
    width, height = frame
    count = min(max(sum(piece.make for piece in pieces), 3), 7)
    long = max(piece.made_up_length_cm for piece in pieces)
    wide = max(piece.made_up_width_cm for piece in pieces)
    room = width * 0.87
    per_cm = min(room / (count * wide * 1.22), height * 0.6 / long)
    flags = [_flag(piece, gauge, per_cm) for piece in pieces]
    y0, dip = (0.5 - 0.62 * min(long * per_cm / height, 1.0)) * height * 0.6, height * 0.26
    line = path("M", 0, y0, "Q", width / 2, y0 + 2 * dip, width, y0)
    parts = [TubePart("", {}, cords=(Cord(line, cord, 3.2),))]
    for n in range(count):
        t = 0.5 + room / width * ((n + 0.5) / count - 0.5)
        x, y = width * t, y0 + 4 * dip * t * (1 - t)
        lean = 9 * (1 - 2 * t)
        spot = f"translate({x:.2f} {y:.2f})rotate({lean:.2f})"
        parts.append(replace(flags[n % len(flags)], place=spot))
    return parts


def _flag(piece: WorkedPiece, gauge: WorkedGauge, per_cm: float) -> TubePart:
    """A flag hanging from (0, 0). An end that is gathered hangs as a point."""
    w, h = piece.made_up_width_cm * per_cm, piece.made_up_length_cm * per_cm
    found, _ = outer(piece)
    pointed = "gathered" in (piece.ends[0].edge, piece.ends[1].edge)
    down = turned(found) if piece.ends[0].edge == "gathered" or not pointed else found
    if pointed:
        outline = path("M", -w / 2, 0, "H", w / 2, "Q", w * 0.2, h * 0.6, 0, h)
        outline += path("Q", -w * 0.2, h * 0.6, -w / 2, 0, "z")
    else:
        outline = path("M", -w / 2, 0, "H", w / 2, "V", h, "Q", 0, h + 3, -w / 2, h, "z")

    def band(start: float, end: float) -> str:
        return box(-w / 2, start * h, w, (end - start) * h + 3.0 * (end >= 1))

    drawn = joined_paths({letter: [d] for letter, d in bands(down, band).items()})
    far, near = (6, 6) if pointed else (w / 2 + 5, -w / 2 + 5)
    shade = path("M", -w / 2 + 5, 6, "h", w, "L", far, h + 7, "H", near, "z")
    return TubePart(outline, drawn, ("standing",), _stitch(gauge, per_cm), shadow=shade)
