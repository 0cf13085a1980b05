"""Where a plain bar lies in its picture, and whether its changes of colour fit its rows."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from stripewright.camera.colours import differences, lab_of
from stripewright.camera.light import linear

if TYPE_CHECKING:
    from stripewright.camera.arrays import Pixels, Reals


FITS = 0.85
"""How well a bar's changes of colour must fall between its rows."""
OTHER = 5.0
"""CIEDE2000 from the paper that a bar lies on from which on something else is seen."""
_RIM = 0.96
"""The share of a picture's rim that is of one colour where a bar lies on paper."""
_STEP = 4.0
"""CIEDE2000 between rows that counts as a change of colour."""
_CHUNKS, _INNER = 160, (0.2, 0.8)
"""Pieces of a line, each taken for its median; and what of a bar's breadth is looked at."""
_WAY = 0.4
"""The share of a row by which each end of a bar may be elsewhere than it seems."""
_HUE, _STAY = 0.5, 2.0
"""How much hue says of where a change is, against lightness: a JPEG keeps it more coarsely; and
what it costs, in squares of CIE Lab's units, to move an end by a row."""
_SLACK_PX = 0.6
"""How far off a change may be seen."""


@dataclass(frozen=True, slots=True, eq=False)
class Lying:
    """A bar that runs from left to right."""

    middle: Pixels
    """Of its breadth."""
    ends: tuple[float, float]
    """Where along it the bar begins and ends, in pixels."""
    fits: float
    """How well its changes of colour fall between its rows, from `fit_of`."""
    longer: bool
    """Whether it may have more rows, at its ends, of the colour that it lies on."""


def inside(pixels: Pixels, rows: int) -> Lying:
    """A lying bar without what it lies on.

    Args:
        pixels: of a bar that runs from left to right, with a rim of one colour or none.
        rows: how many it has.
    """
    ground = _ground(pixels)
    high, wide = pixels.shape[:2]
    top, foot, left, right = 0.0, float(high), 0.0, float(wide)
    if ground is not None:
        shares = (differences(lab_of(_lines(pixels)), ground) > OTHER).mean(axis=1)
        if not shares.any():  # nothing lies on it: the picture is the bar, all of one colour
            ground, shares = None, np.ones(len(pixels))
        seen = np.flatnonzero(shares > shares.max() / 2)
        top, foot = float(seen[0]), float(seen[-1] + 1)
    first = int(top + (foot - top) * _INNER[0])
    middle = pixels[first : max(int(top + (foot - top) * _INNER[1]), first + 1)]
    along = along_of(middle)
    if ground is not None:
        left, right = _ends(along, ground, rows)
    ends = _settled(along, (left, right), rows)
    longer = ground is not None and _longer(along, ends, rows, min(top, high - foot))
    return Lying(middle, ends, fit_of(along, ends, rows), longer)


def _longer(along: Reals, ends: tuple[float, float], rows: int, beside: float) -> bool:
    """Whether so many more rows of the paper's colour would lie evenly on it and fit as well.

    Args:
        along: places × 3, linear sRGB.
        ends: of what is seen of the bar.
        rows: how many it has.
        beside: the paper above or below it, in pixels.
    """
    margins = np.array([ends[0], len(along) - ends[1]])
    for even in (min(margins), beside):
        for more in range(1, rows // 2):
            pitch = (ends[1] - ends[0]) / (rows - more)
            at_ends = np.round((margins - even) / pitch)
            if at_ends.min() >= 0 and at_ends.sum() == more:
                whole = (ends[0] - at_ends[0] * pitch, ends[1] + at_ends[1] * pitch)
                if fit_of(along, whole, rows) > FITS:
                    return True
    return False


def along_of(pixels: Pixels) -> Reals:
    """Of each place along a lying bar its colour in linear sRGB: the median across."""
    return np.asarray(np.median(linear(pixels[:: max(len(pixels) // 200, 1)]), axis=0), np.float64)


def fit_of(along: Reals, ends: tuple[float, float], rows: int) -> float:
    """How well the changes of colour along a bar fall between its rows: 1 all, 0 by chance.

    Args:
        along: places × 3, linear sRGB.
        ends: of the bar, in pixels.
        rows: how many it has.
    """
    places, sizes = _changes(along, ends, (ends[1] - ends[0]) / rows)
    if not len(places):
        return 1.0
    pitch = (ends[1] - ends[0]) / rows
    off = ((places - ends[0]) / pitch + 0.5) % 1 - 0.5
    off = np.maximum(np.abs(off) - _SLACK_PX / pitch, 0)
    return float((np.cos(2 * np.pi * off) * sizes).sum() / sizes.sum())


def _lines(pixels: Pixels, least: int = 3) -> Reals:
    """Each line of a picture as medians of its pieces: lines × pieces × 3, linear sRGB."""
    light = linear(pixels)
    pieces = np.array_split(
        np.arange(light.shape[1]), min(_CHUNKS, max(light.shape[1] // least, 1))
    )
    return np.stack([np.median(light[:, own], axis=1) for own in pieces], axis=1)


def _ground(pixels: Pixels) -> Reals | None:
    """The colour that a bar lies on, in Lab; None where the rim of the picture has several."""
    deep = 2 if min(pixels.shape[:2]) > 12 else 1
    turned = pixels.swapaxes(0, 1)
    rim = np.concatenate([
        np.median(_lines(np.ascontiguousarray(side), 8), axis=0)
        for side in (pixels[:deep], pixels[-deep:], turned[:deep], turned[-deep:])
    ])  # fmt: skip
    ground = lab_of(np.median(rim, axis=0))
    alike = differences(lab_of(rim), ground) < OTHER
    return ground if alike.mean() > _RIM else None


def _ends(along: Reals, ground: Reals, rows: int) -> tuple[float, float]:
    """Where a bar begins and ends: between pixels, where half of its colour is reached."""
    apart = differences(lab_of(along), ground)
    other = np.flatnonzero(apart > OTHER)
    if not len(other):
        return 0.0, float(len(along))
    reach = max(int(0.9 * (other[-1] + 1 - other[0]) / rows), 1)  # a JPEG strays so far
    return (_half(along, apart, range(int(other[0]), int(other[0]) + reach + 1)),
            len(along) - _half(along[::-1], apart[::-1], range(
                len(along) - 1 - int(other[-1]), len(along) - int(other[-1]) + reach)))  # fmt: skip


def _half(along: Reals, apart: Reals, near: range) -> float:
    """The first place of some that has half of the colour of the strongest of them."""
    places = np.array([n for n in near if n < len(along)])
    strong = int(places[apart[places].argmax()])
    paper = np.median(along[: max(int(places[0]), 1)], axis=0)
    way = along[strong] - paper
    shares = (along[: strong + 1] - paper) @ way / max(float(way @ way), 1e-9)
    first = next((n for n in places.tolist() if n < strong and shares[n] > 0.5), strong)
    before = float(shares[first - 1]) if first else 0.0
    return float(first + 1 - min(max(float(shares[first]), 0), 1) - min(max(before, 0), 1))


def _settled(along: Reals, ends: tuple[float, float], rows: int) -> tuple[float, float]:
    """Ends moved by less than half a row to where the changes of colour fit the rows best."""
    pitch = (ends[1] - ends[0]) / rows
    ways = np.linspace(-_WAY, _WAY, 17) * pitch
    lab = lab_of(along) * (1, _HUE, _HUE)
    sums = np.concatenate([np.zeros((1, 6)), np.cumsum(np.hstack([lab, lab**2]), axis=0)])
    places = np.arange(len(sums))

    def cost(begin: float, end: float) -> float:
        edges = np.clip(np.linspace(begin, end, rows + 1), 0, len(lab))
        within = np.diff(
            np.stack([np.interp(edges, places, own) for own in sums.T], axis=1), axis=0
        )
        wide = np.maximum(np.diff(edges), 0.1)[:, None]
        return float((within[:, 3:] - within[:, :3] ** 2 / wide).sum()) / (end - begin)

    moved = abs(ways[:, None]) + abs(ways[None])
    costs = np.array([[cost(ends[0] + a, ends[1] + b) for b in ways] for a in ways])
    a, b = np.unravel_index(int(np.argmin(costs + _STAY * moved / pitch)), costs.shape)
    return float(ends[0] + ways[a]), float(ends[1] + ways[b])


def _changes(along: Reals, ends: tuple[float, float], pitch: float) -> tuple[Reals, Reals]:
    """Where colour changes inside a bar, in pixels from its picture's left, and how much."""
    reach = max(int(pitch / 4), 1)
    lab = lab_of(along)
    steps = np.zeros(len(lab) + 1)
    steps[reach : len(lab) + 1 - reach] = differences(
        lab[: len(lab) + 1 - 2 * reach], lab[2 * reach - 1 :]
    )
    low, high = int(ends[0] + pitch / 2), int(np.ceil(ends[1] - pitch / 2))
    places = [
        n
        for n in range(max(low, 1), min(high, len(steps) - 1))
        if steps[n] > _STEP and steps[n] == steps[max(n - reach, 0) : n + reach + 1].max()
    ]
    exact = [_between(steps, n, reach) for n in places]
    return np.array(exact), np.minimum(steps[places], 20.0)


def _between(steps: Reals, at: int, reach: int) -> float:
    """The middle of a change that is as strong at several places."""
    around = np.arange(max(at - reach, 0), min(at + reach + 1, len(steps)))
    weight = np.maximum(steps[around] - steps[at] / 2, 0)
    return float((around * weight).sum() / weight.sum())
