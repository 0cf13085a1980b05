"""The colour of each row, from the middle of its band, and how even it is there."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import cv2
import numpy as np

from stripewright.camera.colours import differences, lab_of
from stripewright.camera.light import PER_MM, linear
from stripewright.camera.overruns import blurred_by, own_steps, sharp_in

if TYPE_CHECKING:
    from stripewright.camera.arrays import Mask, Pixels, Reals
    from stripewright.camera.lines import Moves


MIDDLE = 0.5
"""The share of a band's height that is looked at: strokes run over, lines stand at its ends."""
_SIDE_MM = 1.2
"""From the outline's sides: strokes begin late there."""
_SEGMENTS = 8
BREAK_AT, BREAK_MM = 0.82, 2.2
"""Where the break line stands in the width, and half the room it takes."""
INKED, STRONG = 0.8, 85
"""A pixel carries a row's colour at this share of the distance from white that its strong ones
have, by this percentile. What is less is paper between strokes; a few that are more, another's."""
_STEPS = 10
_STEEP = 0.015
"""A change of the logarithm of light, near the end of a row, that is as good as none."""


@dataclass(frozen=True, slots=True)
class Bands:
    """What the bands of one page and one panel look like, from its lowest row to its highest."""

    rows: tuple[int, ...]
    """Worked rows."""
    light: Reals
    """Linear sRGB of each row's colour, 1 is paper white."""
    lab: Reals
    parts: Reals
    """Rows × halves × segments × 3: the same, upper and lower half, along the row; nan for none."""
    rest: Reals
    """Rows × 3, linear sRGB: what is seen well away from a row's own colour; nan for nothing."""
    inked: Reals
    """Rows × segments: the share of pixels that carry the row's colour."""


def bands_of(
    flat: Pixels, white: Reals, page: dict[str, Any], moves: Moves, span: tuple[float, float]
) -> Bands:
    """Measure the bands of a page.

    Args:
        flat: the page laid flat, `PER_MM` pixels to a mm.
        white: from `light.white_of`.
        page: as `paper` lays it out.
        moves: from `lines.follow`.
        span: left and right of the panel, mm from the page's left edge.
    """
    columns = _columns(page, span)
    bands = page["bands"]
    pixels = _seen(flat, white, page, moves, columns)
    outline = page["outline"]
    whole = _columns(page, (outline["x"], outline["x"] + outline["width"]))
    alone = len(whole) == len(columns)
    shade = _shade(pixels if alone else _seen(flat, white, page, moves, whole), whole, columns)
    pixels = (pixels / np.exp(shade)[:, None, :, None]).astype(np.float32)
    own = own_steps(pixels, [band["row"] for band in bands])
    far = np.sqrt(((lab_of(pixels) - (100, 0, 0)) ** 2).sum(-1))
    far[~own] = np.nan  # rows × steps: what reaches in from the rows beside
    strong = np.nanpercentile(far.reshape(len(bands), -1), STRONG, axis=1)
    kept = np.nan_to_num(far, nan=-1.0) >= INKED * strong[:, None, None]
    groups = np.array_split(np.arange(pixels.shape[2]), _SEGMENTS)
    halves = (slice(0, _STEPS // 2), slice(_STEPS // 2, _STEPS))
    sharp = sharp_in(kept)
    parts = [
        [_median(pixels[:, half][:, :, g], sharp[:, half][:, :, g]) for g in groups]
        for half in halves
    ]
    light = np.stack([np.stack([one for one, _ in half], 1) for half in parts], 1)
    weight = np.stack([np.stack([count for _, count in half], 1) for half in parts], 1)
    seen = own.sum(axis=1)[:, None]
    inked = np.stack([kept[:, :, g].mean(axis=2).sum(axis=1) for g in groups], axis=1) / seen
    colour = _middle(light.reshape(len(bands), -1, 3), weight.reshape(len(bands), -1))
    rest, _ = _median(pixels, own[:, :, None] & ~blurred_by(kept))
    rows = tuple(band["row"] for band in bands)
    return Bands(rows, colour, lab_of(colour), light, rest, inked.astype(np.float64))


def _columns(page: dict[str, Any], span: tuple[float, float]) -> Reals:
    """Where along a band it is looked at, mm from the page's left edge."""
    left, right = span
    side = min(_SIDE_MM, (right - left) / 6)
    columns = np.arange(left + side, right - side, 1.5 / PER_MM)
    if page["broken"]:
        at = page["outline"]["x"] + page["outline"]["width"] * BREAK_AT
        clear = columns[np.abs(columns - at) > BREAK_MM]
        columns = clear if len(clear) > _SEGMENTS else columns
    return columns.astype(np.float32)


def _band(
    flat: Pixels, white: Reals, at: tuple[float, float], moves: Moves, columns: Reals
) -> Reals:
    """A band's pixels, evened by the paper's white, from its upper part to its lower one."""
    middle, band = at
    down = moves.at(columns, middle)
    steps = (np.arange(_STEPS) + 0.5) / _STEPS - 0.5
    ys = (middle + down)[None, :] + (steps * MIDDLE * band)[:, None].astype(np.float32)
    xs = np.broadcast_to(columns, ys.shape)
    seen = cv2.remap(
        flat, (xs * PER_MM - 0.5).astype(np.float32), (ys * PER_MM - 0.5).astype(np.float32),
        cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE,
    )  # fmt: skip
    paper = cv2.remap(
        white, (xs - 0.5).astype(np.float32), (ys - 0.5).astype(np.float32),
        cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE,
    )  # fmt: skip
    return linear(seen.astype(np.uint8)) / np.maximum(paper, 1e-4)


def _seen(flat: Pixels, white: Reals, page: dict[str, Any], moves: Moves, columns: Reals) -> Reals:
    """All bands' pixels: rows × steps × columns × 3."""
    high = page["band"]
    return np.stack([_band(flat, white, (band["y"] + high / 2, high), moves, columns)
                     for band in page["bands"]])  # fmt: skip


def _shade(pixels: Reals, whole: Reals, columns: Reals) -> Reals:
    """What a shadow inside the outline leaves: a change along the row, alike in many.

    The paper beside both ends of a row is seen, so its ends are right, or that of them is which no
    shadow's edge is near; what changes between them in a whole neighbourhood of rows is light, not
    colour.

    Args:
        pixels: rows × steps × places × 3, all across the outline.
        whole: these places, mm.
        columns: the places that are asked for.

    Returns:
        Rows × columns, a logarithm.
    """
    groups = np.array_split(np.arange(pixels.shape[2]), 2 * _SEGMENTS)
    logs = np.log(np.maximum(pixels.mean(axis=3), 1e-3))
    along = np.stack([np.median(logs[:, :, g], axis=(1, 2)) for g in groups], axis=1)
    ends = along[:, [0, 1, -2, -1]].mean(axis=1, keepdims=True)
    off = along - ends
    reach = 6
    padded = np.pad(off, ((reach, reach), (0, 0)), mode="edge")
    usual = np.stack([np.median(padded[n : n + 2 * reach + 1], axis=0) for n in range(len(off))])
    usual = np.clip(usual - _anchor(usual), -0.7, 0.7)
    usual[np.abs(usual) < 0.015] = 0
    middles = [float(whole[g].mean()) for g in groups]
    return np.stack([np.interp(columns, middles, row) for row in usual])


def _anchor(usual: Reals) -> Reals:
    """What changes along rows (rows × places) at the end that is right: the less steep one."""
    ends = np.stack([usual[:, :2].mean(axis=1), usual[:, -2:].mean(axis=1)], axis=1)
    inner = np.stack([usual[:, 3:5].mean(axis=1), usual[:, -5:-3].mean(axis=1)], axis=1)
    weight = 1 / (_STEEP + np.abs(ends - inner)) ** 2
    anchor: Reals = ((ends * weight).sum(axis=1) / weight.sum(axis=1))[:, None]
    return anchor


def _median(pixels: Reals, kept: Mask) -> tuple[Reals, Reals]:
    """Of each row the median of the pixels kept, channel by channel; nan where none is.

    Returns:
        Rows × 3; and of each row how many were kept.
    """
    flat = pixels.reshape(len(pixels), -1, 3)
    chosen = kept.reshape(len(pixels), -1)
    out = np.full((len(pixels), 3), np.nan)
    count = chosen.sum(axis=1)
    for n, (values, which) in enumerate(zip(flat, chosen, strict=True)):
        if count[n] >= 3:
            out[n] = np.median(values[which], axis=0)
    return out, count


def _middle(parts: Reals, weights: Reals) -> Reals:
    """The parts' median by their weights, then the mean of the half that is nearest to it."""
    out = np.ones((len(parts), 3))
    for n, (every, counts) in enumerate(zip(parts, weights, strict=True)):
        sound = ~np.isnan(every[:, 0])
        if not sound.any():
            continue
        own, weight = every[sound], counts[sound].astype(np.float64)
        middle = np.array([_by_weight(own[:, c], weight) for c in range(3)])
        order = np.argsort(differences(lab_of(own), lab_of(middle)))
        before = np.cumsum(weight[order]) - weight[order]
        near = order[before < weight.sum() / 2]
        out[n] = np.average(own[near], axis=0, weights=weight[near])
    return out


def _by_weight(values: Reals, weights: Reals) -> float:
    """The median of numbers that don't weigh alike."""
    order = np.argsort(values)
    run = np.cumsum(weights[order])
    return float(values[order][np.searchsorted(run, run[-1] / 2)])
