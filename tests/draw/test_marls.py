"""A marl is drawn as all of its yarns, on the page, without its hatch, and in print."""

from __future__ import annotations

import io
from collections import Counter

import pytest
from PIL import Image

from stripewright.draw.draw import draw_all
from stripewright.paper.picture import png
from support.patterns import worked

YARNS = {
    "ink": {"name": "Ink", "colour": "#101030", "ball": "100 g / 120 m"},
    "foam": {"name": "Foam", "colour": "#e0f0f0", "ball": "100 g / 120 m"},
    "both": {"name": "Ink and foam", "marl": ["ink", "foam"]},
}
PIECES = {"scarf": {"form": "panel", "stripes": ["both 30", "ink 10", "both 30"]}}


@pytest.fixture(scope="module")
def drawings():
    pattern = worked(kind="other", fill=None, yarns=YARNS, pieces=PIECES)
    found = draw_all(pattern, prefix="marl")
    return [found.finished, found.strip, *found.schematics.values()]


def test_its_yarns_stand_in_every_drawing_and_recolour_with_them(drawings):
    for drawing in drawings:
        tile = drawing.svg.split("-m-c")[1]
        assert 'class="yarn-a"' in tile
        assert 'class="yarn-b"' in tile
        assert f"url(#{drawing.name}-m-c)" in drawing.svg


def test_both_colours_are_seen_in_equal_parts(drawings):
    """As the share picture is made of it; counted pixel by pixel."""
    strip = drawings[1]
    picture = Image.open(io.BytesIO(png(strip.svg, 800))).convert("RGB")
    seen = Counter(
        {colour: count for count, colour in picture.getcolors(picture.width * picture.height)}
    )
    ink, foam = seen[(0x10, 0x10, 0x30)], seen[(0xE0, 0xF0, 0xF0)]
    assert foam > 1000
    assert ink > foam  # the middle stripe is ink alone
