"""Paid patterns made by lot, with a mark in every private place and rows that no one would guess.

`twin` gives the same pattern to the public and another to its buyers: other marks, and the rows of
stripes of one colour changed about, so that size, yarn and the order of colours stay.
"""

from __future__ import annotations

import json
import random
import re
from dataclasses import dataclass
from typing import Any

ROWS = [n for n in range(1109, 1990) if all(n % d for d in range(2, 45))]
"""Primes of four figures, whose sums are beyond this century: no width, year or other count."""
MARK = re.compile(r"(?i)zq[a-z]+\d{3,4}[ab]")
YARNS = ("deep", "foam", "sand", "rust")


@dataclass(frozen=True)
class Paid:
    """A paid pattern file, with the numbers that it keeps."""

    slug: str
    text: str
    rows: tuple[tuple[int, ...], ...]

    @property
    def numbers(self) -> frozenset[int]:
        """Rows of each stripe, with and without its seam, and every reading of the counter.

        Without round ones: what the public is told is rounded, and may come to the same.
        """
        found: set[int] = set()
        for plan in self.rows:
            found |= {rows + extra for rows in plan for extra in (0, 1)}
            found |= {sum(plan[:n]) + extra for n in range(1, len(plan)) for extra in (0, 1, 2)}
        return frozenset(n for n in found if n % 5)


def paid(number: int, *, twin: bool = False) -> Paid:
    """The pattern of a number; its twin looks the same to everyone who hasn't bought it."""
    lot = random.Random(f"paid {number}")
    yarns = YARNS[: lot.randint(2, 4)]
    side = "b" if twin else "a"

    def mark(place: str) -> str:
        return f"zq{place}{number:03d}{side}"

    def stripes() -> tuple[list[str], tuple[int, ...]]:
        order = [yarns[n % len(yarns)] for n in range(lot.randint(len(yarns) + 3, 10))]
        rows = lot.sample(ROWS, len(order))
        if twin:
            for yarn in yarns:
                places = [n for n, one in enumerate(order) if one == yarn]
                turned = [rows[n] for n in (*places[1:], places[0])]
                for place, value in zip(places, turned, strict=True):
                    rows[place] = value
        return [f"{yarn} {n}" for yarn, n in zip(order, rows, strict=True)], tuple(rows)

    cover, cover_rows = stripes()
    band, band_rows = stripes()
    front: dict[str, Any] = {
        "title": f"Quiet thing {number}",
        "summary": "A thing in stripes.",
        "kind": lot.choice(["cushion", "blanket", "bag", "other"]),
        "access": "paid",
        "price": 6.5,
        "shop": "https://shop.example.org/item",
        "published": f"2026-0{1 + number % 9}-1{number % 10}",
        "tags": [lot.choice(["sea", "garden"])],
        "machine": {"bed": "circular", "needles": lot.choice([22, 40, 48])},
        "swatch": {"stitches": 40, "rows": 400, "width": "30 cm", "length": "20 cm", "mass": "62 g"},
        "yarns": {
            key: {"name": f"Yarn {key}", "colour": colour, "weight": 5, "ball": "100 g / 120 m"}
            for key, colour in zip(yarns, ("#1f3d5c", "#dfe9e4", "#c2913f", "#8a3b2a"), strict=False)
        },
        "pieces": {
            "cover": {"form": "tube", "ends": ["seamed", "seamed"], "stripes": cover},
            "band": {"form": "panel", "stripes": band},
        },
        "corrections": [{"date": "2026-10-01", "text": f"It was {mark('mend')} rows, knit fewer of them."}],
        "changes": [{"version": "1", "text": f"Now it is {mark('change')} rows, and not one row more."}],
        "making_up": [{"do": "weave_ends", "note": f"Mind the {mark('note')} before you go on."}],
        "techniques": {"weave_ends": f"Weave {mark('way')} along the edge, and then turn about."},
        "video": {
            "url": "https://films.example.org/quiet",
            "chapters": [
                {"at": "1:07", "title": f"All about {mark('film')}", "step": "cover"},
                {"at": "3:20", "title": f"More of {mark('filmed')}"},
                {"at": "9:45", "title": f"The end of {mark('films')}"},
            ],
        },
    }  # fmt: skip
    if number % 5 == 0:
        front["sizes"] = {"wide": {"machine": {"bed": "circular", "needles": 60}}}
    if number % 10 == 0:
        front["pdf"] = "apart"
    if number % 6 == 1:
        front["colourways"] = {"rose": {"yarns": {"deep": {"name": "Rose", "colour": "#a05068"}}}}
    body = (
        f"The public words of thing {number}.\n\n## {mark('head').capitalize()}\n\n"
        f"Turn the {mark('body')} about and then knit {{{{ cover.worked_rows }}}} rows of it.\n\n"
        f"- One {mark('item')} after the other, and never two at once.\n\n"
        f"| first | second |\n|---|---|\n| {mark('cell')} stands here for a while | 2 |\n\n"
        f"`{mark('code')} is set in the code of this pattern`\n\n"
        f"{{{{ steps }}}}\n\n## {mark('after').capitalize()}\n\n"
        f"Keep it {mark('kept')} for a day, and then turn it over again.\n"
    )
    text = f"---\n{json.dumps(front, indent=1)}\n---\n{body}"
    return Paid(f"quiet-thing-{number}", text, (cover_rows, band_rows))
