"""The public part of a paid pattern: it fails closed, and says what it gives away.

Everything above the first heading is public, so a heading that isn't one gives the product away.
Whatever reads like a heading there, however it was written, is an error at its line. Better a
sentence refused that was meant for everyone than a chapter shown that was meant for buyers.
"""

from __future__ import annotations

import html
import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from stripewright.catalogue import N_, _, n_, say
from stripewright.problems import Place, Problem, error, warning
from stripewright.words.heading_like import heads, strikes
from stripewright.words.private_figures import private_figures

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from markdown_it.token import Token

    from stripewright.words.written import Prose

MOST_WORDS = 150
"""Words of an introduction; more of a paid pattern's text is hardly meant for everyone."""

MOST_LOOKED_THROUGH = 20_000
"""Characters of an introduction that are looked through for headings; a longer one is refused."""

BOLD, PLAIN = "\ue003", "\ue004"
"""Private characters that stand for where bold print begins and ends; no text keeps its own."""

_MARKS = str.maketrans("", "", BOLD + PLAIN)
_HINT = say(
    "what is for buyers begins at a line of its own like “## Before you start”; what is "
    "for everyone, write as part of a sentence"
)
_TAG = re.compile(r"<(/?)([a-z][a-z0-9]*)\b[^<>]*>", re.IGNORECASE)
_BOLD_TAGS = frozenset(("b", "strong", "big"))
_BREAKING = frozenset(
    """
    address article aside blockquote br dd details div dl figcaption figure footer form hr li
    main nav ol p pre section table tbody td tfoot thead tr ul
    """.split()  # noqa: SIM905  # read as words
)
_BY_TAG = "\v"
"""A new line that a tag begins."""
_SOFT = "\0"
"""A new line of the source inside a line that is shown."""
_BREAKS = re.compile(r"([\0\n\v\f\x1c-\x1e\x85\u2028\u2029])")
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


@dataclass(slots=True)
class _Line:
    """What a reader sees as one line: the file's line, and the parts that it was written in."""

    at: int
    parts: list[str]

    @property
    def whole(self) -> str:
        return " ".join(self.parts)


@dataclass(slots=True)
class _Block:
    """A paragraph or the like: what it shows, with the marks `BOLD` and `PLAIN`."""

    line: int
    last: int
    entry: bool = False
    """One of several in a list, or a cell among others: short words stand there by right."""
    lines: list[_Line] = field(default_factory=list)

    def show(self, text: str) -> None:
        """Take in what it shows: `_SOFT` goes on in the same line, what `_BREAKS` begins another.

        A new line of the source (`\\n` or `_SOFT`) is one in the file; others are none.
        """
        at, line = self.line, _Line(self.line, [""])
        for part in _BREAKS.split(text):
            if part == _SOFT:
                at += 1
                line.parts.append("")
            elif _BREAKS.fullmatch(part):
                at += part == "\n"
                self.lines.append(line)
                line = _Line(at, [""])
            else:
                line.parts[-1] += part
        self.lines = [one for one in (*self.lines, line) if one.whole.strip()]


def public_part(prose: Prose) -> Public:
    """How much an introduction gives away."""
    blocks = list(_blocks(prose.tokens))
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
    blocks = [block for block in _blocks(prose.tokens) if block.lines]
    problems = [
        error(Place(file, (token.map or [0])[0], 1),
              "a heading inside a list or a quote doesn't end the public part", _HINT)
        for token in prose.tokens if token.type == "heading_open"
    ]  # fmt: skip
    for number, block in enumerate(blocks):
        followed = number + 1 < len(blocks)
        problems += _headings(block, file, followed=followed)
        for line in block.lines:
            problems += [
                warning(Place(file, min(line.at, block.last), 1),
                        say("everyone may read {what} here: “{said}”", what, said),
                        "keep it for what stands below the first heading, if it isn't for everyone")
                for what, said in private_figures(line.whole.translate(_MARKS))
            ]  # fmt: skip
    told = public_part(prose)
    if told.words > MOST_WORDS:
        problems.append(
            warning(Place(file, first, 1),
                    say("the public part of this paid pattern is long: {words} words", told.words),
                    say("up to {most_words} are usual; what is for buyers begins at a "
                        "heading, like “## Before you start”", MOST_WORDS))
        )  # fmt: skip
    return problems


def _headings(block: _Block, file: str, *, followed: bool) -> Iterator[Problem]:
    """An error for each line of a block that reads like a heading."""
    for number, line in enumerate(block.lines):
        found = _found_in(line, entry=block.entry)
        more = followed or number + 1 < len(block.lines)
        if found is None and more and not block.entry and heads(line.whole):
            found = (line.at, line.whole)
        if found is not None:
            text = " ".join(found[1].translate(_MARKS).split())
            yield error(
                Place(file, min(found[0], block.last), 1),
                say(
                    "this reads like a heading, but what follows it would be public: “{text}”",
                    text[:60],
                ),
                _HINT,
            )


def _found_in(line: _Line, *, entry: bool) -> tuple[int, str] | None:
    """The part of a line that reads like a heading, or the whole of it, with the file's line."""
    above = ""
    for number, part in enumerate(line.parts):
        if strikes(part, under=above, entry=entry):
            return line.at + number, part
        above = part
    return (line.at, line.whole) if strikes(line.whole, entry=entry) else None


def _blocks(tokens: Sequence[Token]) -> Iterator[_Block]:
    """What an introduction shows, block by block."""
    entries = _entries(tokens)
    line = last = 1
    for index, token in enumerate(tokens):
        if token.map:
            line, last = token.map
        block = _Block(line, last, entry=index in entries)
        if token.type == "inline":
            _fill(block, token.children or ())
        elif token.type in {"code_block", "fence"}:
            block.line += token.type == "fence"
            _fill_html(block, html.unescape(token.content).translate(_MARKS).replace(_SOFT, ""))
        elif token.type == "html_block":
            _fill_html(block, html.unescape(token.content).translate(_MARKS))
        else:
            continue
        yield block


def _fill(block: _Block, children: Sequence[Token]) -> None:
    text = ""
    for child in children:
        if child.type == "softbreak":
            text += _SOFT
        elif child.type == "hardbreak":
            text += "\n"
        elif child.type in {"strong_open", "strong_close"}:
            text += BOLD if child.nesting > 0 else PLAIN
        elif child.type != "image":
            text += html.unescape(child.content).translate(_MARKS)
    _fill_html(block, text)


def _fill_html(block: _Block, text: str) -> None:
    """Text with tags in it, whether they are let through or shown: bold, line ends, headings."""
    block.show(_TAG.sub(_said_by_tag, _without_comments(text)))


def _without_comments(text: str) -> str:
    """HTML without its comments; one that isn't closed stays, for it hides what follows."""
    parts, at = list[str](), 0
    while (begin := text.find("<!--", at)) >= 0 and (end := text.find("-->", begin + 4)) >= 0:
        parts.append(text[at:begin])
        at = end + 3
    return "".join([*parts, text[at:]])


def _said_by_tag(tag: re.Match[str]) -> str:
    name = tag[2].lower()
    if name in _BOLD_TAGS:
        return PLAIN if tag[1] else BOLD
    if name in _BREAKING:
        return _BY_TAG if "role" not in tag[0].lower() else _BY_TAG + tag[0]
    # Tags that make a heading stay in the text, where they are found; others say nothing.
    return tag[0] if strikes(tag[0]) else ""


def _entries(tokens: Sequence[Token]) -> set[int]:
    """Indices of the inline tokens that are one of several in a list, or cells among others."""
    found: set[int] = set()
    for index, token in enumerate(tokens):
        if token.type in {"bullet_list_open", "ordered_list_open"}:
            items = _children(tokens, index)
            if len(items) > 1:
                # An item of one paragraph is an entry; one with more under it may be headed.
                found |= {item + 2 for item in items if len(_children(tokens, item)) == 1
                          and tokens[item + 1].type == "paragraph_open"}  # fmt: skip
        elif token.type == "tr_open":
            cells = _children(tokens, index)
            if sum(bool(tokens[cell + 1].content.strip()) for cell in cells) > 1:
                found |= {cell + 1 for cell in cells}
    return found


def _children(tokens: Sequence[Token], index: int) -> list[int]:
    """Indices of the opening (or only) tokens right inside the one at `index`."""
    inside: list[int] = []
    level = tokens[index].level + 1
    for at in range(index + 1, len(tokens)):
        if tokens[at].level < level:
            break
        if tokens[at].level == level and tokens[at].nesting >= 0:
            inside.append(at)
    return inside
