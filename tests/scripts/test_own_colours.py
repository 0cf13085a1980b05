"""Own colours: swapped, told apart, shared and put back."""

from __future__ import annotations

import pytest

from stripewright.compute.colour import VIEWS, difference
from support.browser import opened, until
from support.sharma import SHARMA

pytestmark = pytest.mark.browser

ASK = """(detail) => {
  document.dispatchEvent(new CustomEvent("stripewright:difference", { detail }));
  return detail;
}"""


def fills(page, letter):
    """The colours in which everything of a yarn shows, counter and swatches included."""
    return page.evaluate(
        "(name) => [...new Set([...document.querySelectorAll(name)].map((each) => getComputedStyle(each).fill))]",
        f".yarn-{letter}",
    )


def fills_are(page, letter, wanted, why=""):
    until(lambda: fills(page, letter), wanted, why)


def pick(page, letter, colour):
    page.locator(f'[data-tool="own-colours"] input[type=color] >> nth={"abc".index(letter)}').fill(
        colour
    )


@pytest.mark.reference
def test_differences_agree_with_the_published_data(profile, made):
    """CIEDE2000 of table 1 of Sharma, Wu and Dalal 2005, to the four places printed there."""
    page = opened(profile(), made)
    for first, second, wanted in SHARMA:
        told = page.evaluate(ASK, {"labs": [first, second]})["difference"]
        assert told == pytest.approx(wanted, abs=1e-4), (first, second)


@pytest.mark.reference
def test_differences_agree_with_the_program(profile, made):
    """The page judges colours as the program does, for each way of seeing (by coloraide)."""
    page = opened(profile(), made)
    colours = [
        "#1f3d5c",
        "#dfe9e4",
        "#c2913f",
        "#aa0000",
        "#007700",
        "#ffd700",
        "#000000",
        "#8888ff",
    ]
    for first in colours:
        for second in colours:
            seen = page.evaluate(ASK, {"colours": [first, second]})["seen"]
            assert set(seen) == set(VIEWS)
            for view in VIEWS:
                assert seen[view] == pytest.approx(difference(first, second, view), abs=2e-3)


def test_picker_recolours_everything(profile, made):
    page = opened(profile(), made)
    fills_are(page, "a", ["rgb(31, 61, 92)"])
    pick(page, "a", "#2e8b57")
    fills_are(page, "a", ["rgb(46, 139, 87)"])
    fills_are(page, "b", ["rgb(223, 233, 228)"], "the other yarns stay as they were")
    assert (
        "in your colour: seagreen (#2e8b57)"
        in page.locator(".materials li >> nth=0").text_content()
    )
    until(lambda: page.url.partition("#")[2], "colours=a.2e8b57")


def test_names_keyboard_alone(profile, made):
    """A name with a space, a name's near miss, an unknown word, and an empty box that puts it back."""
    page = opened(profile(), made)
    box = page.get_by_label("B Foam: colour by name")
    box.focus()
    page.keyboard.type("Hot Pink")
    page.keyboard.press("Enter")
    fills_are(page, "b", ["rgb(255, 105, 180)"])
    box.fill("c0ffee")
    page.keyboard.press("Enter")
    fills_are(page, "b", ["rgb(192, 255, 238)"])
    # By coloraide's CIEDE2000 aquamarine is nearest, 9.9 away; turquoise follows with 12.9.
    assert "near aquamarine" in page.locator(".materials li >> nth=1").text_content()
    for word in ("no such colour", "transparent", "inherit", "rgb(1 2 3 / 40%)", "url(x)"):
        box.fill(word)
        page.keyboard.press("Tab")
        assert box.evaluate("each => each.validationMessage").startswith("Not a colour"), word
        fills_are(page, "b", ["rgb(192, 255, 238)"])
        box.focus()
    box.fill("")
    page.keyboard.press("Tab")
    fills_are(page, "b", ["rgb(223, 233, 228)"])
    until(lambda: "#" not in page.url)


def test_neighbours_that_merge_are_told(profile, made):
    page = opened(profile(), made)
    warning = page.locator(".tool-warning")
    assert warning.text_content() == ""
    pick(page, "b", "#20405e")
    assert (
        warning.text_content() == "A and B lie side by side and can hardly be told apart by anyone."
    )
    pick(page, "b", "#dfe9e4")
    pick(page, "c", "#1f3d5d")
    assert warning.text_content() == "", "A and C are nowhere neighbours"


def test_the_address_opens_the_same_in_a_fresh_profile(profile, made):
    page = opened(profile(), made)
    pick(page, "a", "#2e8b57")
    pick(page, "c", "#111111")
    shared = page.url
    other = profile(phone=True).new_page()
    other.goto(shared)
    fills_are(other, "a", ["rgb(46, 139, 87)"])
    fills_are(other, "c", ["rgb(17, 17, 17)"])
    other.get_by_role("button", name="Original colours").tap()
    fills_are(other, "a", ["rgb(31, 61, 92)"])
    until(lambda: other.url, page.url.split("#")[0])
    assert not other.get_by_role("button", name="Original colours").is_visible()


def test_colours_are_remembered_and_an_address_wins(profile, made):
    context = profile()
    page = opened(context, made)
    pick(page, "a", "#2e8b57")
    page.close()
    fills_are(opened(context, made), "a", ["rgb(46, 139, 87)"])
    fills_are(opened(context, made, "#colours=a.ff0000"), "a", ["rgb(255, 0, 0)"])
    fills_are(opened(context, made, "#step-cover.2"), "a", ["rgb(46, 139, 87)"])


def test_addresses_that_others_made_up_do_no_harm(profile, made):
    context = profile()
    for tail in (
        "=",
        "=a.zzz_b",
        "=z.123456",
        "=a.12345g",
        "=%E0%A4",
        "=a.123456.7",
        "=__proto__.123456",
    ):
        page = opened(context, made, "#colours" + tail)
        fills_are(page, "b", ["rgb(223, 233, 228)"], tail)
        page.close()


def test_the_address_is_copied(profile, made):
    context = profile(permissions=["clipboard-read", "clipboard-write"])
    page = opened(context, made)
    pick(page, "a", "#2e8b57")
    page.get_by_role("button", name="Copy address").click()
    page.get_by_text("Address copied.").wait_for()
    assert page.evaluate("navigator.clipboard.readText()") == page.url


def test_without_a_clipboard_the_address_is_there_to_copy(profile, made):
    context = profile()
    context.add_init_script(
        "if (navigator.clipboard) navigator.clipboard.writeText = () => Promise.reject(new Error('no'))"
    )
    page = opened(context, made)
    pick(page, "a", "#2e8b57")
    page.get_by_role("button", name="Copy address").click()
    box = page.get_by_label("Address of your colours")
    box.wait_for()
    assert box.input_value() == page.url


def test_a_printed_page_has_the_colours_and_not_the_tools(profile, made):
    page = opened(profile(), made)
    pick(page, "a", "#2e8b57")
    page.emulate_media(media="print")
    fills_are(page, "a", ["rgb(46, 139, 87)"])
    assert not page.locator('[data-tool="own-colours"]').is_visible()
    assert page.locator(".own-colour").is_visible(), "the shopping list on paper says it too"


def test_printing_in_colour_leaves_the_hatches_out(profile, made):
    """Paper may be black and white, so prints are hatched; a print asked for in colour is not."""
    context = profile()
    context.add_init_script("""
      window.print = () => { window.seen = getComputedStyle(document.querySelector("figure .hatch")).visibility;
        window.dispatchEvent(new Event("afterprint")); };
    """)
    page = opened(context, made)
    pick(page, "a", "#2e8b57")
    page.emulate_media(media="print")
    hatch = "getComputedStyle(document.querySelector('figure .hatch')).visibility"
    assert page.evaluate(hatch) == "visible"
    page.evaluate(
        "[...document.querySelectorAll('button')].find((each) => each.textContent.startsWith('Print')).click()"
    )
    assert page.evaluate("seen") == "hidden"
    assert page.evaluate(hatch) == "visible"


def test_a_paid_page_knows_its_neighbours_from_the_strip(profile, made):
    page = profile().new_page()
    page.goto((made / "made/paid.html").as_uri())
    pick(page, "b", "#20405e")
    assert "A and B lie side by side" in page.locator(".tool-warning").text_content()
