"""Every script: its own scope, no inline code, small."""

from __future__ import annotations

import gzip
import re

import pytest

from stripewright.pages.assets import smaller
from support.made_pages import ASSETS

SOURCES = sorted(ASSETS.glob("*.js"))


def test_there_are_scripts():
    assert len(SOURCES) >= 10


@pytest.mark.parametrize("path", SOURCES, ids=lambda path: path.name)
def test_each_script_is_strict_and_makes_no_markup_of_data(path):
    text = path.read_text(encoding="utf-8")
    assert text.startswith("//"), "it says what its one job is"
    assert '"use strict";' in text
    bad = re.findall(
        r"\binnerHTML\b|\bouterHTML\b|insertAdjacentHTML|document\.write|\beval\(|new Function",
        text,
    )
    assert bad == []
    assert "import " not in text
    assert "export " not in text


def test_all_scripts_together_are_small():
    """Of the 40 KB that a pattern's page may move, all scripts of the site take less than 20."""
    published = {path.name: smaller(path.name, path.read_bytes()) for path in SOURCES}
    sizes = {name: len(gzip.compress(data, 9)) for name, data in published.items()}
    assert sizes.pop("own-machine.js") < 20 * 1024, "comes when it is first opened"
    assert sizes.pop("own-steps.js") < 10 * 1024, "comes with it"
    assert sizes.pop("filters.js") < 4 * 1024, "of the catalogue alone"
    searching = sizes.pop("search.js") + sizes.pop("found.js")
    assert searching < 5 * 1024, "of the catalogue alone"
    assert sum(sizes.values()) < 20 * 1024, sizes


@pytest.mark.browser
@pytest.mark.parametrize("name", ["pattern", "catalogue"])
def test_no_globals_are_left_behind(profile, made, name):
    """The window's own names are the same with scripts as on a page without any."""
    context = profile()
    blank = made / "made/blank.html"
    blank.write_text("<!DOCTYPE html><title>Nothing</title>", encoding="utf-8")
    page = context.new_page()
    page.goto(blank.as_uri())
    names = "Object.getOwnPropertyNames(window).sort()"
    before = set(page.evaluate(names))
    page.goto((made / f"made/{name}.html").as_uri())
    page.wait_for_load_state("load")
    ids = set(page.evaluate("[...document.querySelectorAll('[id]')].map((each) => each.id)"))
    assert set(page.evaluate(names)) - before - ids == set()
    lexical = page.evaluate(
        "['place', 'home', 'pieces', 'cards', 'dialog', 'choice'].filter((name) => "
        "{ try { return (0, eval)(`typeof ${name}`) !== 'undefined'; } catch { return true; } })"
    )
    assert lexical == [], "nor as top-level names of a script"


@pytest.mark.browser
def test_without_scripts_nothing_dead_shows(profile, made):
    context = profile(java_script_enabled=False)
    page = context.new_page()
    page.goto((made / "made/pattern.html").as_uri())
    assert page.locator("[data-tool]:visible").count() == 0
    assert page.locator("button:visible").count() == 0
    assert page.get_by_text("38.2 cm (15 in)").is_visible()
    page.goto((made / "made/catalogue.html").as_uri())
    assert page.locator("li.card:visible").count() == 4
