"""A photo carried in an SVG: the one way to hand Typst a picture without a file."""

from __future__ import annotations

import base64
import io


def svg_of(data: bytes) -> str:
    """A picture (JPEG, PNG or WebP) as an SVG of its size in pixels."""
    from PIL import Image  # noqa: PLC0415  # heavy, and few patterns have photos in their text

    with Image.open(io.BytesIO(data)) as picture:
        width, height = picture.size
        kind = Image.MIME[picture.format or "JPEG"]
    inside = f"data:{kind};base64,{base64.b64encode(data).decode('ascii')}"
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}">'
        f'<image width="{width}" height="{height}" href="{inside}"/></svg>'
    )
