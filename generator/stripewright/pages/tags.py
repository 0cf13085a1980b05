"""Tags: which patterns and posts stand under each."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stripewright.pages.links import tag_slug

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stripewright.pages.cards import Card
    from stripewright.view.views import PostView


@dataclass(frozen=True, slots=True)
class Tag:
    """A tag with what stands under it."""

    slug: str
    title: str
    cards: tuple[Card, ...]
    posts: tuple[PostView, ...]

    @property
    def count(self) -> int:
        """How many patterns and posts."""
        return len(self.cards) + len(self.posts)


def tags_of(cards: Sequence[Card], posts: Sequence[PostView]) -> tuple[Tag, ...]:
    """Every tag by its title. Spellings that share a page go by the first one met."""
    titles: dict[str, str] = {}
    under: dict[str, tuple[dict[str, Card], dict[str, PostView]]] = {}
    for card in cards:
        for tag in card.view.tags:
            slug = tag_slug(tag)
            titles.setdefault(slug, tag)
            under.setdefault(slug, ({}, {}))[0][card.view.slug] = card
    for post in posts:
        for tag in post.tags:
            slug = tag_slug(tag)
            titles.setdefault(slug, tag)
            under.setdefault(slug, ({}, {}))[1][post.slug] = post
    found = [
        Tag(slug, titles[slug], tuple(its_cards.values()), tuple(its_posts.values()))
        for slug, (its_cards, its_posts) in under.items()
    ]
    return tuple(sorted(found, key=lambda tag: (tag.title.casefold(), tag.slug)))
