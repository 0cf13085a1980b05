"""What a text shows, block by block, as a reader of it would see its lines."""

from __future__ import annotations

import html
import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from stripewright.words.heading_like import strikes

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from markdown_it.token import Token

BOLD, PLAIN = "\ue003", "\ue004"
"""Private characters that stand for where bold print begins and ends; no text keeps its own."""

MARKS = str.maketrans("", "", BOLD + PLAIN)
"""Takes both out."""
_TAG = re.compile(r"<(/?)([a-z][a-z0-9]*)\b[^<>]*>", re.IGNORECASE)
_BOLD_TAGS = frozenset(("b", "strong", "big"))
_BREAKING = re.compile(
    "address|article|aside|blockquote|br|dd|details|div|dl|figcaption|figure|footer|form|hr|li|"
    "main|nav|ol|p|pre|section|table|tbody|td|tfoot|thead|tr|ul"
)
_BY_TAG = "\v"
"""A new line that a tag begins."""
_SOFT = "\0"
"""A new line of the source inside a line that is shown."""
_BREAKS = re.compile(r"([\0\n\v\f\x1c-\x1e\x85\u2028\u2029])")


@dataclass(slots=True)
class ShownLine:
    """What a reader sees as one line: the file's line, and the parts that it was written in."""

    at: int
    parts: list[str]

    @property
    def whole(self) -> str:
        """The line as it is seen."""
        return " ".join(self.parts)


@dataclass(slots=True)
class ShownBlock:
    """A paragraph or the like: what it shows, with the marks `BOLD` and `PLAIN`."""

    line: int
    last: int
    entry: bool = False
    """One of several in a list, or a cell among others: short words stand there by right."""
    lines: list[ShownLine] = field(default_factory=list)

    def show(self, text: str) -> None:
        """Take in what it shows: `_SOFT` goes on in the same line, what `_BREAKS` begins another.

        A new line of the source (`\\n` or `_SOFT`) is one in the file; others are none.
        """
        at, line = self.line, ShownLine(self.line, [""])
        for part in _BREAKS.split(text):
            if part == _SOFT:
                at += 1
                line.parts.append("")
            elif _BREAKS.fullmatch(part):
                at += part == "\n"
                self.lines.append(line)
                line = ShownLine(at, [""])
            else:
                line.parts[-1] += part
        self.lines = [one for one in (*self.lines, line) if one.whole.strip()]


def shown_blocks(tokens: Sequence[Token]) -> Iterator[ShownBlock]:
    """What an introduction shows, block by block."""
    entries = _entries(tokens)
    line = last = 1
    for index, token in enumerate(tokens):
        if token.map:
            line, last = token.map
        block = ShownBlock(line, last, entry=index in entries)
        if token.type == "inline":
            _fill(block, token.children or ())
        elif token.type in {"code_block", "fence"}:
            block.line += token.type == "fence"
            _fill_html(block, html.unescape(token.content).translate(MARKS).replace(_SOFT, ""))
        elif token.type == "html_block":
            _fill_html(block, html.unescape(token.content).translate(MARKS))
        else:
            continue
        yield block


def _fill(block: ShownBlock, children: Sequence[Token]) -> None:
    text = ""
    for child in children:
        if child.type == "softbreak":
            text += _SOFT
        elif child.type == "hardbreak":
            text += "\n"
        elif child.type in {"strong_open", "strong_close"}:
            text += BOLD if child.nesting > 0 else PLAIN
        elif child.type != "image":
            text += html.unescape(child.content).translate(MARKS)
    _fill_html(block, text)


def _fill_html(block: ShownBlock, text: str) -> None:
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
    if _BREAKING.fullmatch(name):
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
                alone = (item for item in items if len(_children(tokens, item)) == 1)
                found |= {item + 2 for item in alone if tokens[item + 1].type == "paragraph_open"}
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
