"""A cushion of six stripes made from nothing, three ways; and what else a hand does at the easel."""

from __future__ import annotations

import subprocess
import sys
from datetime import date

import pytest

from stripewright.pipeline.commands import proof, worksheet
from stripewright.pipeline.context import Options
from stripewright.studio import Studio
from support.browser import until

pytestmark = pytest.mark.browser

SIX = ["main 10", "contrast 8", "main 6", "contrast 12", "main 4", "contrast 40"]


def ends_well(hand, path, title):
    """The file is proofed, published, and the numbers beside it are those of the worksheet."""
    studio = Studio(hand.preview.studio)
    options = Options(date(2026, 1, 1), drafts=True, paper=False)
    found = [
        one for one in proof(studio, options).problems if one.place.file == studio.name_of(path)
    ]
    assert [one for one in found if one.severity == "error"] == []
    (worked, *_), *_ = worksheet(studio, path)
    assert [f"{line.yarn} {line.visible}" for line in worked.pieces[0].plan] == SIX
    hand.told()
    told = hand.page.evaluate("Easel.S.answer.told")
    assert (
        told["rows"][0][1]
        == f"{worked.pieces[0].worked_rows} rows, {worked.pieces[0].stitches} stitches"
    )
    readings = hand.page.evaluate("Easel.told().plan.map(({rc}) => rc)")
    assert readings == [f"RC {line.last:03d}" for line in worked.pieces[0].plan]
    shown = subprocess.run(
        [sys.executable, "-m", "stripewright", "worksheet", path, "--studio", studio.root],
        capture_output=True, text=True, check=True,
    ).stdout  # fmt: skip
    for letter, name, text in told["yarns"]:
        assert name in shown
        assert text.split(" (")[0].removeprefix("about ") in shown, (letter, text)
    page = hand.preview.until(f"/patterns/{path.stem}/", title)
    assert told["time"] in page
    assert not hand.complaints.found


def test_made_by_mouse_alone(hands):
    hand = hands().open("new")
    page = hand.page
    # without a key: the title is what was copied from elsewhere
    page.evaluate("document.querySelector('#begin-title').value = 'By mouse'")
    page.select_option("#begin-kind", "cushion")
    hand.button("Start colouring").click()
    hand.told()
    assert hand.stripes() == ["main 80"]
    hand.button("Paint with B Contrast colour").click()
    for first, last in ((10, 17), (24, 35), (40, 79)):
        hand.drag(first, last)
    until(hand.stripes, SIX)
    # the edge between the second and the third, two rows up and back again
    x, y = hand.row_at(18)
    px = page.evaluate(
        "parseFloat(document.querySelector('#piece').style.getPropertyValue('--row'))"
    )
    for start, end in ((y + px / 2, y - 1.5 * px), (y - 1.5 * px, y + px / 2)):
        page.mouse.move(x, start)
        page.mouse.down()
        page.mouse.move(x, (start + end) / 2, steps=2)
        page.mouse.move(x, end, steps=2)
        page.mouse.up()
        page.wait_for_timeout(50)
    until(hand.stripes, SIX)
    assert page.evaluate("Easel.S.undo.length") >= 5
    hand.button("Save").click()
    path = hand.saved()
    assert path.name == "by-mouse.md"
    assert (
        "stripes: [main 10, contrast 8, main 6, contrast 12, main 4, contrast 40]"
        in path.read_text()
    )
    ends_well(hand, path, "By mouse")


def test_made_by_keyboard_alone(hands):
    hand = hands().open("new")
    page = hand.page
    keys = page.keyboard
    until(lambda: page.evaluate("document.activeElement.id"), "begin-title")
    keys.type("By keys")
    keys.press("Tab")
    keys.type("cushion")
    keys.press("Enter") if False else keys.press("Tab")
    until(lambda: page.evaluate("document.activeElement.id"), "begin-bed")
    while page.evaluate("document.activeElement.textContent") != "Start colouring":
        keys.press("Tab")
    keys.press("Enter")
    hand.told()
    until(lambda: page.evaluate("document.activeElement.id"), "piece")
    # each stripe: its rows, a split, the upper half in the other yarn
    for number, rows in enumerate(("10", "8", "6", "12", "4")):
        tab_to(page, "Split")
        keys.press("Enter")
        until(lambda: len(hand.stripes()), number + 2)
        tab_to(page, "", "piece", back=True)
        keys.type(rows)
        until(lambda number=number: hand.stripes()[number].split(" ")[1], rows)
        keys.press("ArrowUp")
    keys.type("40")
    until(hand.stripes, SIX)
    said = page.locator('[role="option"][aria-selected="true"]').get_attribute("aria-label")
    hand.told()
    assert said.startswith("stripe 6 of 6, B Contrast colour, 40 rows")
    keys.press("ArrowDown")
    keys.press("b")
    until(lambda: hand.stripes()[4], "contrast 4")
    keys.press("Control+z")
    until(hand.stripes, SIX)
    keys.press("+")
    keys.press("-")
    until(hand.stripes, SIX)
    until(
        lambda: page.locator("#stripe-5").get_attribute("aria-label"),
        "stripe 5 of 6, A Main colour, 4 rows, counter 041",
    )
    keys.press("Control+s")
    ends_well(hand, hand.saved(), "By keys")


def tab_to(page, text, ident="", back=False):
    """Press Tab until a control has the focus."""
    for _ in range(60):
        page.keyboard.press("Shift+Tab" if back else "Tab")
        found = page.evaluate("[document.activeElement.textContent, document.activeElement.id]")
        if (ident and found[1] == ident) or (text and found[0] == text):
            return
    raise AssertionError(text or ident)


def touched(page, x, y0, y1):
    """One finger, put down, moved and taken up."""
    client = page.context.new_cdp_session(page)

    def send(kind, y):
        return client.send(
            "Input.dispatchTouchEvent",
            {"type": kind, "touchPoints": [] if y is None else [{"x": x, "y": y}]},
        )

    send("touchStart", y0)
    for step in range(1, 7):
        send("touchMove", y0 + (y1 - y0) * step / 6)
    send("touchEnd", None)
    client.detach()


def test_made_by_touch_at_360(hands):
    hand = hands(phone=True).open("new")
    page = hand.page
    page.evaluate("document.querySelector('#begin-title').value = 'By touch'")
    page.select_option("#begin-kind", "cushion")
    hand.button("Start colouring").tap()
    hand.told()
    hand.button("Paint with B Contrast colour").tap()
    for first, last in ((10, 17), (24, 35), (40, 59), (60, 79)):
        x, y = hand.row_at((first + last) // 2)
        px = page.evaluate(
            "parseFloat(document.querySelector('#piece').style.getPropertyValue('--row'))"
        )
        middle = (first + last) // 2
        touched(page, x, y + (middle - first) * px, y - (last - middle) * px)
        page.wait_for_timeout(80)
    until(hand.stripes, SIX)
    x, y = hand.row_at(14)
    page.touchscreen.tap(x, y)
    until(lambda: page.locator("#stripe-title").inner_text(), "Stripe 2 of 6")
    hand.button("One more").tap()
    until(lambda: hand.stripes()[1], "contrast 9")
    hand.button("One less").tap()
    until(hand.stripes, SIX)
    hand.button("Save").tap()
    ends_well(hand, hand.saved(), "By touch")
    assert page.evaluate("document.documentElement.scrollWidth") <= 360


def test_two_fingers_scroll_and_colour_nothing(hands):
    hand = hands(phone=True).open("new")
    page = hand.page
    page.evaluate("document.querySelector('#begin-title').value = 'Long'")
    page.select_option("#begin-kind", "scarf")
    hand.button("Start colouring").tap()
    hand.told()
    hand.button("Paint with B Contrast colour").tap()
    assert page.locator("#whole").is_visible()
    before = page.evaluate("document.querySelector('#scroll').scrollTop")
    x, y = hand.row_at(20)
    client = page.context.new_cdp_session(page)

    def points(dy):
        return [
            {"x": x - 20, "y": y - 60 + dy, "id": 1},
            {"x": x + 20, "y": y - 80 + dy, "id": 2},
        ]

    client.send("Input.dispatchTouchEvent", {"type": "touchStart", "touchPoints": points(0)[:1]})
    client.send("Input.dispatchTouchEvent", {"type": "touchStart", "touchPoints": points(0)})
    for step in range(1, 9):
        client.send(
            "Input.dispatchTouchEvent", {"type": "touchMove", "touchPoints": points(step * 10)}
        )
    client.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})
    assert page.evaluate("document.querySelector('#scroll').scrollTop") < before - 20
    assert hand.stripes() == ["main 300"]
    assert page.evaluate("Easel.S.undo.length") == 0
