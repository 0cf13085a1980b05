"""The light on a page laid flat, from its blank paper: how white paper would look everywhere."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import cv2
import numpy as np

if TYPE_CHECKING:
    from stripewright.camera.arrays import Mask, Pixels, Reals


PER_MM = 8
"""Pixels to a mm of a page laid flat."""
AIR_MM = 2.5
"""Strokes may run this far over an outline; nearer paper is not taken for blank."""
CHROMA = 0.16
"""Log ratio of two channels by which blank paper may differ from the page's usual paper."""
SHADOW, BRIGHTER = 0.4, 0.12
"""Logarithms by which paper may be brighter than a smooth surface through all of it, beside a
shadow; and than the paper around it."""
NEAREST_MM, SUPPORT, MOST_SLOPE = 5.0, 0.04, 0.3
"""Over how far blank paper gives light and its slope; the share of such paper, by its nearness,
from which on they are good for a place beside it; and the most they may change it, a logarithm."""
SLOPELESS = 5.0
"""Added to the spread of the places, in mm², by which a slope is told: it is taken for flatter."""
PRINTED = 0.02
"""A logarithm by which a cell is darker than the paper around it from which on it is printed on."""
COARSER, SWEEPS = 4, 240
"""How many cells in a row are one where the light between is first worked out; and how often each
is set to its neighbours' mean."""
REACHES_MM = (3.0, 7.0, 15.0, 30.0, 60.0)
"""How far light is carried from blank paper to where there is none, nearest first."""


def linear(pixels: Pixels) -> Reals:
    """SRGB in linear light, 0 to 1 (IEC 61966-2-1)."""
    return _TABLE[pixels]


def _table() -> Reals:
    c = np.arange(256, dtype=np.float64) / 255
    return np.where(c <= 0.04045, c / 12.92, ((c + 0.055) / 1.055) ** 2.4).astype(np.float32)


_TABLE = _table()


def blank_paper(page: dict[str, Any], size_mm: tuple[float, float]) -> Mask:
    """Where a sheet has blank paper around its print, a cell a square mm."""
    wide, high = (int(v) for v in size_mm)
    blank = np.ones((high, wide), bool)
    blank[:2], blank[-2:], blank[:, :2], blank[:, -2:] = False, False, False, False

    def cover(x: float, y: float, w: float, h: float, air: float) -> None:
        x0, y0 = max(int(np.floor(x - air)), 0), max(int(np.floor(y - air)), 0)
        blank[y0 : int(np.ceil(y + h + air)), x0 : int(np.ceil(x + w + air))] = False

    outline, code, thumb = page["outline"], page["code"], page["thumb"]
    cover(outline["x"], outline["y"], outline["width"], outline["height"], AIR_MM)
    cover(code["x"], code["y"], code["side"], code["side"], 1.0)
    cover(page["side"]["x"], page["side"]["y"], page["side"]["width"], thumb["height"] + 9, 2.0)
    for mark in page["marks"]:
        cover(mark["x"], mark["y"], page["mark"], page["mark"], 1.0)
    for box in page["key"]:
        cover(box["x"], box["y"], box["width"], box["height"], AIR_MM)
    return blank


def white_of(flat: Pixels, seen: Mask, blank: Mask) -> tuple[Reals, float]:
    """What white paper would send to the camera, a cell a square mm, in linear light.

    Args:
        flat: the page laid flat, `PER_MM` pixels to a mm.
        seen: the cells that the picture shows.
        blank: the cells where nothing is printed, from `blank_paper`.

    Returns:
        High × wide × 3; and the share of the blank cells that look like paper.
    """
    high, wide = blank.shape
    cells = _brightest(flat[: high * PER_MM, : wide * PER_MM], high, wide)
    logs = np.log(np.maximum(cells, 1e-4))
    usable = blank & seen[:high, :wide]
    luma = logs.mean(axis=2)
    if usable.sum() < 200:
        usable = seen[:high, :wide] & np.ones_like(blank)
    hue = logs - luma[..., None]
    usual = np.median(hue[usable & (luma >= np.median(luma[usable]))], axis=0)
    paper = usable & (np.abs(hue - usual).max(axis=2) < CHROMA) & (luma > luma[usable].max() - 2.3)
    if paper.sum() < 100:
        paper = usable
    rough = _surface(luma, paper)
    rough = rough + _carried(luma - rough, paper & (luma - rough < SHADOW), REACHES_MM[2:])
    near = paper & (luma - rough < BRIGHTER)
    light = rough + _spanned(luma - rough, near)
    tint = np.stack([_carried(hue[..., n] - usual[n], near, REACHES_MM[3:]) for n in range(3)], -1)
    white = np.exp(light[..., None] + usual + tint)
    return white.astype(np.float32), float(paper.sum() / max(int(usable.sum()), 1))


def _brightest(flat: Pixels, high: int, wide: int) -> Reals:
    """Of each cell the mean of its brighter part: paper between thin lines and letters."""
    some = PER_MM // 2  # every other pixel is enough
    blocks = linear(flat[::2, ::2]).reshape(high, some, wide, some, 3).swapaxes(1, 2)
    blocks = blocks.reshape(high, wide, some * some, 3)
    luma = blocks.mean(axis=3)
    bound = np.partition(luma, 9, axis=2)[..., 9:10]
    weight = (luma >= bound).astype(np.float32)[..., None]
    mean: Reals = (blocks * weight).sum(axis=2) / np.maximum(weight.sum(axis=2), 1)
    return mean


def _surface(values: Reals, where: Mask) -> Reals:
    """A smooth surface of third degree through the cells, outliers weighing little."""
    high, wide = values.shape
    y, x = np.mgrid[-1 : 1 : high * 1j, -1 : 1 : wide * 1j]
    terms = np.stack([x**i * y**j for i in range(4) for j in range(4 - i)], axis=-1)
    a, b = terms[where], values[where]
    take = np.linspace(0, len(b) - 1, min(len(b), 6000)).astype(int)
    a, b = a[take], b[take]
    weight = np.ones(len(b))
    for _ in range(8):
        found, *_ = np.linalg.lstsq(a * weight[:, None], b * weight, rcond=None)
        off = b - a @ found
        spread = max(float(np.median(np.abs(off))) * 3, 0.02)
        weight = 1 / (1 + (off / spread) ** 2)
    surface: Reals = (terms @ found).astype(np.float32)
    return surface


def _carried(values: Reals, where: Mask, reaches: tuple[float, ...] = REACHES_MM) -> Reals:
    """Values carried smoothly to where there are none, from as near as there are some."""
    out = np.zeros(values.shape, np.float32)
    for reach in reversed(reaches):
        weight = cv2.GaussianBlur(where.astype(np.float32), (0, 0), reach)
        mean = cv2.GaussianBlur(np.where(where, values, 0).astype(np.float32), (0, 0), reach)
        share = np.clip(weight / 0.25, 0, 1)
        out = share * mean / np.maximum(weight, 1e-6) + (1 - share) * out
    return out


def _spanned(values: Reals, where: Mask) -> Reals:
    """Values where there are some, and between them a surface as smooth as a soap film's.

    It meets the paper around an outline as that is: light carried from further off would make
    a shadow that ends beside the outline too faint at the end of its rows.
    """
    for _ in range(2):  # letters and strokes beside an outline would bend the light
        near, _ = _sloped(values, where)
        where = where & (values - near > -PRINTED)
    near, where = _sloped(values, where)
    known = where.astype(np.float32)
    near = np.where(where, near, 0).astype(np.float32)
    size = (values.shape[1] // COARSER, values.shape[0] // COARSER)
    share = cv2.resize(known, size, interpolation=cv2.INTER_AREA)
    coarse = cv2.resize(near, size, interpolation=cv2.INTER_AREA) / np.maximum(share, 1e-6)
    begun = cv2.resize(_carried(near, where), size, interpolation=cv2.INTER_AREA)
    coarse = _film(np.where(share > 0.25, coarse, begun), share > 0.25)
    begun = cv2.resize(coarse, values.shape[::-1], interpolation=cv2.INTER_LINEAR)
    return _film(np.where(where, near, begun), where)


def _sloped(values: Reals, where: Mask) -> tuple[Reals, Mask]:
    """At each place the plane that fits the values near it best; and where there are enough."""
    high, wide = values.shape
    y, x = np.mgrid[:high, :wide].astype(np.float64)

    def near(part: Reals) -> Reals:
        mean: Reals = cv2.GaussianBlur(np.where(where, part, 0), (0, 0), NEAREST_MM)
        return mean

    weight = near(np.ones(values.shape))
    sound = np.maximum(weight, 1e-9)
    mx, my, mean = near(x) / sound, near(y) / sound, near(values) / sound
    xx, yy = near(x * x) / sound - mx**2 + SLOPELESS, near(y * y) / sound - my**2 + SLOPELESS
    xy = near(x * y) / sound - mx * my
    vx, vy = near(values * x) / sound - mean * mx, near(values * y) / sound - mean * my
    whole = np.maximum(xx * yy - xy**2, 1e-9)
    right, down = (vx * yy - vy * xy) / whole, (vy * xx - vx * xy) / whole
    change = np.clip(right * (x - mx) + down * (y - my), -MOST_SLOPE, MOST_SLOPE)
    return (mean + change).astype(np.float32), where | (weight > SUPPORT)


def _film(values: Reals, fixed: Mask) -> Reals:
    """Each value that isn't fixed as the mean of its four neighbours."""
    cross = np.array([[0, 1, 0], [1, 0, 1], [0, 1, 0]], np.float32) / 4
    out = values.astype(np.float32)
    for _ in range(SWEEPS):
        out = np.where(fixed, values, cv2.filter2D(out, -1, cross, borderType=cv2.BORDER_REPLICATE))
    return out.astype(np.float32)
