"""Plain words for colours: what a yarn is called until its maker names it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stripewright.catalogue import _
from stripewright.compute.colour import difference
from stripewright.phrases import capital

if TYPE_CHECKING:
    from collections.abc import Iterable

COLOUR_WORDS = {
    "white": "#ffffff", "cream": "#f6eedb", "silver grey": "#c4c6c8", "grey": "#8f9194",
    "dark grey": "#55585c", "black": "#1b1b1d", "beige": "#d8c3a5", "light brown": "#b08a5f",
    "brown": "#7a4f30", "dark brown": "#452d1f", "pink": "#f2a7bd", "deep pink": "#d94f86",
    "light red": "#e0766c", "red": "#c9302c", "dark red": "#7d1f23", "light orange": "#f7c08a",
    "orange": "#ee8130", "rust": "#b5502c", "light yellow": "#f8ee9e", "yellow": "#f2d22e",
    "mustard": "#c99a2c", "light green": "#a9d8a4", "green": "#4d9e51", "dark green": "#24532f",
    "olive": "#7c7d36", "lime green": "#b4d435", "mint": "#c2e6d6", "sea green": "#5b8f7b",
    "turquoise": "#35b3b0", "teal": "#1d6a70", "light blue": "#a8cdea", "blue": "#3a78bd",
    "dark blue": "#1f3d66", "grey blue": "#738ba3", "lilac": "#c5b1dd", "purple": "#7d4fa0",
    "dark purple": "#472a5c", "plum": "#86385f",
}  # fmt: skip
"""Everyday words (common practice, no source), each with a colour it is used for."""


def words_for(colours: Iterable[str]) -> list[str]:
    """A word for each colour (`#rrggbb`), no two alike: a second blue is `blue 2`."""
    out: list[str] = []
    for colour in colours:
        word = min(COLOUR_WORDS, key=lambda name: difference(colour, COLOUR_WORDS[name]))
        same = sum(other == word or other.rstrip("0123456789") == f"{word} " for other in out)
        out.append(f"{word} {same + 1}" if same else word)
    return out


def said(word: str) -> str:
    """One of those words in the locale spoken, with a capital: `Blue 2`."""
    plain, _space, number = word.rpartition(" ")
    told = f"{_(plain)} {number}" if number.isdigit() else _(word)
    return capital(told)
