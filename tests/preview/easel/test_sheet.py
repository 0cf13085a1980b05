"""A coloured planning sheet, opened on the easel."""

from __future__ import annotations

import pytest

from camera.sheets import sheet
from camera.simulator import painted
from support.browser import until
from support.easels import post

ROWS = [0] * 13 + [1] * 4 + [2] * 9 + [0] * 1 + [1] * 3
COLOURS = ["#1f3d5c", "#dfe9e4", "#b5452c"]
PICTURE = {"Content_Type": "application/octet-stream"}


@pytest.fixture(scope="module")
def picture():
    """One of the program's own sheets, painted."""
    return painted(sheet(rows=len(ROWS), form="filled"), 1, ROWS, COLOURS, dpi=100)


def test_a_picture_gives_its_stripes_and_writes_nothing(preview, picture):
    before = sorted(preview.studio.rglob("*"))
    status, said = post(preview, "sheet", picture, **PICTURE)
    assert status == 200
    [piece] = said["front"]["pieces"].values()
    assert [int(stripe.split()[1]) for stripe in piece["stripes"]] == [13, 4, 9, 1, 3]
    assert said["doubts"] == []
    assert sorted(preview.studio.rglob("*")) == before


@pytest.mark.parametrize(
    "data", [b"", b"no picture", b"\x89PNG\r\n\x1a\n" + b"\0" * 100, b"%PDF-1.7 nothing"]
)
def test_what_shows_no_sheet_says_so(preview, data):
    status, said = post(preview, "sheet", data, **PICTURE)
    assert status == 422
    assert said["why"]


def test_a_picture_is_bounded(preview):
    sent = {"Content_Length": str((25 << 20) + 1)}
    assert post(preview, "sheet", b"x", **PICTURE, **sent)[0] == 413


@pytest.mark.browser
def test_a_sheet_is_opened_coloured_on_and_saved(hands, picture):
    hand = hands().open("new")
    hand.page.fill("#begin-title", "From paper")
    hand.page.set_input_files(
        "#begin-sheet", {"name": "sheet.png", "mimeType": "image/png", "buffer": picture}
    )
    hand.page.wait_for_selector('body[data-state="open"]')
    hand.told()
    assert [int(stripe.split()[1]) for stripe in hand.stripes()] == [13, 4, 9, 1, 3]
    hand.button("Save").click()
    path = hand.saved()
    assert path.name == "from-paper.md"
    until(lambda: hand.page.locator("#wrong b").all_inner_texts().count("Wrong"), 0)
