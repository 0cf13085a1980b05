"""Yarns in the colours of a picture, on the easel."""

from __future__ import annotations

import io

import pytest
from PIL import Image, ImageDraw

from support.browser import until
from support.easels import post

PICTURE = {"Content_Type": "application/octet-stream"}


@pytest.fixture(scope="module")
def picture():
    """Half sky and half sea, with a buoy."""
    image = Image.new("RGB", (400, 300), "#a8cdea")
    pen = ImageDraw.Draw(image)
    pen.rectangle((0, 150, 400, 300), fill="#1f3d66")
    pen.rectangle((100, 200, 130, 230), fill="#c9302c")
    out = io.BytesIO()
    image.save(out, "PNG")
    return out.getvalue()


def test_a_picture_gives_yarns_and_writes_nothing(preview, picture):
    before = sorted(preview.studio.rglob("*"))
    status, said = post(preview, "palette", picture, **PICTURE)
    assert status == 200
    assert {"#a8cdea", "#1f3d66", "#c9302c"} <= {yarn["colour"] for yarn in said["yarns"]}
    assert sorted(preview.studio.rglob("*")) == before


@pytest.mark.parametrize("data", [b"", b"no picture", b"\x89PNG\r\n\x1a\n" + b"\0" * 100])
def test_what_is_no_picture_says_so(preview, data):
    status, said = post(preview, "palette", data, **PICTURE)
    assert status == 422
    assert said["why"].startswith("The picture is")


@pytest.mark.browser
def test_yarns_of_a_picture_are_added_painted_with_and_taken_back(hands, picture):
    hand = hands().open("new")
    hand.page.fill("#begin-title", "In a picture's colours")
    hand.button("Start colouring").click()
    hand.page.wait_for_selector('body[data-state="open"]')
    hand.told()
    before = hand.page.locator("#hand button").count()
    hand.page.evaluate("document.querySelector('#yarns').closest('details').open = true")
    hand.page.set_input_files(
        "#yarns-picture", {"name": "sea.png", "mimeType": "image/png", "buffer": picture}
    )
    until(lambda: hand.page.locator("#hand button").count() > before + 2, True)
    hand.told()
    assert "Dark blue" in hand.page.locator("#hand").inner_text()
    hand.page.keyboard.press("Control+z")
    until(lambda: hand.page.locator("#hand button").count(), before)
