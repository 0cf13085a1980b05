"""The catalogue: the order of its cards, and what they can be chosen by."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stripewright.pages.families import FAMILIES

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from stripewright.pages.cards import Card

SIZE_CLASSES = ("small", "medium", "large")


@dataclass(frozen=True, slots=True)
class Choices:
    """Values that at least one card has, each list in the order it is offered."""

    access: tuple[str, ...]
    kinds: tuple[str, ...]
    beds: tuple[tuple[str, int], ...]
    """Bed and needles."""
    weights: tuple[int, ...]
    families: tuple[str, ...]
    sizes: tuple[str, ...]


def by_day(cards: Iterable[Card]) -> list[Card]:
    """The cards, newest first; drafts before all; then by title."""
    cards = sorted(cards, key=lambda card: (card.view.title.casefold(), card.view.slug))
    return sorted(cards, key=lambda card: card.view.published or "9999", reverse=True)


def filter_choices(cards: Sequence[Card]) -> Choices:
    """What the cards can be chosen by."""
    families = {family for card in cards for family in card.families}
    sizes = {card.size_class for card in cards}
    return Choices(
        access=tuple(sorted({card.access for card in cards})),
        kinds=tuple(sorted({card.view.kind for card in cards})),
        beds=tuple(sorted({(card.view.numbers.bed, card.view.numbers.needles) for card in cards})),
        weights=tuple(sorted({weight for card in cards for weight in card.classes})),
        families=tuple(family for family in FAMILIES if family in families),
        sizes=tuple(size for size in SIZE_CLASSES if size in sizes),
    )
