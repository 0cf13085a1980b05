"""Pictures as they are published: pixels alone, upright, in the web's colours; bombs refused."""

from __future__ import annotations

import io
import struct
import subprocess
import sys
import zlib

import pytest
from PIL import Image, ImageCms, PngImagePlugin

from stripewright.pipeline.photos import PHOTO_PIXELS, TURNS, clean_photo
from stripewright.problems import Place, has_errors
from support.studio_here import built, pattern, studio

HERE = Place("content/patterns/one.md", 7, 3)
RED, BLUE = (255, 0, 0), (0, 0, 255)


def cleaned(path):
    photo, problems = clean_photo(path, HERE)
    assert problems == []
    shown = Image.open(io.BytesIO(photo.data))
    shown.load()
    assert shown.size == (photo.width, photo.height)
    return photo, shown


def near(pixel, wanted, by=6):
    return all(abs(a - b) <= by for a, b in zip(pixel, wanted, strict=True))


@pytest.fixture
def flag():
    """Red at the left, blue at the right."""
    picture = Image.new("RGB", (64, 32), RED)
    picture.paste(BLUE, (32, 0, 64, 32))
    return picture


SECRETS = [
    b"Secretcam",
    b"secret-xmp",
    b"secret-iptc",
    b"secret comment",
    b"secret-text",
    b"Exif",
    b"GPS",
    b"2019:03:04",
]


def exif():
    said = Image.Exif()
    said[0x010F] = "Secretcam"
    said[0x9003] = "2019:03:04 05:06:07"
    place = said.get_ifd(0x8825)
    place[1], place[2] = "N", (52.0, 30.0, 1.0)
    return said


XMP = b'<x:xmpmeta xmlns:x="adobe:ns:meta/">secret-xmp GPSLatitude</x:xmpmeta>'


def jpeg(flag, path):
    flag.save(path, exif=exif(), comment=b"secret comment", xmp=XMP)
    iptc = b"Photoshop 3.0\x008BIM\x04\x04\x00\x00\x00\x00\x00\x10\x1c\x02\x05\x00\x0bsecret-iptc"
    segment = b"\xff\xed" + struct.pack(">H", len(iptc) + 2) + iptc
    data = path.read_bytes()
    path.write_bytes(data[:2] + segment + data[2:] + b"secret-text after the end")


def png(flag, path):
    words = PngImagePlugin.PngInfo()
    words.add_text("Comment", "secret comment")
    words.add_text("Place", "secret-text", zip=True)
    words.add_itxt("XML:com.adobe.xmp", XMP.decode())
    flag.save(path, exif=exif(), pnginfo=words)


def webp(flag, path):
    flag.save(path, exif=exif(), xmp=XMP, lossless=True)


@pytest.mark.parametrize(("name", "save"), [("a.jpg", jpeg), ("a.png", png), ("a.webp", webp)])
def test_nothing_but_pixels_is_published(flag, tmp_path, name, save):
    save(flag, tmp_path / name)
    before = (tmp_path / name).read_bytes()
    assert sum(secret in before for secret in SECRETS) >= 3
    photo, shown = cleaned(tmp_path / name)
    assert [secret for secret in SECRETS if secret in photo.data] == []
    assert not shown.getexif()
    assert not {"icc_profile", "xmp", "exif", "comment", "photoshop"} & shown.info.keys()
    assert near(shown.convert("RGB").getpixel((4, 4)), RED)
    assert near(shown.convert("RGB").getpixel((60, 4)), BLUE)
    assert clean_photo(tmp_path / name, HERE)[0].data == photo.data


def test_a_published_site_holds_only_cleaned_pictures(flag, tmp_path):
    here = studio(tmp_path, {"one": pattern(body="![A flag](a.jpg)")})
    (here.content / "photos").mkdir()
    jpeg(flag, here.content / "photos/a.jpg")
    site = built(here)
    assert not has_errors(site.problems)
    assert "photos/a.jpg" in site.files
    assert not [
        p
        for p in site.files
        if any(s in site.files[p] for s in SECRETS if s not in (b"Exif", b"GPS"))
    ]


def test_a_picture_in_a_text_comes_in_widths_and_an_opaque_png_as_a_jpeg(tmp_path):
    """A screen of 480 pixels isn't sent the PNG of a wide one, by a pattern's text or a post's."""
    here = studio(tmp_path, {"one": pattern(body="![Sea](sea.png)")})
    (here.content / "photos").mkdir()
    (here.content / "posts").mkdir()
    Image.effect_noise((700, 400), 60).convert("RGB").save(here.content / "photos/sea.png")
    (here.content / "posts/news.md").write_text(
        "---\ntitle: News\nsummary: Some.\npublished: 2026-01-05\n---\n![Sea](sea.png)\n")  # fmt: skip
    site = built(here)
    assert {path for path in site.files if path.startswith("photos/")} == {
        "photos/480/sea.png.webp", "photos/700/sea.png.webp", "photos/jpeg/sea.png.jpg"}  # fmt: skip
    for page in ("patterns/one/index.html", "posts/news/index.html"):
        text = site.files[page].decode()
        assert 'srcset="../../photos/480/sea.png.webp 480w, ../../photos/700/' in text
        assert 'src="../../photos/jpeg/sea.png.jpg" alt="Sea" loading="lazy" width="700"' in text


@pytest.mark.parametrize("orientation", range(1, 9))
@pytest.mark.parametrize("name", ["a.jpg", "a.png", "a.webp"])
def test_every_way_of_holding_the_camera_comes_out_upright(tmp_path, orientation, name):
    """Exif (CIPA DC-008), 4.6.4, by its table: where row 0 and column 0 of the stored picture are."""
    upright = Image.new("RGB", (64, 48), (255, 255, 255))
    upright.paste(RED, (0, 0, 32, 24))  # top left
    upright.paste(BLUE, (32, 0, 64, 24))  # top right
    undo = {6: Image.Transpose.ROTATE_90, 8: Image.Transpose.ROTATE_270}
    turn = undo.get(orientation, TURNS.get(orientation))
    stored = upright if orientation == 1 else upright.transpose(turn)
    held = Image.Exif()
    held[0x0112] = orientation
    stored.save(tmp_path / name, exif=held, quality=95)
    _, shown = cleaned(tmp_path / name)
    assert shown.size == (64, 48)
    assert near(shown.convert("RGB").getpixel((6, 6)), RED, 12)
    assert near(shown.convert("RGB").getpixel((58, 6)), BLUE, 12)


def test_a_wide_picture_is_scaled_by_its_upright_width(tmp_path):
    held = Image.Exif()
    held[0x0112] = 6
    Image.new("RGB", (3200, 1800), RED).save(tmp_path / "a.jpg", exif=held)
    photo, _ = cleaned(tmp_path / "a.jpg")
    assert (photo.width, photo.height) == (1600, 2844)


def test_transparency_stays(tmp_path):
    palette = Image.new("P", (40, 20), 0)
    palette.putpalette([*RED, *BLUE])
    palette.paste(1, (20, 0, 40, 20))
    palette.save(tmp_path / "a.png", transparency=bytes([255, 0]))
    _, shown = cleaned(tmp_path / "a.png")
    assert shown.convert("RGBA").getpixel((2, 2)) == (*RED, 255)
    assert shown.convert("RGBA").getpixel((38, 2))[3] == 0
    Image.new("RGBA", (40, 20), (*BLUE, 128)).save(tmp_path / "b.png")
    assert cleaned(tmp_path / "b.png")[1].getpixel((2, 2)) == (*BLUE, 128)
    Image.new("RGB", (40, 20), (5, 6, 7)).save(tmp_path / "c.png", transparency=(5, 6, 7))
    assert cleaned(tmp_path / "c.png")[1].getpixel((2, 2))[3] == 0


def test_other_kinds_of_pixels_keep_what_is_seen(tmp_path, flag):
    flag.convert("CMYK").save(tmp_path / "cmyk.jpg", quality=95)
    assert near(cleaned(tmp_path / "cmyk.jpg")[1].getpixel((4, 4)), RED, 12)
    Image.new("I;16", (40, 20), 40_000).save(tmp_path / "deep.png")
    assert abs(cleaned(tmp_path / "deep.png")[1].convert("L").getpixel((1, 1)) - 156) <= 1
    Image.new("1", (40, 20), 1).save(tmp_path / "bits.png")
    assert cleaned(tmp_path / "bits.png")[1].convert("L").getpixel((1, 1)) == 255
    Image.new("L", (40, 20), 90).save(tmp_path / "grey.jpg", quality=95)
    assert near(cleaned(tmp_path / "grey.jpg")[1].convert("RGB").getpixel((1, 1)), (90, 90, 90))


def test_of_several_frames_the_first_is_shown(tmp_path):
    frames = [Image.new("RGB", (40, 20), colour) for colour in (RED, BLUE)]
    for name in ("a.png", "a.webp"):
        frames[0].save(tmp_path / name, save_all=True, append_images=frames[1:], lossless=True)
        _, shown = cleaned(tmp_path / name)
        assert getattr(shown, "n_frames", 1) == 1
        assert near(shown.convert("RGB").getpixel((1, 1)), RED)


def test_colours_of_another_profile_are_brought_to_the_web_s(tmp_path, flag):
    """A profile whose red and blue are swapped says so plainly: left out, the flag would be wrong."""
    srgb = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    swapped = swap_tags(srgb, b"rXYZ", b"bXYZ")
    for name in ("a.jpg", "a.png"):
        flag.save(tmp_path / name, icc_profile=swapped, quality=95)
        _, shown = cleaned(tmp_path / name)
        assert "icc_profile" not in shown.info
        assert near(shown.getpixel((4, 4)), BLUE, 20)
    flag.save(tmp_path / "b.png", icc_profile=b"no profile at all")
    assert near(cleaned(tmp_path / "b.png")[1].getpixel((4, 4)), RED)


def swap_tags(profile, one, other):
    """ICC.1:2022, 7.3: the tag table begins at byte 128; each entry is signature, offset, size."""
    data = bytearray(profile)
    count = int.from_bytes(data[128:132], "big")
    at = {bytes(data[p : p + 4]): p for p in range(132, 132 + 12 * count, 12)}
    data[at[one] : at[one] + 4], data[at[other] : at[other] + 4] = other, one
    return bytes(data)


def chunk(kind, body):
    return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))


def bare_png(width, height, data, bits=8, kind=2):
    head = struct.pack(">IIBBBBB", width, height, bits, kind, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", data) + chunk(b"IEND", b"")


BROKEN = {
    "bomb.png": bare_png(60_000, 60_000, zlib.compress(b"\0" * 1_000_000)),
    "line.png": bare_png(1, PHOTO_PIXELS + 1, zlib.compress(b"\0")),
    "short.png": bare_png(400, 400, zlib.compress(b"\0" * 1000)),
    "damaged.png": bare_png(400, 400, b"not packed at all"),
    "empty.png": b"",
    "text.jpg": b"<svg onload=alert(1)>",
    "cut.jpg": b"\xff\xd8\xff\xe0\x00\x10JFIF\x00",
    "cut.webp": b"RIFF\x20\x00\x00\x00WEBPVP8 ",
    "gif.png": b"GIF89a\x01\x00\x01\x00\x00\x00\x00;",
}


@pytest.mark.parametrize("name", BROKEN)
def test_bombs_and_broken_pictures_are_refused_with_their_line(tmp_path, name):
    (tmp_path / name).write_bytes(BROKEN[name])
    photo, [problem] = clean_photo(tmp_path / name, HERE)
    assert photo is None
    assert problem.place == HERE
    assert problem.message.startswith(name)
    assert problem.hint
    assert str(tmp_path) not in problem.message


def test_a_truncated_jpeg_is_refused_at_any_length(tmp_path, flag):
    jpeg(flag.resize((640, 320)), tmp_path / "a.jpg")
    whole = (tmp_path / "a.jpg").read_bytes()
    for length in range(0, len(whole) - 100, len(whole) // 40):
        (tmp_path / "b.jpg").write_bytes(whole[:length])
        photo, problems = clean_photo(tmp_path / "b.jpg", HERE)
        assert (photo is None) == bool(problems)


def test_the_largest_picture_takes_a_bounded_memory(tmp_path):
    """In a process of its own: 60 million pixels of a PNG are 240 MB, and are in memory once."""
    rows = zlib.compress((b"\0" + b"\x20\x40\x60" * 10_000) * 5_999)
    (tmp_path / "a.png").write_bytes(bare_png(10_000, 5_999, rows))
    run = subprocess.run(
        [sys.executable, "-c", PEAK, str(tmp_path / "a.png")],
        capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert run.returncode == 0, run.stderr
    assert int(run.stdout) < 400, "MB"


PEAK = """
import re, sys
from pathlib import Path
from stripewright.pipeline.photos import clean_photo
from stripewright.problems import Place
photo, problems = clean_photo(Path(sys.argv[1]), Place("x"))
assert photo and not problems, problems
print(int(re.search(r"VmHWM:\\s*(\\d+)", Path("/proc/self/status").read_text())[1]) // 1024)
"""


def scanned(picture, scans):
    """A progressive JPEG whose last scan stands there so many times more."""
    out = io.BytesIO()
    picture.save(out, "JPEG", progressive=True)
    data = out.getvalue()
    last = data.rfind(b"\xff\xda")
    return data[:last] + data[last:-2] * (scans + 1) + b"\xff\xd9"


def test_a_jpeg_of_many_scans_is_refused(tmp_path, flag):
    """Each scan is a pass over all of the picture (ITU-T T.81, G.1): a small file, a long time."""
    path = tmp_path / "a.jpg"
    path.write_bytes(scanned(flag, 0))
    assert clean_photo(path, HERE)[0]
    path.write_bytes(scanned(flag, 1000))
    photo, [problem] = clean_photo(path, HERE)
    assert photo is None
    assert problem.place == HERE
    assert problem.message == "a.jpg is a JPEG of over 64 scans, as no camera or program saves one"


def png_of_16_bits(width, height, kind):
    """Kinds of PNG (ISO/IEC 15948, 11.2.2): 0 grey, 2 RGB, 4 grey with alpha, 6 RGB with alpha."""
    channels = {0: 1, 2: 3, 4: 2, 6: 4}[kind]
    packer = zlib.compressobj(1)
    row = b"\0" + b"\x12\x34" * (width * channels)
    rows = b"".join([*(packer.compress(row) for _ in range(height)), packer.flush()])
    return bare_png(width, height, rows, 16, kind)


@pytest.mark.parametrize("kind", [0, 4, 6])
def test_a_picture_that_would_take_much_memory_is_refused_before_it_does(tmp_path, kind):
    path = tmp_path / "a.png"
    path.write_bytes(png_of_16_bits(8000, 7250, kind))
    photo, [problem] = clean_photo(path, HERE)
    assert photo is None
    assert problem.message.startswith("a.png is a PNG of 58 million pixels, which would take ")
    path.write_bytes(png_of_16_bits(800, 725, kind))
    assert clean_photo(path, HERE)[0]


def test_a_large_jpeg_is_decoded_no_larger_than_need_be(tmp_path, flag):
    jpeg(flag.resize((8000, 6000)), tmp_path / "a.jpg")
    run = subprocess.run([sys.executable, "-c", PEAK, str(tmp_path / "a.jpg")],
                         capture_output=True, text=True, check=False)  # fmt: skip
    assert run.returncode == 0, run.stderr
    assert int(run.stdout) < 150, "MB; all of its pixels would be 192"
