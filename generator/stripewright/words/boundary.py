"""The public part of a paid pattern: it fails closed, and says what it gives away.

Everything above the first heading is public, so a heading that isn't one gives the product away.
Whatever reads like a heading there, however it was written, is an error at its line. Better a
sentence refused that was meant for everyone than a chapter shown that was meant for buyers.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from stripewright.catalogue import N_, _, n_, say
from stripewright.problems import Place, Problem, error, warning
from stripewright.words.heading_like import heads, strikes
from stripewright.words.private_figures import private_figures
from stripewright.words.shown_blocks import MARKS, shown_blocks

if TYPE_CHECKING:
    from collections.abc import Iterator

    from stripewright.words.shown_blocks import ShownBlock, ShownLine
    from stripewright.words.written import Prose

MOST_WORDS = 150
"""Words of an introduction; more of a paid pattern's text is hardly meant for everyone."""

MOST_LOOKED_THROUGH = 20_000
"""Characters of an introduction that are looked through for headings; a longer one is refused."""

_HINT = say(
    "what is for buyers begins at a line of its own like “## Before you start”; what is "
    "for everyone, write as part of a sentence"
)
_LETTER = re.compile(r"\w")
_LEAVES = frozenset(("paragraph_open", "code_block", "fence", "html_block", "table_open"))


_HEIGHTS = N_(
    "its drawings show the true heights of stripes (reveal: heights): whoever measures them gets "
    "each stripe's share of its piece, and with the size and tension told, its rows, exactly or "
    "nearly so"
)


@dataclass(frozen=True, slots=True)
class Public:
    """How much of a paid pattern's text everyone may read."""

    paragraphs: int
    words: int
    line: int
    """The file's last public line; 0 when there is none."""
    heights: bool = False
    """Whether its drawings show the true heights of stripes."""

    def __str__(self) -> str:
        """`2 paragraphs, 57 words, to line 31`, and what its drawings give away."""
        return self._text + (f"; {_(_HEIGHTS)}" if self.heights else "")

    @property
    def _text(self) -> str:
        if not self.words:
            return _("no text")
        return _(
            "{paragraphs}, {words}, to line {line}",
            paragraphs=n_("{number} paragraph", "{number} paragraphs", self.paragraphs),
            words=n_("{number} word", "{number} words", self.words),
            line=self.line,
        )


def public_part(prose: Prose) -> Public:
    """How much an introduction gives away."""
    blocks = list(shown_blocks(prose.tokens))
    shown = " ".join(line.whole for block in blocks for line in block.lines)
    last = max((token.map[1] for token in prose.tokens if token.map), default=0)
    leaves = sum(token.type in _LEAVES for token in prose.tokens)
    words = sum(_LETTER.search(word) is not None for word in shown.split())
    return Public(leaves, words, last)


def check_introduction(prose: Prose, file: str) -> list[Problem]:
    """What reads like a heading in a paid pattern's introduction, and what says too much.

    Args:
        prose: the introduction, filled in.
        file: where it stands.
    """
    first = next((token.map[0] for token in prose.tokens if token.map), 0)
    if len(prose.source) > MOST_LOOKED_THROUGH and prose.tokens:
        hint = say(
            "after {most_looked_through:,} characters there is no heading; {hint}",
            MOST_LOOKED_THROUGH,
            _HINT,
        )
        what = say("the public part of this paid pattern has no end")
        return [error(Place(file, first, 1), what, hint)]
    blocks = [block for block in shown_blocks(prose.tokens) if block.lines]
    problems = [
        error(Place(file, (token.map or [0])[0], 1),
              "a heading inside a list or a quote doesn't end the public part", _HINT)
        for token in prose.tokens if token.type == "heading_open"
    ]  # fmt: skip
    for number, block in enumerate(blocks):
        followed = number + 1 < len(blocks)
        problems += _headings(block, file, followed=followed)
        problems += _figures(block, file)
    told = public_part(prose)
    if told.words > MOST_WORDS:
        what = say("the public part of this paid pattern is long: {words} words", told.words)
        hint = say(
            "up to {most_words} are usual; what is for buyers begins at a "
            "heading, like “## Before you start”",
            MOST_WORDS,
        )
        problems.append(warning(Place(file, first, 1), what, hint))
    return problems


def _figures(block: ShownBlock, file: str) -> Iterator[Problem]:
    """A warning for each figure that is usually kept for buyers."""
    for line in block.lines:
        for what, said in private_figures(line.whole.translate(MARKS)):
            yield warning(
                Place(file, min(line.at, block.last), 1),
                say("everyone may read {what} here: “{said}”", what, said),
                "keep it for what stands below the first heading, if it isn't for everyone",
            )


def _headings(block: ShownBlock, file: str, *, followed: bool) -> Iterator[Problem]:
    """An error for each line of a block that reads like a heading."""
    for number, line in enumerate(block.lines):
        found = _found_in(line, entry=block.entry)
        more = followed or number + 1 < len(block.lines)
        if found is None and more and not block.entry and heads(line.whole):
            found = (line.at, line.whole)
        if found is not None:
            text = " ".join(found[1].translate(MARKS).split())
            yield error(
                Place(file, min(found[0], block.last), 1),
                say(
                    "this reads like a heading, but what follows it would be public: “{text}”",
                    text[:60],
                ),
                _HINT,
            )


def _found_in(line: ShownLine, *, entry: bool) -> tuple[int, str] | None:
    """The part of a line that reads like a heading, or the whole of it, with the file's line."""
    above = ""
    for number, part in enumerate(line.parts):
        if strikes(part, under=above, entry=entry):
            return line.at + number, part
        above = part
    return (line.at, line.whole) if strikes(line.whole, entry=entry) else None
