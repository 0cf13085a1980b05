"""How edges and dimensions are drawn: a few line styles, each with its words for the key."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple, Protocol

from stripewright.catalogue import N_
from stripewright.draw.canvas import line, unit

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from stripewright.draw.canvas import Canvas, Group


EdgeLine = tuple[float, float, float, float]
"""x and y of one end and of the other. Marks stand to the left of the way from one to the other."""


class Mark(Protocol):
    """Path data of one of the marks along an edge, from where the last one ended."""

    def __call__(self, step: float, *, level: bool) -> str:
        """A mark `step` units long, to the side or upright."""


def _repeated(ends: EdgeLine, pitch: float, mark: Mark) -> str:
    """Marks every `pitch` units along a line that is level or upright, evenly from end to end."""
    x1, y1, x2, y2 = ends
    level = abs(x2 - x1) >= abs(y2 - y1)
    length = x2 - x1 if level else y2 - y1
    count = max(1, round(abs(length) / pitch))
    step = length / count
    start = f"M{unit(x1)} {unit(y1)}"
    return start + mark(step, level=level) * count


def _marked(pitch: float, mark: Mark, *, lined: bool = False) -> Callable[[EdgeLine], str]:
    """What draws marks along an edge, upon its line or alone."""

    def draw(ends: EdgeLine) -> str:
        return (line(*ends) if lined else "") + _repeated(ends, pitch, mark)

    return draw


def _seam_mark(step: float, *, level: bool) -> str:
    half = unit(step / 2)
    if level:
        return f"m{half} -3l0 6m{half} -3"
    return f"m-3 {half}l6 0m-3 {half}"


def _scallop(step: float, *, level: bool) -> str:
    out = -6 if (step > 0) == level else 6
    if level:
        return f"q{unit(step / 2)} {out} {unit(step)} 0"
    return f"q{out} {unit(step / 2)} 0 {unit(step)}"


def _twice(ends: EdgeLine) -> str:
    x1, y1, x2, y2 = ends
    if abs(x2 - x1) >= abs(y2 - y1):
        return line(x1, y1 - 1.6, x2, y2 - 1.6) + line(x1, y1 + 1.6, x2, y2 + 1.6)
    return line(x1 - 1.6, y1, x2 - 1.6, y2) + line(x1 + 1.6, y1, x2 + 1.6, y2)


def _hem_mark(step: float, *, level: bool) -> str:
    out = -5 if (step > 0) == level else 5
    half = unit(step / 2)
    return f"l{half} {out}l{half} {-out}" if level else f"l{out} {half}l{-out} {half}"


def _dashed(*parts: float) -> Mark:
    """A mark of strokes and gaps in turns, each a part of its length."""

    def mark(step: float, *, level: bool) -> str:
        lengths = [unit(step * part) for part in parts]
        pairs = zip(lengths[::2], lengths[1::2], strict=True)
        return "".join(f"h{on}m{off} 0" if level else f"v{on}m0 {off}" for on, off in pairs)

    return mark


def _opening(ends: EdgeLine) -> str:
    x1, y1, x2, y2 = ends
    if abs(x2 - x1) >= abs(y2 - y1):
        return f"M{unit(x1)} {unit(y1)}m0 -4v8m0 -4H{unit(x2)}m0 -4v8"
    return f"M{unit(x1)} {unit(y1)}m-4 0h8m-4 0V{unit(y2)}m-4 0h8"


class Style(NamedTuple):
    """How an edge is drawn: path data from end to end, width of the line, words for the key."""

    draw: Callable[[EdgeLine], str]
    width: float
    words: str


STYLES: dict[str, Style] = {
    "open": Style(lambda ends: line(*ends), 1.2, N_("open edge")),
    "seamed": Style(_marked(6, _seam_mark, lined=True), 1.2, N_("seam")),
    "gathered": Style(_marked(6, _scallop), 1.4, N_("gathered edge")),
    "grafted": Style(_twice, 1.1, N_("grafted edge")),
    "hemmed": Style(_marked(9, _hem_mark, lined=True), 1.1, N_("hem")),
    "joined": Style(_marked(5, _dashed(0.3, 0.7)), 2.2, N_("joined to the next panel")),
    "fold": Style(_marked(10, _dashed(0.6, 0.4)), 1.4, N_("fold")),
    "turned_up": Style(_marked(16, _dashed(0.5, 0.2, 0.1, 0.2)), 1.6, N_("brim, turned up")),
    "opening": Style(_opening, 2.2, N_("opening")),
}


_INNER = frozenset({"fold", "turned_up", "opening"})
"""Styles that stand on the fabric: drawn on a lighter line, so that they show on any yarn."""


def edge(style: str, ends: EdgeLine) -> str:
    """Path data of an edge in one of `STYLES`, from end to end."""
    return STYLES[style].draw(ends)


def edges(canvas: Canvas, lines: Iterable[tuple[str, EdgeLine]]) -> None:
    """Draw edges, all of one style together."""
    drawn: dict[str, str] = {}
    for style, ends in lines:
        drawn[style] = drawn.get(style, "") + edge(style, ends)
    for style, d in drawn.items():
        if style in _INNER:
            canvas.stroke(d, ink="paper", width=STYLES[style].width + 2.4)
        canvas.stroke(d, width=STYLES[style].width)


def dimension_across(canvas: Canvas, x1: float, x2: float, y: float) -> None:
    """A dimension line from x1 to x2."""
    a, b, h = unit(x1), unit(x2), unit(y)
    canvas.stroke(f"M{a} {unit(y - 4)}v8M{b} {unit(y - 4)}v8M{a} {h}H{b}", ink="muted")


def dimension_up(canvas: Canvas, x: float, y1: float, y2: float) -> None:
    """A dimension line from y1 down to y2."""
    a, b, v = unit(y1), unit(y2), unit(x)
    canvas.stroke(f"M{unit(x - 4)} {a}h8M{unit(x - 4)} {b}h8M{v} {a}V{b}", ink="muted")


def dimension_words(canvas: Canvas, words: str, x: float, y: float, into: Group) -> None:
    """Words read upward, with their base line at x and their middle at y."""
    canvas.text(
        words, x, y, into, text_anchor="middle", transform=f"rotate(-90 {unit(x)} {unit(y)})"
    )
