"""Pictures as anyone may send them: formats, orientation, bombs, damage."""

from __future__ import annotations

import io
import struct
import zlib

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as some
from PIL import Image

from camera.cases import judged
from camera.test_reading import COLOURS, ROWS, plain
from stripewright.camera.picture import MOST_PIXELS, READ_SIDE, load
from stripewright.camera.read import read_pictures


def saved(image: Image.Image, kind: str, **options) -> bytes:
    out = io.BytesIO()
    image.save(out, kind, **options)
    return out.getvalue()


CASE = plain(ROWS, COLOURS)
PAGE = Image.open(io.BytesIO(CASE.pictures[0][1])).convert("RGB")


@pytest.mark.parametrize("kind", ["PNG", "JPEG", "WEBP", "TIFF", "BMP", "HEIF", "PDF"])
def test_every_format(kind):
    if kind == "HEIF":
        from pillow_heif import register_heif_opener

        register_heif_opener()
    options = {"resolution": 100} if kind == "PDF" else {}
    reading, problems = read_pictures([("p", saved(PAGE, kind, **options))])
    assert not problems
    assert judged(CASE, reading)[0] == "exact"


@pytest.mark.parametrize("orientation", range(1, 9))
def test_every_way_of_holding_the_camera(orientation):
    """Exif (CIPA DC-008), 4.6.4: mirrored ones, too, come out as they were seen."""
    from PIL.Image import Transpose

    back = {1: None, 2: 0, 3: 3, 4: 1, 5: 5, 6: 2, 7: 6, 8: 4}[orientation]
    held = PAGE if back is None else PAGE.transpose(Transpose(back))
    exif = Image.Exif()
    exif[0x0112] = orientation
    reading, _ = read_pictures([("p.jpg", saved(held, "JPEG", exif=exif, quality=92))])
    assert judged(CASE, reading)[0] == "exact"


@pytest.mark.parametrize("mode", ["RGBA", "L", "P", "LA", "CMYK"])
def test_every_mode_is_read_or_told(mode):
    kind = "TIFF" if mode == "CMYK" else "PNG"
    pictures, problems = load(saved(PAGE.convert(mode), kind), "p")
    assert not problems
    assert pictures[0].pixels.shape == (PAGE.height, PAGE.width, 3)


def test_what_is_transparent_lies_on_white_paper():
    clear = PAGE.convert("RGBA")
    clear.putalpha(Image.fromarray(np.where(np.asarray(PAGE).min(2) > 250, 0, 255).astype("u1")))
    reading, _ = read_pictures([("p.png", saved(clear, "PNG"))])
    assert judged(CASE, reading)[0] == "exact"


def bomb(side: int) -> bytes:
    """A PNG that says it is huge (ISO/IEC 15948, 11.2.2)."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return (
            struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))
        )

    head = struct.pack(">IIBBBBB", side, side, 8, 2, 0, 0, 0)
    return (b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head)
            + chunk(b"IDAT", zlib.compress(bytes(1000))) + chunk(b"IEND", b""))  # fmt: skip


def test_bombs_are_refused_before_they_are_decoded():
    for side in (12_000, 60_000):
        assert side * side > MOST_PIXELS
        pictures, problems = load(bomb(side), "bomb.png")
        assert not pictures
        assert "pixels" in problems[0].message


def test_a_photo_of_100_million_pixels_is_read_smaller():
    huge = saved(Image.new("RGB", (12_000, 8_400), (200, 190, 180)), "JPEG", quality=30)
    (picture,), problems = load(huge, "huge.jpg")
    assert not problems
    assert max(picture.pixels.shape) <= READ_SIDE


@pytest.mark.parametrize("kind", ["PNG", "JPEG", "WEBP", "PDF"])
def test_truncated_files_are_told_in_a_line(kind):
    whole = saved(PAGE, kind)
    for share in (0.02, 0.4, 0.9):
        reading, problems = read_pictures([("cut", whole[: int(len(whole) * share)])])
        assert problems or reading.doubts or judged(CASE, reading)[0] == "exact"
        assert all(problem.message and problem.hint for problem in problems)


@given(some.binary(max_size=300), some.sampled_from(
    [b"", b"%PDF-1.4\n", b"\x89PNG\r\n\x1a\n", b"\xff\xd8\xff\xe0", b"RIFF\0\0\0\0WEBP",
     b"\0\0\0\x18ftypheic"]))  # fmt: skip
def test_any_bytes_are_told_in_a_line(data, head):
    pictures, problems = load(head + data, "any")
    assert pictures or problems


def test_a_picture_of_something_else():
    lot = np.random.default_rng(1)
    noise = Image.fromarray(lot.integers(0, 255, (700, 900, 3)).astype("u1"))
    reading, problems = read_pictures([("cat.png", saved(noise, "PNG"))])
    assert not reading.pieces
    assert "corner marks" in problems[0].message
    assert [doubt.row for doubt in reading.doubts] == [0]
