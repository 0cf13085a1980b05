"""Titles of pieces as they stand in sentences and headings."""

from __future__ import annotations

from stripewright.catalogue import _


def small(title: str) -> str:
    """A piece's title inside a sentence: `Cover` is cover, `ABC` stays as it is."""
    return title if title[1:2].isupper() else title[:1].lower() + title[1:]


def the(title: str) -> str:
    """A piece's title inside a sentence, with its article."""
    own = title[:1].isdigit() or title.lower().startswith("the ")
    return small(title) if own else _("the {piece}", piece=small(title))


def capital(title: str) -> str:
    """A title that begins a sentence or a heading."""
    return title[:1].upper() + title[1:]
