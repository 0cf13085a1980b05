"""Published pages, read back by other libraries than those that wrote them."""

from __future__ import annotations

import json
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Any
from urllib.parse import unquote, urlsplit

import html5lib

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path
    from xml.etree.ElementTree import Element

    from stripewright.pages.cards import Card
    from stripewright.pages.render import Renderer
    from stripewright.view.views import PostView, SheetView

XHTML = "{http://www.w3.org/1999/xhtml}"


@dataclass
class Site:
    """A published folder."""

    folder: Path

    @cached_property
    def pages(self) -> list[str]:
        """Paths of its HTML pages from the root, sorted."""
        return sorted(p.relative_to(self.folder).as_posix() for p in self.folder.rglob("*.html"))

    @cached_property
    def patterns(self) -> list[str]:
        """Paths of its pattern pages."""
        return [p for p in self.pages if p.startswith("patterns/") and p.count("/") == 2]

    def text(self, path: str) -> str:
        """A file as text."""
        return (self.folder / path).read_text(encoding="utf-8")

    @cached_property
    def trees(self) -> dict[str, Element]:
        """Every page parsed."""
        return {path: parse(self.text(path)) for path in self.pages}

    def first(self, *, free: bool) -> str:
        """The first pattern page that is free, or the first that is paid."""
        mark = 'class="buy"'
        return next(path for path in self.patterns if (mark in self.text(path)) != free)

    def kinds(self) -> dict[str, str]:
        """One page of each type, by the type's name."""
        found: dict[str, str] = {}
        for path in self.pages:
            body = self.trees[path].find(f"{XHTML}body")
            found.setdefault(body.get("data-page"), path)
        del found["pattern"]
        return found | {
            "free pattern": self.first(free=True),
            "paid pattern": self.first(free=False),
        }


def parse(text: str) -> Element:
    """A page as a tree; raises html5lib's ParseError at the first departure from the standard."""
    return html5lib.HTMLParser(strict=True).parse(text)


def all_of(tree: Element, tag: str) -> list[Element]:
    """Every element of a name."""
    return list(tree.iter(XHTML + tag))


def words(element: Element) -> str:
    """An element's text with single spaces."""
    return " ".join("".join(element.itertext()).split())


def json_ld(tree: Element) -> list[dict[str, Any]]:
    """The nodes of a page's structured data."""
    scripts = [s for s in all_of(tree, "script") if s.get("type") == "application/ld+json"]
    return [node for script in scripts for node in json.loads(script.text)["@graph"]]


def targets(tree: Element) -> list[str]:
    """Every address that a page links to or loads."""
    found = []
    for element in tree.iter():
        if not isinstance(element.tag, str):
            continue
        for name in ("href", "src"):
            value = element.get(name)
            if value is not None and not element.tag.startswith("{http://www.w3.org/2000/svg}"):
                found.append(value)
    return found


def split_target(address: str) -> tuple[str, str]:
    """An address inside the site as path and fragment, both decoded."""
    parts = urlsplit(address)
    return unquote(parts.path), unquote(parts.fragment)


def site_files(
    renderer: Renderer,
    patterns: Sequence[Card] = (),
    **others: Sequence[PostView] | Sequence[SheetView],
) -> dict[str, bytes]:
    """Every page that is not a pattern's, made; `others` are views by their folder."""
    waiting = renderer.site(patterns, others)
    return {path: make() for path, make in waiting.items()}
