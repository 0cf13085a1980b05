"""A part of a finished view as plain data, and how any part is set.

A shape (cushion, hat, scarf ...) gives parts: an outline, bands of yarn inside it, which way its
stitches run, and how light falls on it. Setting a part is the same for all of them.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from stripewright.draw.figures import unit
from stripewright.draw.hatches import yarns

if TYPE_CHECKING:
    from stripewright.draw.canvas import Canvas

Stops = tuple[tuple[float, str, float], ...]

ROUND_Y: Stops = (
    (0, "#000", 0.3), (0.14, "#000", 0.06), (0.3, "#fff", 0.2), (0.46, "#fff", 0.04),
    (0.7, "#000", 0.1), (1, "#000", 0.42),
)  # fmt: skip
"""Light on something round that lies: from above, with its underside in the shade."""

ROUND_X: Stops = (
    (0, "#000", 0.34), (0.16, "#000", 0.07), (0.34, "#fff", 0.2), (0.5, "#fff", 0.05),
    (0.74, "#000", 0.1), (1, "#000", 0.4),
)  # fmt: skip
"""Light on something round that stands: from the left."""

ENDS_X: Stops = (
    (0, "#000", 0.3), (0.09, "#000", 0.08), (0.2, "#000", 0), (0.8, "#000", 0),
    (0.91, "#000", 0.08), (1, "#000", 0.34),
)  # fmt: skip
"""Both ends of something that lies, turning away."""

CLOTH: Stops = (
    (0, "#fff", 0.16), (0.45, "#fff", 0), (0.75, "#000", 0.05), (1, "#000", 0.16),
)  # fmt: skip
"""Light on flat cloth."""

INSIDE: Stops = ((0, "#000", 0.62), (1, "#000", 0.38))
"""The inside of an opening."""


@dataclass(frozen=True, slots=True)
class Part:
    """One part, in units of the drawing.

    Attributes:
        outline: path data; everything of the part is clipped to it.
        bands: letter -> path data of its bands.
        light: gradients laid over, each with its axis: "x", "y" or "round".
        knit: width and height of a stitch, or None for no stitches.
        turn: transform of the knit texture (its wales run upward otherwise).
        lines: path data of seams, creases and gathers.
        cords: path data and letter of what is stroked in a yarn, with its width.
        place: transform of the whole part.
        rim: width of the outline's line.
    """

    outline: str
    bands: dict[str, str]
    light: tuple[tuple[str, Stops], ...] = ()
    knit: tuple[float, float] | None = None
    turn: str = ""
    lines: str = ""
    cords: tuple[tuple[str, str, float], ...] = ()
    place: str = ""
    rim: float = 0.8
    under: tuple[str, ...] = field(default=())
    """Path data of shadows, drawn first."""


def set_parts(canvas: Canvas, parts: list[Part], colours: dict[str, str]) -> None:
    """Set parts, the farthest first."""
    for index, part in enumerate(parts):
        _set(canvas, part, str(index), colours)


def _set(canvas: Canvas, part: Part, number: str, colours: dict[str, str]) -> None:
    whole = canvas.group(transform=part.place) if part.place else canvas.group()
    for d in part.under:
        canvas.path(d, whole, fill="#000", fill_opacity="0.13")
    for d, letter, width in part.cords:
        _cord(canvas, d, letter, width, colours, whole)
    if not part.outline:
        return
    inside = canvas.group(whole, clip_path=canvas.clip(f"c{number}", part.outline))
    yarns(canvas, part.bands, colours, inside)
    if part.knit:
        canvas.path(part.outline, inside, fill=knit(canvas, f"k{number}", *part.knit, part.turn))
    for axis, stops in part.light:
        canvas.path(part.outline, inside, fill=_light(canvas, axis, stops))
    if part.lines:
        canvas.path(
            part.lines, inside, fill="none", stroke="#000", stroke_opacity="0.38", stroke_width="1"
        )
    canvas.path(
        part.outline, whole, fill="none", stroke="#000", stroke_opacity="0.5",
        stroke_width=unit(part.rim), stroke_linejoin="round",
    )  # fmt: skip


def _cord(
    canvas: Canvas, d: str, letter: str, width: float, colours: dict[str, str], into: object
) -> None:
    common = {"fill": "none", "stroke_linecap": "round", "stroke_linejoin": "round"}
    canvas.path(
        d, into, stroke="#000", stroke_opacity="0.5", stroke_width=unit(width + 1.4), **common
    )
    canvas.path(
        d, into, stroke=colours[letter], class_=f"yarn-{letter.lower()}-line",
        stroke_width=unit(width), **common,
    )  # fmt: skip


def _light(canvas: Canvas, axis: str, stops: Stops) -> str:
    part = f"l{axis[0]}{_SHORT[stops]}"
    return canvas.url(part) if canvas.has(part) else canvas.gradient(part, stops, axis=axis)


_SHORT = {ROUND_Y: "a", ROUND_X: "b", ENDS_X: "c", CLOTH: "d", INSIDE: "e"}


def knit(canvas: Canvas, part: str, width: float, height: float, turn: str = "") -> str:
    """The texture of stitches at true gauge: each a V, dark where two legs part, light on them."""
    tile = canvas.tile(part, width, height, turn)
    w, h = width, height
    half = f"M0 {unit(-h * 0.45)}L{unit(w / 2)} {unit(h * 0.35)}L{unit(w)} {unit(-h * 0.45)}"
    low = f"M0 {unit(h * 0.55)}L{unit(w / 2)} {unit(h * 1.35)}L{unit(w)} {unit(h * 0.55)}"
    canvas.path(
        half + low, tile, fill="none", stroke="#000", stroke_opacity="0.2",
        stroke_width=unit(h * 0.2),
    )  # fmt: skip
    canvas.path(
        f"M0 {unit(h * 0.1)}L{unit(w / 2)} {unit(h * 0.9)}L{unit(w)} {unit(h * 0.1)}", tile,
        fill="none", stroke="#fff", stroke_opacity="0.13", stroke_width=unit(h * 0.3),
    )  # fmt: skip
    return canvas.url(part)
