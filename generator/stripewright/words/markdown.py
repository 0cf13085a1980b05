"""Markdown -> tokens. CommonMark with tables and strikethrough; HTML is text unless allowed.

A text's tokens keep the lines of the source file (`token.map`, 1-based; links and pictures have
one too), so that whatever is found wrong with them later can still be placed. Headings carry
their depth in the text as `token.meta["rank"]`, from 0 and without a step left out, and their line
in it as `token.meta["at"]`.
"""

from __future__ import annotations

import re
from functools import lru_cache
from itertools import pairwise
from typing import TYPE_CHECKING, Any

from markdown_it import MarkdownIt

from stripewright.addresses import slugified
from stripewright.catalogue import say
from stripewright.problems import Place, Problem, error, nearest, warning
from stripewright.words.bounds import (
    MOST_HEADINGS,
    MOST_HINTS,
    MOST_SPANS,
    MOST_TOKENS,
    Texts,
    TooLong,
)
from stripewright.words.links import link_fault, photo_fault, spots
from stripewright.words.written import Prose

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from markdown_it.rules_core import StateCore
    from markdown_it.token import Token

    from stripewright.source.document import Document

ID = "h-"
"""Headings' ids begin with it, so that they never meet one of the page's own."""


def _any_address(url: str) -> bool:  # noqa: ARG001  # the library's signature
    return True


def _bounded(state: StateCore) -> None:
    """Raises TooLong before the words of too many parts are looked at."""
    if len(state.tokens) > MOST_TOKENS:
        at = state.tokens[MOST_TOKENS:]
        line = next((token.map[0] for token in at if token.map), 0)
        raise TooLong(line, say("paragraphs, entries and cells"))
    left = MOST_HEADINGS
    for token in state.tokens:
        left -= token.type == "heading_open"
        if left < 0:
            raise TooLong(token.map[0] if token.map else 0, say("headings"))


def _bounded_spans(state: StateCore) -> None:
    """Raises TooLong before too many words are made into pages."""
    left = MOST_SPANS
    for token in state.tokens:
        left -= len(token.children or ())
        if left < 0:
            raise TooLong(token.map[0] if token.map else 0, say("links, bold words and the like"))


@lru_cache(maxsize=2)
def _parser(*, raw_html: bool) -> MarkdownIt:
    parser = MarkdownIt("commonmark", {"html": raw_html}).enable(["table", "strikethrough"])
    parser.core.ruler.after("block", "bounds", _bounded)
    parser.core.ruler.push("bounded spans", _bounded_spans)
    # Every address is let through here and judged in `_check`, which can name its line.
    parser.validateLink = _any_address  # type: ignore[method-assign]  # the library's own way
    return parser


@lru_cache(maxsize=2)
def _blocks(*, raw_html: bool) -> MarkdownIt:
    return MarkdownIt("commonmark", {"html": raw_html}).enable("table").disable("inline")


_HEADING = re.compile(r"^ {0,3}(?:#{1,6}(?=[ \t]|$)|(?:=+|-+)[ \t]*$)", re.MULTILINE)
"""What a heading's line, or the line under one, looks like; in code it may be none."""

_TRIES = 8


def first_heading(text: str, *, raw_html: bool = False) -> int | None:
    """The line (from 0) of a text's first heading; one in a code block, list or quote is none."""
    blocks = _blocks(raw_html=raw_html)
    for number, match in enumerate(_HEADING.finditer(text)):
        # What a line is depends on those above it alone, so it is enough to read that far.
        end = text.find("\n", match.end())
        tokens = blocks.parse(text if number == _TRIES or end < 0 else text[: end + 1])
        for token in tokens:
            if token.type == "heading_open" and token.level == 0 and token.map:
                return token.map[0]
        if number == _TRIES:
            break
    return None


def prose(
    text: str,
    file: str,
    line: int = 1,
    *,
    raw_html: bool = False,
    lines: Sequence[int] | None = None,
    sponsored: frozenset[str] = frozenset(),
    shared: dict[str, Any] | None = None,
) -> tuple[Prose, list[Problem]]:
    """Read a text.

    Args:
        text: Markdown.
        file: where it stands, for problems.
        line: the file's line (1-based) that the text begins on.
        raw_html: whether HTML is let through (filtered when shown), rather than shown as text.
        lines: the file's line of each line of the text, when they don't simply follow `line`.
        sponsored: hosts whose links are marked as sponsored.
        shared: what several texts of one file share: link references, and headings' ids.

    Returns:
        The text with its tokens, and what is wrong with its links and pictures.
    """
    where = lines if lines is not None else range(line, line + text.count("\n") + 1)
    env = shared if shared is not None else {}
    fault = env.setdefault("texts", Texts()).fault(text)
    tokens: list[Token] = []
    if fault is None:
        try:
            tokens = _parser(raw_html=raw_html).parse(text, env)
        except TooLong as too_long:
            fault = (too_long.line, too_long.message)
    if fault is not None:
        place = Place(file, where[min(fault[0], len(where) - 1)], 1)
        return Prose("", ()), [error(place, fault[1], "part it into several files")]
    _place(tokens, where)
    _rank(tokens)
    ids = _name(tokens, env.setdefault("ids", {}), env.setdefault("numbers", {}))
    return Prose(text, tuple(tokens)), _checked(tokens, file, ids, sponsored)


def _checked(
    tokens: Sequence[Token], file: str, ids: Mapping[str, str], sponsored: frozenset[str]
) -> list[Problem]:
    """What is wrong with links and pictures; those to the maker's shops are marked."""
    problems: list[Problem] = []
    lost = 0
    for token in tokens:
        for child in token.children or ():
            found = _check(child, file, ids, sponsored, hint=lost < MOST_HINTS)
            if found:
                lost += child.type == "link_open" and str(child.attrGet("href")).startswith("#")
                problems.append(found)
    return problems


def _place(tokens: Sequence[Token], where: Sequence[int]) -> None:
    """Turn the parser's lines (from 0, end excluded) into the file's (from 1, both included)."""
    end = len(where) - 1
    line = 0
    for token in tokens:
        if token.map:
            line, after = token.map
            if token.type == "heading_open":
                token.meta = {"at": line}
            token.map = [where[min(line, end)], where[min(max(after - 1, line), end)]]
        for child in token.children or ():
            if child.type in {"softbreak", "hardbreak"}:
                line += 1
            elif child.type in {"link_open", "image"}:
                child.map = [where[min(line, end)]] * 2


def _rank(tokens: Sequence[Token]) -> None:
    levels: list[int] = []
    for token in tokens:
        if token.type == "heading_open":
            level = int(token.tag[1])
            while levels and levels[-1] >= level:
                levels.pop()
            levels.append(level)
        if token.type in {"heading_open", "heading_close"}:
            token.meta = {**token.meta, "rank": len(levels) - 1}


def _name(tokens: Sequence[Token], ids: dict[str, str], numbers: dict[str, int]) -> dict[str, str]:
    """Give each heading an id of its own.

    `ids` gathers them by the anchor that a text writes, `numbers` what a repeated one goes on by.
    """
    for token, inline in pairwise(tokens):
        if token.type == "heading_open":
            base = slugified("".join(child.content for child in inline.children or ())) or "part"
            name = base
            while name in ids:
                numbers[base] = numbers.get(base, 1) + 1
                name = f"{base}-{numbers[base]}"
            ids[name] = ID + name
            token.attrSet("id", ID + name)
    return ids


def _check(
    token: Token, file: str, ids: Mapping[str, str], sponsored: frozenset[str], *, hint: bool
) -> Problem | None:
    """What is wrong with a link or a picture; its anchor and its mark as sponsored are set."""
    fault: tuple[str, str] | None = None
    if token.type == "link_open":
        href = str(token.attrGet("href") or "")
        fault = link_fault(href)
        if fault is None and href.startswith("#"):
            fault = _anchor(token, href, ids, hint=hint)
        elif fault is None and _host(href) in sponsored:
            token.attrSet("rel", "sponsored")
    elif token.type == "image":
        fault = photo_fault(str(token.attrGet("src") or ""))
        if fault is None and not token.content.strip():
            return warning(
                _at(token, file),
                "this picture has no words for those who can't see it",
                "say what it shows, like ![a folded hat](hat.jpg)",
            )
    return error(_at(token, file), *fault) if fault else None


def _at(token: Token, file: str) -> Place:
    return Place(file, (token.map or [0])[0], 1)


def _anchor(
    token: Token, href: str, ids: Mapping[str, str], *, hint: bool
) -> tuple[str, str] | None:
    name = href[1:].removeprefix(ID)
    if name not in ids:
        return say("there is no heading “{name}” in this text", name), nearest(
            name, ids
        ) if hint else ""
    token.attrSet("href", "#" + ids[name])
    return None


def _host(href: str) -> str:
    match = re.match(r"https?://(?:[^/?#@]*@)?([^/?#:]+)", href, re.IGNORECASE)
    return match[1].lower() if match else ""


def images_in(prose: Prose, document: Document) -> dict[str, Place]:
    """The pictures that a text shows: file name -> where it is first named."""
    found: dict[str, Place] = {}
    for line, token in spots(prose, "image"):
        found.setdefault(str(token.attrGet("src")), Place(document.file, line, 1))
    return found
