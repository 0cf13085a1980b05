"""A drawing as a PNG: share pictures, and the pictures of a pack."""

from __future__ import annotations

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
    return engine.png(_PAGE, {"svg": svg, "width": str(width_px)})
