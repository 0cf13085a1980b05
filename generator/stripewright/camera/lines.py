"""Printed lines: how far a curled page has moved each row from where a flat one has it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import cv2
import numpy as np

from stripewright.camera.light import PER_MM

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stripewright.camera.arrays import Integers, Pixels, Reals


MOST_MM = 6.0
"""A row that has moved further is not looked for."""
COLUMN_MM = 11.0
FIRM, FINE, BORDER = 1.0, 0.35, 1.2
"""How strongly a fifth row's line, another row's, and the outline's ends show."""
NODE_MM = 2.0
"""From one place to the next at which the move is looked for."""
STEEPEST = 0.12
"""A move's greatest change a mm of page: paper bends no sharper."""


@dataclass(frozen=True, slots=True)
class Moves:
    """How far down each place of an outline has moved, in mm, by columns and heights."""

    columns: Reals
    """Middles of the columns, mm from the page's left edge."""
    heights: Reals
    """mm from the page's top."""
    down: Reals
    """Heights × columns."""
    seen: float
    """How clearly the printed lines show there: 0 not at all, 1 as printed."""

    def at(self, x: Reals, y: float) -> Reals:
        """The move at some places of one height."""
        across = np.array(
            [np.interp(y, self.heights, self.down[:, n]) for n in range(len(self.columns))]
        )
        moved: Reals = np.interp(x, self.columns, across).astype(np.float32)
        return moved


def still() -> Moves:
    """No move anywhere: a page that is flat."""
    zero = np.zeros(2, np.float32)
    return Moves(
        np.array([0, 500], np.float32), np.array([0, 500], np.float32), np.stack([zero, zero]), 0.0
    )


def ink_of(flat: Pixels) -> Reals:
    """Thin dark marks against their surroundings, 0 to 1, whatever colour lies around."""
    grey = cv2.cvtColor(flat, cv2.COLOR_RGB2GRAY)
    size = int(1.1 * PER_MM) | 1
    around = cv2.morphologyEx(grey, cv2.MORPH_CLOSE, np.ones((size, 1), np.uint8))
    return ((around.astype(np.float32) - grey) / (around.astype(np.float32) + 24)).astype(
        np.float32
    )


def follow(flat: Pixels, page: dict[str, Any], most_mm: float) -> Moves:
    """Where the printed lines of a page are, against where a flat page has them.

    Args:
        flat: the page laid flat by its marks, `PER_MM` pixels to a mm.
        page: as `paper` lays it out.
        most_mm: how far a row may have moved.
    """
    ink = ink_of(flat)
    outline = page["outline"]
    top, foot = outline["y"], outline["y"] + outline["height"] + NODE_MM
    columns = _columns(page)
    reach = max(int(min(most_mm, MOST_MM) * PER_MM), 2)
    lines = _template(page, flat.shape[0])
    fits = [_fit(_profile(ink, *span), lines, reach, page["band"]) for span in columns]
    nodes = np.arange(top, foot, NODE_MM, dtype=np.float32)
    rows = np.clip((nodes * PER_MM).astype(int), 0, flat.shape[0] - 1)
    volume = np.stack([fit[:, rows] for fit in fits])  # columns × moves × nodes
    volume = _shared(volume)
    down = np.stack([_path(column, reach) for column in volume], axis=1)
    clear = _clearness(fits, rows, down, reach)
    middles = np.array([(a + b) / 2 for a, b in columns], np.float32)
    return Moves(middles, nodes, _smooth(down, middles).astype(np.float32), clear)


def _shared(volume: Reals) -> Reals:
    """What each column sees, with half of what its neighbours see and a quarter of the next."""
    out = volume.copy()
    for n, share in ((1, 0.5), (2, 0.25)):
        out[n:] += share * volume[:-n]
        out[:-n] += share * volume[n:]
    return out


def _columns(page: dict[str, Any]) -> list[tuple[float, float]]:
    """Columns of the outline, in mm; neither its sides, nor what is drawn down through it."""
    outline = page["outline"]
    left, width = outline["x"], outline["width"]
    count = max(round(width / COLUMN_MM), 1)
    edges = np.linspace(left + 0.5, left + width - 0.5, count + 1)
    return list(zip(edges[:-1].tolist(), edges[1:].tolist(), strict=True))


def _template(page: dict[str, Any], high: int) -> Reals:
    """The lines of a flat page as a profile: each about a quarter of a mm thick."""
    profile = np.zeros(high, np.float32)
    outline = page["outline"]
    lines = [(band["y"], FIRM if band["five"] else FINE) for band in page["bands"]]
    lines += [(outline["y"], BORDER), (outline["y"] + outline["height"], BORDER)]
    places = np.arange(high, dtype=np.float32) + 0.5
    for y, weight in lines:
        profile = np.maximum(profile, weight * np.exp(-(((places - y * PER_MM) / 1.6) ** 2)))
    return profile


def _profile(ink: Reals, left: float, right: float) -> Reals:
    """The ink down a column; what is not drawn across its width weighs little."""
    part = ink[:, int(left * PER_MM) : int(right * PER_MM)]
    pieces = np.array_split(part, max(part.shape[1] // 16, 1), axis=1)
    means = np.stack([piece.mean(axis=1) for piece in pieces])
    mean: Reals = np.minimum(np.median(means, axis=0), 0.35)
    return mean


def _fit(profile: Reals, lines: Reals, reach: int, band: float) -> Reals:
    """How well the lines around each height fit, moved by −reach to +reach pixels."""
    window = int(max(5.4 * band, 14.0) * PER_MM) | 1
    around = cv2.blur(profile[:, None], (1, window))[:, 0]
    own = profile - around
    norm = np.sqrt(np.maximum(cv2.blur((own**2)[:, None], (1, window))[:, 0], 0)) + 0.01
    base = lines - cv2.blur(lines[:, None], (1, window))[:, 0]
    size = np.sqrt(np.maximum(cv2.blur((base**2)[:, None], (1, window))[:, 0], 0)) + 0.02
    moved = []
    for move in range(-reach, reach + 1):
        there = np.roll(own, -move) * base / size
        moved.append(cv2.blur(there[:, None], (1, window))[:, 0] / np.roll(norm, -move))
    return np.stack(moved).astype(np.float32)


def _path(fit: Reals, reach: int) -> Reals:
    """The likeliest move at each node, in mm, changing no faster than paper bends."""
    moves = np.arange(-reach, reach + 1)
    steepest = max(int(STEEPEST * NODE_MM * PER_MM), 1)
    cost = -fit + 0.02 * (moves[:, None] / PER_MM) ** 2
    total, back = cost[:, 0].copy(), []
    for node in range(1, cost.shape[1]):
        options = np.full((2 * steepest + 1, len(moves)), np.inf, np.float32)
        for n, change in enumerate(range(-steepest, steepest + 1)):
            span = slice(max(change, 0), len(moves) + min(change, 0))
            source = slice(max(-change, 0), len(moves) + min(-change, 0))
            options[n, span] = total[source] + 0.03 * abs(change)
        best = options.argmin(axis=0)
        back.append(best - steepest)
        total = options.min(axis=0) + cost[:, node]
    at = int(total.argmin())
    path = [at]
    for changes in reversed(back):
        at -= int(changes[at])
        path.append(at)
    return np.array(path[::-1], np.float32) / PER_MM - reach / PER_MM


def _clearness(fits: Sequence[Reals], rows: Integers, down: Reals, reach: int) -> float:
    values = []
    for n, fit in enumerate(fits):
        at = np.clip(np.round(down[:, n] * PER_MM).astype(int) + reach, 0, 2 * reach)
        values.append(fit[at, rows])
    return float(np.median(np.stack(values)))


def _smooth(down: Reals, middles: Reals) -> Reals:
    """Along the page a running mean; across it a curve of second degree, outliers left out."""
    kernel = np.ones(5) / 5
    padded = np.pad(down, ((2, 2), (0, 0)), mode="edge")
    along = np.stack([np.convolve(column, kernel, "valid") for column in padded.T], axis=1)
    if len(middles) < 4:
        return np.repeat(np.median(along, axis=1, keepdims=True), len(middles), axis=1)
    x = (middles - middles.mean()) / np.ptp(middles)
    terms = np.stack([np.ones_like(x), x, x**2], axis=1)
    out = np.empty_like(along)
    for n, row in enumerate(along):
        weight = np.ones(len(row))
        for _ in range(4):
            found, *_ = np.linalg.lstsq(terms * weight[:, None], row * weight, rcond=None)
            weight = 1 / (1 + ((row - terms @ found) / 0.15) ** 2)
        out[n] = terms @ found
    return out
