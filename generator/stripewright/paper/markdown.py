"""The author's Markdown as data for print: markdown-it's tokens -> a tree that JSON can say.

A node is `{"kind": ..., ...}`; its children stand in `inside`. The print template turns each kind
into a page element, so the text itself is never read as Typst code.
"""

from __future__ import annotations

import html
import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    from markdown_it.token import Token

    from stripewright.paper.picture import PrintPhoto
    from stripewright.words.written import Prose

PrintNode = dict[str, Any]
"""`kind`, what that kind carries, and `inside`."""

_DEEPEST = 8
"""How deep quotes, lists and emphasis may stand in one another; Typst stops at some 70 levels of
its own. What is deeper is set at this level: its words stay, its indent goes."""

_WRAPPED = {
    "em_open": "emph",
    "strong_open": "strong",
    "s_open": "strike",
    "blockquote_open": "quote",
    "bullet_list_open": "bullets",
    "list_item_open": "item",
    "paragraph_open": "paragraph",
    "tr_open": "row",
}
_SEEN_THROUGH = {"thead_open", "tbody_open"}
_TAG = re.compile(r"<[^>]*>")
_FLATTENED = {"quote", "bullets", "numbers", "emph", "strong", "strike", "link"}


@dataclass(slots=True)
class _Reading:
    """Where the walk through the tokens stands."""

    link: Callable[[str], str]
    pictures: Mapping[str, PrintPhoto]
    stack: list[list[PrintNode]] = field(default_factory=lambda: [[]])
    skipped: list[bool] = field(default_factory=list)

    def put(self, node: PrintNode) -> None:
        self.stack[-1].append(node)

    def open(self, node: PrintNode) -> None:
        kind = node["kind"]
        deep = kind in _FLATTENED and len(self.stack) > _DEEPEST
        skip = deep or (kind == "item" and self.skipped[-1])
        self.skipped.append(skip)
        if not skip:
            self.put(node)
            self.stack.append(node.setdefault("inside", []))

    def close(self) -> None:
        if not self.skipped.pop():
            self.stack.pop()


def print_data(
    prose: Prose,
    *,
    link: Callable[[str], str] = str,
    pictures: Mapping[str, PrintPhoto] | None = None,
) -> list[PrintNode]:
    """The prose as a tree.

    Args:
        prose: the author's Markdown, parsed.
        link: makes a link's target whole; "" when paper can't follow it.
        pictures: those in the text, by file name; one that isn't here is set as its words.
    """
    reading = _Reading(link, pictures or {})
    _walk(prose.tokens, reading)
    return _even_headings(reading.stack[0])


def _walk(tokens: Sequence[Token], reading: _Reading) -> None:
    for token in tokens:
        if (
            token.type in _SEEN_THROUGH
            or token.type.removesuffix("_close") + "_open" in _SEEN_THROUGH
        ):
            continue
        if token.type == "inline":
            _walk(token.children or [], reading)
        elif token.nesting == 1:
            reading.open(_opened(token, reading))
        elif token.nesting == -1:
            reading.close()
        else:
            reading.put(_leaf(token, reading))


def _opened(token: Token, reading: _Reading) -> PrintNode:
    if token.type in _WRAPPED:
        return {"kind": _WRAPPED[token.type]}
    if token.type == "heading_open":
        # Inside a quote or a list it is a line in bold: bookmarks follow the top level alone.
        kind = "heading" if len(reading.stack) == 1 else "subhead"
        return {"kind": kind, "level": int(token.tag[1:])}
    if token.type == "ordered_list_open":
        return {"kind": "numbers", "start": int(token.attrGet("start") or 1)}
    if token.type == "link_open":
        return {"kind": "link", "to": reading.link(str(token.attrGet("href") or ""))}
    if token.type == "table_open":
        return {"kind": "table"}
    if token.type in ("th_open", "td_open"):
        style = str(token.attrGet("style") or "")
        return {"kind": "cell", "align": style.partition(":")[2] or "start"}
    raise NotImplementedError(f"no way to print {token.type}")


def _leaf(token: Token, reading: _Reading) -> PrintNode:
    if token.type in ("text", "text_special"):
        return {"kind": "text", "text": token.content}
    if token.type == "html_inline":
        return {"kind": "text", "text": _without_tags(token.content)}
    if token.type == "softbreak":
        return {"kind": "text", "text": " "}
    if token.type == "hardbreak":
        return {"kind": "break"}
    if token.type == "hr":
        return {"kind": "rule"}
    if token.type == "code_inline":
        return {"kind": "code", "text": token.content}
    if token.type in ("fence", "code_block"):
        return {"kind": "listing", "text": token.content.removesuffix("\n")}
    if token.type == "html_block":
        words = _without_tags(token.content).strip()
        return {"kind": "paragraph", "inside": [{"kind": "text", "text": words}]}
    if token.type == "image":
        name = str(token.attrGet("src") or "").rpartition("/")[2]
        words = "".join(child.content for child in token.children or [])
        photo = reading.pictures.get(name)
        if photo is None:
            return {"kind": "emph", "inside": [{"kind": "text", "text": words}]}
        return {"kind": "picture", "svg": photo.svg, "percent": photo.percent, "alt": words}
    raise NotImplementedError(f"no way to print {token.type}")


def _without_tags(markup: str) -> str:
    """What is left of HTML on paper: its words, which are set as text like any others."""
    return html.unescape(_TAG.sub("", markup))


def _even_headings(nodes: list[PrintNode]) -> list[PrintNode]:
    """Number heading levels from 1: PDF/UA forbids to skip one, and to leave a heading empty."""
    open_levels: list[int] = []
    for node in nodes:
        if node["kind"] != "heading":
            continue
        if not any(sign.isprintable() and not sign.isspace() for sign in _words(node)):
            node["kind"] = "paragraph"
            continue
        while open_levels and open_levels[-1] >= node["level"]:
            open_levels.pop()
        open_levels.append(node["level"])
        node["level"] = len(open_levels)
    return nodes


def _words(node: PrintNode) -> str:
    return str(node.get("text", "")) + "".join(map(_words, node.get("inside", ())))
