"""The published demo as its viewers meet it: on a phone by touch, at a desk by keyboard alone."""

from __future__ import annotations

import pytest

from support.browser import reads, served, until

pytestmark = pytest.mark.browser

FREE = "patterns/lamplit-bolster/index.html"
SHIFTS = """() => new Promise((resolve) => {
  new PerformanceObserver((list) => resolve(list.getEntries().map((entry) => ({
    value: entry.value, what: entry.sources.map(({ node }) => node && (node.id || node.className || node.nodeName)),
  })))).observe({ type: "layout-shift", buffered: true });
  setTimeout(() => resolve([]), 600);
})"""


@pytest.fixture(scope="module")
def slugs(demo_site):
    return sorted(path.parent.name for path in demo_site.glob("patterns/*/index.html"))


def opened(context, site, path=FREE, tail=""):
    page = context.new_page()
    page.goto((site / path).as_uri() + tail)
    return page


def fills(page, letter):
    """How each drawing fills what is of a yarn: asked of one shape of each, for they are thousands."""
    return page.evaluate(
        "(name) => [...new Set([...document.querySelectorAll('svg')].map((each) => each.querySelector(name))"
        ".filter(Boolean).map((each) => getComputedStyle(each).fill))]",
        f".yarn-{letter}:not(.colourway *)",  # the maker's own palettes keep their colours
    )


def fills_are(page, letter, wanted, why=""):
    until(lambda: fills(page, letter), wanted, why)


def test_every_plan_can_be_counted_to_its_end(profile, demo_site, slugs):
    """On a phone, in every free pattern: each piece is counted out, and its changes are those of the plan."""
    page = profile(phone=True).new_page()
    counted = 0
    for slug in slugs:
        page.goto((demo_site / f"patterns/{slug}/index.html").as_uri())
        opener = page.get_by_role("button", name="Keep count")
        assert opener.count() == (1 if page.locator("table.plan").count() else 0)
        if not opener.count():
            continue
        counted += 1
        opener.tap()
        page.locator("dialog.count").wait_for()
        told = page.evaluate("""() => {
          const tap = document.querySelector(".count-tap");
          const state = () => document.querySelector("dialog.count").dataset.state;
          const changes = [];
          for (let row = 1; row < 5000; row += 1) {
            tap.click();
            if (state() === "change") changes.push(row);
            if (state() === "done") return { changes, rows: row };
          }
        }""")
        lasts = page.evaluate("""() => [...document.querySelector("table.plan").querySelectorAll("[data-letter]")]
          .map((row) => Number(row.dataset.last))""")
        events = page.evaluate("""() => [...document.querySelector("table.plan")
          .querySelectorAll('tr[data-event]:not([data-event^="repeat"])')]
          .map((row) => Number(row.dataset.at))""")
        stops = sorted({*lasts[:-1], *events} - {lasts[-1]})
        assert told == {"changes": stops, "rows": lasts[-1]}
        digits = page.locator(".count-digits")
        assert digits.evaluate("each => each.scrollWidth <= each.clientWidth")
        page.get_by_role("button", name="Close").tap()
    assert counted >= 4


def test_counting_at_the_machine_with_a_phone(profile, demo_site):
    """Tapped, left, found again; the plate tells what comes next in the yarns' own names."""
    context = profile(phone=True)
    page = opened(context, demo_site)
    page.get_by_role("button", name="Keep count").tap()
    tap = page.get_by_role("button", name="Count a row")
    for _ in range(11):
        tap.tap()
    reads(page, "011")
    assert page.locator("dialog.count").get_attribute("data-state") == "soon"
    assert page.locator(".count-next").text_content() == "then B Oyster shell, 3 rows"
    assert (
        page.locator(".count-cloth rect >> nth=0").evaluate("each => getComputedStyle(each).fill")
        == fills(page, "a")[0]
    )
    assert page.locator(".count-swatch rect").count() == 4, "each yarn with its hatch"
    page.close()
    page = opened(context, demo_site)
    page.get_by_role("button", name="Keep count").tap()
    reads(page, "011")


def test_other_sizes_are_counted_by_their_own_rows(profile, demo_site):
    page = opened(profile(), demo_site, "patterns/kettle-wrist-warmers/index.html")
    piece = page.get_by_label("Piece", exact=True)
    page.get_by_role("button", name="Keep count").click()
    told = ["Wrist warmer, 1 of 2", "Wrist warmer, 2 of 2"]
    assert piece.locator("option").all_text_contents() == told
    page.get_by_role("button", name="Count a row").click()
    reads(page, "001")
    page.keyboard.press("Escape")
    page.locator('[data-choose="chunky"]').click()
    page.get_by_role("button", name="Keep count").click()
    assert piece.locator("option").all_text_contents() == [f"{one} (chunky)" for one in told]
    piece.select_option("Wrist warmer, 2 of 2 (chunky)")
    reads(page, "000")
    rows = page.locator('table.plan[data-size="chunky"] tr[data-letter]').last.get_attribute(
        "data-last"
    )
    page.get_by_role("button", name="Set row").click()
    page.get_by_label("Rows done").fill(rows)
    page.keyboard.press("Enter")
    until(lambda: page.locator("dialog.count").get_attribute("data-state"), "done")


def test_counting_at_a_desk_by_keyboard_alone(profile, demo_site):
    page = opened(profile(), demo_site)
    opener = page.get_by_role("button", name="Keep count")
    for _ in range(60):
        if opener.evaluate("each => each === document.activeElement"):
            break
        page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    for _ in range(4):
        page.keyboard.press("Space")
    page.keyboard.press("ArrowDown")
    reads(page, "003")
    page.keyboard.press("Escape")
    until(lambda: opener.evaluate("each => each === document.activeElement"))


def test_own_colours_reach_every_drawing_and_a_fresh_profile(profile, demo_site, slugs):
    page = profile().new_page()
    for slug in slugs:
        page.goto((demo_site / f"patterns/{slug}/index.html").as_uri())
        pickers = page.locator('[data-tool="own-colours"] input[type=color]')
        letters = {one.get_attribute("data-letter") for one in page.locator(".materials li").all()}
        assert pickers.count() == len(letters)
        before = {letter: fills(page, letter) for letter in "ab"}
        pickers.first.fill("#13a538")
        fills_are(page, "a", ["rgb(19, 165, 56)"], slug)
        fills_are(page, "b", before["b"])
        shared = page.url
        page.get_by_role("button", name="Original colours").click()
        fills_are(page, "a", before["a"])
    other = profile(phone=True).new_page()
    other.goto(shared)
    fills_are(other, "a", ["rgb(19, 165, 56)"])


def test_own_units_and_terms_everywhere(profile, demo_site):
    context = profile()
    page = opened(context, demo_site)
    page.get_by_text("Units and words").click()
    for name, option in (
        ("Sizes", "in"),
        ("Weights", "oz"),
        ("Yarn lengths", "yd"),
        ("Words", "us"),
    ):
        page.get_by_role("combobox", name=name, exact=True).select_option(option)
    for path in (FREE, "patterns/two-tides-hat/index.html", "patterns/index.html"):
        page.goto((demo_site / path).as_uri())
        shown = page.locator(".measure").all_text_contents()
        assert shown
        assert [text for text in shown if text.split()[-1] not in ("in", "oz", "yd")] == []
        assert "tension" not in " ".join(page.locator(".term").all_text_contents()).lower()


def test_units_agree_with_the_exact_factors(profile, demo_site):
    """What the page shows in either unit is its exact value, rounded no wider than a tape reads."""
    page = opened(profile(), demo_site)
    units = {"cm": ("in", 2.54, 0.126), "g": ("oz", 28.349523125, 0.051), "m": ("yd", 0.9144, 0.51)}
    seen = page.evaluate("""() => [...document.querySelectorAll(".measure")].map((each) =>
      [{ ...each.dataset }, each.textContent])""")
    assert len(seen) > 20
    eighths = {
        "⅛": ".125",
        "¼": ".25",
        "⅜": ".375",
        "½": ".5",
        "⅝": ".625",
        "¾": ".75",
        "⅞": ".875",
    }
    eighths = str.maketrans({**eighths, ",": None})
    for data, text in seen:
        name = next(key for key in units if key in data)
        unit, per, slack = units[name]
        parts = [part.translate(eighths).split() for part in text.rstrip(")").split(" (")]
        shown = {part[1]: float(part[0]) for part in parts}
        assert shown[name] == pytest.approx(float(data[name]), abs=0.51)
        assert shown[unit] == pytest.approx(float(data[name]) / per, abs=slack), text


def test_the_catalogue_is_narrowed_and_shared(profile, demo_site):
    page = opened(profile(), demo_site, "patterns/index.html")
    total = page.locator("li.card").count()
    page.get_by_label("Free or paid").select_option("paid")
    left = page.locator("li.card:visible").count()
    assert 0 < left < total
    assert (
        page.locator('[data-tool="catalogue-filters"] [role=status]').text_content()
        == f"{left} of {total} patterns."
    )
    other = profile(phone=True).new_page()
    other.goto(page.url)
    assert other.locator("li.card:visible").count() == left
    for select in page.locator('[data-tool="catalogue-filters"] select').all():
        name = select.get_attribute("name")
        assert select.locator("option").count() >= 3 or name == "access", (
            f"{name} tells cards apart"
        )


def test_the_demo_opens_again_without_a_connection(profile, demo_site):
    context = profile(phone=True, complaints=False)
    with served(demo_site) as server:
        page = context.new_page()
        page.goto(server.root + FREE)
        page.get_by_text("Your place and this page are kept").wait_for()
        page.get_by_role("button", name="Keep count").tap()
        page.get_by_role("button", name="Count a row").tap()
        reads(page, "001")
    context.set_offline(True)
    page.close()
    page = context.new_page()
    page.goto(server.root + FREE)
    assert page.locator(".finished svg").is_visible()
    page.get_by_role("button", name="Keep count").tap()
    page.get_by_role("button", name="Count a row").tap()
    reads(page, "002")


@pytest.mark.parametrize("phone", [True, False], ids=["phone", "desk"])
@pytest.mark.parametrize("path", [FREE, "patterns/index.html", "index.html"])
def test_nothing_jumps_while_a_page_loads(profile, demo_site, phone, path):
    """On a slow line the page is painted before its scripts run; they find their places kept."""
    context = profile(phone=phone, service_workers="block")
    with served(demo_site) as server:
        page = context.new_page()
        line = context.new_cdp_session(page)
        line.send("Network.enable")
        line.send(
            "Network.emulateNetworkConditions",
            {
                "offline": False,
                "latency": 120,
                "downloadThroughput": 60_000,
                "uploadThroughput": 60_000,
            },
        )
        page.goto(server.root + path)
        shifts = page.evaluate(SHIFTS)
        page.close()
    assert sum(shift["value"] for shift in shifts) < 0.01, shifts
