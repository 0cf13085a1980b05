"""axe on every type of page, light and dark, in both themes: no finding at all."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from support.axe import findings
from support.browser import DESK, PHONE

if TYPE_CHECKING:
    from playwright.sync_api import Browser

    from support.pages import Site

pytestmark = pytest.mark.browser


def look(
    chromium: Browser, site: Site, paths: dict[str, str], scheme: str = "light", **options
) -> dict[str, list[tuple[str, list[str]]]]:
    context = chromium.new_context(**options, color_scheme=scheme)
    page = context.new_page()
    found = {}
    for kind, path in paths.items():
        page.goto((site.folder / path).as_uri())
        found[kind] = findings(page, scheme)
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
    assert look(chromium, site, kinds, scheme, **DESK) == {}


def test_axe_finds_nothing_on_a_phone(chromium: Browser, site: Site):
    """Where a phone's page differs from a desk's: the order and the size of things."""
    paths = {kind: site.kinds()[kind] for kind in ("catalogue", "free pattern")}
    assert look(chromium, site, paths, **PHONE) == {}


def test_axe_would_find_something(chromium: Browser, tideline: Site):
    """The same check fails when a page is broken on purpose."""
    context = chromium.new_context(**DESK)
    page = context.new_page()
    page.goto((tideline.folder / "index.html").as_uri())
    page.evaluate("document.querySelector('img').removeAttribute('alt')")
    assert "image-alt" in [rule for rule, _ in findings(page)]
    context.close()
