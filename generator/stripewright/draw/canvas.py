"""The one writer of SVG: svgwrite's elements, put together here and nowhere else."""

from __future__ import annotations

from typing import Any

from svgwrite.base import Desc, Title
from svgwrite.container import SVG, Group
from svgwrite.gradients import LinearGradient, RadialGradient
from svgwrite.masking import ClipPath
from svgwrite.path import Path
from svgwrite.pattern import Pattern
from svgwrite.text import Text

from stripewright.draw.drawing import Drawing
from stripewright.draw.figures import unit
from stripewright.draw.inks import INK, MUTED, PAPER
from stripewright.draw.measure import FONTS

Attributes = str | float | int

_INKS = {"ink": INK, "muted": MUTED, "paper": PAPER}


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
        self.root = SVG(debug=False, font_family=FONTS, font_size=unit(size))
        self.root["class"] = "drawing"
        self.root["width"], self.root["height"] = unit(self.width), unit(self.height)
        self.root["viewBox"] = f"0 0 {unit(self.width)} {unit(self.height)}"
        self.root["xmlns"] = "http://www.w3.org/2000/svg"
        self._defined: set[str] = set()

    def id(self, part: str) -> str:
        """An id of this drawing, unique on any page."""
        return f"{self.name}-{part}"

    def url(self, part: str) -> str:
        """A reference to a definition of this drawing."""
        return f"url(#{self.name}-{part})"

    def group(self, into: Group | None = None, **attributes: Attributes) -> Group:
        """A group; attributes of it hold for all that is in it."""
        return (into or self.root).add(Group(factory=self.root, **attributes))

    def path(self, d: str, into: Group | None = None, **attributes: Attributes) -> None:
        """A path."""
        (into or self.root).add(Path(d, factory=self.root, **attributes))

    def stroke(
        self, d: str, into: Group | None = None, ink: str = "ink", width: float = 1, **more: Any
    ) -> None:
        """A path drawn as a line, in one of the inks."""
        more.setdefault("stroke", _INKS.get(ink, ink))
        more.setdefault("class_", f"{ink}-line")
        self.path(d, into, fill="none", stroke_width=unit(width), **more)

    def filled(self, d: str, into: Group | None = None, ink: str = "ink", **more: Any) -> None:
        """A path filled with one of the inks."""
        self.path(d, into, fill=_INKS[ink], class_=ink, **more)

    def texts(self, ink: str = "ink", into: Group | None = None, **attributes: Attributes) -> Group:
        """A group of texts in one ink."""
        return self.group(into, fill=_INKS[ink], class_=ink, **attributes)

    def text(self, words: str, x: float, y: float, into: Group, **attributes: Attributes) -> None:
        """A text with its base line at (x, y)."""
        into.add(Text(words, factory=self.root, x=[unit(x)], y=[unit(y)], **attributes))

    def overlay(self, into: Group | None = None) -> Group:
        """A group for hatches and their letters: hidden unless they are wanted."""
        if self.hatched:
            return self.group(into, class_="hatch")
        return self.group(into, class_="hatch", visibility="hidden")

    def has(self, part: str) -> bool:
        """Whether a definition is there already."""
        return part in self._defined

    def define(self, part: str, element: Any) -> str:
        """Put a definition in and give the reference to it."""
        self._defined.add(part)
        element["id"] = self.id(part)
        self.root.defs.add(element)
        return self.url(part)

    def clip(self, part: str, d: str) -> str:
        """A clip by the outline `d`."""
        element = ClipPath(factory=self.root)
        element.add(Path(d, factory=self.root))
        return self.define(part, element)

    def tile(self, part: str, width: float, height: float, turn: str = "") -> Pattern:
        """A pattern of `width` by `height` units, defined and yet to be filled with paths."""
        element = Pattern(factory=self.root, patternUnits="userSpaceOnUse")
        element["width"], element["height"] = unit(width), unit(height)
        if turn:
            element["patternTransform"] = turn
        self.define(part, element)
        return element

    def gradient(
        self, part: str, stops: tuple[tuple[float, str, float], ...], *, axis: str = "y"
    ) -> str:
        """A gradient over the shape it fills: (offset, colour, opacity) along an axis or round."""
        if axis == "round":
            element: Any = RadialGradient(factory=self.root)
        else:
            element = LinearGradient(factory=self.root)
            element["x2"], element["y2"] = ("1", "0") if axis == "x" else ("0", "1")
        for offset, colour, opacity in stops:
            element.add_stop_color(unit(offset), colour, unit(opacity))
        return self.define(part, element)

    def finish(self, title: str, description: str) -> Drawing:
        """The drawing, with its words."""
        self.root["role"] = "img"
        self.root["aria-labelledby"] = f"{self.id('t')} {self.id('d')}"
        told, more = Title(_xml(title)), Desc(_xml(description))
        told.xml.set("id", self.id("t"))
        more.xml.set("id", self.id("d"))
        self.root.elements[:0] = [told, more]
        if not self.root.defs.elements:
            self.root.elements.remove(self.root.defs)
        svg = self.root.tostring()
        return Drawing(self.name, title, description, self.width, self.height, svg)


def _xml(text: str) -> str:
    """Text without the control characters that XML 1.0 has no way to write."""
    return "".join(c for c in text if c >= " " or c in "\t\n").replace("￾", "").replace("￿", "")


def box(x: float, y: float, width: float, height: float) -> str:
    """Path data of a rectangle."""
    return f"M{unit(x)} {unit(y)}h{unit(width)}v{unit(height)}h{unit(-width)}z"


def rounded(x: float, y: float, width: float, height: float, radius: float) -> str:
    """Path data of a rectangle with round corners."""
    r = min(radius, width / 2, height / 2)
    w, h, r_ = unit(width - 2 * r), unit(height - 2 * r), unit(r)
    return (
        f"M{unit(x + r)} {unit(y)}h{w}q{r_} 0 {r_} {r_}v{h}q0 {r_} {unit(-r)} {r_}"
        f"h-{w}q{unit(-r)} 0 {unit(-r)} {unit(-r)}v-{h}q0 {unit(-r)} {r_} {unit(-r)}z"
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
