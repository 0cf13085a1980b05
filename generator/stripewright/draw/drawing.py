"""What the drawing stage gives: SVG with its words and its size."""

from __future__ import annotations

from dataclasses import dataclass


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
