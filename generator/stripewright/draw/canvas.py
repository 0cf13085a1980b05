"""The one writer of SVG: elements are put together, and coordinates rounded, here alone."""

from __future__ import annotations

import re
from functools import lru_cache
from html import escape
from typing import TYPE_CHECKING

from stripewright.draw.drawing import Drawing
from stripewright.draw.inks import INK, MUTED, PAPER
from stripewright.draw.measure import FONTS

if TYPE_CHECKING:
    from collections.abc import Mapping

_INKS = {"ink": INK, "muted": MUTED, "paper": PAPER}


_AXES = {
    "x": ("linearGradient", {"x2": "1", "y2": "0"}),
    "y": ("linearGradient", {"x2": "0", "y2": "1"}),
    "r": ("radialGradient", {}),
}


@lru_cache(maxsize=256)
def _attribute(name: str) -> str:
    """An attribute's name as SVG writes it: `class_` is class, `stroke_width` stroke-width."""
    return name.rstrip("_").replace("_", "-")


def _element(name: str, attributes: Mapping[str, str], inside: str = "") -> str:
    """An element as XML. Its attributes need no escapes: numbers, colours, keys and slugs."""
    said = "".join([f' {_attribute(key)}="{value}"' for key, value in attributes.items()])
    return f"<{name}{said}>{inside}</{name}>" if inside else f"<{name}{said} />"


class Group:
    """An element that others are put into."""

    def __init__(self, name: str, attributes: Mapping[str, str]) -> None:
        self._name, self._attributes = name, attributes
        self.held: list[str | Group] = []

    def __str__(self) -> str:
        return _element(self._name, self._attributes, "".join(map(str, self.held)))

    def add(self, name: str, attributes: Mapping[str, str], words: str = "") -> None:
        """Put an element in that holds words, or nothing."""
        self.held.append(_element(name, attributes, _xml(words)))

    def group(self, name: str, attributes: Mapping[str, str]) -> Group:
        """Put an element in that holds others."""
        self.held.append(inner := Group(name, attributes))
        return inner


def unit(value: float) -> str:
    """A coordinate: two decimals at most, no trailing zeros, no minus before a zero."""
    text = f"{value:.2f}"
    if text[-1] == "0":
        text = text[:-3] if text[-2] == "0" else text[:-1]
        return "0" if text == "-0" else text
    return text


def path(*parts: str | float) -> str:
    """Path data from commands and coordinates: `path("M", 1, 2, "h", 3)`."""
    return "".join([part if isinstance(part, str) else f" {unit(part)}" for part in parts])


class Canvas:
    """One drawing being written.

    Args:
        name: what its ids begin with.
        width: of the view box, in units.
        height: of the view box.
        hatched: whether hatch overlays show.
        size: font size of its texts, in units.
    """

    def __init__(
        self, name: str, width: float, height: float, *, hatched: bool = False, size: float = 13
    ) -> None:
        self.name = name
        self.width, self.height = round(width, 2), round(height, 2)
        self.hatched = hatched
        self.size = size
        self.marls: dict[str, tuple[str, ...]] = {}
        """Letters of the yarns that a marl's letter stands for."""
        self._top = Group("g", {})
        self._definitions = Group("defs", {})
        self._defined: set[str] = set()

    def id(self, part: str) -> str:
        """An id of this drawing, unique on any page."""
        return f"{self.name}-{part}"

    def url(self, part: str) -> str:
        """A reference to a definition of this drawing."""
        return f"url(#{self.name}-{part})"

    def group(self, into: Group | None = None, **attributes: str) -> Group:
        """A group; attributes of it hold for all that is in it."""
        return (into or self._top).group("g", attributes)

    def path(self, d: str, into: Group | None = None, **attributes: str) -> None:
        """A path."""
        (into or self._top).add("path", {"d": d, **attributes})

    def stroke(self, d: str, ink: str = "ink", width: float = 1, **more: str) -> None:
        """A path drawn as a line, in one of the inks unless `more` has its stroke and class."""
        line = {"d": d, "class_": f"{ink}-line", "fill": "none", "stroke": _INKS[ink]}
        self._top.add("path", {**line, "stroke_width": unit(width), **more})

    def filled(self, d: str, into: Group | None = None, ink: str = "ink", **more: str) -> None:
        """A path filled with one of the inks."""
        self.path(d, into, class_=ink, fill=_INKS[ink], **more)

    def texts(self, ink: str = "ink", into: Group | None = None, **attributes: str) -> Group:
        """A group of texts in one ink."""
        return self.group(into, class_=ink, fill=_INKS[ink], **attributes)

    def text(self, words: str, x: float, y: float, into: Group, **attributes: str) -> None:
        """A text with its base line at (x, y)."""
        into.add("text", {"x": unit(x), "y": unit(y), **attributes}, words)

    def overlay(self, into: Group | None = None) -> Group:
        """A group for hatches and their letters: hidden unless they are wanted."""
        if self.hatched:
            return self.group(into, class_="hatch")
        return self.group(into, class_="hatch", visibility="hidden")

    def has(self, part: str) -> bool:
        """Whether a definition is there already."""
        return part in self._defined

    def _define(self, part: str, name: str, attributes: dict[str, str]) -> Group:
        self._defined.add(part)
        return self._definitions.group(name, {"id": self.id(part), **attributes})

    def clip(self, part: str, d: str) -> str:
        """A clip by the outline `d`: its reference."""
        element = self._define(part, "clipPath", {})
        self.path(d, element)
        return self.url(part)

    def tile(self, part: str, width: float, height: float, turn: str = "") -> Group:
        """A pattern of `width` by `height` units, defined and yet to be filled with paths."""
        attributes = {"patternUnits": "userSpaceOnUse"}
        attributes["width"], attributes["height"] = unit(width), unit(height)
        if turn:
            attributes["patternTransform"] = turn
        return self._define(part, "pattern", attributes)

    def gradient(self, part: str, stops: tuple[tuple[float, str, float], ...], *, axis: str) -> str:
        """A gradient along an axis of the shape it fills: its reference.

        Args:
            part: its name.
            stops: offset, colour and opacity of each.
            axis: "x" or "y"; "r" is from the middle to the rim.
        """
        name, ends = _AXES[axis]
        element = self._define(part, name, ends)
        for offset, colour, opacity in stops:
            stop = {"offset": unit(offset), "stop-color": colour, "stop-opacity": unit(opacity)}
            element.add("stop", stop)
        return self.url(part)

    def finish(self, title: str, description: str) -> Drawing:
        """The drawing, with its words."""
        width, height = unit(self.width), unit(self.height)
        root = Group(
            "svg",
            {
                "aria-labelledby": f"{self.id('t')} {self.id('d')}",
                "class": "drawing",
                "font-family": FONTS,
                "font-size": unit(self.size),
                "height": height,
                "role": "img",
                "viewBox": f"0 0 {width} {height}",
                "width": width,
                "xmlns": "http://www.w3.org/2000/svg",
            },
        )
        root.add("title", {"id": self.id("t")}, title)
        root.add("desc", {"id": self.id("d")}, description)
        if self._definitions.held:
            root.held.append(self._definitions)
        root.held += self._top.held
        return Drawing(self.name, title, description, self.width, self.height, str(root))


_UNWRITABLE = re.compile("[^\\t\\n\\r\\x20-\\ud7ff\\ue000-\\ufffd\\U00010000-\\U0010ffff]")
"""What is no character of XML 1.0 (W3C recommendation, production 2)."""


@lru_cache(maxsize=1024)
def _xml(text: str) -> str:
    """A text as XML writes it, without the characters that it has no way to write."""
    return escape(_UNWRITABLE.sub("", text), quote=False)


def box(x: float, y: float, width: float, height: float) -> str:
    """Path data of a rectangle."""
    return f"M{unit(x)} {unit(y)}h{unit(width)}v{unit(height)}h{unit(-width)}z"


def rounded_coordinate(x: float, y: float, width: float, height: float, radius: float) -> str:
    """Path data of a rectangle with round corners."""
    r = min(radius, width / 2, height / 2)
    w, h, a, b = unit(width - 2 * r), unit(height - 2 * r), unit(r), unit(-r)
    return (
        f"M{unit(x + r)} {unit(y)}h{w}q{a} 0 {a} {a}v{h}q0 {a} {b} {a}"
        f"h-{w}q{b} 0 {b} {b}v-{h}q0 {b} {a} {b}z"
    )


def ellipse(x: float, y: float, rx: float, ry: float) -> str:
    """Path data of an ellipse."""
    a, b = unit(rx), unit(ry)
    return (
        f"M{unit(x - rx)} {unit(y)}a{a} {b} 0 1 0 {unit(2 * rx)} 0a{a} {b} 0 1 0 {unit(-2 * rx)} 0z"
    )


def line(x1: float, y1: float, x2: float, y2: float) -> str:
    """Path data of a line."""
    return f"M{unit(x1)} {unit(y1)}L{unit(x2)} {unit(y2)}"
