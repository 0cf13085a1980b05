"""A rendered schematic, its pixel rows counted, gives back the rows of every stripe."""

from __future__ import annotations

import io
from itertools import groupby
from math import ceil
from typing import TYPE_CHECKING

import pytest
from PIL import Image

from stripewright.draw.schematic import schematic
from stripewright.draw.schematic_layout import schematic_layout
from support.drawn import KINDS, demo, kind, random_patterns
from support.patterns import worked

if TYPE_CHECKING:
    from collections.abc import Iterator

    from playwright.sync_api import Browser, Page

    from stripewright.compute.worked import WorkedPattern

pytestmark = pytest.mark.browser

WIDTH = 320
"""CSS pixels: the narrowest phone. Two device pixels each."""
DEVICE = 2
STRIP = 8
"""CSS pixels of the width that is looked at, around a place just inside the piece's left edge."""

CHART = """
AAAAAAAAAAAAAAAAA
BBBBBBBBB
CCCCCCCCC
BBBBBBBBB
AAAAAAAAAAAAAAAAA
"""
"""A bolster from its last end down: a letter a worked row, a line a stripe."""

STYLE = """
body { margin: 0; overflow: hidden; background: #ff00ff } svg { display: block; width: 320px; height: auto }
path:not([class^="yarn-"]), [class$="-line"], text { visibility: hidden }
"""
"""Leaves the bands alone: lines, fringe and allowances lie over and beside them."""


@pytest.fixture(scope="module")
def page(chromium: Browser) -> Iterator[Page]:
    """One for all drawings: each is put into it anew."""
    page = chromium.new_page(device_scale_factor=DEVICE)
    yield page
    page.close()


def pixel_rows(page: Page, pattern: WorkedPattern, piece: str) -> list[tuple[str, int]]:
    """Letters and their rows from the top, as counted in pixels near the piece's left edge."""
    one = pattern.piece(piece)
    drawing = schematic(pattern, piece, prefix="rows")
    layout = schematic_layout(pattern, one)
    scale = WIDTH / drawing.width
    high = ceil(drawing.height * scale)
    page.set_viewport_size({"width": STRIP, "height": high})
    aside = STRIP / 2 - (layout.left + 1.2) * scale
    page.set_content(f"<style>{STYLE} svg {{ margin-left: {aside}px }}</style>{drawing.svg}")
    shot = Image.open(io.BytesIO(page.screenshot())).convert("RGB")
    letters = {yarn.colour: yarn.letter for yarn in pattern.yarns}
    column = [shot.getpixel((shot.width // 2, y)) for y in range(shot.height)]
    seen = ["#{:02x}{:02x}{:02x}".format(*pixel) for pixel in column]
    row = layout.scale.per_row * scale * DEVICE
    runs = [(letters[c], len(list(run))) for c, run in groupby(seen) if c in letters]
    for _, pixels in runs:
        assert abs(pixels - round(pixels / row) * row) <= 1.05  # to the pixel, whatever the rows
    return [(letter, round(pixels / row)) for letter, pixels in runs]


def stated_rows(pattern: WorkedPattern, piece: str) -> list[tuple[str, int]]:
    """The same from the plan; neighbours of one yarn can't be told apart in a picture."""
    rows = [
        (line.letter, line.rows + line.grafted_before + line.grafted)
        for line in reversed(pattern.piece(piece).plan)
    ]
    return [
        (letter, sum(count for _, count in run))
        for letter, run in groupby(rows, key=lambda stripe: stripe[0])
    ]


def test_a_bolster_is_its_chart(page: Page) -> None:
    chart = [(line[0], len(line)) for line in CHART.split()]
    assert pixel_rows(page, worked(), "cover") == chart


@pytest.mark.parametrize("name", KINDS)
def test_kinds_to_the_row(page: Page, name: str) -> None:
    pattern = kind(name)
    for piece in pattern.pieces:
        assert pixel_rows(page, pattern, piece.key) == stated_rows(pattern, piece.key)


def test_the_demo_to_the_row(page: Page) -> None:
    for pattern in demo():
        for piece in pattern.pieces:
            assert pixel_rows(page, pattern, piece.key) == stated_rows(pattern, piece.key)


def test_random_patterns_to_the_row(page: Page) -> None:
    for pattern in random_patterns(300)[:15]:
        piece = pattern.pieces[0].key
        assert pixel_rows(page, pattern, piece) == stated_rows(pattern, piece)


def test_two_hundred_stripes_of_one_row(page: Page) -> None:
    stripes = [{"repeat": 100, "stripes": ["deep 1", "foam 1"]}]
    pattern = worked(fill=None, pieces={"wrap": {"form": "panel", "stripes": stripes}})
    assert pixel_rows(page, pattern, "wrap") == [("B", 1), ("A", 1)] * 100


def test_two_thousand_rows(page: Page) -> None:
    stripes = [{"repeat": 5, "stripes": ["deep 250", "foam 1", "deep 100", "sand 49"]}]
    pattern = worked(fill=None, pieces={"wrap": {"form": "panel", "stripes": stripes}})
    assert sum(rows for _, rows in stated_rows(pattern, "wrap")) == 2000
    assert pixel_rows(page, pattern, "wrap") == stated_rows(pattern, "wrap")


def test_both_directions_have_one_scale() -> None:
    """Width against height is the piece's own, told by the gauge: stitches are not square."""
    pattern = worked()
    piece = pattern.piece("cover")
    layout = schematic_layout(pattern, piece)
    drawn = (layout.right - layout.left) / (layout.scale.foot - layout.head)
    assert not layout.broken
    # 40 stitches at 40 to 30 cm, half of it flat; 61 rows at 60 to 29 cm
    assert drawn == pytest.approx((30 / 2) / (61 * 29 / 60), rel=1e-3)
