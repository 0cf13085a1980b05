"""Cards by the thousand, each with words of its own; the same on any machine."""

from __future__ import annotations

import random
from dataclasses import replace
from typing import TYPE_CHECKING

from stripewright.pages.cards import card
from support.views import pattern_views

if TYPE_CHECKING:
    from stripewright.pages.cards import Card

KINDS = ("cushion", "draught excluder", "hat", "cowl", "scarf", "wrist warmers", "blanket", "bag")
LEVELS = ("basic", "easy", "intermediate", "complex")
_STARTS = (
    "b",
    "br",
    "c",
    "d",
    "f",
    "gr",
    "h",
    "l",
    "m",
    "n",
    "p",
    "qu",
    "r",
    "s",
    "st",
    "t",
    "tr",
    "w",
)
_MIDDLES = ("a", "e", "i", "o", "u", "ea", "ou")
_ENDS = ("", "ll", "m", "n", "nder", "r", "rrow", "s", "sk", "ter", "tle", "v")


def invented(lot: random.Random) -> str:
    """A word that sounds like one."""
    parts = [
        "".join(map(lot.choice, (_STARTS, _MIDDLES, _ENDS))) for _ in range(lot.choice((1, 1, 2)))
    ]
    return "".join(parts)


def many_cards(count: int, seed: int = 1) -> list[Card]:
    """So many cards: a title of 2 to 4 words, a summary of 10 to 18, 2 to 6 of 300 yarns."""
    lot = random.Random(seed)
    words = [invented(lot) for _ in range(6000)]
    common = words[:400]  # most of any text is few words
    yarns = [(f"{lot.choice(words)} {lot.choice(common)}".capitalize(), f"#{lot.randrange(1 << 24):06x}",
              lot.choice((None, 3, 4, 5))) for _ in range(300)]  # fmt: skip
    tags = [lot.choice(words) for _ in range(60)]
    made = [card(view) for view in pattern_views()]
    cards = []
    for number in range(count):
        title = " ".join(lot.choice(words) for _ in range(lot.randint(2, 4))).capitalize()
        summary = " ".join(
            lot.choice(lot.choice((words, common, common))) for _ in range(lot.randint(10, 18))
        )
        its = tuple(lot.sample(yarns, lot.randint(2, 6)))
        one = made[number % 4 == 3]
        view = replace(
            one.view, slug=f"{title.lower().replace(' ', '-')}-{number}", title=title, summary=f"{summary.capitalize()}.",
            kind=lot.choice(KINDS), level=lot.choice(LEVELS), tags=tuple(lot.sample(tags, 3)),
            published=f"20{10 + number % 16}-{1 + number % 12:02}-{1 + number % 28:02}",
        )  # fmt: skip
        cards.append(
            replace(one, view=view, yarns=its, colours=tuple(colour for _, colour, _ in its))
        )
    return cards
