"""Nothing that was coloured is lost: undo, a closed tab, two tabs, an editor beside them."""

from __future__ import annotations

import pytest

from support.browser import until

pytestmark = pytest.mark.browser


def rows(hand, n, rows):
    """Give a stripe rows, by its field."""
    hand.page.evaluate(f"Easel.choose({n})")
    hand.page.fill("#rows", str(rows))
    hand.page.keyboard.press("Tab")
    until(lambda: hand.stripes()[n].endswith(f" {rows}"))


def test_undo_and_redo_without_end_also_after_a_save(hands, pattern):
    hand = hands().open(f"pattern/{pattern.slug}")
    first = hand.stripes()
    for count in range(11, 31):
        rows(hand, 0, count)
    hand.button("Save").click()
    hand.saved()
    assert "deep 30" in pattern.path.read_text()
    for _ in range(20):
        hand.button("Undo").click()
    until(hand.stripes, first)
    assert hand.page.locator("#saved").inner_text() == "Not saved"
    for _ in range(20):
        hand.button("Redo").click()
    until(lambda: hand.stripes()[0], "deep 30")
    assert hand.page.locator("#saved").inner_text() == "Saved"
    for _ in range(20):
        hand.page.keyboard.press("Control+z")
    hand.button("Save").click()
    hand.saved()
    assert pattern.path.read_text() == pattern.text
    assert not hand.complaints.found


@pytest.mark.parametrize("choice", ["Go on with it", "Throw it away"])
def test_a_closed_tab_loses_nothing(hands, pattern, choice):
    hand = hands().open(f"pattern/{pattern.slug}")
    context = hand.page.context
    rows(hand, 0, 23)
    hand.page.close()
    page = context.new_page()
    page.goto(f"{hand.preview.url}-/easel/pattern/{pattern.slug}")
    page.get_by_role("button", name=choice).click()
    hand.page = page
    hand.told()
    assert hand.stripes()[0] == ("deep 23" if choice == "Go on with it" else "deep 10")
    assert pattern.path.read_text() == pattern.text
    if choice == "Go on with it":
        hand.button("Undo").click()
        until(lambda: hand.stripes()[0], "deep 10")
        hand.button("Redo").click()
        hand.button("Save").click()
        hand.saved()
        assert pattern.path.read_text() == pattern.text.replace("deep 10", "deep 23")
    page.reload()
    page.wait_for_selector('body[data-state="open"]')
    assert not page.locator("#question").is_visible()


def test_a_new_pattern_that_was_not_saved_is_offered_again(hands):
    hand = hands().open("new")
    page = hand.page
    page.fill("#begin-title", "Lost and found")
    hand.button("Start colouring").click()
    hand.told()
    page.reload()
    page.get_by_role("button", name="Go on with it").click()
    hand.told()
    assert hand.front()["title"] == "Lost and found"
    hand.button("Save").click()
    assert hand.saved().name == "lost-and-found.md"


def test_a_tab_that_is_open_keeps_what_it_has_to_itself(hands, pattern):
    one = hands().open(f"pattern/{pattern.slug}")
    rows(one, 0, 23)
    two = hands(context=one.page.context).open(f"pattern/{pattern.slug}")
    assert not two.page.locator("#question").is_visible()
    assert two.stripes()[0] == "deep 10"


def test_an_editor_s_save_is_taken_up_and_can_be_undone(hands, pattern):
    hand = hands().open(f"pattern/{pattern.slug}")
    pattern.save(pattern.text.replace("deep 10", "deep 44"))
    until(lambda: hand.stripes()[0], "deep 44")
    assert hand.page.locator("#saved").inner_text() == "Saved"
    hand.button("Undo").click()
    until(lambda: hand.stripes()[0], "deep 10")
    hand.button("Save").click()
    hand.saved()
    assert pattern.path.read_text() == pattern.text


@pytest.mark.parametrize("kept", ["mine", "theirs"])
def test_what_an_editor_saved_meanwhile_is_asked_for_piece_by_piece(hands, pattern, kept):
    hand = hands().open(f"pattern/{pattern.slug}")
    page = hand.page
    rows(hand, 0, 23)
    theirs = pattern.text.replace("deep 30", "deep 31").replace("title: Mine", "title: Theirs")
    pattern.save(theirs)
    until(lambda: "changed elsewhere" in page.locator("#notice").inner_text())
    hand.button("Save").click()
    until(lambda: page.locator("#both").is_visible())
    assert pattern.path.read_text() == theirs
    page.get_by_role("button", name="Not now").click()
    until(lambda: "nothing is lost" in page.locator("#notice").inner_text())
    assert (pattern.path.read_text(), hand.stripes()[0]) == (theirs, "deep 23")
    hand.button("Save").click()
    until(lambda: page.locator("#both").is_visible())
    groups = page.locator("#both fieldset")
    assert groups.count() == 2
    groups.nth(0).locator(f'input[value="{kept}"]').check()
    groups.nth(1).locator('input[value="theirs"]').check()
    page.get_by_role("button", name="Keep these, and save").click()
    hand.saved()
    wanted = (
        theirs.replace("deep 10", "deep 23").replace("deep 31", "deep 30")
        if kept == "mine"
        else theirs
    )
    until(pattern.path.read_text, wanted)
    hand.button("Undo").click()
    until(lambda: hand.stripes()[0], "deep 23")


def test_two_tabs_on_one_file_lose_nothing(hands, pattern):
    one = hands().open(f"pattern/{pattern.slug}")
    two = hands(context=one.page.context).open(f"pattern/{pattern.slug}")
    rows(one, 0, 23)
    rows(two, 2, 34)
    one.button("Save").click()
    one.saved()
    two.button("Save").click()
    until(lambda: two.page.locator("#both").is_visible())
    two.page.get_by_role("button", name="Keep these, and save").click()
    two.saved()
    assert pattern.path.read_text() == pattern.text.replace("deep 30", "deep 34")
    until(lambda: one.stripes()[2], "deep 34")
    one.button("Undo").click()
    until(lambda: one.stripes()[0], "deep 23")


def test_a_file_that_is_gone_is_saved_as_a_new_one(hands, pattern):
    hand = hands().open(f"pattern/{pattern.slug}")
    rows(hand, 0, 23)
    pattern.path.unlink()
    hand.button("Save").click()
    hand.page.get_by_role("button", name="Save as a new file").click()
    until(lambda: hand.page.locator("#saved").inner_text(), "Saved")
    path = hand.saved()
    assert "deep 23" in path.read_text()
    path.unlink()


def test_a_file_with_a_slip_says_why_it_waits(hands, pattern):
    pattern.save(pattern.text.replace("title: Mine", 'title: "Mine'))
    hand = hands().open(f"pattern/{pattern.slug}")
    assert pattern.name in hand.page.locator("#notice").inner_text()
    assert hand.page.locator("main").is_hidden()
    pattern.save(pattern.text)


def test_what_can_not_be_written_in_place_is_told_and_stays(hands, pattern):
    pattern.save(pattern.text.replace("deep 10,", "&d deep 10,"))
    hand = hands().open(f"pattern/{pattern.slug}")
    rows(hand, 0, 23)
    hand.button("Save").click()
    until(lambda: "repeated with & and *" in hand.page.locator("#notice").inner_text())
    assert "&d deep 10" in pattern.path.read_text()
    assert hand.stripes()[0] == "deep 23"


def test_when_the_preview_is_gone_what_was_coloured_stays(hands, pattern):
    hand = hands().open(f"pattern/{pattern.slug}")
    hand.page.route("**/-/easel/*", lambda route: route.abort())
    rows(hand, 0, 23)
    until(lambda: "doesn’t answer" in hand.page.locator("#notice").inner_text())
    hand.button("Save").click()
    until(lambda: "not saved" in hand.page.locator("#notice").inner_text())
    hand.page.unroute("**/-/easel/*")
    hand.button("Save").click()
    hand.saved()
    assert "deep 23" in pattern.path.read_text()


def test_answers_that_come_late_are_dropped(hands, pattern):
    hand = hands().open(f"pattern/{pattern.slug}")
    page = hand.page
    page.evaluate("""() => {
      const real = window.fetch;
      let n = 0;
      window.fetch = (...more) => {
        n += 1;
        return String(more[0]).endsWith('/work') && n === 1
          ? new Promise((resolve) => setTimeout(() => resolve(real(...more)), 600)) : real(...more);
      };
    }""")
    for count in (23, 24, 25):
        rows(hand, 0, count)
    until(lambda: page.evaluate("Easel.S.answer.pieces.cover.parts[0][1]"), 25)
    page.wait_for_timeout(700)
    assert page.evaluate("Easel.S.answer.pieces.cover.parts[0][1]") == 25


def test_a_panel_made_anew_leaves_its_field_as_it_was(hands, pattern):
    """An answer may come between the choosing of a field and its first key: that key replaces the number."""
    hand = hands().open(f"pattern/{pattern.slug}")
    hand.page.evaluate("Easel.choose(0)")
    hand.page.locator("#rows").select_text()
    field = hand.page.locator("#rows").element_handle()
    hand.page.evaluate("Easel.commit(Easel.put(Easel.S.front, ['yarns', 'deep', 'name'], 'Other'))")
    until(lambda: field.evaluate("(node) => node.isConnected"), False)
    hand.page.keyboard.insert_text("14")
    hand.page.keyboard.press("Tab")
    until(lambda: hand.stripes()[0], "deep 14")
