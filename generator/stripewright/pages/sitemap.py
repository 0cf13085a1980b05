"""The sitemap: every page, with the day that it last changed where that is known."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from stripewright import addresses
from stripewright.pages.cards import latest_day
from stripewright.pages.parts import count_of
from stripewright.pattern.kinds import OTHERS

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from stripewright.pages.cards import Card
    from stripewright.pages.tags import Tag
    from stripewright.pattern.kinds import Kind
    from stripewright.view.views import PostView

SitemapEntry = tuple[str, str | None]
"""A path from the site's root, and an ISO date."""


def places(
    cards: Sequence[Card], others: Mapping[str, Sequence[Any]], tags: Sequence[Tag]
) -> list[SitemapEntry]:
    """Every page that search engines may list; what is held back is none.

    Args:
        cards: the patterns.
        others: the views of every other kind, by its folder.
        tags: all of them.
    """
    parts = range(2, count_of(len(cards)) + 1)
    cards = [card for card in cards if not card.view.held]
    patterns_day = latest_day(card.changed for card in cards)
    dated = [entry for kind in OTHERS if kind.dated for entry in _of_kind(kind, others)]
    found: list[SitemapEntry] = [
        (addresses.HOME, latest_day((patterns_day, *(day for _, day in dated)))),
        (addresses.CATALOGUE, patterns_day),
        *((addresses.part_path(addresses.CATALOGUE, number), patterns_day) for number in parts),
        *((addresses.pattern_path(card.view.slug), card.changed) for card in cards),
        *dated,
        *((path, None) for path in addresses.OWN_PAGES),
    ]
    for tag in tags:
        day = latest_day((*(c.changed for c in tag.cards), *(_changed(p) for p in tag.posts)))
        path = addresses.tag_path(tag.slug)
        numbers = range(1, count_of(len(tag.cards)) + 1)
        found += [(addresses.part_path(path, number), day) for number in numbers]
    return found + [e for kind in OTHERS if not kind.dated for e in _of_kind(kind, others)]


def _of_kind(kind: Kind, others: Mapping[str, Sequence[Any]]) -> list[SitemapEntry]:
    """A kind's list, with the day of its latest change, and the page of each."""
    views: Sequence[PostView] = others[kind.folder] if kind.own_page else ()
    each = [(view.path, _changed(view)) for view in views if not view.held]
    return [(kind.list_path, latest_day(day for _, day in each)), *each] if kind.listed else each


def _changed(post: PostView) -> str | None:
    return latest_day((post.published, post.updated))
