"""The key under a drawing: a sample of each line style or hatch used, and its words."""

from __future__ import annotations

from dataclasses import dataclass

from stripewright.draw.canvas import Canvas, box
from stripewright.draw.edges import STYLES, edge
from stripewright.draw.figures import unit
from stripewright.draw.measure import wrapped

SAMPLE = 34.0
LINE = 17.0
FONT = 12.0


@dataclass(frozen=True, slots=True)
class Entry:
    """One entry: a style of `edges.STYLES`, or `allowance`, and its words."""

    style: str
    words: str


def key_lines(entries: tuple[Entry, ...], width: float) -> list[tuple[Entry, list[str]]]:
    """The entries with their words broken into lines that fit beside the samples."""
    room = width - SAMPLE - 22
    return [(entry, wrapped(entry.words, room, FONT)) for entry in entries]


def key_height(entries: tuple[Entry, ...], width: float) -> float:
    """How high the key is."""
    return sum(len(lines) * LINE for _, lines in key_lines(entries, width)) + 6


def key(canvas: Canvas, entries: tuple[Entry, ...], top: float) -> None:
    """Draw the key from `top` down."""
    texts = canvas.texts(font_size=unit(FONT))
    y = top
    for entry, lines in key_lines(entries, canvas.width):
        middle = y + LINE / 2
        if entry.style == "allowance":
            canvas.path(box(8, middle - 4, SAMPLE, 8), fill=allowance(canvas))
            canvas.stroke(box(8, middle - 4, SAMPLE, 8), width=0.6)
        else:
            style = STYLES[entry.style]
            canvas.stroke(
                edge(entry.style, (8, middle + 1, 8 + SAMPLE, middle + 1)), width=style.width
            )
        for words in lines:
            canvas.text(words, SAMPLE + 18, y + 12.5, texts)
            y += LINE


def allowance(canvas: Canvas) -> str:
    """The reference to the hatch of allowance rows, defined on first use."""
    if not canvas.has("sa"):
        tile = canvas.tile("sa", 5, 5)
        canvas.path(box(0, 0, 5, 5), tile, fill="#ffffff", fill_opacity="0.55")
        canvas.path(
            "M-1 6L6 -1M-1 1L1 -1M4 6L6 4", tile, fill="none", stroke="#14161a", stroke_width="1.3"
        )
    return canvas.url("sa")
