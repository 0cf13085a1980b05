"""A pattern's card: what catalogue, home, tags, feed and sitemap need of it; can be pickled."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from stripewright.pages.families import families

if TYPE_CHECKING:
    from stripewright.view.views import (
        CautionView,
        CorrectionView,
        GroupView,
        MaterialView,
        PatternView,
        PieceView,
        SizeView,
        SupplyView,
    )

SMALL_CM = 35.0
LARGE_CM = 90.0
"""Longest side of a small and of a large thing: fits a lap, covers one. By eye, no source."""


@dataclass(frozen=True, slots=True)
class Story:
    """What the feed tells of a pattern; of a paid one, only its introduction."""

    intro_html: str
    body_html: str
    after_html: str
    materials: tuple[MaterialView, ...]
    supplies: tuple[SupplyView, ...]
    pieces: tuple[PieceView, ...]
    groups: tuple[GroupView, ...]
    cautions: tuple[CautionView, ...]


@dataclass(frozen=True, slots=True)
class Card:
    """A pattern in a list."""

    slug: str
    title: str
    summary: str
    kind: str
    access: str
    level: str
    tags: tuple[str, ...]
    published: str | None
    updated: str | None
    held: str
    bed: str
    needles: int
    weights: tuple[int, ...]
    families: tuple[str, ...]
    colours: tuple[str, ...]
    sizes: tuple[SizeView, ...]
    size_class: str
    """small, medium or large."""
    minutes_low: float
    minutes_high: float
    price: float | None
    currency: str | None
    picture_width: float
    picture_height: float
    picture_alt: str
    corrections: tuple[CorrectionView, ...]
    story: Story | None
    """None once it is known that the feed won't show it: it is most of a card's size."""

    @property
    def free(self) -> bool:
        """Whether everyone may read all of it."""
        return self.access == "free"

    @property
    def changed(self) -> str | None:
        """The day of the last thing that a reader should know of."""
        days = [self.published, self.updated, *(c.date for c in self.corrections)]
        return max((day for day in days if day), default=None)


def card(view: PatternView) -> Card:
    """The card of a pattern."""
    colours = tuple(dict.fromkeys(material.colour for material in view.materials))
    weights = sorted({m.weight for m in view.materials if m.weight is not None})
    return Card(
        slug=view.slug,
        title=view.title,
        summary=view.summary,
        kind=view.kind,
        access=view.access,
        level=view.level,
        tags=view.tags,
        published=view.published,
        updated=view.updated,
        held=view.held,
        bed=view.bed,
        needles=view.needles,
        weights=tuple(weights),
        families=families(list(colours)),
        colours=colours,
        sizes=view.sizes,
        size_class=_size_class(view),
        minutes_low=view.minutes_low,
        minutes_high=view.minutes_high,
        price=view.price,
        currency=view.currency,
        picture_width=view.finished.width,
        picture_height=view.finished.height,
        picture_alt=view.finished.description,
        corrections=view.corrections,
        story=_story(view),
    )


def _size_class(view: PatternView) -> str:
    longest = max((max(size.width_cm, size.length_cm) for size in view.sizes), default=0.0)
    if longest < SMALL_CM:
        return "small"
    return "large" if longest > LARGE_CM else "medium"


def _story(view: PatternView) -> Story:
    whole = view.whole if view.free else None
    return Story(
        intro_html=view.intro_html,
        body_html=whole.body_html if whole else "",
        after_html=whole.after_html if whole else "",
        materials=view.materials,
        supplies=view.supplies,
        pieces=tuple(replace(piece, drawing=None) for piece in whole.pieces) if whole else (),
        groups=whole.groups if whole else (),
        cautions=view.cautions,
    )
