"""The key: which of its boxes are coloured, and whether it says that white is a colour."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import cv2
import numpy as np

from stripewright.camera.colours import lab_of
from stripewright.camera.light import PER_MM, linear
from stripewright.camera.rows import INKED, STRONG

if TYPE_CHECKING:
    from stripewright.camera.arrays import Pixels, Reals


_INSET_MM = 1.3
WRITTEN = 0.012
"""The share of dark on a box's line that is writing."""
CALM_MM = 0.3
"""Over how much of a box a pixel's colour is averaged: less than a stroke's width."""
COLOURED = 3.0
"""A box is coloured from this far away from white on, CIE 1976."""


@dataclass(frozen=True, slots=True)
class KeyColours:
    """What a page's key says."""

    light: dict[str, Reals]
    """Letter -> colour in linear sRGB, of the boxes that are coloured."""
    white: str | None = None
    """The letter whose box was left white and meant so."""


def read_key(
    flat: Pixels, white: Reals, ink: Reals, page: dict[str, Any], coded: tuple[float, float] | None
) -> KeyColours:
    """Read a page's key.

    Args:
        flat: the page laid flat, `PER_MM` pixels to a mm.
        white: from `light.white_of`.
        ink: from `lines.ink_of`.
        page: as `paper` lays it out.
        coded: how far the page moved its key (right, down in mm) at most around the place where
            sheets with a code have it; None for a sheet from before, whose key stands elsewhere.
    """
    place = _place(ink, page, coded)
    if place is None:
        return KeyColours({})
    right, down = place
    light, blank, written = {}, [], []
    for box in page["key"]:
        x, y = box["x"] + right, box["y"] + down
        colour, inked = _box(flat, white, (x, y, box["width"], box["height"]))
        if colour is not None and inked > 0.25:
            light[box["letter"]] = colour
            continue
        blank.append(box["letter"])
        if _is_written(ink, box["line"]["x"] + right + 1, y, box["line"]["width"] - 2,
                       box["height"]):  # fmt: skip
            written.append(box["letter"])
    return KeyColours(light, _meant_white(light, blank, written))


def _meant_white(light: dict[str, Reals], blank: list[str], written: list[str]) -> str | None:
    """A blank box is white yarn if its line says something, or if a later box is coloured."""
    if written:
        return written[0]
    skipped = [letter for letter in blank if light and letter < max(light)]
    return skipped[0] if len(skipped) == 1 else None


def _place(
    ink: Reals, page: dict[str, Any], coded: tuple[float, float] | None
) -> tuple[float, float] | None:
    """How far right and down the boxes are from their place; None when none are seen."""
    boxes = page["key"]
    rights = np.arange(-1.5, 1.6, 0.25)
    downs = np.arange(-2.5, 2.6, 0.25) if coded else np.arange(-70.0, 25.0, 0.25)
    across = cv2.blur(ink, (int(5 * PER_MM), 3))
    down_ink = cv2.blur(ink, (3, int(4 * PER_MM)))
    best, at = 0.0, None
    for right in rights:
        for down in downs:
            score = np.mean([_edges(across, down_ink, box, right, down) for box in boxes])
            if score > best:
                best, at = float(score), (float(right), float(down))
    if best < 0.02:
        return (0.0, 0.0) if coded else None
    return at


def _edges(across: Reals, down_ink: Reals, box: dict[str, Any], right: float, down: float) -> float:
    x, y = box["x"] + right, box["y"] + down
    wide, high = box["width"], box["height"]
    middle_x, middle_y = round((x + wide / 2) * PER_MM), round((y + high / 2) * PER_MM)
    rows = [round(v * PER_MM) for v in (y, y + high)]
    columns = [round(v * PER_MM) for v in (x, x + wide)]
    if not (rows[0] >= 0 and rows[1] < across.shape[0] and columns[1] < across.shape[1]):
        return 0.0
    total = sum(across[r, middle_x] for r in rows) + sum(down_ink[middle_y, c] for c in columns)
    return float(total) / 4


def _box(
    flat: Pixels, white: Reals, area: tuple[float, float, float, float]
) -> tuple[Reals | None, float]:
    """A box's colour and how much of it carries it; None for a box left white."""
    x, y, wide, high = area
    x0, x1 = round((x + _INSET_MM) * PER_MM), round((x + wide - _INSET_MM) * PER_MM)
    y0, y1 = round((y + _INSET_MM) * PER_MM), round((y + high - _INSET_MM) * PER_MM)
    seen = flat[max(y0, 0) : y1, max(x0, 0) : x1]
    if seen.size == 0:
        return None, 0.0
    paper = white[
        min(int(y + high / 2), len(white) - 1), min(int(x + wide / 2), white.shape[1] - 1)
    ]
    calm = cv2.GaussianBlur(linear(seen), (0, 0), CALM_MM * PER_MM)  # noise is no colour
    pixels = (calm / np.maximum(paper, 1e-4)).reshape(-1, 3)
    far = np.sqrt(((lab_of(pixels) - (100, 0, 0)) ** 2).sum(-1))
    strong = float(np.percentile(far, STRONG))
    kept = far >= INKED * strong
    colour: Reals = np.median(pixels[kept], axis=0).astype(np.float64)
    distance = float(np.sqrt(((lab_of(colour) - (100, 0, 0)) ** 2).sum()))
    return (colour, float(kept.mean())) if distance > COLOURED else (None, 0.0)


def _is_written(ink: Reals, x: float, y: float, wide: float, high: float) -> bool:
    """Whether anything is written above a line; the line itself is left out."""
    y0, y1 = round((y - 0.5) * PER_MM), round((y + high - 0.9) * PER_MM)
    part = ink[max(y0, 0) : y1, round(x * PER_MM) : round((x + wide) * PER_MM)]
    return part.size > 0 and float((part > 0.25).mean()) > WRITTEN
