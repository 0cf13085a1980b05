"""Own units and terms, letters and hatches, ticks, and materials as text."""

from __future__ import annotations

import pytest

from support.browser import opened, until

pytestmark = pytest.mark.browser


def text_of(page, selector):
    return page.locator(selector).first.text_content()


def choose(page, label, option):
    page.get_by_text("Units and words").click()
    page.get_by_role("combobox", name=label, exact=True).select_option(option)
    page.get_by_text("Units and words").click()


def test_each_quantity_is_chosen_apart(profile, made):
    page = opened(profile(), made)
    assert text_of(page, ".measure[data-cm]") == "38.2 cm (15 in)"
    choose(page, "Sizes", "in")
    assert text_of(page, ".measure[data-cm]") == "15 in"
    assert text_of(page, ".measure[data-g]") == "96 g (3.4 oz)"
    choose(page, "Weights", "oz")
    choose(page, "Yarn lengths", "m")
    assert text_of(page, ".measure[data-g]") == "3.4 oz"
    assert text_of(page, ".measure[data-m]") == "115 m"
    choose(page, "Sizes", "")
    assert text_of(page, ".measure[data-cm]") == "38.2 cm (15 in)"


@pytest.mark.reference
def test_factors_are_exact(profile, made):
    """Where the page has one unit only: 1 in = 2.54 cm, 1 yd = 0.9144 m, 1 oz = 28.349523125 g.

    Source: international yard and pound agreement, 1959, exact by definition.
    """
    context = profile()
    page = opened(context, made)
    for label, unit in (("Sizes", "in"), ("Weights", "oz"), ("Yarn lengths", "yd")):
        choose(page, label, unit)
    page.close()
    lone = (("cm", 254, "100 in"), ("g", 28349.523125, "1000 oz"), ("m", 914.4, "1000 yd"),
            ("cm", 2.54, "1 in"), ("cm", 3.81, "1.5 in"))  # fmt: skip
    for name, value, wanted in lone:
        html = (made / "made/pattern.html").read_text(encoding="utf-8")
        span = f'<h1 id="lone" class="measure" data-{name}="{value}">{value} {name}</h1>'
        other = made / "made/lone.html"
        other.write_text(html.replace("<h1>Breakwater bolster</h1>", span), encoding="utf-8")
        page = context.new_page()
        page.goto(other.as_uri())
        assert text_of(page, "#lone") == wanted
        page.close()


def test_terms_keep_their_capitals_and_are_remembered(profile, made):
    context = profile()
    page = opened(context, made)
    choose(page, "Words", "us")
    terms = page.locator(".term").all_text_contents()
    assert terms == ["Gauge", "bind off", "color"]
    page.close()
    page = opened(context, made)
    assert page.locator(".term").all_text_contents() == terms
    choose(page, "Words", "uk")
    assert page.locator(".term").all_text_contents() == ["Tension", "cast off", "colour"]


def test_letters_and_hatches_switch(profile, made):
    context = profile(phone=True)
    page = opened(context, made)
    hatch = page.locator("figure .hatch").first

    def hatches_are(wanted, why=""):
        until(lambda: hatch.evaluate("each => getComputedStyle(each).visibility"), wanted, why)

    hatches_are("hidden")
    page.get_by_label("Letters and hatches").tap()
    hatches_are("visible")
    page.reload()
    hatches_are("visible", "remembered")
    page.get_by_label("Letters and hatches").tap()
    hatches_are("hidden")
    page.emulate_media(media="print")
    hatches_are("visible", "a print may be black and white")


def test_ticks_stay_until_cleared(profile, made):
    context = profile()
    page = opened(context, made)
    clear = page.get_by_role("button", name="Clear all ticks")
    assert not clear.is_visible()
    page.get_by_label("Step 1").check()
    page.get_by_label("Step 3").focus()
    page.keyboard.press("Space")
    page.get_by_text("2 of 3 steps done.").wait_for()
    page.close()
    page = opened(context, made)
    assert [page.get_by_label(f"Step {n}").is_checked() for n in (1, 2, 3)] == [True, False, True]
    page.get_by_role("button", name="Clear all ticks").click()
    assert not page.get_by_label("Step 1").is_checked()
    page.reload()
    assert not page.get_by_label("Step 3").is_checked()


def test_materials_as_text(profile, made):
    context = profile(permissions=["clipboard-read", "clipboard-write"])
    page = opened(context, made)
    choose(page, "Weights", "g")
    page.get_by_role("button", name="Copy as text").click()
    page.get_by_text("Copied.").wait_for()
    assert page.evaluate("navigator.clipboard.readText()").splitlines()[:2] == [
        "Breakwater bolster",
        "- A Deep water: 96 g, 115 m (126 yd)",
    ]


def test_materials_without_a_clipboard(profile, made):
    context = profile()
    context.add_init_script(
        "if (navigator.clipboard) navigator.clipboard.writeText = () => Promise.reject(new Error('no'))"
    )
    page = opened(context, made)
    page.get_by_role("button", name="Copy as text").click()
    box = page.get_by_label("Materials as text")
    box.wait_for()
    assert box.input_value().startswith("Breakwater bolster\n- A Deep water")
    until(
        lambda: box.evaluate(
            "each => each.selectionEnd - each.selectionStart === each.value.length"
        )
    )
