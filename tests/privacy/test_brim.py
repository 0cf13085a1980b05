"""How much of a paid pattern's brim is turned up, and what it shows, is its buyers' alone."""

from __future__ import annotations

import pytest

from support.hats import hat_file
from support.studio_here import built, studio

PAID = ("access: paid", "price: 5", "shop: https://shop.example.org/x")
BODY = "Said to everyone.\n\n## Before you start\n\nWind the yarn first.\n"


def site(folder, up, first, access=PAID):
    piece = (
        f"ends: [open, gathered], brim: {{turned_up: {up}}}, "
        f"stripes: [pine {first}, foam 30, pine 24]"
    )
    wide = "wide: {title: Wide, machine: {bed: circular, needles: 64}}"
    text = hat_file(*access, piece=piece, sizes=(wide,), body=BODY)
    files = built(studio(folder, {"hat": text})).files
    return {path: files[path] for path in files if path.startswith("patterns/hat/")}


def test_two_hats_that_are_worn_alike_have_one_public_page(tmp_path):
    """13 + 30 + 24 rows less 13, and 17 + 30 + 24 less 17, are 54 rows high."""
    assert site(tmp_path / "one", 13, 13) == site(tmp_path / "other", 17, 17)


@pytest.mark.parametrize(
    "told", ["turned up at", "from its upper edge down", "RC 013", "turned_up"]
)
def test_the_public_page_tells_none_of_it(tmp_path, told):
    for path, data in site(tmp_path / "paid", 13, 13).items():
        assert told not in data.decode(), path
    free = b"".join(site(tmp_path / "free", 13, 13, access=()).values()).decode()
    assert told == "turned_up" or told in free
