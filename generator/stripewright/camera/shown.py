"""A picture of what was read, over what was photographed."""

from __future__ import annotations

from typing import TYPE_CHECKING

import cv2
import numpy as np

from stripewright.camera.light import PER_MM

if TYPE_CHECKING:
    from stripewright.camera.arrays import Pixels
    from stripewright.camera.page import PageRead
    from stripewright.camera.read import Reading

DOUBT = (214, 40, 57)
MARGIN_MM = 9


def overlay(page: PageRead, number: int, reading: Reading) -> Pixels:
    """The page laid flat, with each row's place, letter and colour beside it; doubts in red.

    Args:
        page: one of a piece's.
        number: the piece, from 0.
        reading: the whole.
    """
    out = np.ascontiguousarray(page.flat.copy())
    outline, band = page.page["outline"], page.page["band"]
    before = page.coded.subject.ends[0].rows
    piece = reading.pieces[number]
    doubted = {doubt.row for doubt in reading.doubts if doubt.piece == number}
    left, right = outline["x"], outline["x"] + outline["width"]
    xs = np.linspace(left, right, 40, dtype=np.float32)
    for one in page.page["bands"]:
        row = one["row"] - before
        if not 1 <= row <= len(piece.letters):
            continue
        down = page.moves.at(xs, one["y"])
        line = np.stack([xs * PER_MM, (one["y"] + down) * PER_MM], axis=1).astype(np.int32)
        cv2.polylines(out, [line], isClosed=False, color=(255, 255, 255), lineType=cv2.LINE_AA)
        letter = piece.letters[row - 1]
        y0, y1 = (int((one["y"] + down[-1] + band * share) * PER_MM) for share in (0.06, 0.94))
        x0, x1 = int((right + 1) * PER_MM), int((right + MARGIN_MM) * PER_MM)
        digits = reading.colours.get(letter, "#ffffff")
        colour = tuple(int(digits[n : n + 2], 16) for n in (1, 3, 5))
        cv2.rectangle(out, (x0, y0), (x1, y1), colour, -1)
        ink = (0, 0, 0) if sum(colour) > 380 else (255, 255, 255)
        cv2.putText(
            out, letter, (x0 + 4, y1 - 3), cv2.FONT_HERSHEY_SIMPLEX, 0.5, ink, 1, cv2.LINE_AA
        )
        if row in doubted:
            cv2.rectangle(out, (int((left - 1) * PER_MM), y0), (x1, y1), DOUBT, 2)
    return out


def as_png(pixels: Pixels) -> bytes:
    """Pixels as a PNG's bytes."""
    done, data = cv2.imencode(".png", cv2.cvtColor(pixels, cv2.COLOR_RGB2BGR))
    if not done:
        raise ValueError("the picture can't be written as PNG")
    return bytes(data)
