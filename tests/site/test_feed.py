"""The feed against RFC 4287 (Atom), the sitemap against sitemaps.org's protocol, robots.txt."""

from __future__ import annotations

import re
from datetime import datetime
from typing import TYPE_CHECKING
from urllib.robotparser import RobotFileParser
from xml.etree import ElementTree as ET

import feedparser
import html5lib
import pytest

from support.pages import all_of, words

if TYPE_CHECKING:
    from xml.etree.ElementTree import Element

    from support.pages import Site

ATOM = "{http://www.w3.org/2005/Atom}"
MAP = "{http://www.sitemaps.org/schemas/sitemap/0.9}"
ADDRESS = "https://lanternhythe.example.org/"

FEED_ONCE = {"id", "title", "updated", "subtitle"}
"""RFC 4287, section 4.1.1: exactly one id, title and updated, at most one subtitle."""
ENTRY_ONCE = {"id", "title", "updated", "published", "summary", "content"}
"""Section 4.1.2."""


@pytest.fixture(scope="module")
def feed(tideline: Site) -> Element:
    return ET.fromstring(tideline.text("feed.xml"))


def entries(feed: Element) -> list[Element]:
    return feed.findall(f"{ATOM}entry")


def test_feedparser_takes_it_without_a_word(tideline: Site):
    found = feedparser.parse((tideline.folder / "feed.xml").read_bytes())
    assert not found.bozo
    assert found.version == "atom10"
    assert found.feed.title == "Lanternhythe"
    assert len(found.entries) >= 12
    for entry in found.entries:
        assert entry.link.startswith(ADDRESS)
        assert entry.summary


@pytest.mark.reference
def test_it_keeps_the_rules_of_rfc_4287(feed: Element):
    assert feed.tag == f"{ATOM}feed"
    for element, once in [(feed, FEED_ONCE), *((e, ENTRY_ONCE) for e in entries(feed))]:
        names = [child.tag.removeprefix(ATOM) for child in element]
        for name in once:
            assert names.count(name) <= 1, (name, names)
        for name in ("id", "title", "updated"):
            assert names.count(name) == 1, names
        # 4.1.1: an author for the feed holds for entries without their own.
        assert feed.find(f"{ATOM}author/{ATOM}name").text
        # 4.2.6: an IRI, absolute.
        assert re.match(r"[a-z][a-z0-9+.-]*:.", element.findtext(f"{ATOM}id"))
        # 3.3: RFC 3339 with an upper-case T and Z.
        for name in ("updated", "published"):
            text = element.findtext(f"{ATOM}{name}")
            if text is not None:
                assert re.fullmatch(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ", text)
                datetime.fromisoformat(text)
        # 4.1.1 and 4.1.2: no two alternates of one type and language.
        kinds = [(x.get("type"), x.get("hreflang")) for x in element.findall(f"{ATOM}link")
                 if x.get("rel") == "alternate"]  # fmt: skip
        assert len(kinds) == len(set(kinds)) == 1
    ids = [entry.findtext(f"{ATOM}id") for entry in entries(feed)]
    assert len(ids) == len(set(ids))
    assert [x.get("href") for x in feed.findall(f"{ATOM}link") if x.get("rel") == "self"]


def test_the_feed_is_as_new_as_its_newest_entry_which_stands_first(feed: Element):
    days = [entry.findtext(f"{ATOM}updated") for entry in entries(feed)]
    assert days == sorted(days, reverse=True)
    assert feed.findtext(f"{ATOM}updated") == days[0]


def test_free_patterns_are_told_whole_and_paid_ones_by_their_introduction(
    feed: Element, tideline: Site
):
    whole, short = 0, 0
    for entry in entries(feed):
        path = entry.find(f"{ATOM}link").get("href").removeprefix(ADDRESS) + "index.html"
        if not path.startswith("patterns/"):
            continue
        html = entry.findtext(f"{ATOM}content")
        told = words(html5lib.parseFragment(html))
        page = tideline.trees[path]
        tables = [
            t for t in all_of(page, "table") if t.get("data-piece") and not t.get("data-size")
        ]
        rows = [row for table in tables for row in all_of(table, "tr") if row.get("data-last")]
        if 'class="buy"' in tideline.text(path):
            short += 1
            assert not rows
            assert "RC " not in told
            assert "A pattern to buy" in told
        else:
            whole += 1
            for row in rows:
                assert f"RC {int(row.get('data-last')):03d}" in told
    assert (whole, short) >= (6, 3)


def test_a_correction_is_told_in_the_feed_on_its_day(feed: Element, tideline: Site):
    entry = next(e for e in entries(feed) if e.findtext(f"{ATOM}title") == "Lamplit bolster")
    assert entry.findtext(f"{ATOM}updated") >= "2026-10-18"
    assert "Corrections" in entry.findtext(f"{ATOM}content")
    assert entry.findtext(f"{ATOM}published") < entry.findtext(f"{ATOM}updated")


def test_links_in_entries_are_read_from_the_page_that_they_stand_on(feed: Element):
    """xml:base: relative pictures and links in the content are those of the page itself."""
    for entry in entries(feed):
        base = entry.find(f"{ATOM}content").get("{http://www.w3.org/XML/1998/namespace}base")
        assert base == entry.find(f"{ATOM}link").get("href")


def test_the_sitemap_lists_every_page_but_the_404(tideline: Site):
    tree = ET.fromstring(tideline.text("sitemap.xml"))
    assert tree.tag == f"{MAP}urlset"
    listed = [url.findtext(f"{MAP}loc") for url in tree]
    expected = {ADDRESS + p.removesuffix("index.html") for p in tideline.pages if p != "404.html"}
    assert sorted(listed) == sorted(expected)
    for url in tree:
        day = url.findtext(f"{MAP}lastmod")
        assert day is None or re.fullmatch(r"\d{4}-\d\d-\d\d", day)
        if "/patterns/" in url.findtext(f"{MAP}loc"):
            assert day


def test_robots_may_read_all_and_are_told_of_the_sitemap(tideline: Site):
    robots = RobotFileParser()
    robots.parse(tideline.text("robots.txt").splitlines())
    assert robots.can_fetch("anyone", ADDRESS + "patterns/")
    assert robots.site_maps() == [ADDRESS + "sitemap.xml"]
