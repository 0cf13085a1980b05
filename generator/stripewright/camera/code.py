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
    return _by_modules(grey)


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
