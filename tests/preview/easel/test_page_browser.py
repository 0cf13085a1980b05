"""The easel's page: for every eye and hand, at every width; what was generated; the plain form."""

from __future__ import annotations

import gzip
import re

import pytest

from support.axe import findings
from support.browser import until

pytestmark = pytest.mark.browser


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("phone", [False, True])
def test_axe_finds_nothing(hands, pattern, phone, scheme):
    pattern.save(
        pattern.text.replace(
            "[deep 10, foam 20, deep 30]",
            "[{mirror: [deep 10, foam 20]}, {repeat: 2, stripes: [deep 4, foam 1]}]",
        )
    )
    hand = hands(phone=phone, color_scheme=scheme, bypass_csp=True).open("new")
    assert findings(hand.page, scheme) == []
    hand.open(f"pattern/{pattern.slug}")
    hand.page.evaluate("for (const box of document.querySelectorAll('details')) box.open = true")
    assert findings(hand.page, scheme) == []
    hand.page.evaluate("Easel.S.front.access = 'paid'; Easel.draw(); Easel.work()")
    until(lambda: hand.page.evaluate("Easel.S.answer.sound"), False)
    assert findings(hand.page, scheme) == []
    hand.page.evaluate(
        "Easel.choose(1); Easel.act((front) => Easel.gestures.paint(front, Easel.S.piece, Easel.made(), 12, 15, 'deep')); null"
    )
    until(lambda: hand.page.locator("#question").is_visible())
    assert findings(hand.page, scheme) == []


def test_the_list_of_easels_and_the_links_to_it(hands, preview, pattern):
    hand = hands(bypass_csp=True)
    page = hand.page
    page.goto(f"{preview.url}{pattern.page.lstrip('/')}")
    page.get_by_role("link", name="Colour it on the easel").click()
    page.wait_for_selector('body[data-state="open"]')
    page.get_by_role("link", name="Its page").click()
    page.wait_for_url(f"**{pattern.page}")
    page.goto(f"{preview.url}patterns/")
    page.get_by_role("link", name="Easel", exact=True).click()
    assert findings(page) == []
    assert page.get_by_role("link", name="Mine").count()
    page.get_by_role("link", name="New pattern").click()
    page.wait_for_selector('body[data-state="new"]')


@pytest.mark.parametrize("width", [360, 414, 700, 999, 1000, 1440, 1920])
def test_nothing_overflows_and_every_target_can_be_hit(hands, pattern, width):
    hand = hands(viewport={"width": width, "height": 800}).open(f"pattern/{pattern.slug}")
    page = hand.page
    page.evaluate("for (const box of document.querySelectorAll('details')) box.open = true")
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    small = page.evaluate("""[...document.querySelectorAll('button, input, select, textarea, summary, a, label:has(input)')]
      .filter((node) => node.offsetParent && !node.matches('label input'))
      .map((node) => [node.outerHTML.slice(0, 80), node.getBoundingClientRect()])
      .filter(([, box]) => box.width < 44 || box.height < 43.9).map(([html, box]) => [html, box.width, box.height])""")
    assert small == []


def test_its_scripts_weigh_little(preview):
    page = preview.get("/-/easel/new")
    scripts = re.findall(r'src="(/-/easel/[^"]+\.js)"', page)
    assert len(scripts) > 8
    weight = sum(len(gzip.compress(preview.get(one).encode(), 9)) for one in scripts)
    assert weight <= 40 * 1024, weight


def test_what_was_generated_is_shown_as_that_and_edited_as_that(hands, pattern):
    pattern.save(
        pattern.text.replace(
            "[deep 10, foam 20, deep 30]",
            "[{mirror: [deep 10, foam 20]}, {graded: [deep, foam], first: 9, by: -2, stripes: 3}]",
        )
    )
    hand = hands().open(f"pattern/{pattern.slug}")
    page = hand.page
    assert [text.strip() for text in page.locator(".bracket").all_inner_texts()] == [
        "mirror",
        "graded series",
    ]
    # colouring one side colours the other
    page.evaluate("Easel.choose(2)")
    page.fill("#rows", "12")
    page.keyboard.press("Tab")
    until(lambda: hand.stripes()[:3], ["deep 12", "foam 20", "deep 12"])
    page.evaluate("Easel.choose(4)")
    page.get_by_label("Rows of the first").fill("11")
    page.keyboard.press("Tab")
    until(lambda: hand.stripes()[3:], ["deep 11", "foam 9", "deep 7"])
    # a gesture that it is in the way of says so first
    page.get_by_role("button", name="One more").click()
    page.get_by_role("button", name="Leave it").click()
    assert hand.front()["pieces"]["cover"]["stripes"][1]["first"] == 11
    page.get_by_role("button", name="One more").click()
    page.locator("#question").get_by_role("button", name="Write out").click()
    until(lambda: hand.stripes()[3:], ["deep 11", "foam 10", "deep 7"])
    hand.button("Save").click()
    hand.saved()
    assert (
        "stripes: [{mirror: [deep 12, foam 20]}, deep 11, foam 10, deep 7]"
        in pattern.path.read_text()
    )


def test_shares_of_a_length_are_shares_until_they_are_written_out(hands, pattern):
    pattern.save(
        pattern.text.replace(
            "stripes: [deep 10, foam 20, deep 30]", "rows: 61\n    parts: [deep 2, foam 1, deep 2]"
        )
    )
    hand = hands().open(f"pattern/{pattern.slug}")
    assert hand.stripes() == ["deep 24", "foam 13", "deep 24"]
    page = hand.page
    page.evaluate("Easel.choose(1)")
    page.get_by_label("Share").fill("3")
    page.keyboard.press("Tab")
    until(hand.stripes, ["deep 17", "foam 27", "deep 17"])
    hand.button("Paint with B Foam").click()
    hand.drag(2, 5)
    page.get_by_role("button", name="Leave it").click()
    hand.drag(2, 5)
    page.locator("#question").get_by_role("button", name="Write out").click()
    until(lambda: len(hand.stripes()), 5)
    assert "parts" not in hand.front()["pieces"]["cover"]
    assert "rows" not in hand.front()["pieces"]["cover"]


def test_yarns_are_added_named_recoloured_ordered_and_replaced(hands, pattern):
    hand = hands().open(f"pattern/{pattern.slug}")
    page = hand.page
    page.locator("summary", has_text="Yarns").click()
    hand.button("Add a yarn").click()
    box = page.locator('details[data-yarn="yarn_3"]')
    assert "not saved" in box.locator("summary").inner_text()
    box.get_by_label("Name").fill("Rust")
    page.keyboard.press("Tab")
    box.get_by_label("Colour").fill("#a54428")
    page.keyboard.press("Tab")
    page.evaluate("Easel.choose(1); document.querySelector('#piece').focus()")
    page.keyboard.press("c")
    until(lambda: hand.stripes()[1], "yarn_3 20")
    box.get_by_role("button", name="Earlier").click()
    until(lambda: list(hand.front()["yarns"]), ["deep", "yarn_3", "foam"])
    deep = page.locator('details[data-yarn="deep"]')
    deep.locator("summary").click()
    deep.get_by_label("Replace everywhere with").select_option("foam")
    deep.get_by_role("button", name="Replace", exact=True).click()
    until(hand.stripes, ["foam 10", "yarn_3 20", "foam 30"])
    hand.button("Save").click()
    hand.saved()
    text = pattern.path.read_text()
    assert 'yarn_3: {name: Rust, colour: "#a54428", weight: 5, ball: 100 g / 120 m}' in text
    assert "deep:" not in text
    assert hand.preview.until(pattern.page, "Rust")


def test_colours_that_merge_are_told_and_can_be_seen_so(hands, pattern):
    hand = hands().open(f"pattern/{pattern.slug}")
    page = hand.page
    assert "told apart by everyone" in page.locator("#alike").inner_text()
    page.evaluate(
        "Easel.act((front) => Easel.put(Easel.put(front, ['yarns', 'deep', 'colour'], '#b5452f'), ['yarns', 'foam', 'colour'], '#4f7a5b'))"
    )
    until(lambda: "look alike to" in page.locator("#alike").inner_text())
    before = page.evaluate("getComputedStyle(document.querySelector('#stripe-1')).backgroundColor")
    picture = page.locator("#finished").inner_html()
    page.select_option("#sight", "grey")
    until(
        lambda: (
            page.evaluate("getComputedStyle(document.querySelector('#stripe-1')).backgroundColor")
            != before
        )
    )
    red, green, blue = re.findall(
        r"\d+",
        page.evaluate("getComputedStyle(document.querySelector('#stripe-1')).backgroundColor"),
    )
    assert red == green == blue
    until(lambda: page.locator("#finished").inner_html() != picture)
    page.select_option("#sight", "normal")
    page.locator("#alike button").first.click()
    until(lambda: "told apart by everyone" in page.locator("#alike").inner_text())


def test_the_plain_form_sells_publishes_and_names(hands, pattern):
    hand = hands().open(f"pattern/{pattern.slug}")
    page = hand.page
    page.locator("summary", has_text="About the pattern").click()
    page.locator("#about-title").fill("Renamed")
    page.get_by_label("Who may read all of it").select_option("paid")
    until(lambda: "Wrong" in page.locator("#wrong").inner_text())
    page.get_by_label("Price", exact=True).fill("6.50")
    page.get_by_label("Shop, with https://").fill("https://shop.example.org/renamed")
    page.get_by_label("Published on").fill("2026-09-05")
    page.keyboard.press("Tab")
    until(lambda: page.locator("#wrong").inner_text(), "Nothing is wrong.")
    hand.button("Save").click()
    hand.saved()
    text = pattern.path.read_text()
    for line in (
        "title: Renamed\n",
        "access: paid\n",
        "price: 6.5\n",
        "shop: https://shop.example.org/renamed\n",
        "published: 2026-09-05\n",
    ):
        assert line in text, line


def test_a_lining_follows_and_says_so(hands, pattern):
    hand = hands().open(f"pattern/{pattern.slug}")
    page = hand.page
    page.select_option("#which", "lining")
    until(lambda: [stripe.split()[0] for stripe in hand.stripes()], ["deep"])
    rows = int(hand.stripes()[0].split()[1])
    assert "follows Cover" in page.locator("#stripe").inner_text()
    hand.drag(2, 9)
    assert "follows another" in page.locator("#notice").inner_text()
    page.select_option("#which", "cover")
    page.evaluate("Easel.choose(0)")
    page.fill("#rows", "20")
    page.keyboard.press("Tab")
    until(lambda: page.evaluate("Easel.S.answer.pieces.lining.visible"), rows + 10)


def test_what_happens_along_a_piece_can_be_moved(hands, pattern):
    pattern.save(
        pattern.text.replace(
            "stripes: [deep", "openings: [{what: thumb, after: 12, rows: 6}]\n    stripes: [deep"
        )
    )
    hand = hands().open(f"pattern/{pattern.slug}")
    page = hand.page
    grip = page.locator(".grip.mark").first
    grip.focus()
    for _ in range(3):
        page.keyboard.press("ArrowUp")
    until(lambda: hand.front()["pieces"]["cover"]["openings"][0]["after"], 15)
    until(lambda: page.evaluate("Easel.told().marks[0].from"), 15)
    page.wait_for_timeout(100)
    box = page.locator(".grip.mark").first.bounding_box()
    px = page.evaluate(
        "parseFloat(document.querySelector('#piece').style.getPropertyValue('--row'))"
    )
    x, y = box["x"] + 20, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x, y - 2 * px, steps=3)
    page.mouse.move(x, y - 5 * px, steps=3)
    page.mouse.up()
    until(lambda: hand.front()["pieces"]["cover"]["openings"][0]["after"], 20)
    hand.button("Save").click()
    hand.saved()
    assert "after: 20" in pattern.path.read_text()


def test_the_length_is_locked_or_free(hands, pattern):
    hand = hands().open(f"pattern/{pattern.slug}")
    page = hand.page
    page.get_by_label("Length locked").check()
    page.evaluate("Easel.choose(0)")
    page.fill("#rows", "14")
    page.keyboard.press("Tab")
    until(hand.stripes, ["deep 14", "foam 16", "deep 30"])
    page.locator("summary", has_text="Several stripes").click()
    hand.button("All stripes").click()
    hand.button("Mirror").click()
    assert "locked" in page.locator("#notice").inner_text()
    page.get_by_label("Length locked").uncheck()
    hand.button("Mirror").click()
    until(lambda: len(hand.stripes()), 5)
    hand.button("Undo").click()
    hand.button("Share evenly").click()
    until(hand.stripes, ["deep 20", "foam 20", "deep 20"])
