"""The demo in en-XA: what is said without the catalogue shows, and so does what is too narrow."""

from __future__ import annotations

import html
import re
import shutil
import subprocess
from pathlib import Path

import pytest
from babel import Locale
from click.testing import CliRunner

from stripewright.cli import main
from stripewright.pattern.pattern import Pattern
from stripewright.pattern.reference import all_keys, keys_of
from stripewright.pipeline.commands import worksheet
from stripewright.pipeline.explain import words
from stripewright.pipeline.own_machine import OwnMachine
from stripewright.studio import Studio
from stripewright.words.reference import FILTER, PATTERN, PIECE, YARN
from stripewright.words.techniques import shipped_techniques
from support import pseudo as pseudo_itself
from support.browser import DESK, PHONE, until
from support.demo import CONTENT
from support.previews import previewing
from support.pseudo import in_pseudo, outside, pseudo
from support.studio_here import run

pytestmark = pytest.mark.slow

KEYS = keys_of(Pattern, words())
NAMES = set(re.findall(r"[^\W\d_]{3,}", " ".join(
    [f"{path} {key.example} {key.left_out}" for path, _, key in all_keys(words())]
    + [*shipped_techniques(), *FILTER, *PIECE, *YARN, *PATTERN]).lower()))  # fmt: skip
"""Keys, techniques and facts, which are the same in every language."""

OWN = {"html", "pdf", "letter", "page", "feed", "index", "rc"}
"""What is the same in every language: names of formats and sizes, the counter's mark."""


@pytest.fixture(scope="module")
def studio(tmp_path_factory):
    folder = tmp_path_factory.mktemp("pseudo")
    shutil.copytree(CONTENT, folder / "content")
    with in_pseudo():
        for words in (["publish", "--into", folder / "site", "--on", "2027-12-31", "--workers", 1],
                      ["packs"], ["sheets"]):  # fmt: skip
            asked = [words[0], "--studio", folder, *words[1:]]
            done = run(*asked)
            assert done.exit_code == 0, done.output
    return folder


def words_by_the_author():
    told = " ".join(
        path.read_text(encoding="utf-8") for path in sorted(CONTENT.rglob("*.md"))
    ) + (CONTENT / "studio.yaml").read_text(encoding="utf-8")  # fmt: skip
    return set(re.findall(r"[^\W\d_]+", told.lower()))


MONTHS = {name.lower() for name in Locale("en").months["format"]["wide"].values()}


def unknown(text, known):
    return {word for word in re.findall(r"[^\W\d_]{3,}", outside(text).lower())
            if word not in known}  # fmt: skip


def test_a_message_keeps_its_fields():
    assert pseudo("{count} rows of {{ yarn }}") == "⟦{count} röwš öf {{ yarn }}··⟧"


def test_every_word_on_pages_is_in_the_catalogue(studio):
    known = words_by_the_author() | MONTHS | OWN
    found = {}
    for path in [*sorted(studio.rglob("*.html")), *sorted(studio.glob("site/**/*.svg"))]:
        text = re.sub(r"<(script|style)\b.*?</\1>", " ", path.read_text(), flags=re.DOTALL)
        named = re.findall(r'\b(?:alt|aria-label|title)="([^"]*)"', text)
        # A mark between what stood in other elements, so that a message doesn't run on.
        told = html.unescape(" ".join([re.sub(r"<[^>]+>", " ", text), *named]))
        if words := unknown(told, known):
            found[path.name] = words
    assert found == {}


def test_every_word_on_paper_is_in_the_catalogue(studio):
    known = words_by_the_author() | MONTHS | OWN
    for path in sorted(studio.rglob("*-a4.pdf")):
        told = subprocess.run(["pdftotext", "-layout", path, "-"], capture_output=True, check=True)
        text = " ".join(told.stdout.decode().split())
        # In columns a message's brackets stand in several lines: only words with no accent that
        # a message has nowhere are outside the catalogue.
        assert "⟦" in text, path.name
        left = unknown(text, known)
        assert not left & {"yarn", "rows", "stitches", "done", "edge", "made", "wide", "long"}


TYPED = re.compile(
    r"^ {4,}stripewright .*$|--[a-z-]+|-h\b|\b[A-Z]{1,9}\b(?=[^a-z])|\[[A-Za-z|]+\]|PICTURE\.\.\.|"
    r"(?:content|packs|themes|texts)/[\w./-]*|\w+\.(?:md|yaml|html|pdf|svg|jpg|zip|txt)\b|stripewright\S*",
    re.MULTILINE)  # fmt: skip
"""What is typed as it stands in every language: commands, options, files."""


@pytest.mark.parametrize("args", [
    ["--help"], *([name, "--help"] for name in sorted(main.commands)), ["proof"], ["basket"],
    ["worksheet", "content/patterns/landing-cowl.md", "--with", "150 g"],
    ["worksheet", "content/patterns/two-tides-hat.md"],
    ["worksheet", "content/patterns/landing-cowl.md", "--needles", "3"],
    ["packs"], ["sheets"], ["publish", "--into", "elsewhere"], ["palette", "content/studio.yaml"],
    ["explain", "nothing like it"], ["explain"], ["explain", "yarns.ball"], ["explain", "fit"],
], ids=" ".join)  # fmt: skip
def test_every_word_on_the_terminal_is_in_the_catalogue(studio, monkeypatch, args):
    monkeypatch.chdir(studio)
    with in_pseudo():
        told = CliRunner().invoke(main, args, terminal_width=100).output
    known = words_by_the_author() | {*main.commands} | OWN | MONTHS
    if args[0] == "explain":
        known |= NAMES
    told = re.sub(r"[┃│━─┏┓┗┛┡┩├┤┳┻╇└┴┘┬┼]", " ", TYPED.sub(" ", told))
    assert "⟦" in told
    assert not unknown(" ".join(told.split()), known), told


@pytest.fixture(scope="module")
def easel(studio):
    """A preview of the demo in the pseudo-locale."""
    with previewing(studio, program=(str(Path(pseudo_itself.__file__)),)) as preview:
        preview.all_read()
        yield preview


SIZES = pytest.mark.parametrize("screen", [PHONE, DESK], ids=["360", "1440"])


@pytest.mark.browser
@SIZES
@pytest.mark.parametrize(
    "address", ["pattern/two-tides-hat", "pattern/night-ferry-draught-excluder", "new"]
)
def test_the_easel_says_nothing_else_and_fits(chromium, easel, screen, address):
    known = words_by_the_author() | {
        "choose",
        "file",
        "chosen",
        "easel",
    }  # a file's field is the browser's
    page = chromium.new_context(**screen).new_page()
    page.goto(f"{easel.url}-/easel/{address}")
    page.wait_for_selector('body[data-state="open"], body[data-state="new"]')
    if address != "new":
        until(lambda: page.evaluate("!!Easel.S.answer && !Easel.S.answer.stale"))
    page.evaluate("document.querySelectorAll('details').forEach((it) => { it.open = true; })")
    assert page.evaluate("document.documentElement.scrollWidth") <= screen["viewport"]["width"]
    told = page.evaluate(
        "[document.title, document.body.innerText,"
        " ...[...document.querySelectorAll('option')].map((it) => it.textContent),"
        " ...[...document.querySelectorAll('[aria-label]')].map((it) => it.ariaLabel)].join(' ')"
    )
    assert "⟦" in told
    assert not unknown(told, known)
    assert page.evaluate("document.documentElement.lang") == "en-XA"


@pytest.mark.browser
def test_what_the_easel_says_to_gestures_is_in_the_catalogue(chromium, easel):
    known = words_by_the_author()
    page = chromium.new_context(**DESK).new_page()
    page.goto(f"{easel.url}-/easel/pattern/landing-cowl")
    page.wait_for_selector('body[data-state="open"]')
    until(lambda: page.evaluate("!!Easel.S.answer && !Easel.S.answer.stale"))
    piece = page.locator("#piece")
    piece.focus()
    for keys in (
        ["ArrowUp"],
        ["1", "2"],
        ["+"],
        ["b"],
        ["Delete"],
        ["Control+z"],
        ["Control+y"],
    ):
        for key in keys:
            page.keyboard.press(key)
        until(lambda: page.locator("#said").text_content().strip() != "")
        told = f"{page.locator('#said').text_content()} {page.locator('#notice').text_content()}"
        assert not unknown(told, known), (keys, told)


@pytest.mark.browser
def test_problems_beside_a_page_are_in_the_catalogue(easel, studio):
    path = studio / "content/patterns/pseudo-wrong.md"
    path.write_text("---\ntitle: Landing cowl\nyarns: {deep: {name: Two tides}}\n---\nThe.\n")
    try:
        page = easel.until("/-/problems", "pseudo-wrong.md")
    finally:
        path.unlink()
    text = html.unescape(
        re.sub(r"<(script|style|code)\b.*?</\1>|<[^>]+>", " ", page, flags=re.DOTALL)
    )
    assert "⟦" in text
    assert not unknown(text, words_by_the_author() | {key.name for key in KEYS})


@pytest.fixture(scope="module")
def phone(chromium):
    context = chromium.new_context(**PHONE)
    yield context.new_page()
    context.close()


@pytest.mark.browser
@pytest.mark.parametrize("page", ["index.html", "patterns/index.html", "sheets/index.html",
                                  "patterns/kettle-wrist-warmers/index.html",
                                  "patterns/slow-light-blanket/index.html"])  # fmt: skip
def test_long_words_fit_a_phone(studio, phone, page):
    phone.goto((studio / "site" / page).as_uri())
    assert phone.evaluate("document.documentElement.scrollWidth") <= 360


@pytest.mark.browser
def test_the_counter_says_nothing_else(studio, phone):
    known = words_by_the_author() | OWN
    phone.goto((studio / "site/patterns/kettle-wrist-warmers/index.html").as_uri())
    phone.locator(".tool-main").click()
    phone.locator(".count-tap").click()
    dialog = phone.locator("dialog.count")
    assert "⟦" in dialog.inner_text()
    assert not unknown(dialog.inner_text(), known)
    assert dialog.evaluate("it => it.scrollWidth <= it.clientWidth")


def steps_anew(studio, slug, needles):
    """Each step as the program tells it in this locale, for other needles."""
    with in_pseudo():
        path = studio / f"content/patterns/{slug}.md"
        done = worksheet(Studio(studio), path, OwnMachine(needles))
    return [[step.key, " ".join(f"{step.number}. {step.title} {step.text}".split())]
            for group in done.sound.written.groups for step in group.steps]  # fmt: skip


def retold(page):
    return page.locator("ol.steps > li[id]").evaluate_all(
        "all => all.map((one) => [one.querySelector('input').dataset.step,"
        " one.querySelector('.step-words').textContent.trim().replace(/\\s+/g, ' ')])"
    )


@pytest.mark.browser
@SIZES
@pytest.mark.parametrize("slug", ["landing-cowl", "lamplit-bolster", "market-day-bag"])
def test_a_pattern_worked_anew_says_nothing_else_and_fits(chromium, studio, screen, slug):
    known = words_by_the_author() | MONTHS | OWN
    page = chromium.new_context(**screen).new_page()
    page.goto((studio / f"site/patterns/{slug}/index.html").as_uri())
    page.locator('[data-tool="own-machine"] summary').first.click()
    page.locator("form.own-machine input[name=needles]").fill("52")
    page.locator("form.own-machine .tool-main").click()
    until(lambda: page.locator(".own-banner").is_visible())
    assert page.evaluate("document.documentElement.scrollWidth") <= screen["viewport"]["width"]
    told = page.evaluate(
        "[document.body.innerText, ...[...document.querySelectorAll('[aria-label]')]"
        ".map((it) => it.ariaLabel)].join(' ')"
    )
    assert not unknown(told, known)
    if slug == "market-day-bag":  # paid: its steps are in its pack
        page = chromium.new_context(**screen).new_page()
        page.goto((studio / f"packs/{slug}/{slug}.html").as_uri() + "#own=52~~~rows")
        until(lambda: page.locator(".own-banner").is_visible())
    assert retold(page) == steps_anew(studio, slug, 52)
    for part in (".own-banner", "form.own-machine"):  # where no word is the author's
        assert not unknown(page.locator(part).first.inner_text(), set())
    page.locator("form.own-machine input[name=needles]").fill("3")
    page.locator("form.own-machine .tool-main").click()
    assert not unknown(page.locator(".own-said").text_content(), set())
