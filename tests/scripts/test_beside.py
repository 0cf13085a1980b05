"""Plan and schematic side by side on a desk's screen; one list to read and to tick."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from support.browser import CALM

pytestmark = pytest.mark.browser

SLUG = "counting-waves-cowl"


@pytest.fixture
def opened(chromium, demo_site):
    contexts = []

    def at(width, slug=SLUG, height=900):
        context = chromium.new_context(viewport={"width": width, "height": height}, **CALM)
        contexts.append(context)
        page = context.new_page()
        page.goto((demo_site / f"patterns/{slug}/index.html").as_uri())
        return page

    yield at
    for context in contexts:
        context.close()


def test_a_tick_in_the_plan_is_one_in_the_steps_and_is_kept(opened):
    page = opened(1440)
    boxes = page.locator(".plan .tick input")
    assert boxes.count() == 15
    boxes.nth(0).check()
    boxes.nth(1).check()
    ticked = page.locator("input[data-step]:checked")
    assert [one.get_attribute("data-step") for one in ticked.all()] == ["ring.1", "ring.2"]
    page.locator("li.run summary").first.click()
    page.locator('input[data-step="ring.3"]').check()
    assert boxes.nth(2).is_checked()
    page.reload()
    assert [box.is_checked() for box in boxes.all()[:4]] == [True, True, True, False]
    page.get_by_role("button", name="Clear all ticks").click()
    assert page.locator(".plan .tick input:checked").count() == 0


def test_the_schematic_stands_beside_the_plan_and_marks_what_is_next(opened):
    page = opened(1440)
    plan = page.locator(".plan-piece .plan-box").first
    drawing = page.locator(".plan-piece figure[data-piece=ring]")
    left, right = plan.bounding_box(), drawing.bounding_box()
    assert left["x"] + left["width"] <= right["x"]
    assert abs(left["y"] - right["y"]) < 60
    boxes = page.locator(".plan .tick input")
    assert page.locator("rect.now").count() == 0
    tops = []
    for n in range(6):
        boxes.nth(n).check()
        [now] = page.locator("rect.now").all()
        tops.append(float(now.get_attribute("y")))
        assert page.locator("tr.now").get_attribute("data-first") == str(
            page.locator(".plan tr[data-last]").nth(n + 1).get_attribute("data-first")
        )
    assert tops == sorted(tops, reverse=True), "it is knitted from the foot up"
    # It follows: with the plan's last row at the screen's foot it still is on the screen.
    page.locator(".plan tr[data-last]").last.scroll_into_view_if_needed()
    assert drawing.locator("svg").bounding_box()["y"] >= 0


def test_a_repeat_is_one_box(opened):
    page = opened(1440, "two-tides-hat")
    plan = page.locator(".plan-piece").first
    repeat = plan.locator("tr.event .tick input").first
    repeat.check()
    step = page.locator("input[data-step*='.repeat-']").first
    assert step.is_checked()


def test_phones_and_paper_have_the_drawings_where_they_were(opened):
    page = opened(360)
    assert page.locator(".drawing-list figure[data-piece=ring]").count() == 1
    assert page.evaluate("document.documentElement.scrollWidth") <= 360
    desk = opened(1440)
    assert desk.locator(".drawing-list figure[data-piece=ring]").count() == 0
    desk.emulate_media(media="print")
    expect(desk.locator(".drawing-list figure[data-piece=ring]")).to_have_count(1)
    assert not desk.locator(".plan .tick input").first.is_visible()


def test_the_drawings_of_a_size_that_is_not_chosen_stay_hidden(chromium, demo_site):
    """Wide enough for plates beside the plan, which moves drawings about."""
    page = chromium.new_context(viewport={"width": 1440, "height": 900}, **CALM).new_page()
    address = (demo_site / "patterns/two-tides-hat/index.html").as_uri()
    page.goto(f"{address}#size-child")
    own = page.locator("section.drawings[data-in-size=base]")
    assert not own.is_visible()
    page.get_by_role("link", name="Adult", exact=True).click()
    assert own.is_visible()
    page.get_by_role("link", name="Slouchy", exact=True).click()
    assert not own.is_visible()
