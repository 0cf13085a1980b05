"""A drawing as pixels: share pictures as JPEG, and the pictures of a pack as PNG."""

from __future__ import annotations

import io

from stripewright.paper import engine

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

    with Image.open(io.BytesIO(png(svg, width_px))) as picture, io.BytesIO() as file:
        picture.convert("RGB").save(file, "JPEG", quality=85, subsampling=0)
        return file.getvalue()
