"""Where links and pictures of a text may go, and how its own pages are named in it.

A text names the studio's own pages by kind and slug: `pattern:tideline-cowl`,
`post:first-swatch`, `page:about`, `sheet:blank-tubes`. They become relative addresses when the
text is shown, because only then it is known from where.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, NamedTuple

from stripewright.catalogue import say
from stripewright.pattern.kinds import BY_WORD
from stripewright.problems import Place, Problem, error, nearest

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Iterator, Mapping

    from markdown_it.token import Token

    from stripewright.words.written import Prose

SCHEMES = ("https", "http", "mailto", "tel")
_PHOTO = re.compile(r"[A-Za-z0-9][A-Za-z0-9._-]*\Z")
_SLUG = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*\Z")
_SCHEME = re.compile(r"([A-Za-z][A-Za-z0-9+.-]*):")
_INVISIBLE = re.compile(
    r"[\x00-\x20\x7f-\xa0\u200b-\u200f\u2028\u2029\ufeff]|%(?:0[0-9a-f]|1[0-9a-f]|20|7f)",
    re.IGNORECASE,
)
"""What browsers drop, or readers can't see, before a scheme is read."""


def link_fault(href: str) -> tuple[str, str] | None:
    """What is wrong with a link's address, and what would be right; None for a sound one."""
    bare = _INVISIBLE.sub("", href)
    scheme = _SCHEME.match(bare)
    if scheme:
        word = scheme[1].lower()
        if word in BY_WORD:
            if _SLUG.match(bare[scheme.end() :]):
                return None
            return (
                say("“{href}” names no page", href),
                say("write the slug after the colon, like {word}:its-slug", word),
            )
        if word in SCHEMES:
            return None
        return (
            say("a link may not begin with {word}:", word),
            say(
                "write an address with https:// or mailto: before it, or a page like "
                "pattern:its-slug"
            ),
        )
    if not bare:
        return say("this link goes nowhere"), say(
            "write where it goes, like [text](https://example.org/)"
        )
    if bare.startswith("#"):
        return None
    if bare.lower().startswith(("//", "\\", "/\\", "%5c", "/%5c")):
        return say("a link needs its whole address"), say("write it with https:// before it")
    return (
        say("“{href}” can't be followed from every page that shows this text", href),
        say("write a page of the studio by its kind and slug, like pattern:its-slug or page:about"),
    )


def photo_fault(source: str) -> tuple[str, str] | None:
    """What is wrong with a picture's address, and what would be right; None for a sound one."""
    if _PHOTO.match(source):
        return None
    return (
        say("a picture must be a file in content/photos, not “{source}”", source),
        say("put it there and write its name alone, like ![a folded hat](hat.jpg)"),
    )


def resolved(href: str, root: str) -> str:
    """A link's address as it is followed.

    Args:
        href: as the text has it.
        root: the way to the site's root: `../../` from a page two folders deep, the studio's
            address from paper and feeds.
    """
    kind, colon, slug = href.partition(":")
    return root + BY_WORD[kind].path(slug) if colon and kind in BY_WORD else href


def spots(prose: Prose, kind: str) -> Iterator[tuple[int, Token]]:
    """Every `link_open` or `image` of a text, with its source line."""
    for block in prose.tokens:
        for token in block.children or ():
            if token.type == kind:
                yield (token.map or [0])[0], token


class OwnLink(NamedTuple):
    """A link to one of the studio's own pages, and the line that it stands on."""

    kind: str
    slug: str
    place: Place


def own_links(prose: Prose, file: str) -> tuple[OwnLink, ...]:
    """A text's links to pages of the studio, in their order."""
    links = []
    for line, token in spots(prose, "link_open"):
        kind, _, slug = str(token.attrGet("href") or "").partition(":")
        if kind in BY_WORD:
            links.append(OwnLink(kind, slug, Place(file, line, 1)))
    return tuple(links)


def lost_links(links: Iterable[OwnLink], known: Mapping[str, Collection[str]]) -> list[Problem]:
    """Links to pages of the studio that aren't there.

    Args:
        links: what texts link to.
        known: the slugs there are, by kind (pattern, post, page, sheet).
    """
    return [
        error(
            link.place,
            say("there is no {kind} “{slug}” on the site", link.kind, link.slug),
            nearest(link.slug, known.get(link.kind, ())),
        )
        for link in links
        if link.slug not in known.get(link.kind, ())
    ]
