"""Packs: what is in them, and that they never vary."""

from __future__ import annotations

import io
import zipfile

import pytest
from PIL import Image

from stripewright.digests import digest_of_all
from stripewright.paper.packs import PICTURE_PX, make_pack, sheets_pack, zipped
from stripewright.pattern.sheets import Sheets
from support.demo import DEMO, demo_settings
from support.papers import demo

SLUG = "night-ferry-draught-excluder"


def packed() -> dict[str, bytes]:
    made = demo(SLUG)
    return make_pack(
        made.worked, made.view(), made.written, demo_settings(), DEMO.theme_files("tideline"),
        page=b"<!DOCTYPE html>", changes=b"Version 1\r\n",
    )  # fmt: skip


@pytest.fixture(scope="module")
def files() -> dict[str, bytes]:
    return packed()


def test_everything_is_in_it(files):
    """Both sizes, the blank sheet, each drawing twice, the licence, and a zip of it all."""
    wanted = {
        f"{SLUG}{part}-{size}.pdf" for part in ("", "-planning-sheet") for size in ("a4", "letter")
    }
    for drawing in demo(SLUG).drawings.everything():
        wanted |= {f"drawings/{drawing.name}.svg", f"drawings/{drawing.name}.png"}
    wanted |= {"licence.txt", "changes.txt", f"{SLUG}.html", f"{SLUG}.zip"}
    assert set(files) == wanted


def test_the_zip_holds_the_same_files(files):
    with zipfile.ZipFile(io.BytesIO(files[f"{SLUG}.zip"])) as archive:
        assert archive.testzip() is None
        inside = {name.removeprefix(f"{SLUG}/"): archive.read(name) for name in archive.namelist()}
        assert archive.namelist() == sorted(archive.namelist())
        assert {entry.date_time for entry in archive.infolist()} == {(1980, 1, 1, 0, 0, 0)}
    assert inside == {path: data for path, data in files.items() if not path.endswith(".zip")}


def test_the_same_pack_again(files):
    assert packed() == files


def test_pictures_carry_pixels_alone(files):
    """W3C PNG: no chunk but those that the pixels need; as wide as promised."""
    for path, data in files.items():
        if path.endswith(".png"):
            assert set(chunks(data)) <= {b"IHDR", b"PLTE", b"tRNS", b"IDAT", b"IEND"}
            with Image.open(io.BytesIO(data)) as picture:
                assert picture.width == PICTURE_PX
                assert not picture.info


def chunks(data: bytes) -> list[bytes]:
    at, kinds = 8, []
    while at < len(data):
        kinds.append(data[at + 4 : at + 8])
        at += 12 + int.from_bytes(data[at : at + 4])
    return kinds


def test_the_licence_says_what_and_whose(files):
    text = files["licence.txt"].decode()
    pattern = demo(SLUG).worked.pattern
    for part in (pattern.title, pattern.version, demo_settings().maker, demo_settings().licence):
        assert part in text


def test_a_book_of_sheets():
    sheet = {
        "title": "Bolster",
        "form": "filled",
        "machine": {"bed": "circular", "needles": 40},
        "gauge": "14 sts x 21 rows / 10 cm",
        "rows": 60,
    }
    book = Sheets.model_validate({"title": "Plans", "summary": "Sheets.", "sheets": [sheet] * 2})
    files = sheets_pack("plans", book, demo_settings(), DEMO.theme_files("ledger"), changes=b"1")
    assert set(files) == {
        "plans-a4.pdf", "plans-letter.pdf", "licence.txt", "changes.txt", "plans.zip",
    }  # fmt: skip
    assert files["licence.txt"].startswith(b"Plans, version 1\r\nby ")


def test_a_key_tells_parts_apart():
    assert digest_of_all([b"ab", b"c"]) != digest_of_all([b"a", b"bc"])


def test_zip_is_the_same_in_any_order_and_has_no_clock():
    one = zipped("x", {"a": b"1", "b": b"2"})
    assert one == zipped("x", {"b": b"2", "a": b"1"})
    with zipfile.ZipFile(io.BytesIO(one)) as archive:
        assert {each.filename: archive.read(each) for each in archive.infolist()} == {
            "x/a": b"1",
            "x/b": b"2",
        }
        assert len({each.date_time for each in archive.infolist()}) == 1
