"""How long all drawings of a pattern take, against svgwrite alone writing the same elements.

    python tests/bench/drawings.py

Both are measured side by side in one warm process, over every demo pattern. The floor takes each
finished drawing apart beforehand and then, inside the clock, only builds its elements with
svgwrite (`debug=False`) and writes them out.
"""

from __future__ import annotations

import sys
from pathlib import Path
from time import process_time
from typing import TYPE_CHECKING, Any
from xml.etree import ElementTree as ET

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT / "generator"), str(ROOT / "tests")]

import svgwrite  # noqa: E402  # the path above must be set first

from stripewright.draw.draw import draw_all  # noqa: E402
from stripewright.pipeline.make import work_source  # noqa: E402
from stripewright.pipeline.sources import SourceFile  # noqa: E402
from stripewright.studio import Studio  # noqa: E402
from support.patterns import SETTINGS  # noqa: E402

if TYPE_CHECKING:
    from collections.abc import Callable

ROUNDS = 15
MOST = 1.5


def taken_apart(svg: str) -> tuple[str, dict[str, str], str, list[Any]]:
    """An element as its name, attributes, text and children."""

    def apart(element: ET.Element) -> tuple[str, dict[str, str], str, list[Any]]:
        name = element.tag.rpartition("}")[2]
        return name, dict(element.attrib), element.text or "", [apart(child) for child in element]

    return apart(ET.fromstring(svg))


def written_again(apart: tuple[str, dict[str, str], str, list[Any]]) -> str:
    """The same elements, by svgwrite alone, used as its handbook shows."""
    _, attributes, _, children = apart
    drawing = svgwrite.Drawing(debug=False)
    drawing.attribs.update(attributes)
    for child in children:
        _add(drawing, drawing, child)
    return drawing.tostring()


def _add(drawing: Any, into: Any, apart: tuple[str, dict[str, str], str, list[Any]]) -> None:
    name, attributes, text, children = apart
    if name in ("title", "desc"):
        into.set_desc(**{name: text})
        return
    if name == "path":
        rest = {key: value for key, value in attributes.items() if key != "d"}
        element = drawing.path(d=attributes["d"], **rest)
    elif name == "text":
        rest = {key: value for key, value in attributes.items() if key not in ("x", "y")}
        element = drawing.text(text, x=[attributes["x"]], y=[attributes["y"]], **rest)
    elif name == "stop":
        into.add_stop_color(
            attributes["offset"], attributes["stop-color"], attributes["stop-opacity"]
        )
        return
    else:
        made = {
            "g": drawing.g,
            "defs": drawing.defs.__class__,
            "pattern": drawing.pattern,
            "clipPath": drawing.clipPath,
            "linearGradient": drawing.linearGradient,
            "radialGradient": drawing.radialGradient,
        }[name]
        element = drawing.defs if name == "defs" else made(**attributes)
    for child in children:
        _add(drawing, element, child)
    if name != "defs":
        into.add(element)


def best(action: Callable[[], object]) -> float:
    """The shortest of several runs, in ms."""
    times = []
    for _ in range(ROUNDS):
        start = process_time()
        action()
        times.append(process_time() - start)
    return min(times) * 1000


def main() -> int:
    """Print the table; 1 when the drawings take more than they may."""
    print(f"{'pattern':34}{'elements':>9}{'ours ms':>9}{'svgwrite ms':>13}{'ratio':>7}")
    ours_all = floor_all = 0.0
    for path in Studio(ROOT).sources("patterns"):
        sound = work_source(SourceFile(path.name, path.read_bytes()), SETTINGS).sound
        assert sound, path
        _, worked, words = sound
        drawings = draw_all(worked, words, prefix=worked.slug).everything()
        parts = [taken_apart(drawing.svg) for drawing in drawings]
        count = sum(drawing.svg.count("<") - drawing.svg.count("</") for drawing in drawings)
        ours = best(lambda: draw_all(worked, words, prefix=worked.slug))  # noqa: B023  # run here
        floor = best(lambda: [written_again(part) for part in parts])  # noqa: B023  # run here
        ours_all, floor_all = ours_all + ours, floor_all + floor
        print(f"{worked.slug:34}{count:9}{ours:9.2f}{floor:13.2f}{ours / floor:7.2f}")
    ratio = ours_all / floor_all
    print(f"{'all':43}{ours_all:9.2f}{floor_all:13.2f}{ratio:7.2f}  (at most {MOST})")
    return int(ratio > MOST)


if __name__ == "__main__":
    sys.exit(main())
