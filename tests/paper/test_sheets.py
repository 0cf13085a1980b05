"""Planning sheets, measured on the page: marks, bands, rulers, numbers."""

from __future__ import annotations

import io
import re
import subprocess
from functools import cache

import cv2
import numpy as np
import pytest
from pypdf import PdfReader

from stripewright.paper.marks import BITS
from stripewright.paper.sheet_plan import (
    BOTTOM,
    LABEL,
    LEAST_BAND,
    NOTE,
    PAPERS_MM,
    TOP,
    pages_of,
)
from stripewright.paper.sheet_subject import of_piece, of_sheet
from stripewright.paper.sheets import blank_sheet, sheets_pdf
from stripewright.pattern.sheets import SheetOf, Sheets
from support.demo import DEMO, demo_settings
from support.papers import demo, squeezed, tool

CIRCULAR = {"bed": "circular", "needles": 40}
GAUGE = "14 sts x 21 rows / 10 cm"
KINDS = {
    "tube": {"form": "tube", "machine": CIRCULAR, "gauge": GAUGE, "rows": 60},
    "panel": {
        "form": "panel",
        "machine": CIRCULAR,
        "gauge": "25 sts x 34 rows / 10 cm",
        "rows": 250,
    },
    "filled": {"form": "filled", "machine": CIRCULAR, "gauge": GAUGE, "rows": 80},
    "hat": {
        "form": "hat",
        "machine": {"bed": "circular", "needles": 100},
        "gauge": GAUGE,
        "rows": 58,
    },
    "blanket": {
        "form": "blanket",
        "machine": {"bed": "flat", "needles": 30},
        "gauge": GAUGE,
        "rows": 90,
        "panels": 5,
    },
}
PAPERS = tuple(PAPERS_MM)


def sheet(kind: str) -> dict:
    return {"title": f"Plan a {kind}"} | KINDS[kind]


def sheets(*kinds: str) -> Sheets:
    return Sheets.model_validate(
        {"title": "Winter plans", "summary": "To colour in.", "sheets": [sheet(k) for k in kinds]}
    )


@cache
def made(kind: str, paper: str) -> bytes:
    data, _ = sheets_pdf(sheets(kind), paper, demo_settings(), DEMO.theme_files("tideline"))
    return data


@cache
def picture(kind: str, paper: str, dpi: int, page: int = 1) -> np.ndarray:
    """A page as grey pixels, as a printer would lay it down."""
    options = ["-r", str(dpi), "-f", str(page), "-l", str(page), "-gray", "-singlefile"]
    done = subprocess.run(
        ["pdftoppm", *options, "-"], input=made(kind, paper), capture_output=True, check=True
    )
    return cv2.imdecode(np.frombuffer(done.stdout, np.uint8), cv2.IMREAD_GRAYSCALE)


def marks_in(image: np.ndarray) -> dict[int, np.ndarray]:
    """Id -> corners in pixels, of the marks that OpenCV's own detector finds."""
    dictionary = cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_4X4_50)
    corners, ids, _ = cv2.aruco.ArucoDetector(dictionary).detectMarkers(image)
    return {} if ids is None else {int(n): c[0] for n, c in zip(ids.ravel(), corners, strict=True)}


@pytest.mark.reference
def test_bits_are_the_published_ones():
    """The four marks against OpenCV's predefined dictionary, module by module."""
    dictionary = cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_4X4_50)
    for number, rows in enumerate(BITS):
        drawn = cv2.aruco.generateImageMarker(dictionary, number, 6, borderBits=1)
        inside = ["".join("1" if module else "0" for module in row) for row in drawn[1:5, 1:5]]
        assert tuple(inside) == rows


@pytest.mark.reference
@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("dpi", [100, 150, 300])
def test_marks_are_found(paper, dpi):
    """All four, each in its corner, clockwise from the top left."""
    image = picture("tube", paper, dpi)
    found = marks_in(image)
    assert sorted(found) == [0, 1, 2, 3]
    middles = [found[n].mean(axis=0) / (image.shape[1], image.shape[0]) for n in range(4)]
    corners = [(x > 0.5, y > 0.5) for x, y in middles]
    assert corners == [(False, False), (True, False), (True, True), (False, True)]
    side = np.linalg.norm(found[0][1] - found[0][0]) / dpi * 25.4
    assert side == pytest.approx(12.0, abs=0.35)


@pytest.mark.reference
@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("seed", range(2))
def test_marks_are_found_in_a_bad_photo(kind, seed):
    """Tilted, turned, badly lit, blurred and noisy: as a phone takes it."""
    lot = np.random.default_rng(seed)
    image = cv2.copyMakeBorder(
        picture(kind, "a4", 100), 120, 120, 120, 120, cv2.BORDER_CONSTANT, value=90
    )
    high, wide = image.shape
    square = np.float32([[0, 0], [wide, 0], [wide, high], [0, high]])
    tilted = square + lot.uniform(0, 0.09 * wide, (4, 2)).astype(np.float32) * [
        [1, 1],
        [-1, 1],
        [-1, -1],
        [1, -1],
    ]
    tilt = cv2.getPerspectiveTransform(square, np.float32(tilted))
    turn = np.vstack(
        [cv2.getRotationMatrix2D((wide / 2, high / 2), lot.uniform(-12, 12), 0.92), [0, 0, 1]]
    )
    photo = cv2.warpPerspective(image, turn @ tilt, (wide, high), borderValue=90).astype(np.float64)
    light = np.linspace(0.65, 1.0, wide)[None, :] * np.linspace(1.0, 0.8, high)[:, None]
    photo = cv2.GaussianBlur(photo * light, (3, 3), 0.8) + lot.normal(0, 9, photo.shape)
    assert sorted(marks_in(photo.clip(0, 255).astype(np.uint8))) == [0, 1, 2, 3]


def lines_mm(image: np.ndarray, dpi: int, column_mm: float) -> list[float]:
    """Where horizontal lines cross a column, in mm from the top, to a fraction of a pixel."""
    column = int(column_mm / 25.4 * dpi)
    dark = 255.0 - image[:, column - 3 : column + 4].mean(axis=1)
    rows = np.flatnonzero(dark > 40)
    groups = np.split(rows, np.flatnonzero(np.diff(rows) > 1) + 1)
    return [float((dark[g] * g).sum() / dark[g].sum() + 0.5) / dpi * 25.4 for g in groups if len(g)]


@pytest.mark.parametrize(("kind", "paper"), [("tube", "a4"), ("panel", "a4"), ("panel", "letter")])
def test_a_band_is_as_high_as_computed(kind, paper):
    """Each printed band, measured on a 400 dpi print, to 0.1 mm."""
    page = pages_of(of_sheet(SheetOf.model_validate(sheet(kind))), paper)[0]
    outline, band = page["outline"], page["band"]
    lines = lines_mm(picture(kind, paper, 400), 400, outline["x"] + outline["width"] * 0.3)
    inside = [y for y in lines if outline["y"] - 0.5 < y < outline["y"] + outline["height"] + 0.5]
    heights = np.diff(inside)
    assert len(heights) == page["last"] - page["first"] + 1
    assert heights == pytest.approx(band, abs=0.1)
    assert inside[0] == pytest.approx(outline["y"], abs=0.1)


@pytest.mark.parametrize("paper", PAPERS)
def test_the_ruler_is_true(paper):
    """A printed 10 cm is 10 cm and 4 in are 101.6 mm, from the first tick to the last."""
    page = pages_of(of_sheet(SheetOf.model_validate(sheet("tube"))), paper)[0]
    x, y = page["ruler"]["x"], page["ruler"]["y"]
    dpi = 400
    image = picture("tube", paper, dpi)

    def ticks(at_mm: float) -> list[float]:
        across = image[
            int(at_mm / 25.4 * dpi), int((x - 2) / 25.4 * dpi) : int((x + 102.2) / 25.4 * dpi)
        ]
        dark = np.flatnonzero(across < 160)
        groups = np.split(dark, np.flatnonzero(np.diff(dark) > 1) + 1)
        return [float(group.mean()) / dpi * 25.4 for group in groups]

    centimetres, half_inches = ticks(y - 1), ticks(y + 6)
    assert np.diff(centimetres) == pytest.approx([10.0] * 10, abs=0.1)
    assert centimetres[-1] - centimetres[0] == pytest.approx(100.0, abs=0.1)
    assert np.diff(half_inches) == pytest.approx([12.7] * 8, abs=0.1)
    assert half_inches[-1] - half_inches[0] == pytest.approx(101.6, abs=0.1)


@pytest.mark.parametrize("kind", KINDS)
def test_outline_keeps_its_shape(kind):
    """Across and along the same scale, on the page and in the small view, unless said to be cut."""
    subject = of_sheet(SheetOf.model_validate(sheet(kind)))
    for page in pages_of(subject, "a4"):
        small = page["thumb"]
        ratio = subject.width_cm / subject.length_cm
        assert small["width"] / small["height"] == pytest.approx(ratio)
        if not page["broken"]:
            rows = page["last"] - page["first"] + 1
            along = rows / subject.gauge.rows_per_cm * 10
            assert page["outline"]["width"] / page["outline"]["height"] == pytest.approx(
                subject.width_cm * 10 / along
            )
        assert page["band"] >= LEAST_BAND


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("paper", PAPERS)
def test_no_sheet_leaves_its_top_blank(kind, paper):
    """The outline begins under the head; what is left below it has lines to write on."""
    subject = of_sheet(SheetOf.model_validate(sheet(kind)))
    for page in pages_of(subject, paper):
        outline, notes = page["outline"], page["notes"]
        foot, end = outline["y"] + outline["height"], PAPERS_MM[paper][1] - BOTTOM
        assert outline["y"] == TOP
        assert notes["y"] > foot
        written = notes["y"] + notes["lines"] * NOTE if notes["lines"] else foot
        assert end - NOTE - 10 <= written <= end + 0.1


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("paper", PAPERS)
def test_every_row_has_its_band_once(kind, paper):
    """Rows go on from page to page; numbers and readings stand at every fifth."""
    subject = of_sheet(SheetOf.model_validate(sheet(kind)))
    pages = pages_of(subject, paper)
    bands = [band for page in pages for band in page["bands"]]
    band_mm = pages[0]["band"]
    assert [band["row"] for band in bands] == list(range(1, subject.rows + 1))
    before, after = (end.rows for end in subject.ends)
    numbered = {int(band["number"]): band["row"] for band in bands if band["number"]}
    assert set(numbered) == {1, *range(5, subject.visible + 1, 5)}
    assert all(row == visible + before for visible, row in numbered.items())
    read = [int(band["reading"]) for band in bands if band["reading"]]
    crowded = {row for row in range(5, subject.rows, 5) if (subject.rows - row) * band_mm < LABEL}
    assert set(read) == {*range(5, subject.rows + 1, 5), subject.rows} - crowded
    marked = [band["row"] for band in bands if band["allowance"]]
    assert marked == [*range(1, before + 1), *range(subject.rows - after + 1, subject.rows + 1)]


def test_the_last_two_readings_don_t_print_over_each_other():
    """176 worked rows: the last band says 176, and 175 right below it nothing."""
    asked = sheet("filled") | {"rows": 174, "gauge": "12.5 sts x 20 rows / 10 cm"}
    bands = pages_of(of_sheet(SheetOf.model_validate(asked)), "a4")[-1]["bands"]
    assert [band["reading"] for band in bands[-7:]] == ["170", "", "", "", "", "", "176"]


def test_allowances_of_each_form():
    """Common practice, no source: a seam and a gathering take one row, an open end none."""
    taken = {k: [e.rows for e in of_sheet(SheetOf.model_validate(sheet(k))).ends] for k in KINDS}
    assert taken == {
        "tube": [0, 0],
        "panel": [0, 0],
        "filled": [1, 1],
        "hat": [0, 1],
        "blanket": [0, 0],
    }


def test_a_long_piece_runs_on(tmp_path):
    """250 rows: over several pages, each saying where it goes on."""
    text = squeezed(tool("pdftotext", made("panel", "letter"), tmp_path, "-layout"))
    pages = pages_of(of_sheet(SheetOf.model_validate(sheet("panel"))), "letter")
    assert len(pages) == 4
    for page in pages[1:]:
        assert f"from row {page['first'] - 1}" in text
        assert f"part {page['number']} of 4" in text
    assert re.search(r"RC 70 .*? 140 .*? 210 ", text) or all(
        n in text for n in ("070", "140", "210")
    )


@pytest.mark.parametrize("paper", PAPERS)
def test_a_book(paper, tmp_path):
    """Title page, contents with page numbers, then the sheets; bookmarks for each."""
    data, pages = sheets_pdf(sheets(*KINDS), paper, demo_settings(), DEMO.theme_files("ledger"))
    pdf = PdfReader(io.BytesIO(data))
    assert len(pdf.pages) == pages
    assert [item.title for item in pdf.outline] == [f"Plan a {kind}" for kind in KINDS]
    texts = [squeezed(page.extract_text()) for page in pdf.pages]
    assert "Winter plans" in texts[0]
    assert "Contents" in texts[1]
    for item in pdf.outline:
        number = pdf.get_destination_page_number(item)
        assert item.title in texts[number]
        assert re.search(rf"{re.escape(item.title)}[ .]*{number + 1}\b", texts[1])
    width, height = PAPERS_MM[paper]
    assert float(pdf.pages[0].mediabox.width) == pytest.approx(width / 25.4 * 72, abs=0.5)
    assert float(pdf.pages[0].mediabox.height) == pytest.approx(height / 25.4 * 72, abs=0.5)
    assert tool("pdfinfo", data, tmp_path).count("Tagged:          yes") == 1


def test_a_pattern_blank(tmp_path):
    """The pack's sheet: the pattern's own rows and width, no stripe, no yarn."""
    worked = demo("lamplit-bolster").worked
    data = blank_sheet(worked, "a4", demo_settings(), DEMO.theme_files("tideline"))
    text = squeezed(tool("pdftotext", data, tmp_path))
    cover = worked.piece("cover")
    subject = of_piece(worked, cover)
    assert subject.rows == cover.worked_rows
    assert subject.width_cm == pytest.approx(cover.flat_width_cm)
    assert f"{cover.worked_rows} rows" in text
    assert not any(yarn.name in text for yarn in worked.yarns)
    assert "Lining" not in text


def test_each_size_has_its_sheets_with_its_brim_marked(tmp_path):
    """Of the Two tides hat the slouchy size alone has a brim: twelve rows, turned up at the fold."""
    worked = demo("two-tides-hat").worked
    turned = {}
    for key in worked.size_keys:
        one = worked.of_size(key)
        pages = pages_of(of_piece(one, one.piece("hat")), "a4")
        turned[key] = [band["row"] for page in pages for band in page["bands"] if band["brim"]]
    brim = worked.of_size("slouchy").piece("hat").brim
    assert turned == {"base": [], "child": [], "slouchy": [brim.turn]}
    data = blank_sheet(worked, "a4", demo_settings(), DEMO.theme_files("tideline"))
    pages = squeezed(tool("pdftotext", data, tmp_path)).split("Name")
    assert [page.count("brim") for page in pages].count(1) == 1
    for size in ("Adult", "Child", "Slouchy"):
        assert f"Two tides hat, {size}: Hat" in "".join(pages)


def test_same_sheet_same_bytes():
    once, _ = sheets_pdf(sheets("hat"), "a4", demo_settings(), DEMO.theme_files("tideline"))
    assert once == made("hat", "a4")


@pytest.mark.reference
def test_outside_checkers_find_nothing(tmp_path):
    """pdfua and outloud, as for a pattern."""
    from support.papers import assert_accessible

    path = tmp_path / "paper.pdf"
    path.write_bytes(sheets_pdf(sheets("tube", "filled"), "a4", demo_settings())[0])
    assert_accessible(path)
