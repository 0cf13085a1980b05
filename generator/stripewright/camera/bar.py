"""A plain painted bar, without marks: bands of one colour along its longer side."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from stripewright.camera.colours import differences, lab_of
from stripewright.camera.joined import Joined, RowSeen
from stripewright.camera.light import linear
from stripewright.catalogue import say
from stripewright.problems import Place, Problem, error

if TYPE_CHECKING:
    from stripewright.camera.arrays import Pixels, Reals
    from stripewright.camera.picture import Picture


_LEAST_PIXELS = 3.0
"""Of the picture to a row."""
_SEGMENTS = 8
BORDER = 3.0
"""CIEDE2000 up to which the rim of a picture is one colour: the paper that a bar lies on."""
EXACT = 1.5
"""CIEDE2000 up to which the pixels of a row differ on a screen's picture."""


def read_bar(picture: Picture, rows: int) -> tuple[Joined | None, list[Problem]]:
    """Read a bar: upright from its foot, lying from its left end.

    Args:
        picture: of the bar and nothing else but a rim of one colour.
        rows: how many it has.
    """
    pixels = _trimmed(picture.pixels)
    if pixels.shape[0] > pixels.shape[1]:
        pixels = np.ascontiguousarray(np.rot90(pixels, -1))  # the foot comes to the left
    high, wide = pixels.shape[:2]
    if wide < _LEAST_PIXELS * rows:
        return None, [
            error(
                Place(picture.name),
                say("the bar is {wide} pixels long: too few for {rows} rows", wide, rows),
                say("save it at {value} pixels or more", 4 * rows),
            )
        ]
    edges = np.linspace(0, wide, rows + 1)
    inner = pixels[int(high * 0.15) : max(int(high * 0.85), int(high * 0.15) + 1)]
    seen = tuple(_row(inner, a, b) for a, b in pairwise(edges.tolist()))
    spread = float(np.median([np.nanmax(_spread(row)) for row in seen]))
    return Joined(None, "Bar", 0, seen, {}, exact=spread < EXACT), []


def _row(pixels: Pixels, left: float, right: float) -> RowSeen:
    """The middle half of a band, in two halves."""
    quarter = (right - left) / 4
    x0, x1 = left + quarter, right - quarter
    a, b = int(np.floor(x0 + 0.5)), int(np.ceil(x1 - 0.5))
    a, b = (a, b) if b > a else (int((left + right) / 2), int((left + right) / 2) + 1)
    half = max((a + b) // 2, a + 1)
    parts = []
    for part in (pixels[:, a:half], pixels[:, min(half, b - 1) : b]):
        groups = np.array_split(linear(part), min(_SEGMENTS, len(part)), axis=0)
        middles = [np.median(g.reshape(-1, 3), axis=0) for g in groups]
        parts.append(middles + [middles[-1]] * (_SEGMENTS - len(middles)))
    light = np.array(parts, np.float64)
    middle = np.median(light.reshape(-1, 3), axis=0)
    return RowSeen(middle, light, np.ones(_SEGMENTS), np.full(3, np.nan))


def _spread(row: RowSeen) -> Reals:
    return differences(lab_of(row.parts.reshape(-1, 3)), lab_of(row.light))


def _trimmed(pixels: Pixels) -> Pixels:
    """Without a rim of one colour all around, if there is one."""
    lab = lab_of(linear(pixels[:: max(len(pixels) // 800, 1), :: max(pixels.shape[1] // 800, 1)]))
    rim = np.concatenate([lab[0], lab[-1], lab[:, 0], lab[:, -1]])
    ground = np.median(rim, axis=0)
    if np.percentile(differences(rim, ground), 98) > BORDER:
        return pixels
    other = differences(lab, ground) > BORDER
    rows, columns = np.flatnonzero(other.mean(1) > 0.1), np.flatnonzero(other.mean(0) > 0.1)
    if not len(rows) or not len(columns):
        return pixels
    down, across = len(pixels) / len(lab), pixels.shape[1] / lab.shape[1]
    return pixels[
        round(rows[0] * down) : round((rows[-1] + 1) * down),
        round(columns[0] * across) : round((columns[-1] + 1) * across),
    ]
