"""The renderer: what it writes for which site, the same bytes each time, and what is held back."""

from __future__ import annotations

from dataclasses import replace

import pytest

from stripewright.pages.cards import by_day, card
from stripewright.pages.render import Renderer
from stripewright.pages.search import SearchIndex
from stripewright.pages.tags import tags_of
from support.pages import all_of, json_ld, parse, site_files, words
from support.views import pattern_views, post, site, theme


def cards():
    return [card(view) for view in pattern_views()]


def whole_site(about=None, name: str = "tideline") -> dict[str, bytes]:
    renderer = Renderer(about or site(), theme(name))
    files = site_files(
        renderer,
        cards(),
        posts=[post()],
        pages=[post(slug="about", path="about/index.html", published=None)],
    )
    for view in pattern_views():
        files |= renderer.pattern(view)
    return files | renderer.assets.files()


def test_every_page_of_the_agreed_addresses_is_there():
    assert {path for path in whole_site() if not path.startswith("assets/")} == {
        "index.html",
        "404.html",
        "feed.xml",
        "sitemap.xml",
        "robots.txt",
        "sw.js",
        "patterns/index.html",
        "patterns/index.js",
        "patterns/breakwater-bolster/index.html",
        "patterns/groyne-bolster/index.html",
        "posts/index.html",
        "posts/first-swatch/index.html",
        "tags/index.html",
        "tags/sea/index.html",
        "tags/first-projects/index.html",
        "tags/notes/index.html",
        "sheets/index.html",
        "about/index.html",
    }


@pytest.mark.parametrize("name", ["tideline", "ledger"])
def test_the_same_views_give_the_same_bytes(name: str):
    assert whole_site(name=name) == whole_site(name=name)


def test_the_order_in_which_patterns_come_in_changes_nothing():
    renderer = Renderer(site(), theme())
    assert site_files(renderer, cards()) == site_files(renderer, cards()[::-1])


def test_a_site_without_an_address_makes_no_absolute_claim():
    files = whole_site(replace(site(), address=None))
    assert "sitemap.xml" not in files
    assert b"Sitemap" not in files["robots.txt"]
    for path, data in files.items():
        if path.endswith(".html"):
            tree = parse(data.decode())
            links = [x.get("rel") for x in all_of(tree, "link")]
            assert "canonical" not in links
            names = {m.get("property") for m in all_of(tree, "meta")}
            assert not {"og:image", "og:url"} & names
            for node in json_ld(tree):
                assert node["@type"] != "BreadcrumbList"
                assert "url" not in node
    feed = files["feed.xml"].decode()
    assert "<id>urn:uuid:" in feed
    assert 'href="patterns/breakwater-bolster/index.html"' in feed


def test_an_empty_site_is_whole_too():
    files = site_files(Renderer(site(), theme()))
    for path, data in files.items():
        if path.endswith(".html"):
            parse(data.decode())
    assert "No pattern is published yet." in files["patterns/index.html"].decode()
    assert b"1970-01-01T00:00:00Z" in files["feed.xml"]


def test_what_is_held_back_is_marked_and_in_no_feed_or_sitemap():
    view = replace(pattern_views()[0], held="held back until 2027-01-01", published="2027-01-01")
    renderer = Renderer(site(), theme())
    page = parse(renderer.pattern(view)["patterns/breakwater-bolster/index.html"].decode())
    assert "Held back until 2027-01-01" in words(all_of(page, "main")[0])
    assert [m.get("content") for m in all_of(page, "meta") if m.get("name") == "robots"] == [
        "noindex"
    ]
    files = site_files(renderer, [card(view)], posts=[post(held="draft", published=None)])
    assert b"<entry>" not in files["feed.xml"]
    assert b"breakwater-bolster" not in files["sitemap.xml"]
    assert b"first-swatch" not in files["sitemap.xml"]
    assert "Held back until 2027-01-01" in files["patterns/index.html"].decode()


def test_cards_carry_what_the_filters_ask_for():
    files = site_files(Renderer(site(), theme()), cards())
    items = {li.get("data-title"): li for li in all_of(parse(files["patterns/index.html"].decode()), "li")
             if li.get("class") == "card"}  # fmt: skip
    free = items["Breakwater bolster"]
    told = {key.removeprefix("data-"): value for key, value in free.attrib.items()}
    assert told["access"] == "free"
    assert told["kind"] == "cushion"
    assert (told["bed"], told["needles"], told["weight"]) == ("circular", "40", "5")
    assert told["colours"].split() == ["blue", "white"]
    assert told["size"] in {"small", "medium", "large"}
    assert int(told["minutes"]) > 0
    assert told["updated"] == "2026-11-03"
    assert items["Groyne bolster"].get("data-price") == "6.5"
    assert "Corrected 3 November 2026" in words(free)


def changed(card, **fields):
    """The card of a pattern that says something else."""
    return replace(card, view=replace(card.view, **fields))


def test_newest_first_then_by_title():
    old, new = (
        changed(cards()[0], published="2025-01-01"),
        changed(cards()[0], published="2026-01-01"),
    )
    twin = changed(new, title="Anchor cowl", slug="anchor")
    draft = changed(cards()[0], published=None, held="draft")
    assert by_day([old, new, twin, draft]) == [draft, twin, new, old]


def test_choices_are_those_that_some_card_has():
    found = SearchIndex(cards()).choices
    assert found["access"] == ["free", "paid"]
    assert (found["bed"], found["needles"]) == (["circular"], ["40"])
    assert found["colours"] == ["blue", "white"]


def test_spellings_of_a_tag_share_a_page():
    one, two = changed(cards()[0], tags=("Sea",)), changed(cards()[1], tags=("sea", "Séa"))
    (tag,) = tags_of([one, two], [post(tags=("SEA",))])
    assert (tag.slug, tag.title, tag.count) == ("sea", "Sea", 3)


def test_the_404_carries_its_own_styles_and_links_from_the_sites_address():
    tree = parse(whole_site()["404.html"].decode())
    assert all_of(tree, "style")
    assert not [x for x in all_of(tree, "link") if x.get("rel") == "stylesheet"]
    hrefs = [a.get("href") for a in all_of(tree, "a") if not a.get("href").startswith("#")]
    assert all(href.startswith("https://saltloft.example.org/knits/") for href in hrefs)


def test_the_404_of_the_preview_stays_in_the_preview():
    tree = parse(whole_site(about=replace(site(), preview=True))["404.html"].decode())
    links = [a.get("href") for a in all_of(tree, "a")]
    assert "/patterns/index.html" in links
    assert not any(str(link).startswith(str(site().address)) for link in links)
