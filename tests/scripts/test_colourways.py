"""The chooser of colourways, as a viewer uses it."""

from __future__ import annotations

import pytest

from support.browser import CALM

pytestmark = pytest.mark.browser


def test_a_colourway_is_chosen_kept_and_shared(chromium, demo_site):
    page = chromium.new_context(**CALM).new_page()
    address = (demo_site / "patterns/counting-waves-cowl/index.html").as_uri()
    page.goto(address)
    fill = "getComputedStyle(document.querySelector('.opening .yarn-c')).fill"
    way = (
        "getComputedStyle(document.querySelectorAll('.colourway')[0].querySelector('.yarn-c')).fill"
    )
    before, dune = page.evaluate(fill), page.evaluate(way)
    assert before != dune
    assert page.get_by_role("radio", name="As designed").is_checked()
    page.get_by_role("radio", name="Dune").focus()
    page.keyboard.press("Space")
    assert page.evaluate(fill) == dune
    assert page.evaluate(way) == dune
    assert "in this colourway: Sea holly" in page.locator(".materials").inner_text()
    shared = page.url
    assert "#colours=" in shared
    page.get_by_role("radio", name="Lamplight").check()
    # The other colourways' pictures keep their own colours.
    assert page.evaluate(way) == dune
    other = chromium.new_context(**CALM).new_page()
    other.goto(shared)
    assert other.evaluate(fill) == dune
    assert other.get_by_role("radio", name="Dune").is_checked()
    other.get_by_role("radio", name="As designed").check()
    assert other.evaluate(fill) == before
