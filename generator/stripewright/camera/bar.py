"""A plain painted bar, without marks: bands of one colour along its longer side."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from stripewright.camera.colours import differences, lab_of
from stripewright.camera.frame import FITS, inside
from stripewright.camera.joined import Joined, RowSeen
from stripewright.camera.light import linear
from stripewright.catalogue import say
from stripewright.problems import Place, Problem, error

if TYPE_CHECKING:
    from stripewright.camera.arrays import Pixels
    from stripewright.camera.picture import Picture


_LEAST_PIXELS = 3.0
"""Of the picture to a row."""
_SEGMENTS = 8
EXACT, NOISY = 1.5, 3.0
"""CIEDE2000 up to which the parts of a row differ on a screen's picture; and how many times further
than the noise of its pixels alone lets them."""
NO_FIT = say(
    "the bar's changes of colour don't fall between {rows} rows: is the number right, and does "
    "the picture show the bar alone?"
)
LONGER = say(
    "rows at the bar's ends may have the colour that it lies on: cut the picture to the bar alone"
)


def read_bar(picture: Picture, rows: int) -> tuple[Joined | None, list[Problem]]:
    """Read a bar: upright from its foot, lying from its left end.

    Args:
        picture: of the bar and nothing else but a rim of one colour.
        rows: how many it has.
    """
    pixels = picture.pixels
    if pixels.shape[0] > pixels.shape[1]:
        pixels = np.rot90(pixels, -1)  # the foot comes to the left
    lying = inside(np.ascontiguousarray(pixels), rows)
    middle, (left, right) = lying.middle, lying.ends
    if right - left < _LEAST_PIXELS * rows:
        return None, [
            error(
                Place(picture.name),
                say("the bar is {wide} pixels long: too few for {rows} rows", round(right - left),
                    rows),
                say("save it at {value} pixels or more", 4 * rows),
            )
        ]  # fmt: skip
    edges = np.linspace(left, right, rows + 1)
    seen = tuple(_row(middle, a, b) for a, b in pairwise(edges.tolist()))
    uneven, noise = (float(np.median(own)) for own in zip(
        *(_spread(row, middle, a, b) for row, (a, b) in zip(seen, pairwise(edges), strict=True)),
        strict=True))  # fmt: skip
    why = say(NO_FIT, rows) if lying.fits < FITS else LONGER if lying.longer else ""
    faults = dict.fromkeys(range(1, rows + 1), why) if why else {}
    return Joined(None, "Bar", 0, seen, faults, exact=uneven < max(EXACT, NOISY * noise),
                  row_px=(right - left) / rows), []  # fmt: skip


def _span(left: float, right: float, wide: int) -> tuple[int, int]:
    """The pixels of the middle half of a band."""
    quarter = (right - left) / 4
    a, b = int(np.floor(left + quarter + 0.5)), int(np.ceil(right - quarter - 0.5))
    a = min(max(a if b > a else int((left + right) / 2), 0), wide - 1)
    return a, min(max(b, a + 1), wide)


def _row(pixels: Pixels, left: float, right: float) -> RowSeen:
    """The middle half of a band, in two halves."""
    a, b = _span(left, right, pixels.shape[1])
    half = max((a + b) // 2, a + 1)
    parts = []
    for part in (pixels[:, a:half], pixels[:, min(half, b - 1) : b]):
        groups = np.array_split(linear(part), min(_SEGMENTS, len(part)), axis=0)
        middles = [np.median(g.reshape(-1, 3), axis=0) for g in groups]
        parts.append(middles + [middles[-1]] * (_SEGMENTS - len(middles)))
    light = np.array(parts, np.float64)
    middle = np.median(linear(pixels[:, a:b]).reshape(-1, 3), axis=0).astype(np.float64)
    return RowSeen(middle, light, np.ones(_SEGMENTS), np.full(3, np.nan))


def _spread(row: RowSeen, pixels: Pixels, left: float, right: float) -> tuple[float, float]:
    """CIEDE2000 of a row's parts from its colour; and what the noise of pixels makes of that."""
    a, b = _span(left, right, pixels.shape[1])
    some = linear(pixels[:: max(len(pixels) // 60, 1), a:b])
    colour = lab_of(row.light)
    noise = float(np.median(differences(lab_of(some), colour)))
    each = max(len(pixels) // _SEGMENTS, 1) * max((b - a) // 2, 1)
    return (float(np.nanmedian(differences(lab_of(row.parts.reshape(-1, 3)), colour))),
            noise / float(np.sqrt(each)))  # fmt: skip
