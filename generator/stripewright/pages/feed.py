"""The feed: what is new, and what was corrected, as Atom entries (RFC 4287)."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stripewright import addresses
from stripewright.pages import links

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from stripewright.pages.cards import Card
    from stripewright.view.views import PostView, SiteView

MOST_ENTRIES = 30


@dataclass(frozen=True, slots=True)
class FeedEntry:
    """One entry: a pattern or a post. Days are ISO dates."""

    id: str
    path: str
    title: str
    summary: str
    published: str
    updated: str
    tags: tuple[str, ...]
    card: Card | None = None
    post: PostView | None = None


NO_DAY = "1970-01-01"
"""The day of a feed that nothing stands in."""


def feed_id(site: SiteView) -> str:
    """An id that lasts for the feed itself."""
    return site.address or links.entry_id(None, site.title, addresses.FEED, NO_DAY)


def last_day(found: Sequence[FeedEntry]) -> str:
    """The day of the latest change."""
    return max((entry.updated for entry in found), default=NO_DAY)


def latest(cards: Iterable[Card]) -> list[Card]:
    """The cards that the feed can show, whatever else there is; the others are `listed` alone."""
    found = [card for card in cards if card.view.published and not card.view.held]
    found.sort(key=lambda card: addresses.pattern_path(card.view.slug))
    found.sort(key=lambda card: card.changed or "", reverse=True)
    return found[:MOST_ENTRIES]


def entries(site: SiteView, cards: Sequence[Card], posts: Sequence[PostView]) -> list[FeedEntry]:
    """The latest entries by the day they changed. What has no day is not in the feed."""
    found = [_pattern(site, card) for card in latest(cards)]
    found += [_post(site, post) for post in posts if post.published and not post.held]
    found.sort(key=lambda entry: entry.path)
    found.sort(key=lambda entry: entry.updated, reverse=True)
    return found[:MOST_ENTRIES]


def _pattern(site: SiteView, card: Card) -> FeedEntry:
    path = addresses.pattern_path(card.view.slug)
    view, published = card.view, card.view.published or ""
    return FeedEntry(
        id=links.entry_id(site.address, site.title, path, published),
        path=path,
        title=view.title,
        summary=view.summary,
        published=published,
        updated=card.changed or published,
        tags=view.tags,
        card=card,
    )


def _post(site: SiteView, post: PostView) -> FeedEntry:
    published = post.published or ""
    return FeedEntry(
        id=links.entry_id(site.address, site.title, post.path, published),
        path=post.path,
        title=post.title,
        summary=post.summary,
        published=published,
        updated=max(published, post.updated or ""),
        tags=post.tags,
        post=post,
    )
