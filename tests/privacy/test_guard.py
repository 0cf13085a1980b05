"""The last look before writing: what it finds, wherever it hides, and what it leaves alone."""

from __future__ import annotations

import base64
import bz2
import gzip
import io
import lzma
import tarfile
import zipfile
import zlib

import pypdf
import pytest
from PIL import Image
from PIL.PngImagePlugin import PngInfo

from stripewright.problems import Severity
from stripewright.publish.guard import find_leaks
from stripewright.view.secrets import PublishedPhrases, Secrets, said_by
from support.papers import made_from
from support.patterns import text_of

SAID = "turn the heel with seventeen quiet stitches."
PLAN = (137, 211, 97, 137)
READINGS = (137, 348, 445, 582)
KEPT = Secrets("pay", (SAID,), (PLAN, READINGS), ("pay-a4.pdf", "pay.zip"))


def found(path: str, data: bytes, *public: PublishedPhrases) -> list[str]:
    problems = find_leaks({path: data, "index.html": b"<p>Nothing here.</p>"}, [KEPT], public)
    assert all(problem.place.file == path for problem in problems)
    leaks = [problem.message for problem in problems if problem.severity is Severity.ERROR]
    assert all("“pay”" in message for message in leaks)
    return leaks


def picture_with(**texts: str) -> bytes:
    out, info = io.BytesIO(), PngInfo()
    for kind, text in texts.items():
        if kind == "itxt":
            info.add_itxt("Comment", text, zip=True)
        else:
            info.add_text("Comment", text, zip=kind == "ztxt")
    Image.new("RGB", (2, 2)).save(out, "PNG", pnginfo=info)
    return out.getvalue()


def jpeg_with(text: str) -> bytes:
    out = io.BytesIO()
    Image.new("RGB", (2, 2)).save(out, "JPEG", comment=text.encode())
    return out.getvalue()


SENTENCES = {
    "text": ("a.html", "<p>So: Turn the heel with\n seventeen quiet stitches.</p>"),
    "inline tags": ("a.html", "<p>Turn <em>the</em> he<b>el</b> with seventeen quiet stitches.</p>"),
    "entities": ("a.html", "<p>Turn&#32;the heel with &#115;eventeen quiet&nbsp;stitches.</p>"),
    "attribute": ("a.html", '<img alt="Turn the heel with seventeen quiet stitches.">'),
    "single quotes": ("a.html", "<p title='Turn the heel with seventeen quiet stitches.'>x</p>"),
    "comment": ("a.html", "<!-- Turn the heel with seventeen quiet stitches. -->"),
    "script": ("a.html", '<script type="application/ld+json">{"a":"Turn the heel with seventeen quiet stitches."}</script>'),
    "escapes": ("search.json", r'{"a":"Turn the heel with seventeen\u0020quiet\nstitches."}'),
    "search": ("patterns/index.js", r'document.patternIndex={"rows":"pay\tPay\tTurn the heel with seventeen quiet stitches.\ta.a\n"};'),
    "feed": ("feed.xml", "<summary><![CDATA[Turn the heel with seventeen quiet stitches.]]></summary>"),
    "drawing": ("a.svg", "<svg><desc>Turn the heel with seventeen quiet stitches.</desc></svg>"),
    "style": ("a.css", "/* Turn the heel with seventeen quiet stitches. */"),
}  # fmt: skip


@pytest.mark.parametrize(("path", "text"), SENTENCES.values(), ids=SENTENCES.keys())
def test_a_sentence_is_found(path, text):
    (message,) = found(path, text.encode())
    assert "a sentence (“turn the heel" in message


@pytest.mark.parametrize(
    "data",
    [
        picture_with(text=SAID),
        picture_with(ztxt=SAID),
        picture_with(itxt=SAID),
        jpeg_with(SAID),
    ],
    ids=["tEXt", "zTXt", "iTXt", "JPEG comment"],
)
def test_a_sentence_in_a_picture_is_found(data):
    (message,) = found("share.png", data)
    assert "a sentence" in message


def test_a_sentence_in_a_pdf_is_found():
    """In the deflated page of a PDF that a free pattern offers."""
    body = "Before.\n\n## So\n\nThen turn the heel with seventeen quiet stitches. And rest.\n"
    data = made_from(text_of(body=body, published="2026-01-02").encode(), "gift").pdf()
    assert b"seventeen quiet" not in data
    (message,) = found("patterns/gift/gift-a4.pdf", data)
    assert "a sentence" in message


NUMBERS = {
    "list": ("a.html", "<p>137, 211, 97 and 137</p>"),
    "data": ("s.json", "[137,211,97,137]"),
    "attribute": ("a.html", '<p data-plan="137 211 97 137">'),
    "table of its page": (
        "patterns/pay/index.html",
        "<tr><td>A<td>137<td>RC 137<tr><td>B<td>211<td>RC 348<tr><td>A<td>97<td>RC 445<tr><td>B<td>137<td>RC 582",
    ),
}


@pytest.mark.parametrize(("path", "text"), NUMBERS.values(), ids=NUMBERS.keys())
def test_a_plan_is_found(path, text):
    messages = found(path, text.encode())
    assert any("a row plan (137, " in message for message in messages)


@pytest.mark.parametrize("scale", [0.01, 1, 2.345])
@pytest.mark.parametrize("side", ["width", "height"])
def test_drawn_bands_are_found(scale, side):
    """To any scale, along or across, as boxes or as outlines."""
    boxes = "".join(f'<rect class="yarn-a" x="1" y="2" {side}="{n * scale:.3f}"/>' for n in PLAN)
    assert "bands as high" in found("patterns/pay/strip.svg", f"<svg>{boxes}</svg>".encode())[0]
    at, paths = 0.0, ""
    for n in PLAN:
        end = at + n * scale
        paths += f'<path class="yarn-b" d="M0 {at:.3f}L9 {at:.3f} 9 {end:.3f} 0 {end:.3f}z"/>'
        at = end
    assert "bands as high" in found("patterns/pay/a.html", f"<svg>{paths}</svg>".encode())[0]


@pytest.mark.parametrize("path", ["patterns/pay/pay-a4.pdf", "assets/pay.zip", "pay-a4.pdf"])
def test_a_file_is_found(path):
    assert "a file" in found(path, b"")[0]


CLEAN = {
    "other words": ("a.html", "<p>Turn the heel with sixteen quiet stitches.</p>"),
    "half a sentence": ("a.html", "<p>Turn the heel with seventeen.</p>"),
    "other order": ("a.html", "<p>137, 97, 211 and 137</p>"),
    "scattered": ("a.html", "<p>137 m of one, 211 m of two, 97 m of three, 137 m of four</p>"),
    "pages": ("a.html", "<p>1 2 3 4 5 6 7 8 9</p>"),
    "even bands": (
        "patterns/pay/strip.svg",
        (
            '<svg><rect class="yarn-a" height="9"/><rect class="yarn-b" height="9"/>'
            '<rect class="yarn-a" height="9"/><rect class="yarn-b" height="9"/></svg>'
        ),
    ),
}


@pytest.mark.parametrize(("path", "text"), CLEAN.values(), ids=CLEAN.keys())
def test_chance_is_left_alone(path, text):
    assert found(path, text.encode()) == []


def test_what_a_free_pattern_says_is_no_secret():
    """A maker's standing sentence, or the stripes of a gift, in the gift's own page."""
    gift = said_by(Secrets("gift", (SAID,), (PLAN,), ()))
    page = f"<p>{SAID}</p><p>137, 211, 97, 137</p>".encode()
    assert found("patterns/gift/index.html", page, gift) == []
    assert len(found("patterns/gift/index.html", page)) == 2


def test_even_stripes_are_no_secret():
    """Steps of one size stand in every numbered list."""
    even = Secrets("even", (), ((10, 20, 30, 40), (8, 8, 8, 8)), ())
    assert find_leaks({"a.html": b"<p>10 20 30 40</p><p>8 8 8 8</p>"}, [even]) == []


def test_without_secrets_nothing_is_read():
    class Unread(dict):
        def __getitem__(self, key):
            raise AssertionError(key)

    assert find_leaks(Unread({"a.html": b""}), []) == []


def test_damaged_files_do_not_stop_it():
    packed = b"%PDF-1.7\n1 0 obj\n<</Filter/FlateDecode>>stream\nxx\nendstream\nendobj\n"
    for data in (b"", b"\x89PNG\r\n\x1a\n\0\0", b"\xff\xd8\xff", packed, b"%PDF", b"\xff" * 9):
        assert found("a.png", data) == []
        assert found("a.html", data) == []
    assert (
        found("a.png", b"\x89PNG\r\n\x1a\n" + (9).to_bytes(4) + b"zTXt" + zlib.compress(b"x")) == []
    )


PAGE = f"<p>{SAID}</p>".encode()
DRAWING = (
    "<svg>" + "".join(f'<rect width="9" y="1" height="{n / 7:.4f}"/>' for n in PLAN) + "</svg>"
).encode()


def zipped(**members: bytes) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in members.items():
            archive.writestr(name.replace("__", "."), data)
    return out.getvalue()


def tarred(data: bytes) -> bytes:
    out = io.BytesIO()
    with tarfile.open(fileobj=out, mode="w") as archive:
        entry = tarfile.TarInfo("folder/page.html")
        entry.size = len(data)
        archive.addfile(entry, io.BytesIO(data))
    return out.getvalue()


def attached(data: bytes) -> bytes:
    out, writer = io.BytesIO(), pypdf.PdfWriter()
    writer.add_blank_page(100, 100)
    writer.add_attachment("extra.bin", data)
    writer.write(out)
    return out.getvalue()


def titled(text: str) -> bytes:
    out, writer = io.BytesIO(), pypdf.PdfWriter()
    writer.add_blank_page(100, 100)
    writer.add_metadata({"/Subject": text})
    writer.write(out)
    return out.getvalue()


def webp_with(text: str) -> bytes:
    out = io.BytesIO()
    Image.new("RGB", (2, 2)).save(out, "WEBP", xmp=text.encode())
    return out.getvalue()


PACKED = {
    "zip": zipped(page__html=PAGE),
    "zip in a zip": zipped(inside=zipped(page__html=PAGE)),
    "zip under a picture": picture_with(text="x") + zipped(page__html=PAGE),
    "gzip": gzip.compress(PAGE),
    "bzip2": bz2.compress(PAGE),
    "xz": lzma.compress(PAGE),
    "tar": tarred(PAGE),
    "packed tar": gzip.compress(tarred(PAGE)),
    "carried in a style": b"p { background: url(data:application/zip;base64,"
    + base64.b64encode(zipped(page__html=PAGE))
    + b") }",
    "attached to a PDF": attached(zipped(page__html=PAGE)),
    "said by a PDF of itself": titled(SAID),
    "two bytes a letter": PAGE.decode().encode("utf-16"),
    "two bytes a letter, unmarked": PAGE.decode().encode("utf-16-le"),
    "WebP with a note": webp_with(SAID),
}


@pytest.mark.parametrize("name", ["gift.bin", "theme.css", "icon.svg", "photo.png", "gift"])
@pytest.mark.parametrize("data", PACKED.values(), ids=PACKED.keys())
def test_what_is_packed_is_opened_whatever_it_is_called(name, data):
    (message,) = found(f"assets/{name}", data)
    assert "a sentence (“turn the heel" in message


def test_a_pack_that_has_another_name_is_found_by_the_names_in_it():
    (message,) = found("assets/gift.bin", zipped(**{"pay-a4__pdf": b"", "other__txt": b"hello"}))
    assert "a file of the paid pattern “pay” (in assets/gift.bin/pay-a4.pdf)" in message


@pytest.mark.parametrize("data", [DRAWING, gzip.compress(DRAWING)], ids=["svg", "svgz"])
def test_a_drawing_among_a_theme_s_files_is_measured(data):
    (message,) = found("assets/picture.svg", data)
    assert "bands as high as its row plan (137, 211, 97, 137)" in message


def test_nothing_is_made_of_what_is_packed_and_harmless():
    assert found("assets/a.zip", zipped(a__html=b"<p>Hello.</p>", b__txt=b"1 2 3")) == []
    assert found("assets/a.woff2", b"wOF2\0\1\0\0" + bytes(range(256)) * 9) == []


def test_what_can_t_be_opened_is_told():
    broken = bytearray(zipped(page__html=PAGE * 9))
    broken[40:60] = bytes(20)
    for data in (bytes(broken), gzip.compress(PAGE)[:-9], b"%PDF-1.7\n1 0 obj\n<<>>\nendobj\n"):
        (problem,) = find_leaks({"assets/a.bin": data}, [KEPT])
        assert problem.severity is Severity.WARNING
        assert "can't be looked through" in problem.message


def test_what_unpacks_without_end_is_refused(monkeypatch):
    monkeypatch.setattr("stripewright.publish.opening.MOST_UNPACKED", 1 << 16)
    deep = PAGE
    for _ in range(9):
        deep = zipped(a__zip=deep)
    for data in (zipped(a__bin=bytes(1 << 18)), gzip.compress(bytes(1 << 18)), deep):
        problems = find_leaks({"assets/a.bin": data}, [KEPT])
        assert [one.severity for one in problems] == [Severity.ERROR]
        assert "holds too much" in problems[0].message


def test_stripes_as_good_as_equal_are_drawn_as_everyone_s_are():
    """The public drawing is of equal bands: it tells nothing of stripes that are nearly so."""
    near = Secrets("near", (), ((61, 60, 60, 61),))
    bands = "".join('<rect class="yarn-a" height="9"/>' for _ in range(4))
    assert find_leaks({"patterns/near/strip.svg": f"<svg>{bands}</svg>".encode()}, [near]) == []
