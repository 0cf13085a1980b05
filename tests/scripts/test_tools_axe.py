"""The tools in use, judged by axe: WCAG 2.2 A and AA, and best practices."""

from __future__ import annotations

import pytest

from support.axe import findings

pytestmark = pytest.mark.browser


@pytest.fixture(params=["demo_site", "demo_in_ledger"])
def themed(request):
    return request.getfixturevalue(request.param)


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_tools_in_use_have_no_finding(profile, themed, scheme):
    """Counter at each of its states, colours swapped with a warning, units and filters open."""
    # Its own reading of style sheets by XMLHttpRequest, refused from disk, is no fault of the page.
    page = profile(phone=True, color_scheme=scheme, bypass_csp=True, complaints=False).new_page()
    page.goto((themed / "patterns/lamplit-bolster/index.html").as_uri())
    page.locator('[data-tool="own-colours"] input[type=color]').nth(1).fill("#a54428")
    page.get_by_label("Letters and hatches").check()
    page.get_by_text("Units and words").click()
    page.locator("input[data-step]").first.check()
    assert findings(page, scheme) == []
    page.get_by_role("button", name="Keep count").click()
    page.get_by_role("button", name="Sound").click()
    page.get_by_role("button", name="Set row").click()
    for rows in (13, 86):
        page.get_by_label("Rows done").fill(str(rows))
        page.keyboard.press("Enter")
        assert findings(page, scheme) == [], rows
        page.get_by_role("button", name="Set row").click()
    page.goto((themed / "patterns/index.html").as_uri())
    page.get_by_text("Filter and sort").click()
    page.get_by_label("Free or paid").select_option("paid")
    assert findings(page, scheme) == []
