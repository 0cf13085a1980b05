"""What a paid pattern's drawings show: the order of its colours, and nothing to count rows by."""

from __future__ import annotations

import re

from stripewright.compute.public import equal_bands
from stripewright.draw.draw import draw_all
from support.drawn import KINDS, demo, kind
from support.patterns import worked

PAID = {"access": "paid", "price": 6.5, "shop": "https://shop.example.org/bolster"}


def bolster(*rows: int) -> dict[str, object]:
    names = ("deep", "foam", "sand", "foam", "deep")
    stripes = [f"{name} {count}" for name, count in zip(names, rows, strict=True)]
    return {"cover": {"form": "tube", "ends": ["seamed", "seamed"], "stripes": stripes}}


def test_same_order_other_rows_same_bytes() -> None:
    """Two paid patterns of one size and colour order, their rows split otherwise."""
    one = worked(**PAID, pieces=bolster(16, 9, 9, 9, 16))
    other = worked(**PAID, pieces=bolster(20, 3, 13, 3, 20))
    assert one.piece("cover").worked_rows == other.piece("cover").worked_rows
    assert [line.rows for line in one.piece("cover").plan] != [
        line.rows for line in other.piece("cover").plan
    ]
    public = [draw_all(equal_bands(pattern), None, prefix="p") for pattern in (one, other)]
    assert public[0].everything() == public[1].everything()
    whole = [draw_all(pattern, None, prefix="p") for pattern in (one, other)]
    assert all(a != b for a, b in zip(whole[0].everything(), whole[1].everything(), strict=True)
               if "assembly" not in a.name)  # fmt: skip


def test_no_rows_and_no_readings() -> None:
    for pattern in (*map(kind, KINDS), *demo()):
        for drawing in draw_all(equal_bands(pattern), None, prefix="p").everything():
            assert not re.search(r"\d+ rows?\b|RC \d|allowance", drawing.svg), drawing.name


def test_bands_are_all_equal() -> None:
    """In a public schematic every band of a piece is as high as the others."""
    pattern = equal_bands(worked(pieces=bolster(20, 3, 13, 3, 20)))
    svg = draw_all(pattern, None, prefix="p").schematics["cover"].svg
    bands = re.search(r'<g class="bands">(.*?)<g class="hatch"', svg)
    assert bands
    assert len(set(re.findall(r"v([\d.]+)h-", bands[1]))) == 1
