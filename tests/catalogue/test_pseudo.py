"""The demo in en-XA: what is said without the catalogue shows, and so does what is too narrow."""

from __future__ import annotations

import html
import re
import shutil
import subprocess

import pytest
from babel import Locale
from click.testing import CliRunner

from stripewright.cli import main
from support.browser import PHONE, chromium
from support.pseudo import in_pseudo, outside, pseudo
from support.site import DEMO

pytestmark = pytest.mark.slow

OWN = {"html", "pdf", "letter", "page", "feed", "index", "rc"}
"""What is the same in every language: names of formats and sizes, the counter's mark."""


@pytest.fixture(scope="module")
def studio(tmp_path_factory):
    folder = tmp_path_factory.mktemp("pseudo")
    shutil.copytree(DEMO, folder / "content")
    with in_pseudo():
        for words in (["publish", "--into", folder / "site", "--on", "2027-12-31", "--workers", 1],
                      ["packs"], ["sheets"]):  # fmt: skip
            asked = [words[0], "--studio", folder, *words[1:]]
            done = CliRunner().invoke(main, [str(one) for one in asked])
            assert done.exit_code == 0, done.output
    return folder


def words_by_the_author():
    told = " ".join(
        path.read_text(encoding="utf-8") for path in sorted(DEMO.rglob("*.md"))
    ) + (DEMO / "studio.yaml").read_text(encoding="utf-8")  # fmt: skip
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


@pytest.fixture(scope="module")
def phone():
    with chromium() as browser:
        context = browser.new_context(**PHONE)
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
