"""The pattern's PDF, as poppler, pypdf, OpenCV and two accessibility checkers read it."""

from __future__ import annotations

import io
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest
from pypdf import PdfReader

from stripewright.catalogue import speaking
from stripewright.paper import engine
from stripewright.view.runs import in_runs
from support.demo import DEMO, demo_settings
from support.papers import (
    PAPERS,
    PATTERNS,
    THEMES,
    assert_accessible,
    demo,
    demo_pdf,
    elements,
    made_from,
    squeezed,
    tool,
)

COMBINATIONS = [
    pytest.param(slug, paper, theme, id=f"{slug}-{paper}-{theme}")
    for slug in PATTERNS
    for paper, theme in zip(PAPERS, THEMES, strict=True)
]
SIZES = {"a4": "595.276 x 841.89 pts (A4)", "letter": "612 x 792 pts (letter)"}
"""ISO 216 A4 and Letter, in points of 1/72 in, as pdfinfo names them."""


def reader(data: bytes) -> PdfReader:
    return PdfReader(io.BytesIO(data))


def said_of(drawing) -> str:
    return squeezed(drawing.description)


@pytest.mark.parametrize(("slug", "paper", "theme"), COMBINATIONS)
def test_says_what_it_is(slug, paper, theme, tmp_path):
    """Title, size, tags, embedded fonts: as pdfinfo and pdffonts see them."""
    data = demo_pdf(slug, paper, theme)
    info = dict(
        line.split(":", 1) for line in tool("pdfinfo", data, tmp_path).splitlines() if ":" in line
    )
    info = {key: value.strip() for key, value in info.items()}
    assert info["Title"] == demo(slug).worked.pattern.title
    assert info["Author"] == demo_settings().maker
    assert info["Tagged"] == "yes"
    assert info["Encrypted"] == "no"
    assert info["JavaScript"] == "no"
    assert info["Page size"] == SIZES[paper]
    fonts = tool("pdffonts", data, tmp_path).splitlines()[2:]
    assert fonts
    for font in fonts:
        embedded, subset, unicode = font.split()[-5:-2]
        assert (embedded, subset, unicode) == ("yes", "yes", "yes"), font


@pytest.mark.parametrize(("slug", "paper", "theme"), COMBINATIONS)
def test_is_tagged_for_everyone_and_for_later(slug, paper, theme):
    """What PDF/UA-1 (ISO 14289-1) and PDF/A-2a (ISO 19005-2) ask of the file as a whole."""
    made, pdf = demo(slug), reader(demo_pdf(slug, paper, theme))
    root = pdf.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"] == True  # noqa: E712  # pypdf's own boolean
    assert root["/Lang"] == demo_settings().language
    assert root["/ViewerPreferences"]["/DisplayDocTitle"] == True  # noqa: E712  # as above
    assert root["/OutputIntents"][0]["/S"] == "/GTS_PDFA1"
    xmp = root["/Metadata"].get_data().decode()
    assert re.search(r"<pdfuaid:part>1<", xmp)
    assert re.search(r"<pdfaid:part>2<", xmp)
    assert re.search(r"<pdfaid:conformance>A<", xmp)
    figures = elements(pdf, "/Figure")
    alternatives = [squeezed(str(figure["/Alt"])) for figure in figures]
    for drawing in made.drawings.everything():
        assert said_of(drawing) in alternatives
    assert all(alternatives)


@pytest.mark.parametrize(("slug", "paper", "theme"), COMBINATIONS)
def test_bookmarks_follow_the_parts(slug, paper, theme):
    """Sections, and under the plan each piece, under the steps each group."""
    made, pdf = demo(slug), reader(demo_pdf(slug, paper, theme))
    tops = [item.title for item in pdf.outline if not isinstance(item, list)]
    wanted = ["What you need", "The plan", "Step by step", "Small print"]
    assert [title for title in tops if title in wanted] == wanted
    below = {}
    for before, item in zip(pdf.outline, pdf.outline[1:], strict=False):
        if isinstance(item, list):
            below[before.title] = [child.title for child in item if not isinstance(child, list)]
    pieces = made.worked.pieces
    assert [title.split(" (make")[0] for title in below["The plan"]] == [p.title for p in pieces]
    groups = [group.title for group in made.written.groups]
    assert (
        below["Step by step"][: len(groups)] == groups
    )  # then what the author has below the steps


STOPS = r"(?:,\s[^.]{0,160}?|\s(?:from|all)\s[\d\D]{0,160}?)?"
"""Where to stop inside a stripe, that several merged into it, or what it is knitted from."""


@pytest.mark.parametrize(("slug", "paper", "theme"), COMBINATIONS)
def test_every_row_of_the_plan_in_order(slug, paper, theme, tmp_path):
    """Each stripe's letter, yarn, rows and counter reading, one after the other; of one that is
    knitted again, as a block repeats, its letter and reading."""
    made = demo(slug)
    text = tool("pdftotext", demo_pdf(slug, paper, theme), tmp_path, "-raw")
    at = text.index("The plan")
    for piece in made.worked.pieces:
        again = {
            number
            for block in piece.repeats
            for number in range(
                block.first + block.stripes, block.first + block.stripes * block.times
            )
        }
        for number, line in enumerate(piece.plan):
            if not line.rows:
                continue
            yarn = re.escape(made.worked.yarn(line.yarn).name) + STOPS
            row = rf"\b{line.letter}\s+{yarn}\s+{line.rows}\s+0*{line.last}\b"
            if number in again:
                row = rf"\b{line.letter}\s+0*{line.last}\b"
            found = re.compile(row).search(text, at)
            assert found, f"{piece.key}: {row}"
            at = found.end()


@pytest.mark.parametrize(("slug", "paper", "theme"), COMBINATIONS)
def test_every_step_and_caution_is_there(slug, paper, theme, tmp_path):
    """Whole texts, in order; hyphens at line ends undone."""
    made = demo(slug)
    text = tool("pdftotext", demo_pdf(slug, paper, theme), tmp_path)
    text = without_gaps(text)
    at = 0
    for group in made.written.groups:
        for step in in_runs(group):
            at = text.find(without_gaps(step.text), at)
            assert at >= 0, step.text
    for caution in made.written.cautions:
        assert without_gaps(caution.text) in text


LONG = """\
---
title: A long one
summary: Seventy stripes, each a row wider than the last.
access: free
published: 2026-09-05
kind: scarf
machine: {bed: circular, needles: 48}
gauge: 20 sts x 30 rows / 10 cm
yarns:
  deep: {name: Deep water, colour: "#1f3d5c"}
  foam: {name: Foam, colour: "#dfe9e4"}
pieces:
  scarf: {form: tube, stripes: [{graded: [deep, foam], first: 1, by: 1, stripes: 70}]}
---
Text.
"""


def test_a_long_run_of_stripes_is_told_down_the_plan(tmp_path):
    """The plan has all seventy; the steps say how to go down it."""
    text = tool("pdftotext", made_from(LONG.encode(), "long").pdf(), tmp_path)
    plan, steps = text.split("Step by step")
    for number in range(1, 71):
        assert f"{number * (number + 1) // 2:03}" in plan
    told = " ".join(steps.split())
    assert "Stripes 2 to 70. Knit on down the plan" in told
    assert "Rows 4–6" not in told
    assert "Take off" in told


def without_gaps(text: str) -> str:
    """Letters and digits alone: page ends, line ends and hyphens fall out."""
    text = re.sub(r"\n[^\n]* · version [^\n]*\n+(?:[^\n]* / \d+\n)?", "\n", text)
    text = re.sub(r"\n\d+ / \d+\n", "\n", text)
    return re.sub(r"[\W_]+", "", text)


class Strict:
    """Typst with every warning an error."""

    def __init__(self) -> None:
        from typst import Compiler

        self._compiler = Compiler(ignore_system_fonts=True)

    def compile(self, **options):
        made, warnings = self._compiler.compile_with_warnings(**options)
        assert [warning.message for warning in warnings] == []
        return made


@pytest.mark.parametrize("slug", PATTERNS)
def test_typst_warns_of_nothing(slug, monkeypatch):
    """A warning is a template that sets less than it was given."""
    monkeypatch.setattr(engine, "_compiler", Strict)
    assert demo(slug).pdf("a4", "ledger") == demo_pdf(slug, "a4", "ledger")


def test_same_content_same_bytes(tmp_path):
    """Again in this process, and in another one with another clock, language and folder."""
    slug = PATTERNS[0]
    first = demo_pdf(slug, "a4", "tideline")
    assert demo(slug).pdf("a4", "tideline") == first
    code = (
        "import sys; from support.papers import demo_pdf; "
        f"sys.stdout.buffer.write(demo_pdf({slug!r}, 'a4', 'tideline'))"
    )
    tests = Path(__file__).resolve().parents[1]
    elsewhere = os.environ | {
        "PYTHONPATH": f"{tests}:{DEMO.root / 'generator'}",
        "TZ": "Pacific/Kiritimati",
        "LC_ALL": "C",
        "PYTHONHASHSEED": "7",
        "HOME": str(tmp_path),
    }
    again = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, check=True, cwd=tmp_path, env=elsewhere
    )
    assert again.stdout == first


def test_the_code_leads_to_the_pattern(tmp_path):
    """OpenCV reads the QR code on the printed cover; without an address there is none."""
    import cv2

    slug = PATTERNS[0]
    read = cv2.QRCodeDetector()
    (tmp_path / "paper.pdf").write_bytes(demo_pdf(slug, "a4", "tideline"))
    cover = page_picture(tmp_path / "paper.pdf", 1, 150)
    words, *_ = read.detectAndDecode(cover)
    assert words == f"{demo_settings().address}patterns/{slug}/"
    nowhere = demo_settings().model_copy(update={"address": None})
    (tmp_path / "paper.pdf").write_bytes(demo(slug).pdf(settings=nowhere))
    words, *_ = read.detectAndDecode(page_picture(tmp_path / "paper.pdf", 1, 150))
    assert words == ""


def page_picture(path: Path, page: int, dpi: int):
    import cv2

    options = ["-r", str(dpi), "-f", str(page), "-l", str(page), "-png", "-singlefile"]
    subprocess.run(["pdftoppm", *options, path, path.with_suffix("")], check=True)
    return cv2.imread(str(path.with_suffix(".png")), cv2.IMREAD_GRAYSCALE)


@pytest.mark.reference
@pytest.mark.parametrize("slug", ["lamplit-bolster", "winter-forecast-scarf"])
def test_outside_checkers_find_nothing(slug, tmp_path):
    """pdfua (rules of ISO 14289-1) and outloud (Matterhorn Protocol 1.1 checkpoints)."""
    path = tmp_path / "paper.pdf"
    path.write_bytes(demo_pdf(slug, "a4", "tideline"))
    assert_accessible(path)


@pytest.mark.reference
def test_checkers_can_find_something(tmp_path):
    """The same checkers turn down a PDF without tags, so their silence means something."""
    import typst

    path = tmp_path / "paper.pdf"
    path.write_bytes(typst.compile(b"= A heading\nand text", format="pdf", pdf_tags=False))
    with pytest.raises(AssertionError):
        assert_accessible(path)


@pytest.mark.parametrize(
    ("mistake", "told"),
    [
        (b'#read("content/studio.yaml")', "can't read files"),
        (b'#read("/etc/passwd")', "can't read files"),
        (b'#read("../../../pyproject.toml")', "can't read files"),
        (b'#image("photo.png")', "can't read files"),
        (b'#import "@preview/any:0.1.0": *', "can't fetch packages"),
    ],
)
def test_a_print_template_reads_nothing_and_fetches_nothing(mistake, told, monkeypatch, tmp_path):
    (tmp_path / "content").mkdir()
    (tmp_path / "content/studio.yaml").write_text("title: x")
    (tmp_path / "photo.png").write_bytes(b"x")
    monkeypatch.chdir(tmp_path)
    with pytest.raises(engine.NotSet, match=told) as refused:
        engine.pdf(b'#set document(title: "x")\n' + mistake, {})
    assert refused.value.line == 2
    assert str(tmp_path) not in str(refused.value.message)


def test_the_template_s_own_words_follow_the_locale(tmp_path):
    settings = demo_settings().model_copy(update={"terms": "us", "language": "en-US"})
    made = made_from(
        (DEMO.content / "patterns/ebb-baby-hat.md").read_bytes(), "ebb-baby-hat", settings
    )
    with speaking(settings.words):
        text = tool("pdftotext", made.pdf(settings=settings), tmp_path)
    assert "Gauge" in text
    assert "Tension" not in text
