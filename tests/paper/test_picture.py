"""Drawings as pixels."""

from __future__ import annotations

import io

import pytest
from PIL import Image

from stripewright.paper.picture import jpeg, png, print_photo

STRIPES = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="800" height="600" viewBox="0 0 800 600">'
    '<rect y="100" width="800" height="100" fill="#1f3d5c"/><rect y="200" width="800" height="4" fill="#b3552e"/></svg>'
)
INKS = {50: (255, 255, 255), 150: (0x1F, 0x3D, 0x5C), 202: (0xB3, 0x55, 0x2E), 400: (255, 255, 255)}


def test_a_png_holds_the_drawing_s_own_colours_on_white_and_nothing_else():
    data = png(STRIPES, 400)
    with Image.open(io.BytesIO(data)) as picture:
        assert picture.size == (400, 300)
        found = picture.convert("RGB")
        assert {y: found.getpixel((200, y // 2)) for y in INKS} == INKS
        assert {key for key in picture.info if key not in ("dpi", "gamma", "srgb")} == set()


def test_a_jpeg_shows_the_same_and_thin_stripes_keep_their_colour():
    with Image.open(io.BytesIO(jpeg(STRIPES, 800))) as picture:
        assert (picture.format, picture.size) == ("JPEG", (800, 600))
        for y, ink in INKS.items():
            assert (
                max(abs(a - b) for a, b in zip(picture.getpixel((400, y)), ink, strict=True)) <= 8
            )
        assert not picture.getexif()
        assert "comment" not in picture.info


def test_the_same_drawing_gives_the_same_bytes():
    assert jpeg(STRIPES, 800) == jpeg(STRIPES, 800)


@pytest.mark.parametrize(("kind", "mode", "flat", "inside"), [
    ("PNG", "RGB", False, "jpeg"), ("PNG", "RGB", True, "png"), ("PNG", "RGBA", False, "png"),
    ("WEBP", "RGB", False, "jpeg"), ("JPEG", "RGB", False, "jpeg"),
])  # fmt: skip
def test_a_photo_goes_into_a_pdf_as_what_is_small_there(kind, mode, flat, inside):
    picture = (
        Image.new(mode, (300, 200), "white")
        if flat
        else (Image.effect_noise((300, 200), 60).convert(mode))
    )
    out = io.BytesIO()
    picture.save(out, kind)
    shown = print_photo(out.getvalue())
    assert f"data:image/{inside};" in shown.svg
    assert shown.shape == 1.5
