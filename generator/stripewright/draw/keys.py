"""The key under a drawing: a sample of each line style or hatch used, and its words."""

from __future__ import annotations

from dataclasses import dataclass

from stripewright.draw.canvas import Canvas, box, unit
from stripewright.draw.edges import STYLES, edge
from stripewright.draw.measure import wrapped

SAMPLE = 34.0
_LINE = 17.0
_FONT = 13.0


@dataclass(frozen=True, slots=True)
class KeyEntry:
    """One entry: a style of `edges.STYLES`, or `allowance`, and its words."""

    style: str
    words: str


def key_lines(entries: tuple[KeyEntry, ...], width: float) -> list[tuple[KeyEntry, list[str]]]:
    """The entries with their words broken into lines that fit beside the samples."""
    room = width - SAMPLE - 22
    return [(entry, wrapped(entry.words, room, _FONT)) for entry in entries]


def key_height(entries: tuple[KeyEntry, ...], width: float) -> float:
    """How high the key is."""
    return sum(len(lines) * _LINE for _, lines in key_lines(entries, width)) + 6


def key(canvas: Canvas, entries: tuple[KeyEntry, ...], top: float) -> None:
    """Draw the key from `top` down."""
    texts = canvas.texts(font_size=unit(_FONT))
    y = top
    for entry, lines in key_lines(entries, canvas.width):
        middle = y + _LINE / 2
        if entry.style == "allowance":
            canvas.path(box(8, middle - 4, SAMPLE, 8), fill=allowance_hatch(canvas))
            canvas.stroke(box(8, middle - 4, SAMPLE, 8), width=0.6)
        else:
            style = STYLES[entry.style]
            canvas.stroke(
                edge(entry.style, (8, middle + 1, 8 + SAMPLE, middle + 1)), width=style.width
            )
        for words in lines:
            canvas.text(words, SAMPLE + 18, y + 12.5, texts)
            y += _LINE


def allowance_hatch(canvas: Canvas) -> str:
    """The reference to the checks of allowance rows, defined on first use: unlike any hatch."""
    if not canvas.has("sa"):
        tile = canvas.tile("sa", 4, 4)
        canvas.path(box(0, 0, 4, 4), tile, fill="#ffffff", fill_opacity="0.8")
        canvas.path(box(0, 0, 2, 2) + box(2, 2, 2, 2), tile, fill="#14161a")
    return canvas.url("sa")
