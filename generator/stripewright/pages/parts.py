"""Long lists of patterns in parts: pages that link to each other, to walk without scripts.

Up to `MOST_CARDS` cards are one page. Each part of a longer list is a page beside the first:
`patterns/index.html`, `patterns/page-2.html`, `patterns/page-3.html`.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stripewright.addresses import part_path

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from stripewright.pages.cards import Card

MOST_CARDS = 200
"""Cards of one page: 280 KB of markup, a second's work for an old phone."""
_NEAR = 2
"""Parts on each side of the one shown that it links to, besides the first and the last."""


@dataclass(frozen=True, slots=True)
class Part:
    """A part of a list.

    Attributes:
        list_path: the path of the list's first page.
        number: of the part, from 1.
        count: of parts.
        cards: what it shows, in the list's order.
        total: how many cards the whole list has.
    """

    list_path: str
    number: int
    count: int
    cards: tuple[Card, ...]
    total: int

    @property
    def path(self) -> str:
        """Its page."""
        return part_path(self.list_path, self.number)

    @property
    def first(self) -> int:
        """Where in the whole list its first card stands, from 1."""
        return (self.number - 1) * MOST_CARDS + 1

    @property
    def last(self) -> int:
        """Where its last card stands."""
        return self.first + len(self.cards) - 1

    @property
    def previous(self) -> str | None:
        """The page before it."""
        return self.at(self.number - 1) if self.number > 1 else None

    @property
    def following(self) -> str | None:
        """The page after it."""
        return self.at(self.number + 1) if self.number < self.count else None

    def at(self, number: int) -> str:
        """The page of another part."""
        return part_path(self.list_path, number)

    @property
    def near(self) -> tuple[int | None, ...]:
        """The parts that it links to by number; None for a gap of two parts or more."""
        shown = {1, self.count, *range(self.number - _NEAR, self.number + _NEAR + 1)}
        found: list[int | None] = []
        before = 0
        for number in sorted(shown & set(range(1, self.count + 1))):
            if number - before == 2:
                found.append(number - 1)
            elif number - before > 2:
                found.append(None)
            found.append(number)
            before = number
        return tuple(found)


def parts_of(list_path: str, cards: Sequence[Card]) -> Iterator[Part]:
    """The parts of a list, at least one."""
    count = count_of(len(cards))
    for number in range(1, count + 1):
        shown = tuple(cards[(number - 1) * MOST_CARDS : number * MOST_CARDS])
        yield Part(list_path, number, count, shown, len(cards))


def count_of(total: int) -> int:
    """How many parts a list of so many cards has."""
    return max(1, -(-total // MOST_CARDS))
