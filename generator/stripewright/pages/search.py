"""What the catalogue is searched by: one script that pages load when their field is first used.

A page from disk may fetch nothing, so the list is a script of its own, `patterns/index.js`, which
`search.js` reads. It holds what cards say and nothing else: it is made of the same public views.

    document.patternIndex = {kinds: [...], levels: [...], beds: [...], families: [...],
                             prices: [...], tags: [...], yarns: [...], rows: "..."}

Names that come again stand once, in a list. A yarn is `name TAB colour TAB codes`, the codes its
colour family and its yarn class. A row, in the catalogue's order and ended by a line break, is
`slug TAB title TAB summary TAB codes`; its codes, parted by full stops, are kind, level, bed and
needles, size, minutes, day of the last change, price ("" where it is free), yarns and tags, these
two lists with commas, and how many colours it is written in ("" for those of all its yarns: the
others are of its sizes and colourways). A code is a place in such a list, or a number, in the
letters a to z: no row of figures stands there that could be taken for a plan, or be one.
"""

from __future__ import annotations

from datetime import date
from functools import cached_property
from typing import TYPE_CHECKING, Any

from stripewright.addresses import SEARCH
from stripewright.digests import digest_of
from stripewright.in_script import in_script
from stripewright.pages.cards import SIZE_CLASSES
from stripewright.pages.clean import clean_document
from stripewright.pages.families import FAMILIES, family

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stripewright.pages.cards import Card

_EPOCH = date(2000, 1, 1).toordinal()
_LETTERS = 26


class SearchIndex:
    """The script of a list of patterns.

    Args:
        cards: in the catalogue's order.
    """

    path = SEARCH

    def __init__(self, cards: Sequence[Card]) -> None:
        self._cards = cards

    @cached_property
    def data(self) -> bytes:
        """The script."""
        return clean_document(f"document.patternIndex={in_script(self._lists())};\n")

    @cached_property
    def stamp(self) -> str:
        """A fingerprint of it, by which pages ask: nobody searches the list of yesterday."""
        return digest_of(self.data)[:8]

    @cached_property
    def choices(self) -> dict[str, Any]:
        """What filters offer where a page holds a part of the patterns only."""
        cards, minutes = self._cards, [_minutes(card) for card in self._cards]
        families = {family for card in cards for family in card.families}
        sizes = {card.size_class for card in cards}
        return {
            "total": len(cards),
            "access": sorted({card.access for card in cards}),
            "kind": sorted({card.view.kind for card in cards}),
            "bed": sorted({card.view.numbers.bed for card in cards}),
            "needles": sorted({str(card.view.numbers.needles) for card in cards}, key=int),
            "weight": [*map(str, sorted({one for card in cards for one in card.classes}))],
            "colours": [family for family in FAMILIES if family in families],
            "size": [size for size in SIZE_CLASSES if size in sizes],
            "minutes": [min(minutes, default=0), max(minutes, default=0)],
        }

    def _lists(self) -> dict[str, Any]:
        names = _Names()
        prices = sorted(
            {(c.view.offer.amount, c.view.offer.price) for c in self._cards if c.view.offer}
        )
        told = [price for _, price in prices]
        rows = "".join(f"{_row(card, names, told)}\n" for card in self._cards)
        return {
            **names.lists,
            "families": FAMILIES,
            "sizes": SIZE_CLASSES,
            "prices": told,
            "rows": rows,
        }


class _Names:
    """Lists of names, each name once and in the order of first use."""

    def __init__(self) -> None:
        self.lists: dict[str, list[str]] = {
            kind: [] for kind in ("kinds", "levels", "beds", "tags", "yarns")
        }
        self._places: dict[tuple[str, str], int] = {}

    def code(self, kind: str, name: str) -> str:
        """The letters of a name's place, "" for no name."""
        if not name:
            return ""
        known = self.lists[kind]
        place = self._places.setdefault((kind, name), len(known))
        if place == len(known):
            known.append(name)
        return _letters(place)


def _row(card: Card, names: _Names, prices: list[str]) -> str:
    view, numbers = card.view, card.view.numbers
    yarns = (_yarn(*yarn) for yarn in card.yarns)
    written, every = len(card.colours), len({colour for _name, colour, _weight in card.yarns})
    codes = (
        names.code("kinds", view.kind),
        names.code("levels", view.level),
        names.code("beds", f"{numbers.bed} {numbers.needles}"),
        _letters(SIZE_CLASSES.index(card.size_class)),
        _letters(_minutes(card)),
        _letters(_day(card.changed)),
        _letters(prices.index(view.offer.price)) if view.offer else "",
        ",".join(names.code("yarns", yarn) for yarn in yarns),
        ",".join(names.code("tags", _plain(tag)) for tag in view.tags),
        _letters(written) if written < every else "",
    )
    return "\t".join((view.slug, _plain(view.title), _plain(view.summary), ".".join(codes)))


def _yarn(name: str, colour: str, weight: int | None) -> str:
    codes = _letters(FAMILIES.index(family(colour))) + ("" if weight is None else _letters(weight))
    return f"{_plain(name)}\t{colour.removeprefix('#')}\t{codes}"


def _minutes(card: Card) -> int:
    return round(card.view.numbers.minutes)


def _day(day: str | None) -> int:
    """Days since the year 2000; 0 for none."""
    return max(date.fromisoformat(day).toordinal() - _EPOCH, 0) if day else 0


def _plain(text: str) -> str:
    """A text on one line, without tabs and what no document may hold."""
    return " ".join(clean_document(text).decode("utf-8").split())


def _letters(number: int) -> str:
    """A whole number in base 26: a, b, ... z, ba, bb, ..."""
    text = ""
    while True:
        number, digit = divmod(number, _LETTERS)
        text = chr(ord("a") + digit) + text
        if number == 0:
            return text
