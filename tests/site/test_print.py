"""A pattern page on paper: A4 and Letter, one sheet for materials and plan, nothing cut."""

from __future__ import annotations

import io
import re
import unicodedata
from typing import TYPE_CHECKING

import pytest
from pypdf import PdfReader

from support.browser import DESK
from support.pages import all_of, words

if TYPE_CHECKING:
    from playwright.sync_api import Browser

    from support.pages import Site

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def printed(chromium: Browser):
    def print_page(site: Site, path: str, paper: str, **options) -> list[str]:
        context = chromium.new_context(**DESK, **options)
        page = context.new_page()
        page.goto((site.folder / path).as_uri())
        data = page.pdf(format=paper, prefer_css_page_size=True)
        context.close()
        reader = PdfReader(io.BytesIO(data))
        return [sheet.extract_text() for sheet in reader.pages]

    return print_page


def squeezed(text: str) -> str:
    """Without spaces, which a PDF's lines don't keep, and without ligatures."""
    return "".join(unicodedata.normalize("NFKC", text).split())


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_the_first_sheet_has_materials_and_the_whole_plan(printed, site: Site, paper: str):
    path = "patterns/lamplit-bolster/index.html"
    tree = site.trees[path]
    sheets = printed(site, path, paper)
    materials = next(u for u in all_of(tree, "ul") if u.get("class") == "materials")
    for item in materials:
        assert squeezed(str(item.get("data-name"))) in squeezed(sheets[0])
    for row in all_of(tree, "tr"):
        if row.get("data-last"):
            assert f"RC{int(row.get('data-last')):03d}" in squeezed(sheets[0])
    title = re.compile(r"before\s+you\s+start", re.IGNORECASE)
    assert not title.search(sheets[0])
    assert title.search(sheets[1])


def test_every_row_of_a_long_plan_and_every_step_is_printed_once_and_whole(printed, site: Site):
    path = "patterns/winter-forecast-scarf/index.html"
    tree = site.trees[path]
    sheets = printed(site, path, "A4")
    readings = [
        f"RC{int(row.get('data-last')):03d}" for row in all_of(tree, "tr") if row.get("data-last")
    ]
    assert len(readings) > 25
    for reading in readings:
        assert reading in squeezed(sheets[0])
    runs = [one for one in all_of(tree, "li") if one.get("class") == "run"]
    down_the_plan = {id(step) for run in runs for step in all_of(run, "li")}
    told = [all_of(run, "p")[0] for run in runs]
    told += [one for one in all_of(tree, "li") if str(one.get("id")).startswith("step-")]
    assert runs
    for step in told:
        text = squeezed(words(step))
        once = sum(text in squeezed(sheet) for sheet in sheets)
        assert once == (0 if id(step) in down_the_plan else 1), text


def test_no_chrome_of_the_site_is_printed(printed, site: Site):
    text = " ".join(printed(site, "patterns/lamplit-bolster/index.html", "A4"))
    for chrome in ("Skip to the content", "Feed of new patterns", "Keep count", "On this page",
                   "Copy as text", "Sheets"):  # fmt: skip
        assert squeezed(chrome).casefold() not in squeezed(text).casefold()


def test_no_heading_is_left_at_the_foot_of_a_sheet(printed, site: Site):
    path = "patterns/lamplit-bolster/index.html"
    heads = {words(h).casefold() for level in ("h2", "h3") for h in all_of(site.trees[path], level)}
    for sheet in printed(site, path, "Letter"):
        lines = [line for line in sheet.splitlines() if line.strip()]
        assert lines[-1].strip().casefold() not in heads


def test_a_dark_screen_prints_black_on_white_with_hatches(chromium: Browser, site: Site):
    context = chromium.new_context(**DESK, color_scheme="dark")
    page = context.new_page()
    page.goto((site.folder / "patterns/lamplit-bolster/index.html").as_uri())
    page.emulate_media(media="print")
    ink, paper = page.evaluate(
        "[getComputedStyle(document.body).color, getComputedStyle(document.documentElement)"
        ".getPropertyValue('--paper').trim()]"
    )
    assert (ink, paper) == ("rgb(0, 0, 0)", "#fff")
    shown = page.evaluate("getComputedStyle(document.querySelector('.plate .hatch')).visibility")
    assert shown == "visible"
    context.close()
