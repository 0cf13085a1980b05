"""An open page follows the saves, in Chromium."""

from __future__ import annotations

import pytest

from support.browser import CALM, Complaints, until

pytestmark = pytest.mark.browser


@pytest.fixture
def page(chromium):
    context = chromium.new_context(viewport={"width": 1200, "height": 700}, **CALM)
    page = context.new_page()
    yield page
    context.close()


def holds(page, script):
    """Wait until an expression is true."""
    until(lambda: bool(page.evaluate(script)), why=script)


def connected(page):
    """Wait until the page has heard from the preview once."""
    holds(page, "performance.getEntriesByType('resource').some(e => e.name.endsWith('/-/assets'))")


def opened(page, preview, path):
    page.goto(preview.url.rstrip("/") + path)
    connected(page)
    page.evaluate("window.same = true")


SORTED = """[...document.querySelectorAll('main svg, main svg *')]
  .filter((node) => !node.closest('.count-ribbon')).map((node) =>
  node.nodeName + [...node.attributes].map((a) => a.name + '=' + a.value).sort().join() +
  [...node.childNodes].map((child) => child.nodeType === 3 ? child.nodeValue : '<>').join(''))"""
"""Every drawing as a list, whatever the order of attributes; what the theme's scripts drew left out."""

BANDS = "[...document.querySelectorAll('main svg')].map(svg => svg.outerHTML).join()"


def test_a_stripe_changed_in_the_source_changes_the_drawing_without_a_reload(
    page, preview, pattern
):
    complaints = Complaints(page)
    opened(page, preview, pattern.page)
    page.evaluate("window.scrollTo(0, 600)")
    before, place = page.evaluate(BANDS), page.evaluate("scrollY")
    assert place == 600
    pattern.save(pattern.with_rows(50))
    holds(page, f"{BANDS}.includes('082') && !!document.querySelector('[data-last=\"82\"]')")
    assert page.evaluate(BANDS) != before
    assert page.evaluate("window.same") is True
    assert abs(page.evaluate("scrollY") - place) < 40
    assert not complaints.found


def test_what_is_shown_after_many_saves_is_what_a_fresh_page_shows(
    page, preview, pattern, chromium
):
    opened(page, preview, pattern.page)
    for stripes in ("deep 3, foam 4", "foam 4, deep 5, foam 6, deep 7, foam 8", "deep 9",
                    "deep 10, foam 20, deep 31"):  # fmt: skip
        pattern.save(pattern.text.replace("deep 10, foam 20, deep 30", stripes).replace(
            "{{ cover.change(2) }}", "some"))  # fmt: skip
        preview.until(
            pattern.page, f'data-last="{sum(map(int, stripes.replace(",", "").split()[1::2])) + 2}"'
        )
    holds(page, "!!document.querySelector('[data-last=\"63\"]')")
    fresh = chromium.new_page(viewport={"width": 1200, "height": 700}, **CALM)
    opened(fresh, preview, pattern.page)
    for shown in (SORTED, "document.querySelector('main').innerText"):
        until(lambda: page.evaluate(shown) == fresh.evaluate(shown), why=shown)  # noqa: B023  # called at once
    assert page.evaluate("window.same") is True
    fresh.close()


def test_a_broken_save_keeps_the_drawing_and_names_the_line_and_the_repair_clears_it(
    page, preview, pattern
):
    opened(page, preview, pattern.page)
    before = page.evaluate(BANDS)
    pattern.save(pattern.text.replace("stripes: [deep 10,", "stripes: [depe 10,"))
    line = 1 + pattern.text.split("stripes:")[0].count("\n")
    holds(
        page, f"!!document.querySelector('.sw-strip')?.innerText.includes('{pattern.name}:{line}')"
    )
    strip = page.locator(".sw-strip").inner_text()
    assert "depe" in strip
    assert "last good drawing" in strip
    assert page.evaluate(BANDS) == before
    assert f"{pattern.name}:{line}" in preview.get("/-/problems")
    pattern.save(pattern.with_rows(40))
    holds(
        page,
        "!document.querySelector('.sw-strip') && !!document.querySelector('[data-last=\"72\"]')",
    )
    assert page.evaluate("window.same") is True
    assert pattern.name not in preview.get("/-/problems")


def test_a_broken_file_keeps_its_drawing_for_a_page_opened_later_and_after_a_theme_change(
    page, preview, pattern
):
    pattern.save("---\ntitle: [\n---\n")
    preview.until("/-/problems", pattern.name)
    theme = preview.studio / "themes/ours/templates"
    theme.mkdir(exist_ok=True)
    (theme / "note.html").write_text("changed")
    opened(page, preview, pattern.page)
    assert page.locator("main svg").count() > 0
    assert "last good drawing" in page.locator(".sw-strip").inner_text()


def test_a_pattern_that_never_was_whole_says_why_and_appears_once_mended(page, preview):
    path = preview.studio / "content/patterns/never.md"
    path.write_text("---\ntitle: Never\n---\n")
    preview.until("/-/problems", "never.md")
    opened(page, preview, "/patterns/never/")
    assert "can’t be drawn yet" in page.locator("main").inner_text()
    from support.studios import plain_text

    path.write_text(plain_text("Never, mended"))
    holds(page, "document.title.includes('mended') && !!document.querySelector('main svg')")
    path.unlink()


def test_a_changed_style_is_swapped_without_a_reload(page, preview):
    opened(page, preview, "/")
    assert (
        page.evaluate("getComputedStyle(document.querySelector('main')).color") == "rgb(17, 34, 51)"
    )
    page.evaluate("""() => {
      window.bare = 0;
      const look = () => { if (getComputedStyle(document.querySelector('main')).color === 'rgb(0, 0, 0)') window.bare += 1;
        requestAnimationFrame(look); };
      look();
    }""")
    (preview.studio / "themes/ours/assets/theme.css").write_text("main { color: #445566 }\n")
    holds(page, "getComputedStyle(document.querySelector('main')).color === 'rgb(68, 85, 102)'")
    assert page.evaluate("window.same") is True
    assert page.evaluate("window.bare") == 0
    (preview.studio / "themes/ours/assets/theme.css").write_text("main { color: #112233 }\n")
    holds(page, "getComputedStyle(document.querySelector('main')).color === 'rgb(17, 34, 51)'")


def test_the_catalogue_shows_a_changed_drawing(page, preview, pattern):
    opened(page, preview, "/patterns/")
    picture = f"document.querySelector('img[src*=\"{pattern.slug}/finished.svg\"]')?.src"
    holds(page, f"!!{picture}")
    before = page.evaluate(picture)
    pattern.save(pattern.with_rows(44))
    holds(page, f"{picture} !== '{before}'")
    assert page.evaluate("window.same") is True


def test_settings_are_taken_up_and_broken_ones_keep_the_last(page, preview):
    settings = preview.studio / "content/studio.yaml"
    text = settings.read_text()
    opened(page, preview, "/")
    settings.write_text(text.replace("The long shelf", "The short shelf"))
    holds(page, "document.title.includes('The short shelf')")
    settings.write_text(text.replace("title: The long shelf", "titel: The long shelf"))
    holds(page, "!!document.querySelector('.sw-strip')?.innerText.includes('content/studio.yaml')")
    assert "The short shelf" in page.title()
    settings.write_text(text)
    holds(page, "document.title.includes('The long shelf') && !document.querySelector('.sw-strip')")


def test_posts_follow_and_keep_their_last_good_text(page, preview):
    path = next((preview.studio / "content/posts").glob("*.md"))
    text = path.read_text()
    opened(page, preview, f"/posts/{path.stem}/")
    path.write_text(text.replace("title: From the shelf 0", "title: From the windowsill"))
    holds(page, "document.querySelector('h1').innerText.includes('windowsill')")
    path.write_text(text.replace("title: From", "titel: From"))
    holds(page, "!!document.querySelector('.sw-strip')")
    assert "windowsill" in page.locator("h1").inner_text()
    path.write_text(text)
    holds(
        page,
        "document.querySelector('h1').innerText.includes('the shelf 0') && !document.querySelector('.sw-strip')",
    )


def test_a_paid_pattern_as_a_viewer_and_as_a_buyer(page, preview, pattern):
    from support.studios import plain_text

    paid = "access: paid\nprice: 6.50\nshop: https://shop.example.org/item"
    pattern.save(plain_text("A paid one", paid).replace("published:", "updated:"))
    preview.until(pattern.page, "A paid one")
    opened(page, preview, pattern.page)
    assert "Draft" in page.locator(".sw-line").inner_text()
    assert page.locator("[data-last]").count() == 0
    assert "At the end" not in page.locator("main").inner_text()
    page.get_by_role("link", name="a buyer sees it").click()
    holds(page, "!!document.querySelector('[data-last=\"62\"]')")
    page.get_by_role("link", name="a viewer sees it").click()
    holds(
        page,
        "document.body?.innerText.includes('shown as a viewer') && !document.querySelector('[data-last]')",
    )


def test_a_pattern_with_a_day_ahead_is_marked(page, preview, pattern):
    import re

    pattern.save(re.sub(r"published: .*", "published: 2099-01-01", pattern.text))
    preview.until(pattern.page, "2099")
    opened(page, preview, pattern.page)
    assert "2099-01-01" in page.locator(".sw-line").inner_text()


def test_the_numbers_of_proof_stand_beside_the_pattern(page, preview, pattern):
    """Sizes, yarn and balls; hand-worked: 62 worked rows; 40 stitches at 40 to 30 cm make 30 cm around, 15 flat."""
    pattern.save(pattern.text.replace("#dfe9e4", "#1f3d5d"))
    preview.until(pattern.page, "Neighbours that merge")
    opened(page, preview, pattern.page)
    page.locator(".sw-numbers summary").click()
    numbers = page.locator(".sw-numbers")
    until(lambda: "Neighbours that merge" in numbers.inner_text())
    said = numbers.inner_text()
    assert "62" in said
    assert "A (Deep) and B (Foam) lie side by side" in said
    assert "Balls" in said
    assert page.locator(".sw-strip li[data-severity=warning]").count() >= 1


def test_a_page_connects_again_by_itself(page, preview, pattern, tmp_path):
    """The preview is ended and started again on its port; the page, left open, follows."""
    import shutil
    import signal

    from support.previews import Preview, command, previewing

    studio = tmp_path / "studio"
    shutil.copytree(preview.studio / "content", studio / "content", ignore=lambda folder, names: [n for n in names if n not in ("studio.yaml", "patterns", "posts", pattern.path.name)])  # fmt: skip
    (studio / "content/studio.yaml").write_text(
        (preview.studio / "content/studio.yaml").read_text().replace("theme: ours\n", "")
    )
    own = studio / f"content/patterns/{pattern.path.name}"
    with previewing(studio) as first:
        opened(page, first, pattern.page)
        first.process.send_signal(signal.SIGINT)
        first.process.wait(60)
        own.write_text(pattern.with_rows(50))
        process = command(studio, first.port)
        try:
            holds(page, "!!document.querySelector('[data-last=\"82\"]')")
            own.write_text(pattern.with_rows(51))
            holds(page, "!!document.querySelector('[data-last=\"83\"]')")
            assert page.evaluate("window.same") is True
        finally:
            Preview(studio, first.port, process).process.send_signal(signal.SIGINT)
            process.communicate(timeout=60)


def test_what_the_reader_opened_and_typed_stays(page, preview, pattern):
    opened(page, preview, pattern.page)
    page.locator(".sw-numbers summary").click()
    page.evaluate(
        "document.querySelector('main').insertAdjacentHTML('beforeend', '<input id=\"typed\">')"
    )
    page.locator("#typed").fill("half a row")
    pattern.save(pattern.with_rows(52))
    holds(page, "!!document.querySelector('[data-last=\"84\"]')")
    assert page.locator("#typed").input_value() == "half a row"
    assert page.evaluate("document.querySelector('.sw-numbers').open") is True


def test_the_counter_and_the_reader_s_own_choices_follow_a_save(page, preview, pattern):
    """The open counter counts by the new plan; ticks, colours, units and the list follow as well."""
    opened(page, preview, pattern.page)
    page.get_by_text("Units and words").click()
    page.get_by_role("combobox", name="Yarn lengths", exact=True).select_option("yd")
    page.locator("input[data-step]").first.check()
    page.locator("input[type=color]").first.fill("#2e8b57")
    page.get_by_role("button", name="Keep count").click()
    for _ in range(3):
        page.keyboard.press("Space")
    until(page.locator(".count-left").inner_text, "8 rows left")  # 10, and one for the seam
    before = page.locator(".materials .measure").all_inner_texts()
    pattern.save(
        pattern.text.replace("deep 10,", "deep 14,").replace("name: Deep,", "name: Deeper,")
    )
    until(page.locator(".count-left").inner_text, "12 rows left")
    until(page.locator(".count-yarn").inner_text, "Deeper")
    assert page.locator(".count-digits").inner_text() == "003"
    assert "rows have changed since you counted" in page.locator(".count-note").inner_text()
    assert page.evaluate("document.querySelector('.count-ribbon').viewBox.baseVal.height") == 66
    page.keyboard.press("Escape")
    until(lambda: page.locator("dialog.count").is_visible(), wanted=False)
    now = page.locator(".materials .measure").all_inner_texts()
    assert now != before
    assert all(text.endswith(" yd") for text in now if "yd" in text or " m" in text)
    assert page.locator("input[data-step]").first.is_checked()
    assert page.get_by_label("A Deeper: pick a colour").input_value() == "#2e8b57"
    assert page.evaluate("window.same") is True


def test_a_page_that_is_not_there_yet_shows_once_it_is(page, preview):
    """The theme's page of what isn't there keeps watch, within its own policy."""
    from support.studios import plain_text

    heard = Complaints(page)
    path = preview.studio / "content/patterns/later.md"
    page.goto(preview.url + "patterns/later/")
    until(page.locator("h1").count, 1)
    connected(page)
    try:
        path.write_text(plain_text("Later"))
        until(page.locator("h1").first.inner_text, "Later")
        holds(page, "!!document.querySelector('main svg')")
        assert [told for told in heard.found if "404" not in told] == []
    finally:
        path.unlink()


def test_a_publish_beside_a_preview_with_pages_open_disturbs_neither(page, tmp_path):
    """The site is what a publish gives alone; the open page follows saves, before and after."""
    import subprocess
    import sys

    from support.previews import previewing
    from support.studio_here import tree
    from support.studios import generate_studio, plain_text

    studio = generate_studio(tmp_path / "studio", 1)
    path, text = studio / "content/patterns/mine.md", plain_text("Mine")
    path.write_text(text)
    run = [sys.executable, "-m", "stripewright", "publish", "--studio", studio, "--workers", "1"]
    with previewing(studio) as preview:
        opened(page, preview, "/patterns/mine/")
        preview.all_read()
        rounds = preview.rounds()
        subprocess.run(run, check=True, capture_output=True)
        assert preview.rounds() == rounds, "what a publish writes is nothing to the preview"
        site = tree(studio / "site")
        path.write_text(text.replace("deep 30", "deep 40"))
        holds(page, "!!document.querySelector('[data-last=\"72\"]')")
        assert page.evaluate("window.same") is True
        assert tree(studio / "site") == site, "the preview writes nothing there"
    path.write_text(text)
    subprocess.run([*run, "--into", tmp_path / "alone"], check=True, capture_output=True)
    assert tree(tmp_path / "alone") == site
    assert b"preview.js" not in site["patterns/mine/index.html"]


def test_the_catalogue_is_searched_as_it_stands(page, preview, pattern):
    """What was just renamed is found by its new name, in a page that was not loaded again."""
    preview.all_read()
    opened(page, preview, "/patterns/")
    page.get_by_label("Search patterns").fill("mine")
    shown = page.locator("li.card:visible .card-title", has_text="Mine")
    until(lambda: page.locator("li.card:visible").count() == shown.count() > 0)
    pattern.save(pattern.text.replace("title: Mine", "title: Zebra mine"))
    until(page.locator(".card-title", has_text="Zebra mine").count, 1)
    page.get_by_label("Search patterns").fill("zebra")
    until(page.locator("li.card:visible").count, 1)
    assert page.evaluate("window.same") is True
