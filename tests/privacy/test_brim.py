"""How much of a paid pattern's brim is turned up, and what it shows, is its buyers' alone."""

from __future__ import annotations

import pytest

from support.studio_here import built, studio

HAT = """\
---
title: Lee hat
summary: A hat with a brim.
kind: hat
published: 2026-01-05
ACCESSmachine: {bed: circular, needles: 60}
gauge: 12.5 sts x 20 rows / 10 cm
yarns:
  pine: {name: Pine, colour: "#20453c", weight: 5, ball: 100 g / 118 m}
  foam: {name: Foam, colour: "#dfeee4", weight: 5, ball: 100 g / 118 m}
pieces:
  hat: {title: Hat, form: tube, ends: [open, gathered], brim: {turned_up: UP},
        stripes: [pine FIRST, foam 30, pine 24]}
sizes:
  wide: {title: Wide, machine: {bed: circular, needles: 64}}
---
Said to everyone.

## Before you start

Wind the yarn first.
"""
PAID = "access: paid\nprice: 5\nshop: https://shop.example.org/x\n"


def site(folder, up, first, access=PAID):
    text = HAT.replace("ACCESS", access).replace("UP", str(up)).replace("FIRST", str(first))
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
    free = b"".join(site(tmp_path / "free", 13, 13, access="").values()).decode()
    assert told == "turned_up" or told in free
