"""The row counter, used as a maker at the machine uses it."""

from __future__ import annotations

import pytest

from support.browser import opened, until

pytestmark = pytest.mark.browser

REFUSE_STORAGE = """
for (const name of ["localStorage", "sessionStorage"])
  Object.defineProperty(window, name, { get() { throw new DOMException("no", "SecurityError"); } });
"""
RECORD_SIGNALS = """
window.signals = [];
navigator.vibrate = (pulses) => { window.signals.push(["vibration", pulses]); return true; };
window.AudioContext = class extends AudioContext {
  createOscillator() { window.signals.push(["sound"]); return super.createOscillator(); }
};
Object.defineProperty(navigator, "wakeLock", { value: { request: async (kind) => {
  window.signals.push(["awake", kind]);
  window.lock = { released: false, release: async () => { window.signals.push(["asleep"]); } };
  return window.lock;
} } });
"""


def start(page):
    page.get_by_role("button", name="Keep count").click()
    return page.get_by_role("button", name="Count a row")


def reads(page, digits, state=None, why=""):
    """Wait until the plate reads so: a tap becomes a click a moment after the fingers are off."""
    plate = page.locator(".count-digits")
    until(plate.text_content, digits, why)
    if state:
        until(lambda: page.locator("dialog.count").get_attribute("data-state"), state)


def closed(page):
    """Wait until the counter is closed, and what comes with that is done."""
    until(lambda: page.evaluate("document.activeElement.textContent"), "Keep count")
    assert not page.locator("dialog.count").is_visible()


def signals_are(page, wanted, why=""):
    until(lambda: page.evaluate("signals"), wanted, why)


def test_taps_count_and_the_plate_tells_the_change(profile, made):
    page = opened(profile(phone=True), made)
    tap = start(page)
    for _ in range(14):
        tap.tap()
    reads(page, "014", "knit")
    assert page.locator(".count-left").text_content() == "3 rows left"
    assert "then B Foam, 9 rows" in page.locator(".count-next").text_content()
    tap.tap()
    reads(page, "015", "soon")
    plain = page.locator(".count-plate").evaluate("plate => getComputedStyle(plate).clipPath")
    assert plain != "none", "a change ahead is shown by shape, not by colour alone"
    tap.tap()
    tap.tap()
    reads(page, "017", "change")
    assert page.locator(".count-left").text_content() == "Change now: 9 rows"
    assert page.locator("dialog [role=status]").text_content() == (
        "Change to B Foam. 17 rows done, 9 left in B, then C Kelp."
    )


def test_it_stops_at_what_happens_in_the_middle_of_a_stripe(profile, made):
    """A slit is told ahead, at its row with what to do, and at its end; each with its signal."""
    page = opened(profile(phone=True), made, init=RECORD_SIGNALS)
    tap = start(page)
    page.get_by_label("Piece").select_option("Mitt")
    page.get_by_role("button", name="Buzz").tap()
    page.get_by_role("button", name="Set row").tap()
    page.get_by_label("Rows done").fill("18")
    page.keyboard.press("Enter")
    reads(page, "018", "change")
    page.evaluate("signals.length = 0")
    left, todo = page.locator(".count-left"), page.locator(".count-todo")
    tap.tap()
    reads(page, "019", "soon")
    assert left.text_content() == "1 row to: Thumb: the slit begins"
    tap.tap()
    reads(page, "020", "change")
    assert left.text_content() == "Thumb: the slit begins"
    assert todo.text_content() == "Knit back and forth from here to row 25."
    assert (
        page.locator("dialog [role=status]")
        .text_content()
        .startswith(
            "Thumb: the slit begins. Knit back and forth from here to row 25. 20 rows done, 5 to: "
        )
    )
    tap.tap()
    reads(page, "021", "knit")
    assert todo.text_content() == ""
    for _ in range(4):
        tap.tap()
    reads(page, "025", "change")
    assert todo.text_content() == "Knit in the round again."
    buzzes = [pulses for kind, pulses in page.evaluate("signals") if kind == "vibration"]
    assert buzzes == [[60], [120, 80, 120], [60], [60], [120, 80, 120]]


def test_a_stretch_that_repeats_is_counted(profile, made):
    page = opened(profile(), made)
    tap = start(page)
    page.get_by_label("Piece").select_option("Mitt")
    seen = []
    for _ in range(19):
        seen.append(page.locator(".count-round").text_content())
        tap.click()
    until(lambda: page.locator(".count-round").text_content(), "")
    assert seen == [*[""] * 6, *["Repeat 1 of 3"] * 4, *["Repeat 2 of 3"] * 4,
                    *["Repeat 3 of 3"] * 4, ""]  # fmt: skip


def test_no_button_breaks_inside_its_word_at_360_px(profile, made):
    page = opened(profile(phone=True), made)
    page.set_viewport_size({"width": 360, "height": 640})
    start(page)
    broken = page.evaluate("""[...document.querySelectorAll("dialog.count button")]
      .filter((button) => button.className === "" && button.checkVisibility())
      .filter((button) => { const range = document.createRange(); range.selectNodeContents(button);
        return range.getClientRects().length > 1 || button.scrollWidth > button.clientWidth; })
      .map((button) => button.textContent)""")
    assert broken == []
    wide = page.evaluate("document.querySelector('dialog.count').scrollWidth")
    assert wide <= 360


def test_the_last_row_ends_the_piece_and_no_tap_counts_beyond(profile, made):
    page = opened(profile(), made)
    tap = start(page)
    page.get_by_role("button", name="Set row").click()
    page.get_by_label("Rows done").fill("52")
    page.keyboard.press("Enter")
    tap.click()
    reads(page, "053", "done")
    tap.click()
    reads(page, "053")


def test_keyboard_alone(profile, made):
    """Space, arrows, undo, setting the row and closing, without a pointer."""
    page = opened(profile(), made)
    page.get_by_role("button", name="Keep count").focus()
    page.keyboard.press("Enter")
    for _ in range(3):
        page.keyboard.press("Space")
    reads(page, "003")
    page.keyboard.press("ArrowUp")
    page.keyboard.press("ArrowRight")
    page.keyboard.press("ArrowDown")
    reads(page, "004")
    page.keyboard.press("u")
    reads(page, "005", why="undo takes the last act back, whichever way it went")
    page.get_by_role("button", name="Set row").focus()
    page.keyboard.press("Enter")
    page.keyboard.type("20")
    page.keyboard.press("Enter")
    reads(page, "020")
    page.keyboard.press("z")
    reads(page, "005")
    for _ in range(12):  # the focus stays in the counter while it is open
        page.keyboard.press("Tab")
        inside = page.evaluate(
            "document.activeElement === document.body || !!document.activeElement.closest('dialog')"
        )
        assert inside
    page.keyboard.press("Escape")
    closed(page)


def test_a_key_held_down_is_one_row(profile, made):
    page = opened(profile(), made)
    start(page)
    page.keyboard.down("ArrowUp")
    page.keyboard.down("ArrowUp")  # the browser repeats it
    page.keyboard.up("ArrowUp")
    reads(page, "001")
    page.keyboard.down("Enter")
    page.keyboard.down("Enter")
    page.keyboard.up("Enter")
    reads(page, "002")


def test_the_place_is_kept_through_reload_and_a_closed_page(profile, made):
    context = profile(phone=True)
    page = opened(context, made)
    tap = start(page)
    for _ in range(5):
        tap.tap()
    reads(page, "005")
    page.reload()
    assert page.locator("dialog.count").is_visible(), "a reload comes back to the open counter"
    reads(page, "005")
    page.close()
    page = opened(context, made)
    assert not page.locator("dialog.count").is_visible()
    stands = page.locator('[data-tool="keep-count"]')
    until(lambda: "Cover: 5 of 53 rows done." in stands.text_content())
    start(page)
    reads(page, "005")
    assert "Kept since" in page.locator(".count-note").text_content()
    page.get_by_role("button", name="Undo").tap()
    reads(page, "004", why="what was done before can still be undone")


def test_each_piece_keeps_its_own_count(profile, made):
    page = opened(profile(), made)
    tap = start(page)
    tap.click()
    piece = page.get_by_label("Piece")
    assert piece.locator("option").all_text_contents() == [
        "Cover",
        "Cuff, 1 of 2",
        "Cuff, 2 of 2",
        "Mitt",
    ]
    piece.select_option("Cuff, 2 of 2")
    reads(page, "000")
    tap.click()
    tap.click()
    piece.select_option("Cover")
    reads(page, "001")
    piece.select_option("Cuff, 2 of 2")
    page.reload()
    reads(page, "002", why="the piece at hand is kept too")


def test_another_window_of_the_same_pattern_follows(profile, made):
    context = profile()
    first, second = opened(context, made), opened(context, made)
    start(second)
    start(first).click()
    reads(second, "001")


def test_a_corrected_plan_is_told(profile, made):
    context = profile()
    page = opened(context, made)
    start(page).click()
    page.evaluate("""() => {
      const name = Object.keys(localStorage).find((each) => each.endsWith("piece/cover"));
      const kept = JSON.parse(localStorage.getItem(name));
      localStorage.setItem(name, JSON.stringify({ ...kept, print: "A16 B25" }));
    }""")
    page.reload()
    assert "rows have changed since you counted" in page.locator(".count-note").text_content()


def test_what_storage_holds_is_not_trusted(profile, made):
    """Counts beyond the piece, other types and broken JSON start at nought, without an error."""
    page = opened(profile(), made)
    start(page).click()
    name = page.evaluate("Object.keys(localStorage).find((each) => each.endsWith('piece/cover'))")
    for text in ('{"count": 99999}', '{"count": "3", "back": 7}', "not json", "null", "[]"):
        page.evaluate("([name, text]) => localStorage.setItem(name, text)", [name, text])
        page.reload()
        reads(page, "000", why=text)


def test_storage_that_refuses_is_told_and_the_count_goes_on(profile, made):
    page = opened(profile(), made, init=REFUSE_STORAGE)
    tap = start(page)
    tap.click()
    tap.click()
    reads(page, "002")
    assert "keeps nothing" in page.locator(".count-note").text_content()


def test_signals_before_a_change(profile, made):
    """Silent at first; then sound and vibration two rows ahead, and again at the change."""
    page = opened(profile(), made, init=RECORD_SIGNALS)
    tap = start(page)
    signals_are(page, [["awake", "screen"]])
    page.evaluate("signals.length = 0")
    for _ in range(17):
        tap.click()
    signals_are(page, [], "sound and vibration are off at first")
    sound, buzz = (page.get_by_role("button", name=name) for name in ("Sound", "Buzz"))
    assert sound.get_attribute("aria-pressed") == "false"
    sound.click()
    buzz.click()
    assert sound.get_attribute("aria-pressed") == buzz.get_attribute("aria-pressed") == "true"
    page.evaluate("signals.length = 0")
    page.keyboard.press("u")
    signals_are(page, [], "going back is no change ahead")
    tap.focus()
    page.keyboard.press("Space")
    signals_are(page, [["sound"]] * 3 + [["vibration", [120, 80, 120]]])
    page.keyboard.press("Escape")
    until(lambda: page.evaluate("signals.at(-1)"), ["asleep"])
    page.reload()
    page.get_by_role("button", name="Keep count").click()
    assert sound.get_attribute("aria-pressed") == "true", "remembered"


def test_the_screen_is_kept_awake_again_after_the_page_was_hidden(profile, made):
    """The browser releases the lock of a hidden page; it is asked for anew, once, when it shows again."""
    page = opened(profile(), made, init=RECORD_SIGNALS)
    start(page)
    page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    signals_are(page, [["awake", "screen"]], "a lock that holds is enough")
    page.evaluate("lock.released = true")
    page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    signals_are(page, [["awake", "screen"]] * 2)
    page.keyboard.press("Escape")
    until(lambda: page.evaluate("signals.at(-1)"), ["asleep"])
    page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    asked = page.evaluate("signals.filter(([name]) => name === 'awake').length")
    assert asked == 2, "a closed counter lets the screen sleep"


def test_one_thumb_reaches_it(profile, made):
    """The tap zone takes most of a phone's screen, and every button is at least 44 px high."""
    page = opened(profile(phone=True), made)
    tap = start(page)
    box = tap.bounding_box()
    assert box["width"] >= 350
    assert box["height"] >= 0.7 * 740
    for button in page.locator("dialog button:visible, dialog select").all():
        assert button.bounding_box()["height"] >= 44
    zone = page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    assert zone
    tap.tap(position={"x": 300, "y": box["height"] - 5})
    tap.tap(position={"x": 5, "y": 5})
    reads(page, "002")


def test_nothing_is_cut_off_at_four_digits_and_on_a_small_landscape_screen(profile, made):
    for size in ({"width": 360, "height": 740}, {"width": 640, "height": 340}):
        page = opened(profile(), made)
        page.set_viewport_size(size)
        start(page)
        page.evaluate("""() => {
          const shown = document.querySelector(".count-digits");
          shown.textContent = "2000";
          shown.dataset.size = "4";
        }""")
        tap = page.locator(".count-tap").bounding_box()
        for part in (".count-digits", ".count-left", ".count-yarn"):
            box = page.locator(part).bounding_box()
            assert box["x"] >= tap["x"] + 30
            assert box["x"] + box["width"] <= tap["x"] + tap["width"] + 1
            assert box["y"] + box["height"] <= tap["y"] + tap["height"] + 1
            assert box["y"] >= tap["y"] - 1
        wide = page.locator(".count-digits").evaluate(
            "each => each.scrollWidth <= each.clientWidth + 1"
        )
        assert wide


def test_a_page_without_a_plan_has_no_counter(profile, made):
    page = profile().new_page()
    page.goto((made / "made/paid.html").as_uri())
    assert page.locator('[data-tool="keep-count"]').inner_html() == ""
