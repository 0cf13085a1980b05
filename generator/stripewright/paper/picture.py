"""Pictures: drawings as pixels, for sharing and for packs; photos as print takes them, in SVG."""

from __future__ import annotations

import base64
import io
from dataclasses import dataclass
from typing import TYPE_CHECKING

from stripewright.paper import engine

if TYPE_CHECKING:
    from PIL.Image import Image

SHARE_BYTES = 200_000
"""Of a share picture: what shows links leaves larger ones out (common practice, no source)."""
_QUALITIES = (85, 75, 60, 45, 30, 15)
"""At the last, 800 by 600 pixels of pure noise still fit."""
WIDEST, TALLEST = 80.0, 110.0
"""Percent of the text's width that a picture takes at most, across and upwards."""
_PAGE = b"""\
#set page(width: auto, height: auto, margin: 0pt, fill: white)
#image(bytes(sys.inputs.svg), format: "svg", width: int(sys.inputs.width) * 1pt)
"""


def png(svg: str, width_px: int) -> bytes:
    """A drawing as a PNG on white, `width_px` wide and as high as its view box asks.

    The file holds pixels and nothing else: no date, no program's name, no text.

    Args:
        svg: a whole SVG element.
        width_px: width in pixels.

    Raises:
        NotSet: the SVG can't be read.
    """
    return engine.engine_png(_PAGE, {"svg": svg, "width": str(width_px)})


def jpeg(svg: str, width_px: int) -> bytes:
    """The same as a JPEG: a sixth of the bytes, and edges that are soft when looked at closely.

    Colours are kept as fine as lightness, so that thin stripes keep theirs.
    """
    from PIL import Image

    with Image.open(io.BytesIO(png(svg, width_px))) as picture:
        return _within(picture.convert("RGB"), subsampling=0)


def photo_jpeg(data: bytes, size: tuple[int, int]) -> bytes:
    """A photo as a JPEG of a size in pixels, its middle cut out where its shape is another's."""
    from PIL import Image, ImageOps

    with Image.open(io.BytesIO(data)) as picture:
        return _within(ImageOps.fit(on_white(picture), size, Image.Resampling.LANCZOS))


def on_white(picture: Image) -> Image:
    """A picture in RGB, on white where it can be seen through."""
    from PIL import Image

    if "A" not in picture.getbands():
        return picture.convert("RGB")
    clear = picture.convert("RGBA")
    seen = Image.new("RGB", clear.size, "white")
    seen.paste(clear, mask=clear.getchannel("A"))
    return seen


def _within(picture: Image, *, subsampling: int = 2) -> bytes:
    """A JPEG of at most `SHARE_BYTES`, as good as that lets it be."""
    data = b""
    for quality in _QUALITIES:
        out = io.BytesIO()
        picture.save(out, "JPEG", quality=quality, subsampling=subsampling, optimize=True)
        data = out.getvalue()
        if len(data) <= SHARE_BYTES:
            break
    return data


@dataclass(frozen=True, slots=True)
class PrintPhoto:
    """A picture for print: SVG, and the width to set it at in percent of the text's."""

    svg: str
    percent: float
    shape: float
    """Its width by its height."""


_PRINT_QUALITY = 90


def _as_jpeg(picture: Image) -> bytes:
    out = io.BytesIO()
    picture.convert("RGB").save(out, "JPEG", quality=_PRINT_QUALITY, optimize=True)
    return out.getvalue()


def _in_a_pdf(picture: tuple[str, bytes]) -> float:
    """How large a picture gets there: a PDF knows no WebP, and keeps its pixels bare."""
    kind, data = picture
    return float("inf") if kind == "image/webp" else len(data)


def print_photo(data: bytes) -> PrintPhoto:
    """A picture (JPEG, PNG or WebP) in an SVG: the one way to hand Typst one without a file.

    One that can't be seen through goes into the file as a JPEG, where that is smaller.
    """
    from PIL import Image

    with Image.open(io.BytesIO(data)) as picture:
        width, height = picture.size
        kind = Image.MIME[picture.format or "JPEG"]
        if picture.format != "JPEG" and "A" not in picture.getbands():
            kind, data = min((kind, data), ("image/jpeg", _as_jpeg(picture)), key=_in_a_pdf)
    inside = f"data:{kind};base64,{base64.b64encode(data).decode('ascii')}"
    spaces = 'xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"'
    svg = (
        f'<svg {spaces} viewBox="0 0 {width} {height}">'
        f'<image width="{width}" height="{height}" xlink:href="{inside}"/></svg>'
    )
    return PrintPhoto(svg, min(WIDEST, TALLEST * width / height), width / height)
