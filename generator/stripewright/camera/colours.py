"""Colours as they are told apart: CIE Lab under D65, and CIEDE2000 between them, many at once."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from stripewright.camera.arrays import Reals


_TO_XYZ = np.array(
    [
        [0.4123907992659595, 0.357584339383878, 0.1804807884018343],
        [0.21263900587151036, 0.715168678767756, 0.07219231536073371],
        [0.01933081871559185, 0.11919477979462599, 0.9505321522496607],
    ]
)
"""Linear sRGB to XYZ (IEC 61966-2-1); its rows sum up to the D65 white."""
_WHITE = _TO_XYZ.sum(axis=1)


def lab_of(linear: Reals) -> Reals:
    """Linear sRGB (… × 3, 1 is paper white) in CIE Lab. Source: CIE 15, with D65."""
    xyz = np.clip(np.asarray(linear, np.float64), 0, None) @ _TO_XYZ.T / _WHITE
    bent = np.where(xyz > (6 / 29) ** 3, np.cbrt(xyz), xyz * (29 / 6) ** 2 / 3 + 4 / 29)
    x, y, z = bent[..., 0], bent[..., 1], bent[..., 2]
    return np.stack([116 * y - 16, 500 * (x - y), 200 * (y - z)], axis=-1)


def srgb_of(linear: Reals) -> Reals:
    """Linear light as sRGB, both 0 to 1 (IEC 61966-2-1)."""
    light = np.clip(np.asarray(linear, np.float64), 0, 1)
    return np.where(light <= 0.0031308, light * 12.92, 1.055 * light ** (1 / 2.4) - 0.055)


def linear_of(srgb: Reals) -> Reals:
    """SRGB in linear light, both 0 to 1 (IEC 61966-2-1)."""
    coded = np.clip(np.asarray(srgb, np.float64), 0, 1)
    return np.where(coded <= 0.04045, coded / 12.92, ((coded + 0.055) / 1.055) ** 2.4)


def hex_of(linear: Reals) -> str:
    """Linear sRGB as `#rrggbb`."""
    coded = srgb_of(linear)
    red, green, blue = (int(v) for v in np.rint(coded * 255))
    return f"#{red:02x}{green:02x}{blue:02x}"


def differences(one: Reals, other: Reals) -> Reals:
    """CIEDE2000 between colours in Lab, by their last axis; the rest is broadcast.

    Source: CIE 142-2001, as Sharma, Wu and Dalal 2005 write it out, kL = kC = kH = 1.
    """
    l1, a1, b1 = np.moveaxis(np.asarray(one, np.float64), -1, 0)
    l2, a2, b2 = np.moveaxis(np.asarray(other, np.float64), -1, 0)
    mean = ((np.hypot(a1, b1) + np.hypot(a2, b2)) / 2) ** 7
    g = 0.5 * (1 - np.sqrt(mean / (mean + 25.0**7)))
    a1, a2 = a1 * (1 + g), a2 * (1 + g)
    c1, c2 = np.hypot(a1, b1), np.hypot(a2, b2)
    h1, h2 = np.degrees(np.arctan2(b1, a1)) % 360, np.degrees(np.arctan2(b2, a2)) % 360
    grey = c1 * c2 == 0
    turn = np.where(grey, 0, (h2 - h1 + 180) % 360 - 180)
    turn = np.where((turn == -180) & (h2 > h1), 180, turn)
    middle = np.where(np.abs(h1 - h2) <= 180, (h1 + h2) / 2, (h1 + h2 + 360) / 2 % 360)
    middle = np.where(grey, h1 + h2, middle)
    dl, dc = l2 - l1, c2 - c1
    dh = 2 * np.sqrt(c1 * c2) * np.sin(np.radians(turn) / 2)
    return _weighted((dl, dc, dh), (l1 + l2) / 2, (c1 + c2) / 2, middle)


def _weighted(by: tuple[Reals, Reals, Reals], light: Reals, chroma: Reals, hue: Reals) -> Reals:
    dl, dc, dh = by
    t = (
        1
        - 0.17 * np.cos(np.radians(hue - 30))
        + 0.24 * np.cos(np.radians(2 * hue))
        + 0.32 * np.cos(np.radians(3 * hue + 6))
        - 0.20 * np.cos(np.radians(4 * hue - 63))
    )
    sl = 1 + 0.015 * (light - 50) ** 2 / np.sqrt(20 + (light - 50) ** 2)
    sc, sh = 1 + 0.045 * chroma, 1 + 0.015 * chroma * t
    seventh = chroma**7
    turn = 60 * np.exp(-(((hue - 275) / 25) ** 2))
    rt = -2 * np.sqrt(seventh / (seventh + 25.0**7)) * np.sin(np.radians(turn))
    squared = (dl / sl) ** 2 + (dc / sc) ** 2 + (dh / sh) ** 2 + rt * (dc / sc) * (dh / sh)
    return np.asarray(np.sqrt(np.maximum(squared, 0)))
