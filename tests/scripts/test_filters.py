"""Catalogue filters: what is chosen, counted, ordered and shared."""

from __future__ import annotations

import pytest

from support.browser import until

pytestmark = pytest.mark.browser


def opened(context, made, tail=""):
    page = context.new_page()
    page.goto((made / "made/catalogue.html").as_uri() + tail)
    return page


def titles(page):
    return list(page.locator("li.card:visible").all_text_contents())


def test_filters_together_and_the_count_read_out(profile, made):
    page = opened(profile(), made)
    count = page.get_by_role("status")
    assert count.text_content() == "All 4 patterns."
    page.get_by_label("What it is").select_option("hat")
    assert count.text_content() == "2 of 4 patterns."
    page.get_by_label("Free or paid").select_option("free")
    assert titles(page) == ["Gorse hat"]
    page.get_by_label("Bed").select_option("flat")
    assert count.text_content() == "None of the 4 patterns fits all of these."
    page.get_by_role("button", name="Show all patterns").click()
    assert count.text_content() == "All 4 patterns."
    until(lambda: "#" not in page.url)


EACH = {
    ("Needles", "60"): {"Quay scarf"},
    ("Yarn class", "5"): {"Wave bolster"},
    ("Colour", "red"): {"Lantern hat", "Quay scarf"},
    ("Size", "small"): {"Lantern hat", "Gorse hat"},
    ("Time to make", "2"): {"Lantern hat", "Gorse hat"},
    ("Bed", "flat"): {"Quay scarf"},
    ("Free or paid", "paid"): {"Lantern hat"},
}


def test_each_filter(profile, made):
    page = opened(profile(), made)
    for (label, option), left in EACH.items():
        page.get_by_label(label).select_option(option)
        assert set(titles(page)) == left, label
        page.get_by_label(label).select_option("")


def test_orders(profile, made):
    page = opened(profile(), made)
    assert titles(page) == ["Quay scarf", "Wave bolster", "Lantern hat", "Gorse hat"]
    page.get_by_label("Order").select_option("title")
    assert titles(page) == ["Gorse hat", "Lantern hat", "Quay scarf", "Wave bolster"]
    page.get_by_label("Order").select_option("changed")
    assert titles(page)[:2] == ["Lantern hat", "Quay scarf"]
    page.get_by_label("Order").select_option("time")
    assert titles(page)[0] == "Gorse hat"
    page.get_by_label("Order").select_option("price")
    assert titles(page)[-1] == "Lantern hat"
    page.get_by_label("Order").select_option("")
    assert titles(page) == ["Quay scarf", "Wave bolster", "Lantern hat", "Gorse hat"]


def test_the_address_shares_the_state(profile, made):
    page = opened(profile(), made)
    page.get_by_label("What it is").select_option("hat")
    page.get_by_label("Order").select_option("title")
    other = profile(phone=True).new_page()
    other.goto(page.url)
    assert titles(other) == ["Gorse hat", "Lantern hat"]
    assert other.get_by_label("What it is").input_value() == "hat"


def test_addresses_that_others_made_up_show_all(profile, made):
    context = profile()
    for tail in ("#kind=boat&x=1", "#%E0%A4%A", "#sort=constructor", "#main"):
        page = opened(context, made, tail)
        assert len(titles(page)) == 4, tail
        page.close()


def test_back_leads_to_the_filters_as_they_were(profile, made):
    context = profile(complaints=False)  # the made pattern behind the card does not exist
    page = opened(context, made)
    page.get_by_label("What it is").select_option("hat")
    page.goto((made / "made/pattern.html").as_uri())
    page.go_back()
    until(lambda: len(titles(page)), 2)


def test_keyboard_alone(profile, made):
    page = opened(profile(), made)
    page.get_by_label("Free or paid").focus()
    page.keyboard.press("p")  # a select box jumps to "Paid"
    until(lambda: titles(page), ["Lantern hat"])
    page.get_by_role("button", name="Show all patterns").focus()
    page.keyboard.press("Enter")
    until(lambda: len(titles(page)), 4)
    until(lambda: page.evaluate("document.activeElement.name"), "access")


def test_on_a_phone_the_patterns_come_first(profile, made):
    page = opened(profile(phone=True), made)
    assert not page.get_by_label("What it is").is_visible()
    page.get_by_text("Filter and sort").tap()
    page.get_by_label("What it is").select_option("scarf")
    assert titles(page) == ["Quay scarf"]
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
