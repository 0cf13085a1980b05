"""A photo as a pattern's main picture, and photos in the widths that screens ask for."""

from __future__ import annotations

import io
import re

import pytest
from PIL import Image

from stripewright.paper.picture import SHARE_BYTES, photo_jpeg
from stripewright.pipeline.photo_files import files_of
from stripewright.problems import Place, has_errors
from support.studio_here import built, pattern, studio

PHOTOS = """\
photos:
  - {file: a.jpg, alt: The cushion on a bench., main: yes}
  - {file: b.png, alt: Its back.}
"""
HERE = Place("content/patterns/one.md", 7, 3)


def noise(width, height):
    picture = Image.effect_noise((width, height), 200)
    return Image.merge("RGB", [picture, picture.rotate(90).resize(picture.size), picture])


def exif():
    said = Image.Exif()
    said[0x010F], said[0x0112] = "Secretcam", 6
    said.get_ifd(0x8825)[2] = (52.0, 30.0, 1.0)
    return said


@pytest.fixture
def here(tmp_path):
    made = studio(tmp_path, {"one": pattern().replace("fill: light\n", "fill: light\n" + PHOTOS)})
    photos = made.content / "photos"
    photos.mkdir()
    noise(1400, 2400).save(photos / "a.jpg", exif=exif(), comment=b"Secretcam")
    Image.new("RGB", (400, 600), (20, 90, 160)).save(photos / "b.png", exif=exif())
    return made


def test_a_photo_is_the_main_picture_of_page_card_and_shared_links(here):
    site = built(here, paper=True)
    assert not has_errors(site.problems), site.problems
    page = site.files["patterns/one/index.html"].decode()
    opening = page[page.index('class="opening') : page.index('class="facts"')]
    assert opening.index("photos/a.jpg") < opening.index('class="finished"')
    assert "photos/a.jpg" not in page[page.index('class="facts"') :]
    assert "photos/jpeg/b.png.jpg" in page[page.index('class="facts"') :]
    assert 'property="og:image:alt" content="The cushion on a bench."' in page
    card = site.files["patterns/index.html"].decode()
    assert "photos/a.jpg" in card
    assert "finished.svg" not in card
    share = site.files["patterns/one/share.jpg"]
    with Image.open(io.BytesIO(share)) as picture:
        assert (picture.size, picture.format) == ((800, 600), "JPEG")
    assert len(share) <= SHARE_BYTES


def test_photos_come_in_widths_as_webp_with_a_jpeg_for_others(here):
    site = built(here, paper=True)
    page = site.files["patterns/one/index.html"].decode()
    # Upright, the first is 2400 wide: what it is published at, and the two widths below that.
    assert [int(w) for w in re.findall(r"a\.jpg\.webp (\d+)w", page)] == [480, 960, 1600]
    assert [int(w) for w in re.findall(r"b\.png\.webp (\d+)w", page)] == [480, 600]
    for path in re.findall(r"(photos/\d+/[^ \"]+) \d+w", page):
        with Image.open(io.BytesIO(site.files[path])) as picture:
            assert picture.format == "WEBP"
            assert picture.width == int(path.split("/")[1])
    for image in re.findall(r"<img[^>]*photos/[^>]*>", page):
        assert re.search(r'\.jpg" alt="[^"]+" width="\d+" height="\d+" loading="lazy"', image)
    assert page.count('class="behind"') == 2
    assert 'fill="#145aa0"' in page
    for path, data in site.files.items():
        if path.startswith("photos/") or path.endswith("share.jpg"):
            assert b"Secretcam" not in data
            with Image.open(io.BytesIO(data)) as picture:
                assert not picture.getexif()


def test_the_same_bytes_each_time(here):
    assert built(here).files == built(here).files


def test_a_second_main_picture_is_told(tmp_path, here):
    path = here.content / "patterns/one.md"
    path.write_text(path.read_text().replace("Its back.}", "Its back., main: yes}"))
    [problem] = [one for one in built(here).problems if "main picture" in one.message]
    assert problem.message == "a.jpg is the main picture already"
    assert problem.hint == "keep main: yes at one picture alone"
    assert (
        problem.place.line
        == path.read_text().splitlines().index("  - {file: b.png, alt: Its back., main: yes}") + 1
    )


def test_pure_noise_still_is_a_small_picture_to_share():
    out = io.BytesIO()
    noise(800, 600).save(out, "PNG")
    assert len(photo_jpeg(out.getvalue(), (800, 600))) <= SHARE_BYTES


def test_what_can_be_seen_through_stays_so_and_has_no_jpeg():
    out = io.BytesIO()
    Image.new("RGBA", (500, 20), (255, 0, 0, 0)).save(out, "PNG")
    made = files_of("a.png", out.getvalue())
    assert made.fallback is None
    assert made.colour == "#ffffff"
    with Image.open(io.BytesIO(made.webp[0].data)) as picture:
        assert picture.convert("RGBA").getpixel((0, 0))[3] == 0
