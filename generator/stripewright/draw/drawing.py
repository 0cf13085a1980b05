"""What the drawing stage gives: SVG with its words and its size."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping


@dataclass(frozen=True, slots=True)
class Drawing:
    """One drawing.

    `svg` is a whole, self-contained SVG element without an XML declaration: it can stand inline
    in a page and alone in a file. Its ids begin with `name`. Shapes of a yarn carry its colour as
    `fill` and the class `yarn-a` (by letter, lower case); overlays that show a yarn's hatch carry
    the class `hatch` and are hidden (`visibility="hidden"`) unless drawn for black-and-white print.
    """

    name: str
    """Unique in the site: `breakwater-bolster-finished`."""
    title: str
    description: str
    """What is drawn, in words: also the alternative text."""
    width: float
    height: float
    """Size of the view box, in its own units."""
    svg: str


@dataclass(frozen=True, slots=True)
class Drawings:
    """All drawings of a pattern."""

    finished: Drawing
    """What it looks like made up: the card and the share picture."""
    strip: Drawing
    """The order of colours as a thin bar."""
    assembly: Drawing | None
    """How the pieces go together; None for a single piece with nothing to join."""
    schematics: Mapping[str, Drawing]
    """By piece key."""
    colourways: Mapping[str, tuple[Drawing, Drawing]] = field(default_factory=dict)
    """By the colourway's key: what it looks like, and the order of its colours."""
    sizes: Mapping[str, Drawings] = field(default_factory=dict)
    """By the key of a further size: all of its own."""

    def everything(self) -> tuple[Drawing, ...]:
        """All of them, in the order of a page."""
        more = (self.assembly,) if self.assembly else ()
        ways = (one for pair in self.colourways.values() for one in pair)
        sizes = (one for size in self.sizes.values() for one in size.everything())
        return (self.finished, self.strip, *more, *self.schematics.values(), *ways, *sizes)
