"""Where links and pictures of a text may go, and how its own pages are named in it.

A text names the studio's own pages by kind and slug: `pattern:tideline-cowl`,
`post:first-swatch`, `page:about`, `sheet:blank-tubes`. They become relative addresses when the
text is shown, because only then it is known from where.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Mapping
from typing import TYPE_CHECKING

from stripewright.problems import Place, Problem, error
from stripewright.words.facts import nearest

if TYPE_CHECKING:
    from markdown_it.token import Token

    from stripewright.words.written import Prose

OWN = {"pattern": "patterns/{}/index.html", "post": "posts/{}/index.html",
       "page": "{}/index.html", "sheet": "sheets/index.html"}  # fmt: skip
"""Path from the site's root of each kind of page, by the word that names it in a text."""

SCHEMES = ("https", "http", "mailto", "tel")
PHOTO = re.compile(r"[A-Za-z0-9][A-Za-z0-9._-]*\Z")
_SLUG = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*\Z")
_SCHEME = re.compile(r"([A-Za-z][A-Za-z0-9+.-]*):")
_INVISIBLE = re.compile(r"[\x00-\x20\x7f-\xa0\u200b-\u200f\u2028\u2029\ufeff]|%(?:0[0-9a-f]|1[0-9a-f]|20|7f)", re.I)  # fmt: skip


def link_fault(href: str) -> tuple[str, str] | None:
    """What is wrong with a link's address, and what would be right; None for a sound one."""
    # Browsers drop control characters before they read a scheme; so does this.
    bare = _INVISIBLE.sub("", href)
    scheme = _SCHEME.match(bare)
    if scheme:
        word = scheme[1].lower()
        if word in OWN:
            if _SLUG.match(bare[scheme.end() :]):
                return None
            return (
                f"“{href}” names no page",
                f"write the slug after the colon, like {word}:name-of-it",
            )
        if word in SCHEMES:
            return None
        return (
            f"a link may not begin with {word}:",
            "write an address that begins with https://, or mailto:, or a page like pattern:name-of-it",
        )
    if not bare:
        return "this link goes nowhere", "write where it goes, like [text](https://example.org/)"
    if bare.startswith("#"):
        return None
    if bare.startswith(("//", "\\", "/\\")):
        return "a link needs its whole address", "write it with https:// before it"
    return (
        f"“{href}” can't be followed from every page that shows this text",
        "write a page of the studio by its kind and slug, like pattern:name-of-it or page:about",
    )


def photo_fault(source: str) -> tuple[str, str] | None:
    """What is wrong with a picture's address, and what would be right; None for a sound one."""
    if PHOTO.match(source):
        return None
    return (
        f"a picture must be a file in content/photos, not “{source}”",
        "put it there and write its name alone, like ![a folded hat](hat.jpg)",
    )


def resolved(href: str, root: str) -> str:
    """A link's address as it is followed.

    Args:
        href: as the text has it.
        root: the way to the site's root: `../../` from a page two folders deep, the studio's
            address from paper and feeds.
    """
    kind, colon, slug = href.partition(":")
    return root + OWN[kind].format(slug) if colon and kind in OWN else href


def _spots(prose: Prose) -> Iterator[tuple[int, Token]]:
    """Every link and picture with its source line."""
    for block in prose.tokens:
        line = block.map[0] if block.map else 0
        for token in block.children or ():
            if token.type in ("softbreak", "hardbreak"):
                line += 1
            elif token.type in ("link_open", "image"):
                yield line, token


def unknown_links(prose: Prose, file: str, known: Mapping[str, Collection[str]]) -> list[Problem]:
    """Links to pages of the studio that aren't there.

    Args:
        prose: a text.
        file: where it stands.
        known: the slugs there are, by kind (pattern, post, page, sheet).
    """
    problems = []
    for line, token in _spots(prose):
        kind, _, slug = str(token.attrGet("href") or "").partition(":")
        if token.type == "link_open" and kind in OWN and slug not in known.get(kind, ()):
            hint = nearest(slug, known.get(kind, ()))
            problems.append(error(Place(file, line, 1), f"there is no {kind} “{slug}”", hint))
    return problems
