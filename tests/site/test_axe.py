"""axe on every type of page, light and dark, in both themes: no finding at all."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from axe_playwright_python.sync_playwright import Axe

from support.browser import DESK, PHONE

if TYPE_CHECKING:
    from playwright.sync_api import Browser

    from support.pages import Site

pytestmark = pytest.mark.browser

RULES = {
    "runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"],
    "resultTypes": ["violations"],
}


def findings(page) -> list[str]:
    found = Axe().run(page, options=RULES).response["violations"]
    return [
        f"{one['id']}: {node['html'][:120]} ({'; '.join(m['message'] for m in node['any'][:1])})"
        for one in found
        for node in one["nodes"][:3]
    ]


def look(chromium: Browser, site: Site, paths: dict[str, str], **options) -> dict[str, list[str]]:
    context = chromium.new_context(**options, reduced_motion="reduce")
    page = context.new_page()
    found = {}
    for kind, path in paths.items():
        page.goto((site.folder / path).as_uri())
        found[kind] = findings(page)
    context.close()
    return {kind: told for kind, told in found.items() if told}


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing(chromium: Browser, site: Site, scheme: str):
    kinds = site.kinds()
    assert {
        "home",
        "catalogue",
        "posts",
        "post",
        "page",
        "tags",
        "tag",
        "sheets",
        "404",
    } < kinds.keys()
    assert look(chromium, site, kinds, **DESK, color_scheme=scheme) == {}


def test_axe_finds_nothing_on_a_phone(chromium: Browser, site: Site):
    """Where a phone's page differs from a desk's: the order and the size of things."""
    paths = {kind: site.kinds()[kind] for kind in ("catalogue", "free pattern")}
    assert look(chromium, site, paths, **PHONE) == {}


def test_axe_would_find_something(chromium: Browser, site: Site):
    """The same check fails when a page is broken on purpose."""
    context = chromium.new_context(**DESK)
    page = context.new_page()
    page.goto((site.folder / "index.html").as_uri())
    page.evaluate("document.querySelector('img').removeAttribute('alt')")
    assert any(told.startswith("image-alt") for told in findings(page))
    context.close()
