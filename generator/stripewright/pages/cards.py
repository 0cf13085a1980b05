"""A pattern's card: what catalogue, home, tags, feed and sitemap need of it; can be pickled."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from stripewright.pages.families import families

if TYPE_CHECKING:
    from collections.abc import Iterable

    from stripewright.view.views import PatternView, PhotoView

SIZE_CLASSES = ("small", "medium", "large")
SMALL_CM = 35.0
LARGE_CM = 90.0
"""Longest side of a small and of a large thing: fits a lap, covers one. By eye, no source."""


@dataclass(frozen=True, slots=True)
class Card:
    """A pattern in a list, and in the feed."""

    view: PatternView
    """Without its drawings; `listed` once it is known that the feed won't show it."""
    colours: tuple[str, ...]
    """Of the yarns that it is written in."""
    weights: tuple[int, ...]
    """Their yarn classes."""
    picture: tuple[float, float, str]
    """Width, height and words of the finished view."""
    photo: PhotoView | None = None
    """The main picture, where it is a photo."""
    yarns: tuple[tuple[str, str, int | None], ...] = ()
    """Name, colour and yarn class of each, those of its sizes and colourways too, as everyone may
    see it: what it is found by."""

    @property
    def listed(self) -> Card:
        """What lists show of it: its story is most of a card's size."""
        return replace(self, view=self.view.listed)

    @property
    def access(self) -> str:
        """Free or paid."""
        return "paid" if self.view.offer else "free"

    @property
    def families(self) -> tuple[str, ...]:
        """The colour families that it can be knitted in."""
        return families([colour for _name, colour, _weight in self.yarns])

    @property
    def classes(self) -> tuple[int, ...]:
        """The yarn classes that it can be knitted in."""
        return tuple(sorted({weight for *_, weight in self.yarns if weight is not None}))

    @property
    def size_class(self) -> str:
        """small, medium or large."""
        longest = max((size.longest_cm for size in self.view.numbers.sizes), default=0.0)
        if longest < SMALL_CM:
            return "small"
        return "large" if longest > LARGE_CM else "medium"

    @property
    def changed(self) -> str | None:
        """The day of the last thing that a reader should know of."""
        view = self.view
        days = [view.published, view.updated, *(c.date for c in view.corrections)]
        return latest_day(days)


def card(view: PatternView) -> Card:
    """The card of a pattern that is drawn."""
    assert view.drawings is not None  # noqa: S101  # the card is made with its page
    picture, materials = view.drawings.finished, view.numbers.materials
    colours = tuple(dict.fromkeys(material.colour for material in materials))
    weights = tuple(sorted({m.weight for m in materials if m.weight is not None}))
    sizes = view.size_choices
    colourways = (*view.colourways, *(way for one in sizes for way in one.colourways))
    ways = (
        materials,
        *(one.numbers.materials for one in sizes),
        *(one.materials for one in colourways),
    )
    yarns = tuple(dict.fromkeys((m.name, m.colour, m.weight) for way in ways for m in way))
    words = (picture.width, picture.height, picture.description)
    listed = replace(view, drawings=None)
    return Card(listed, colours, weights, words, view.main_photo, yarns)


def by_day(cards: Iterable[Card]) -> list[Card]:
    """The cards, newest first; drafts before all; then by title."""
    cards = sorted(cards, key=lambda card: (card.view.title.casefold(), card.view.slug))
    return sorted(cards, key=lambda card: card.view.published or "9999", reverse=True)


def latest_day(days: Iterable[str | None]) -> str | None:
    """The last of some days (ISO dates), of those that are known."""
    return max((day for day in days if day), default=None)
