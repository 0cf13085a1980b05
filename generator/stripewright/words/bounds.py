"""How much text one file may hold: bounds that no true one meets, so that all of them end soon.

A file's introduction, body and steps share them, whoever asks; each is checked before what it
bounds is built.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from stripewright.catalogue import say

_MOST_TEXT = 200_000
"""Characters of a file's Markdown, its templates filled in."""
MOST_LINES = 5_000
"""Lines of it."""
MOST_WORD = 10_000
"""Characters without a space between them. The typesetter gives up at 65,536."""
MOST_SIGNS = 40_000
"""Signs that may mean something to Markdown: each is tried."""
MOST_BRACKETS = 10_000
"""Those of them that may begin a link: what follows each is read on for its end."""
MOST_ACCENTS = 200
"""Accents over one letter."""
MOST_CELLS = 50_000
"""Cells of tables: a table's rows are all as wide as its first."""
MOST_TOKENS = 20_000
"""Paragraphs, list items, cells and the like, each counted where it begins and where it ends."""
MOST_HEADINGS = 3_000
"""Headings of one text; on paper each is a place in the outline and takes more than a paragraph."""
MOST_SPANS = 10_000
"""Links, pictures, bold and plain runs of words and the like, counted as `MOST_TOKENS` are."""
MOST_HINTS = 10
"""Mistakes of one kind that are told with what was likely meant; finding that takes time."""

_MORE = say("there is more text here than any page needs")
_SIGNS = "*_~`<[&\\"
_ACCENTS = re.compile(
    rf"[\u0300-\u036f\u1ab0-\u1aff\u1dc0-\u1dff\u20d0-\u20ff]{{{MOST_ACCENTS + 1}}}"
)
_LONG_WORD = re.compile(rf"\S{{{MOST_WORD + 1}}}")


class TooLong(Exception):
    """A text has more parts than any page needs; `line` is where, from 0."""

    def __init__(self, line: int, what: str) -> None:
        self.message = say("there are more {what} here than any page needs", what)
        super().__init__(self.message)
        self.line = line


@dataclass(slots=True)
class Texts:
    """What the texts of one file have come to together."""

    size: int = 0
    lines: int = 0

    def fault(self, text: str) -> tuple[int, str] | None:
        """Count a text in; the line (from 0) at which it is too much, and what is."""
        before, self.lines = self.lines, self.lines + text.count("\n") + 1
        room, self.size = _MOST_TEXT - self.size, self.size + len(text)
        if self.size > _MOST_TEXT:
            line = text.count("\n", 0, max(0, room))
            return (
                line,
                say(
                    "there is more text here than any page needs: over {most_text:,} characters",
                    _MOST_TEXT,
                ),
            )
        if self.lines > MOST_LINES:
            line = max(0, MOST_LINES - before)
            return line, say("{more}: over {most_lines:,} lines", _MORE, MOST_LINES)
        if len(text) > MOST_WORD and (word := _LONG_WORD.search(text)):
            line = text.count("\n", 0, word.start())
            return line, say("there is a word of over {most_word:,} characters here", MOST_WORD)
        if not text.isascii() and (accents := _ACCENTS.search(text)):
            line = text.count("\n", 0, accents.start())
            return line, say(
                "there are over {most_accents} accents over one letter here", MOST_ACCENTS
            )
        if sum(map(text.count, _SIGNS)) > MOST_SIGNS:
            return 0, say(
                "there are over {most_signs:,} signs like * and [ in this text", MOST_SIGNS
            )
        if text.count("[") > MOST_BRACKETS:
            return 0, say("there are over {most_brackets:,} signs [ in this text", MOST_BRACKETS)
        return _cells(text)


def _cells(text: str) -> tuple[int, str] | None:
    if text.count("|") < 100:
        return None
    widths = [line.count("|") for line in text.split("\n")]
    widest = max(widths)
    if widest * len(widths) <= MOST_CELLS:
        return None
    return widths.index(widest), say(
        "tables as wide as this one would have over {most_cells:,} cells", MOST_CELLS
    )
