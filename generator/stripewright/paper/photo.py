"""A photo carried in an SVG: the one way to hand Typst a picture without a file."""

from __future__ import annotations

import base64
import io
from dataclasses import dataclass

WIDEST, TALLEST = 80.0, 110.0
"""Percent of the text's width that a picture takes at most, across and upwards."""


@dataclass(frozen=True, slots=True)
class PrintPhoto:
    """A picture for print: SVG, and the width to set it at in percent of the text's."""

    svg: str
    percent: float
    shape: float
    """Its width by its height."""


def photo_of(data: bytes) -> PrintPhoto:
    """A picture (JPEG, PNG or WebP) as print takes it."""
    from PIL import Image

    with Image.open(io.BytesIO(data)) as picture:
        width, height = picture.size
        kind = Image.MIME[picture.format or "JPEG"]
    inside = f"data:{kind};base64,{base64.b64encode(data).decode('ascii')}"
    spaces = 'xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"'
    svg = (
        f'<svg {spaces} viewBox="0 0 {width} {height}">'
        f'<image width="{width}" height="{height}" xlink:href="{inside}"/></svg>'
    )
    return PrintPhoto(svg, min(WIDEST, TALLEST * width / height), width / height)
