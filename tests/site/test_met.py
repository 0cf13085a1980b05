"""Pages as a viewer meets them: on a phone and at a desk, with and without scripts, from disk."""

from __future__ import annotations

import gzip
from typing import TYPE_CHECKING

import pytest

from support.browser import DESK, PHONE, Complaints, until
from support.pages import all_of

if TYPE_CHECKING:
    from playwright.sync_api import Browser

    from support.pages import Site

pytestmark = pytest.mark.browser

MOST_BYTES = 40 * 1024
SIZE_BYTES = 6 * 1024
"""For each further size of a pattern: its page holds each whole."""
TABLE_BYTES = 4 * 1024
"""Where stripes are made from a table: the page tells the rows of each of its records."""

SHIFTS = """
new Promise(done => {
  let sum = 0;
  new PerformanceObserver(list => {
    for (const entry of list.getEntries()) if (!entry.hadRecentInput) sum += entry.value;
  }).observe({type: 'layout-shift', buffered: true});
  setTimeout(() => done(sum), 100);
})
"""


@pytest.mark.parametrize("device", ["phone", "desk"])
def test_no_page_scrolls_sideways_shifts_complains_or_asks_another_site(
    chromium: Browser, site: Site, device: str
):
    context = chromium.new_context(**(PHONE if device == "phone" else DESK))
    page = context.new_page()
    heard = Complaints(page)
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    wide, shifted = [], []
    for path in dict.fromkeys([*site.kinds().values(), *site.patterns]):
        page.goto((site.folder / path).as_uri())
        if page.evaluate("document.documentElement.scrollWidth > innerWidth"):
            wide.append(path)
        # The sum of layout shift scores; a jump that one can see is 0.1 and more (web.dev, CLS).
        if (score := page.evaluate(SHIFTS)) > 0.01:
            shifted.append((path, score))
    context.close()
    assert wide == []
    assert shifted == []
    assert heard.found == []
    assert [url for url in asked if not url.startswith(site.folder.as_uri())] == []


def test_home_to_catalogue_to_patterns_and_back_from_disk(chromium: Browser, tideline: Site):
    context = chromium.new_context(**DESK)
    page = context.new_page()
    heard = Complaints(page)
    page.goto((tideline.folder / "index.html").as_uri())
    page.click("nav >> text=Patterns")
    page.wait_for_url("**/patterns/index.html")
    cards = page.locator(".card-title a")
    titles = cards.all_inner_texts()
    assert len(titles) == len(tideline.patterns) >= 9
    for number in (0, len(titles) // 2, len(titles) - 1):
        cards.nth(number).click()
        until(page.locator("h1").inner_text, titles[number])
        page.go_back()
        page.wait_for_selector(".card-title a")
    page.click(".site-name a")
    until(lambda: page.locator("body").get_attribute("data-page"), "home")
    context.close()
    assert heard.found == []


def test_all_can_be_read_without_scripts(chromium: Browser, site: Site):
    context = chromium.new_context(**PHONE, java_script_enabled=False)
    page = context.new_page()
    page.goto((site.folder / site.first(free=True)).as_uri())
    for fold in page.locator("main details > summary").all():
        fold.click()
    rows = [row for row in page.locator("main [data-last]").all() if row.is_visible()]
    tree = site.trees[site.first(free=True)]
    told = [one for name in ("tr", "span") for one in all_of(tree, name) if one.get("data-last")]
    assert len(rows) == len(told) > 4
    for row in rows:
        assert f"{int(row.get_attribute('data-last')):03d}" in row.inner_text()
    assert page.locator("ol.steps li").first.is_visible()
    assert page.locator("figure svg").first.is_visible()
    # What only scripts can do isn't promised: no tool, and no heading over an empty one.
    assert page.locator("main button:visible").count() == 0
    assert not page.locator("h2#own-colours").is_visible()
    page.goto((site.folder / "patterns/index.html").as_uri())
    assert page.locator("li.card:visible").count() == len(site.patterns)
    assert page.locator("main select:visible").count() == 0
    context.close()


def test_a_pattern_page_moves_at_most_40_kb_compressed(site: Site):
    """Everything that it loads on a first visit, drawings, styles and scripts; pictures apart."""
    for path in site.patterns:
        folder = (site.folder / path).parent
        parts = [path.rpartition("/")[2]]
        for element in [*all_of(site.trees[path], "link"), *all_of(site.trees[path], "script")]:
            address = element.get("src") or element.get("href") or ""
            if element.get("rel") in (None, "stylesheet", "icon") and address:
                parts.append(address)
        weights = {part: len(gzip.compress((folder / part).read_bytes())) for part in parts}
        assert len(weights) > 8
        sizes = all_of(site.trees[path], "section")
        further = len({one.get("data-in-size") for one in sizes} - {"base", None})
        told = any(one.get("class") == "record-list" for one in all_of(site.trees[path], "ol"))
        most = MOST_BYTES + SIZE_BYTES * further + TABLE_BYTES * told
        assert sum(weights.values()) <= most, (path, weights)


def test_first_paint_waits_for_no_script(site: Site):
    for path, tree in site.trees.items():
        for script in all_of(tree, "script"):
            assert script.get("src") is None or script.get("defer") is not None, path


def test_keyboard_goes_from_the_skip_link_into_the_content(chromium: Browser, site: Site):
    context = chromium.new_context(**DESK)
    page = context.new_page()
    page.goto((site.folder / "patterns/index.html").as_uri())
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.textContent") == "Skip to the content"
    until(lambda: page.evaluate("document.activeElement.getBoundingClientRect().left") >= 0)
    page.keyboard.press("Enter")
    until(lambda: page.evaluate("document.activeElement.id"), "main")
    context.close()
