"""The catalogue's search, as its users type: in a list of one page, and in one of several parts."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from stripewright.pages.parts import MOST_CARDS
from stripewright.pages.render import Renderer
from support.axe import findings
from support.browser import until
from support.many_cards import many_cards
from support.pages import site_files
from support.views import site, theme

if TYPE_CHECKING:
    from playwright.sync_api import Page

    from stripewright.pages.cards import Card

pytestmark = pytest.mark.browser

MANY = MOST_CARDS + 30
CASES = json.loads((Path(__file__).parents[1] / "cases" / "search.json").read_text("utf-8"))
NAMED = CASES["patterns"]
"""The newest of all, in this order."""


def cards_of(count: int) -> list[Card]:
    """The named cards, and others whose words are all made of an x and figures."""
    cards = many_cards(count)
    for number, one in enumerate(cards):
        view = replace(
            one.view, title=f"x{number}", summary=f"x{number}.", tags=(f"x{number}",), kind="bag"
        )
        cards[number] = replace(one, view=view, yarns=((f"x{number}", "#1f3d5c", 4),))
    for number, named in enumerate(NAMED):
        one = cards[number]
        told = {**named, "tags": tuple(named["tags"]), "slug": f"named-{number}"}
        yarns = tuple((name, "#a8392f", 5) for name in told.pop("yarns"))
        view = replace(one.view, published=f"2099-01-{28 - number}", **told)
        cards[number] = replace(one, view=view, yarns=yarns)
    return cards


def written(folder: Path, count: int, name: str = "tideline") -> Path:
    """The site on disk, with a picture for every card."""
    renderer, cards = Renderer(site(), theme(name)), cards_of(count)
    files = {**site_files(renderer, cards), **renderer.assets.files()}
    for card in cards:
        files[f"patterns/{card.view.slug}/finished.svg"] = (
            b'<svg xmlns="http://www.w3.org/2000/svg"/>'
        )
        files[f"patterns/{card.view.slug}/index.html"] = (
            b"<!DOCTYPE html><title>x</title><h1>Pattern</h1>"
        )
    for path, data in files.items():
        target = folder / path
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_bytes(data)
    return folder


@pytest.fixture(scope="module")
def few(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return written(tmp_path_factory.mktemp("few"), 12)


@pytest.fixture(scope="module")
def many(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return written(tmp_path_factory.mktemp("many"), MANY)


@pytest.fixture(params=["few", "many"])
def both(request: pytest.FixtureRequest) -> Path:
    return request.getfixturevalue(request.param)


def opened(context, folder: Path, tail: str = "", page_name: str = "index.html") -> Page:
    page = context.new_page()
    page.goto((folder / "patterns" / page_name).as_uri() + tail)
    return page


def titles(page: Page) -> list[str]:
    """What is shown, cards or rows."""
    shown = page.locator(".found-row:visible .found-title, .card:visible .card-title")
    return [text.strip() for text in shown.all_text_contents()]


def asks(page: Page, text: str, *wanted: str) -> None:
    page.get_by_label("Search patterns").fill(text)
    until(lambda: titles(page), list(wanted), text)


def test_what_each_search_finds(profile, both):
    page = opened(profile(), both)
    for case in CASES["searches"]:
        asks(page, case["typed"], *case["found"])


def test_results_come_letter_by_letter_and_the_count_is_read_out(profile, both):
    page = opened(profile(), both)
    total = 12 if page.locator(".parts").count() == 0 else MANY
    status = page.get_by_role("status")
    assert status.text_content() == f"All {total} patterns."
    field = page.get_by_label("Search patterns")
    field.focus()
    for letter, number in (("g", 5), ("a", 2), ("l", 2), ("z", None), ("z", None)):
        page.keyboard.press(letter)
        said = f"{number} of {total} patterns." if number else None
        if said:
            until(status.text_content, said)
    until(lambda: titles(page), [])
    assert status.text_content().startswith("Nothing found for “galzz”. Try fewer words")
    page.keyboard.press("Backspace")
    page.keyboard.press("Backspace")
    page.keyboard.type("elry")
    until(status.text_content,
          f"Nothing begins exactly like that. 2 of {total} patterns come close.")  # fmt: skip
    page.keyboard.press("Escape")
    until(status.text_content, f"All {total} patterns.")
    assert field.input_value() == ""
    assert page.evaluate("document.activeElement.name") == "q"
    assert titles(page)[: len(NAMED)] == [one["title"] for one in NAMED]
    assert len(titles(page)) == min(total, MOST_CARDS)


def test_search_goes_with_filters_and_order(profile, both):
    page = opened(profile(), both)
    asks(page, "gorse", "Harbour wall", "Étoile du nord")
    assert page.get_by_label("Order").locator("option").first.text_content() == "best match"
    page.get_by_label("Order").select_option("title")
    until(lambda: titles(page), ["Étoile du nord", "Harbour wall"])
    page.get_by_label("What it is").select_option("cowl")
    until(lambda: titles(page), ["Étoile du nord"])
    page.get_by_label("What it is").select_option("hat")
    until(lambda: titles(page), [])
    assert "fits all of these" in page.get_by_role("status").text_content()
    page.get_by_role("button", name="Show all patterns").click()
    until(lambda: titles(page)[0], "Harbour wall")
    until(lambda: "#" not in page.url)


def test_the_address_shares_the_search_and_back_leads_to_it(profile, both):
    context = profile()
    page = opened(context, both)
    asks(page, "gorse", "Harbour wall", "Étoile du nord")
    page.get_by_role("link", name="Étoile du nord").click()
    until(page.locator("h1").text_content, "Pattern")
    page.go_back()
    until(lambda: titles(page), ["Harbour wall", "Étoile du nord"])
    assert page.url.endswith("#q=gorse")
    other = opened(context, both, "#q=gorse&kind=cowl")
    until(lambda: titles(other), ["Étoile du nord"])


def test_on_a_part_every_filter_looks_at_all_patterns(profile, many):
    page = opened(profile(), many, page_name="page-2.html")
    assert len(titles(page)) == MANY - MOST_CARDS
    page.get_by_label("What it is").select_option("hat")
    until(lambda: titles(page), ["Lighthouse keeper's hat"])
    page.get_by_label("What it is").select_option("")
    until(lambda: len(titles(page)), MANY - MOST_CARDS)
    page.get_by_label("Order").select_option("title")
    until(lambda: titles(page)[:2], ["Étoile du nord", "Gallery rail"])
    assert page.get_by_role("status").text_content() == f"All {MANY} patterns."
    before = len(titles(page))
    page.get_by_role("button", name="Show more patterns").click()
    assert len(titles(page)) > before
    assert page.evaluate("document.activeElement.closest('li').previousElementSibling !== null")
    paid = page.get_by_label("Free or paid")
    paid.select_option("paid")
    until(page.get_by_role("status").text_content, f"{MANY // 4} of {MANY} patterns.")


def test_a_row_says_what_it_is_and_what_it_costs(profile, many):
    page = opened(profile(phone=True), many)
    asks(page, "straßen", "Straßenbahn")
    row = page.locator(".found-row")
    assert row.locator(".found-facts").text_content() == "€6.50 Cushion · Easy"
    assert row.locator(".found-summary").text_content() == "Two long seats."
    assert row.get_by_role("link").get_attribute("href") == "../patterns/named-3/index.html"
    asks(page, "etoile", "Étoile du nord")
    assert row.locator(".found-facts").text_content() == "Free Cowl · Easy"
    assert page.evaluate("document.documentElement.scrollWidth <= 360")


def test_the_list_comes_only_when_the_field_is_used(profile, both):
    context = profile()
    page = context.new_page()
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto((both / "patterns/index.html").as_uri())
    page.wait_for_load_state("load")
    assert not [url for url in asked if "index.js" in url]
    page.get_by_label("Search patterns").focus()
    until(lambda: len([url for url in asked if "index.js?" in url]), 1)


def test_a_list_that_does_not_come_is_told_and_asked_for_again(profile, few, tmp_path):
    import shutil

    folder = shutil.copytree(few, tmp_path / "site")
    index = folder / "patterns/index.js"
    kept = index.read_bytes()
    index.unlink()
    page = opened(profile(complaints=False), folder)
    field = page.get_by_label("Search patterns")
    field.fill("gor")
    until(page.get_by_role("status").text_content,
          "The list to search in did not come. Try again in a moment.")  # fmt: skip
    index.write_bytes(kept)
    asks(page, "gorse", "Harbour wall", "Étoile du nord")


def test_without_scripts_there_is_no_field_and_all_can_be_walked(profile, many):
    page = opened(profile(java_script_enabled=False), many)
    assert page.locator("input:visible").count() == 0
    seen = titles(page)
    page.get_by_role("link", name="Next").press("Enter")
    until(lambda: len(titles(page)), MANY - MOST_CARDS)
    assert len({*seen, *titles(page)}) == MANY
    page.get_by_role("link", name="Page 1").press("Enter")
    until(lambda: len(titles(page)), MOST_CARDS)


@pytest.fixture(scope="module", params=["tideline", "ledger"])
def themed(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Path:
    if request.param == "tideline":
        return request.getfixturevalue("many")
    return written(tmp_path_factory.mktemp("themed"), MANY, request.param)


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_has_no_finding(profile, themed, scheme):
    page = profile(phone=True, color_scheme=scheme, bypass_csp=True, complaints=False).new_page()
    page.goto((themed / "patterns/page-2.html").as_uri())
    assert findings(page, scheme) == []
    asks(page, "gorse", "Harbour wall", "Étoile du nord")
    assert findings(page, scheme) == []
    asks(page, "zebra")
    assert findings(page, scheme) == []
