"""Long lists of patterns: in parts that are walked from one to the next, each card once."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from posixpath import dirname, join, normpath
from typing import TYPE_CHECKING

import pytest

from stripewright.pages.cards import card
from stripewright.pages.parts import MOST_CARDS, count_of, parts_of
from stripewright.pages.render import Renderer
from support.pages import all_of, json_ld, parse, site_files, words
from support.views import pattern_views, post, site, theme

if TYPE_CHECKING:
    from xml.etree.ElementTree import Element

MANY = 2 * MOST_CARDS + 37
FIRST = "patterns/index.html"
TAG = "tags/sea/index.html"


def numbered(number: int):
    """A card of its own: every fourth is to buy."""
    made = card(pattern_views()[number % 4 == 3])
    day = f"20{10 + number % 9}-0{1 + number % 9}-1{number % 7}"
    view = replace(made.view, slug=f"n-{number}", title=f"Pattern {number:05}", published=day)
    return replace(made, view=view)


@cache
def site_of(count: int, name: str = "tideline") -> dict[str, bytes]:
    return site_files(Renderer(site(), theme(name)), [*map(numbered, range(count))], posts=[post()])


def tree_of(files: dict[str, bytes], path: str) -> Element:
    return parse(files[path].decode())


def leads(path: str, element: Element) -> str:
    return normpath(join(dirname(path), element.get("href")))


def slugs(tree: Element) -> list[str]:
    titles = [h for level in ("h2", "h3") for h in all_of(tree, level)]
    heads = [h for h in titles if h.get("class") == "card-title"]
    return [all_of(h, "a")[0].get("href").split("/")[-2] for h in heads]


def walked(files: dict[str, bytes], path: str, rel: str) -> list[str]:
    """The pages from one on, by the link of a kind in what is read."""
    found = [path]
    while True:
        tree = tree_of(files, found[-1])
        links = [a for a in all_of(tree, "a") if a.get("rel") == rel]
        assert len(links) <= 1
        heads = [one for one in all_of(tree, "link") if one.get("rel") == rel]
        assert [leads(found[-1], one) for one in heads] == [leads(found[-1], a) for a in links]
        if not links:
            return found
        found.append(leads(found[-1], links[0]))


@pytest.mark.parametrize("name", ["tideline", "ledger"])
@pytest.mark.parametrize("first", [FIRST, TAG])
def test_a_walk_by_links_meets_every_pattern_once_and_leads_back(first: str, name: str):
    files = site_of(MANY, name)
    path = walked(files, first, "next")
    assert len(path) == 3
    met = [slug for one in path for slug in slugs(tree_of(files, one))]
    assert sorted(met) == sorted(f"n-{number}" for number in range(MANY))
    assert walked(files, path[-1], "prev") == path[::-1]


def test_the_order_is_that_of_one_page():
    files = site_of(MANY)
    met = [slug for one in walked(files, FIRST, "next") for slug in slugs(tree_of(files, one))]
    cards = {f"n-{number}": numbered(number).view for number in range(MANY)}
    assert met == sorted(sorted(met, key=lambda slug: cards[slug].title),
                         key=lambda slug: cards[slug].published, reverse=True)  # fmt: skip


def test_up_to_the_bound_a_list_is_one_page_with_nothing_to_walk():
    files = site_of(MOST_CARDS)
    assert not [path for path in files if "page-" in path]
    for path in (FIRST, TAG):
        tree = tree_of(files, path)
        assert len(slugs(tree)) == MOST_CARDS
        assert not [e for e in [*all_of(tree, "a"), *all_of(tree, "link")]
                    if e.get("rel") in ("prev", "next")]  # fmt: skip
        assert [nav.get("class") for nav in all_of(tree, "nav")] == ["menu", "trail"]
    assert "patterns/page-2.html" in site_of(MOST_CARDS + 1)


def test_each_part_says_where_it_is():
    files = site_of(MANY)
    second = tree_of(files, "patterns/page-2.html")
    assert words(all_of(second, "title")[0]) == "Patterns, page 2 of 3 · Salt Loft"
    assert f"Patterns {MOST_CARDS + 1} to {2 * MOST_CARDS} of {MANY}" in words(second)
    nav = next(one for one in all_of(second, "nav") if one.get("class") == "parts")
    now = [a for a in all_of(nav, "a") if a.get("aria-current") == "page"]
    assert [(words(a), a.get("aria-label")) for a in now] == [("2", "Page 2")]
    numbers = [words(a) for a in all_of(nav, "a") if a.get("rel") is None]
    assert numbers == ["1", "2", "3"]
    found = {one.get("rel"): one.get("href") for one in all_of(second, "link")}
    assert found["canonical"] == "https://saltloft.example.org/knits/patterns/page-2.html"
    (trail,) = (node for node in json_ld(second) if node["@type"] == "BreadcrumbList")
    assert trail["itemListElement"][-1]["item"] == found["canonical"]
    assert f": {MANY} striped" in next(
        m.get("content") for m in all_of(second, "meta") if m.get("name") == "description"
    )


def test_posts_of_a_tag_stand_on_its_first_page_and_the_sitemap_knows_all():
    cards = [replace(one, view=replace(one.view, tags=("notes",))) for one in
             map(numbered, range(MOST_CARDS + 2))]  # fmt: skip
    files = site_files(Renderer(site(), theme()), cards, posts=[post(tags=("notes",))])
    shown = post().title
    assert shown in words(tree_of(files, "tags/notes/index.html"))
    assert shown not in words(tree_of(files, "tags/notes/page-2.html"))
    listed = files["sitemap.xml"].decode()
    assert "/patterns/page-2.html</loc>" in listed
    assert "/tags/notes/page-2.html</loc>" in listed


def test_near_parts_are_linked_to_and_far_ones_are_a_gap():
    parts = {part.number: part.near for part in parts_of(FIRST, [None] * (MOST_CARDS * 12))}
    assert parts[1] == (1, 2, 3, None, 12)
    assert parts[4] == (1, 2, 3, 4, 5, 6, None, 12)
    assert parts[5] == (1, 2, 3, 4, 5, 6, 7, None, 12)
    assert parts[6] == (1, None, 4, 5, 6, 7, 8, None, 12)
    assert parts[12] == (1, None, 10, 11, 12)


def test_as_many_parts_as_it_takes():
    assert [count_of(n) for n in (0, 1, MOST_CARDS, MOST_CARDS + 1, 10_000)] == [
        1,
        1,
        1,
        2,
        10_000 // MOST_CARDS,
    ]
