"""The sitemap: every page, with the day that it last changed where that is known."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stripewright import addresses
from stripewright.pages.parts import count_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from stripewright.pages.cards import Card
    from stripewright.pages.tags import Tag
    from stripewright.view.views import PostView

SitemapEntry = tuple[str, str | None]
"""A path from the site's root, and an ISO date."""


def places(
    cards: Sequence[Card], posts: Sequence[PostView], pages: Sequence[PostView], tags: Sequence[Tag]
) -> list[SitemapEntry]:
    """Every page that search engines may list; what is held back is none."""
    parts = range(2, count_of(len(cards)) + 1)
    cards = [card for card in cards if not card.view.held]
    posts = [post for post in posts if not post.held]
    patterns_day = _latest(card.changed for card in cards)
    posts_day = _latest(_changed(post) for post in posts)
    found: list[SitemapEntry] = [
        (addresses.HOME, _latest((patterns_day, posts_day))),
        (addresses.CATALOGUE, patterns_day),
        *((addresses.part_path(addresses.CATALOGUE, number), patterns_day) for number in parts),
        *((addresses.pattern_path(card.view.slug), card.changed) for card in cards),
        (addresses.POSTS, posts_day),
        *((addresses.post_path(post.slug), _changed(post)) for post in posts),
        (addresses.TAGS, None),
    ]
    for tag in tags:
        day = _latest((*(c.changed for c in tag.cards), *(_changed(p) for p in tag.posts)))
        path = addresses.tag_path(tag.slug)
        numbers = range(1, count_of(len(tag.cards)) + 1)
        found += [(addresses.part_path(path, number), day) for number in numbers]
    found.append((addresses.SHEETS, None))
    found += [(addresses.page_path(page.slug), None) for page in pages]
    return found


def _changed(post: PostView) -> str | None:
    return _latest((post.published, post.updated))


def _latest(days: Iterable[str | None]) -> str | None:
    return max((day for day in days if day), default=None)
