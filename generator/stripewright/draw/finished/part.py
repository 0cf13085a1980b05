"""A part of a finished view as plain data, and how any part is set.

A shape (cushion, hat, scarf ...) gives parts: an outline, bands of yarn inside it, which way its
stitches run, and how light falls on it. Setting a part is the same for all of them.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stripewright.draw.canvas import path, unit
from stripewright.draw.hatches import hatch, yarns

if TYPE_CHECKING:
    from collections.abc import Mapping

    from stripewright.draw.canvas import Canvas, Group

Stops = tuple[tuple[float, str, float], ...]
"""Offset, colour, opacity."""

GRADIENTS: dict[str, tuple[str, Stops]] = {
    "lying": (
        "y",
        (
            (0, "#000", 0.28), (0.13, "#000", 0.05), (0.28, "#fff", 0.22), (0.46, "#fff", 0.03),
            (0.7, "#000", 0.12), (1, "#000", 0.46),
        ),
    ),
    "standing": (
        "x",
        (
            (0, "#000", 0.36), (0.14, "#000", 0.08), (0.32, "#fff", 0.18), (0.5, "#fff", 0.03),
            (0.74, "#000", 0.12), (1, "#000", 0.44),
        ),
    ),
    "ends": (
        "x",
        (
            (0, "#000", 0.34), (0.07, "#000", 0.1), (0.17, "#000", 0), (0.83, "#000", 0),
            (0.93, "#000", 0.1), (1, "#000", 0.36),
        ),
    ),
    "rims": (
        "x", ((0, "#000", 0.4), (0.07, "#000", 0), (0.88, "#fff", 0), (0.97, "#fff", 0.12),
              (1, "#000", 0.12)),
    ),
    "dome": ("y", ((0, "#fff", 0.12), (0.3, "#fff", 0), (0.8, "#000", 0), (1, "#000", 0.14))),
    "cloth": ("y", ((0, "#fff", 0.14), (0.5, "#fff", 0), (1, "#000", 0.14))),
    "fold": ("x", ((0, "#000", 0.3), (0.5, "#000", 0.08), (1, "#fff", 0.1))),
    "inside": ("y", ((0, "#000", 0.66), (1, "#000", 0.4))),
    "under": ("y", ((0, "#000", 0.5), (0.22, "#000", 0))),
}  # fmt: skip
"""How light falls: black and white laid over the yarns, so that recolouring keeps it; by name, its
axis and stops."""

_WIDE = 5.0
"""Cords from this width on show their yarn's hatch."""


@dataclass(frozen=True, slots=True)
class Cord:
    """Something thin, stroked in a yarn: path data, the yarn's letter, its width in units."""

    d: str
    letter: str
    width: float


@dataclass(frozen=True, slots=True)
class TubePart:
    """One part, in units of the drawing.

    Attributes:
        outline: path data; everything of the part is clipped to it. Empty for cords alone.
        bands: letter -> path data of its bands.
        light: names of `GRADIENTS` laid over.
        knit: width and height of a stitch; None for no stitches.
        turn: transform of the knit texture; without one its wales run upward.
        lines: path data of seams, creases and gathers.
        cords: what is stroked in a yarn, behind the rest of the part.
        holes: path data of what is dark: a thumb hole.
        place: transform of the whole part.
        shadow: path data of its shadow on the ground, drawn first.
        swell: stops of light from the middle of the outline to its rim, for what is round in plan.
    """

    outline: str
    bands: Mapping[str, str]
    light: tuple[str, ...] = ()
    knit: tuple[float, float] | None = None
    turn: str = ""
    lines: str = ""
    cords: tuple[Cord, ...] = ()
    holes: str = ""
    place: str = ""
    shadow: str = ""
    swell: Stops = ()


def set_parts(canvas: Canvas, parts: list[TubePart], colours: Mapping[str, str]) -> None:
    """Set parts, the farthest first."""
    for index, part in enumerate(parts):
        _set(canvas, part, str(index), colours)


def _set(canvas: Canvas, part: TubePart, number: str, colours: Mapping[str, str]) -> None:
    whole = canvas.group(transform=part.place) if part.place else canvas.group()
    if part.shadow:
        canvas.path(part.shadow, whole, fill="#000", fill_opacity="0.14")
    for cord in part.cords:
        _cord(canvas, cord, colours, whole)
    if not part.outline:
        return
    inside = canvas.group(whole, clip_path=canvas.clip(f"c{number}", part.outline))
    yarns(canvas, part.bands, colours, inside)
    if part.knit:
        canvas.path(part.outline, inside, fill=_knit(canvas, part.knit, part.turn))
    for name in part.light:
        canvas.path(part.outline, inside, fill=_light(canvas, name))
    if part.swell:
        canvas.path(part.outline, inside, fill=canvas.gradient(f"s{number}", part.swell, axis="r"))
    if part.holes:
        canvas.path(part.holes, inside, fill="#000", fill_opacity="0.72")
    if part.lines:
        _dark(canvas, part.lines, inside, 1, "0.34")
    _dark(canvas, part.outline, whole, 0.9, "0.5")


def _dark(canvas: Canvas, d: str, into: Group, width: float, opacity: str) -> None:
    canvas.path(
        d,
        into,
        fill="none",
        stroke="#000",
        stroke_opacity=opacity,
        stroke_width=unit(width),
        stroke_linejoin="round",
        stroke_linecap="round",
    )


def _cord(canvas: Canvas, cord: Cord, colours: Mapping[str, str], into: Group) -> None:
    _dark(canvas, cord.d, into, cord.width + 1.2, "0.5")
    line = {"fill": "none", "stroke_width": unit(cord.width), "stroke_linecap": "round"}
    canvas.path(
        cord.d, into, stroke=colours[cord.letter], class_=f"yarn-{cord.letter.lower()}-line", **line
    )
    if cord.width >= _WIDE:
        canvas.path(cord.d, canvas.overlay(into), stroke=hatch(canvas, cord.letter), **line)


def _light(canvas: Canvas, name: str) -> str:
    if canvas.has(name):
        return canvas.url(name)
    axis, stops = GRADIENTS[name]
    return canvas.gradient(name, stops, axis=axis)


def _knit(canvas: Canvas, stitch: tuple[float, float], turn: str) -> str:
    """The texture of stitches at true gauge: each a V, dark between, with light on its legs."""
    w, h = stitch
    part = f"k{unit(w)}-{unit(h)}{'t' if turn else ''}".replace(".", "_")
    if canvas.has(part):
        return canvas.url(part)
    tile = canvas.tile(part, w, h, turn)
    dark = "".join(
        path("M", 0, h * up, "L", w / 2, h * (up + 0.8), w, h * up) for up in (-0.45, 0.55)
    )
    light = path("M", 0, h * 0.1, "L", w / 2, h * 0.9, w, h * 0.1)
    canvas.path(
        dark, tile, fill="none", stroke="#000", stroke_opacity="0.2", stroke_width=unit(h * 0.22)
    )
    canvas.path(
        light, tile, fill="none", stroke="#fff", stroke_opacity="0.14", stroke_width=unit(h * 0.3)
    )
    return canvas.url(part)
