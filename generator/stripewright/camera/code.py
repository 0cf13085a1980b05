"""The sheet's code, read from a page laid flat."""

from __future__ import annotations

from typing import TYPE_CHECKING

import cv2
import numpy as np

from stripewright.camera.marks import flattened
from stripewright.paper.marks import INSET_MM
from stripewright.paper.sheet_code import CODE_MM, MODULES, Coded, unpack
from stripewright.paper.sheet_plan import HEADER, PAPERS_MM

if TYPE_CHECKING:
    from collections.abc import Iterator

    from stripewright.camera.arrays import Mask, Pixels, Reals

AROUND_MM = 2.0
"""Paper taken in around the code: a curled page has it a little elsewhere."""
MODULE_PX = 10
QUIET = 4
SHIFTS = (0.0, -0.5, 0.5, -1.0, 1.0)
"""In modules: how far a curled page may have moved the code when it is read module by module."""
COARSE_PX, SOFTEST = 2.0, (0.5, 0.65, 0.8)
"""Pixels to a module up to which modules run into each other; and how far, in pixels, a picture may
have blurred them: a standard deviation."""
NUDGES = (0.0, -0.25, 0.25)
"""In modules: how far a coarse picture may have them elsewhere."""
EVENED = 0.05
"""How strongly modules that a coarse picture doesn't tell are taken for grey."""


def read_code(pixels: Pixels, to_picture: Reals, paper: str) -> Coded | None:
    """What the page's code says; None if it can't be read or is not one of ours.

    First by zxing-cpp as it stands. Where a module is hardly larger than a pixel, the modules are
    taken one by one from where they are known to be, and the code drawn anew from them.
    """
    per_mm = MODULE_PX * MODULES / CODE_MM
    left = PAPERS_MM[paper][0] - HEADER - CODE_MM - AROUND_MM
    side = CODE_MM + 2 * AROUND_MM
    corner = (left, INSET_MM - AROUND_MM)
    colour = flattened(pixels, to_picture, (side, side), per_mm, corner, smooth=True)
    grey = cv2.cvtColor(colour, cv2.COLOR_RGB2GRAY)
    for image in _versions(grey):
        if (said := _decoded(image)) is not None:
            return said
    said = _by_modules(grey)
    if said is None and _module_px(to_picture, corner) < COARSE_PX:
        said = _untangled(pixels, to_picture, corner)
    return said


def _decoded(image: Pixels) -> Coded | None:
    import zxingcpp

    for code in zxingcpp.read_barcodes(
        image, formats=zxingcpp.BarcodeFormats([zxingcpp.BarcodeFormat.QRCode])
    ):
        if (said := unpack(code.text)) is not None:
            return said
    return None


def _versions(grey: Pixels) -> Iterator[Pixels]:
    yield grey
    soft = cv2.GaussianBlur(grey, (0, 0), 2.5)
    yield soft
    sharp = cv2.addWeighted(grey, 2.5, cv2.GaussianBlur(grey, (0, 0), 5.0), -1.5, 0)
    yield sharp
    yield _two_tones(soft)
    yield _two_tones(cv2.GaussianBlur(sharp, (0, 0), 2.0))


def _two_tones(grey: Pixels) -> Pixels:
    return cv2.adaptiveThreshold(
        grey, 255, cv2.ADAPTIVE_THRESH_GAUSSIAN_C, cv2.THRESH_BINARY, 101, 2
    ).astype(np.uint8)


def _by_modules(grey: Pixels) -> Coded | None:
    """Each module's tone at its own middle, against its surroundings; then a clean code of it."""
    sharp = cv2.addWeighted(grey, 2.0, cv2.GaussianBlur(grey, (0, 0), 8.0), -1.0, 0)
    origin = AROUND_MM / CODE_MM * MODULES * MODULE_PX
    inner = np.arange(QUIET, MODULES - QUIET)
    for image in (grey, sharp):
        local = cv2.blur(image, (9 * MODULE_PX, 9 * MODULE_PX)).astype(np.float32)
        small = cv2.blur(image, (5, 5)).astype(np.float32)
        for down in SHIFTS:
            for across in SHIFTS:
                ys = (origin + (inner + 0.5 + down) * MODULE_PX).round().astype(int)
                xs = (origin + (inner + 0.5 + across) * MODULE_PX).round().astype(int)
                dark = small[np.ix_(ys, xs)] < local[np.ix_(ys, xs)]
                said = _decoded(_drawn(dark))
                if said is not None:
                    return said
    return None


def _module_px(to_picture: Reals, corner: tuple[float, float]) -> float:
    """How large the picture has a module, in pixels."""
    module = CODE_MM / MODULES
    ends = np.array([[corner], [(corner[0] + module, corner[1])]])
    one, other = cv2.perspectiveTransform(ends, to_picture)[:, 0]
    return float(np.linalg.norm(other - one))


def _untangled(pixels: Pixels, to_picture: Reals, corner: tuple[float, float]) -> Coded | None:
    """Modules that run into each other: the tones that give the pixels seen, by least squares."""
    module = CODE_MM / MODULES
    origin = np.array(corner) + AROUND_MM
    ends = origin + np.array([[0.0, 0], [1, 0], [1, 1], [0, 1]]) * CODE_MM
    seen = cv2.perspectiveTransform(ends[:, None], to_picture)[:, 0]
    low = np.maximum(np.floor(seen.min(axis=0)).astype(int), 0)
    high = np.minimum(np.ceil(seen.max(axis=0)).astype(int), pixels.shape[1::-1])
    if (high - low < MODULES // 2).any():
        return None
    part = cv2.cvtColor(np.ascontiguousarray(pixels[low[1] : high[1], low[0] : high[0]]),
                        cv2.COLOR_RGB2GRAY).astype(np.float64)  # fmt: skip
    at = np.stack(np.meshgrid(*(np.arange(a, b) + 0.5 for a, b in zip(low, high, strict=True))), -1)
    page = cv2.perspectiveTransform(at.reshape(-1, 1, 2), np.linalg.inv(to_picture))[:, 0]
    places = (page - origin) / module - 0.5
    inside = ((places > 0) & (places < MODULES - 1)).all(axis=1)
    tones = part.reshape(-1)[inside]
    pixel = 1 / _module_px(to_picture, corner)
    for soft in SOFTEST:
        for down in NUDGES:
            for across in NUDGES:
                dark = _solved(places[inside] - (across, down), tones, soft * pixel)
                if (said := _decoded(_drawn(dark))) is not None:
                    return said
    return None


def _solved(places: Reals, tones: Reals, soft: float) -> Mask:
    """Which modules are dark, from pixels at `places` (modules) that see around them softly."""
    every = np.arange(MODULES)
    sees = [
        np.exp(-0.5 * ((places[:, n, None] - every) / np.hypot(soft, 0.3)) ** 2) for n in (0, 1)
    ]
    across, down = (one / one.sum(axis=1, keepdims=True) for one in sees)
    mixed = (down[:, :, None] * across[:, None, :]).reshape(len(places), -1)
    middle = float(tones.max() + tones.min()) / 2
    left = mixed.T @ mixed + EVENED**2 * np.eye(mixed.shape[1])
    found = np.linalg.solve(left, mixed.T @ (tones - middle)).reshape(MODULES, MODULES)
    return np.asarray(found[QUIET:-QUIET, QUIET:-QUIET] < 0)


def _drawn(dark: Mask) -> Pixels:
    whole = np.full((MODULES, MODULES), 255, np.uint8)
    whole[QUIET:-QUIET, QUIET:-QUIET][dark] = 0
    _with_fixed_parts(whole[QUIET:-QUIET, QUIET:-QUIET])
    return np.kron(whole, np.ones((6, 6), np.uint8))


def _with_fixed_parts(code: Pixels) -> None:
    """What every code of version 2 has: finders, timing, alignment (ISO/IEC 18004, 6.3)."""
    size = len(code)
    code[6, 8 : size - 8 : 2] = code[8 : size - 8 : 2, 6] = 0
    code[6, 9 : size - 8 : 2] = code[9 : size - 8 : 2, 6] = 255
    for row, column in ((0, 0), (0, size - 7), (size - 7, 0)):
        code[max(row - 1, 0) : row + 8, max(column - 1, 0) : column + 8] = 255
        _rings(code[row : row + 7, column : column + 7])
    _rings(code[size - 9 : size - 4, size - 9 : size - 4])


def _rings(square: Pixels) -> None:
    square[:] = 0
    square[1:-1, 1:-1] = 255
    square[2:-2, 2:-2] = 0
