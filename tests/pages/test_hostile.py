"""Strings that try to break out, through every field that an author fills, into every format."""

from __future__ import annotations

import json
from dataclasses import replace
from functools import cache
from typing import TYPE_CHECKING
from xml.etree import ElementTree as ET

import feedparser
import html5lib
import pytest

from stripewright.pages.cards import card
from stripewright.pages.render import Renderer
from stripewright.view.pieces import EventRow
from stripewright.view.runs import shown_steps
from support.hostile import HOSTILE
from support.pages import all_of, json_ld, parse, site_files, words
from support.views import pattern_views, post, site, theme

if TYPE_CHECKING:
    from stripewright.view.views import PatternView

ELEMENTS = {"script", "b", "img"}


def happens(text: str) -> EventRow:
    """An event with the text in its words."""
    return EventRow("fold", 30, "030", text, text, None, 0, 1)


def poisoned(view: PatternView, text: str) -> PatternView:
    """The view with the text in every field that holds an author's words."""
    numbers, drawings, video = view.numbers, view.drawings, view.video
    groups = tuple(
        replace(g, title=text, steps=tuple(replace(s, title=text, text=text) for s in g.steps))
        for g in view.groups
    )
    return replace(
        view,
        title=text,
        summary=text,
        tags=(text,),
        version=text,
        cautions=tuple(replace(c, title=text, text=text) for c in view.cautions),
        corrections=tuple(replace(c, text=text) for c in view.corrections),
        licence=text,
        credit=text,
        groups=groups,
        shown_steps=shown_steps(groups),
        numbers=replace(
            numbers,
            materials=tuple(replace(m, name=text, fibre=text) for m in numbers.materials),
            supplies=tuple(replace(s, name=text) for s in numbers.supplies),
            pieces=tuple(
                replace(
                    p,
                    title=text,
                    rows=(*(replace(row, yarn=text) for row in p.plan), happens(text)),
                )
                for p in numbers.pieces
            ),
            sizes=tuple(replace(one, title=text, note=text) for one in numbers.sizes),
            clashes=(text,),
        ),
        drawings=replace(
            drawings, finished=replace(drawings.finished, title=text, description=text)
        ),
        video=replace(
            video, title=text, chapters=tuple(replace(c, title=text) for c in video.chapters)
        ),
    )


def kept(text: str) -> str:
    """What of a text a document may hold, with single spaces."""
    bad = {*range(0x20), *range(0x7F, 0xA0), *range(0xD800, 0xE000), *range(0xFDD0, 0xFDF0),
           0xFFFE, 0xFFFF} - {0x09, 0x0A, 0x0D}  # fmt: skip
    return " ".join("".join(c for c in text if ord(c) not in bad).split())


@cache
def usual(name: str) -> int:
    """How many elements of a name the page has without anything hostile in it."""
    view = pattern_views()[0]
    page = Renderer(site(), theme()).pattern(view)[f"patterns/{view.slug}/index.html"]
    return len(all_of(parse(page.decode()), name))


@pytest.mark.parametrize("text", HOSTILE.values(), ids=HOSTILE.keys())
def test_a_pattern_page_shows_the_text_and_runs_none_of_it(text: str):
    free = poisoned(pattern_views()[0], text)
    renderer = Renderer(replace(site(), title=text, maker=text, summary=text), theme())
    page = renderer.pattern(free)[f"patterns/{free.slug}/index.html"].decode()
    tree = parse(page)
    for name in ELEMENTS:
        assert len(all_of(tree, name)) == usual(name), name
    assert words(all_of(tree, "h1")[0]) == kept(text)
    names = {name.lower() for element in tree.iter() for name in element.attrib if name}
    assert not {name for name in names if name.startswith("on")}
    how = next(node for node in json_ld(tree) if node["@type"] == "HowTo")
    assert kept(how["name"]) == kept(text)
    item = next(li for li in all_of(tree, "li") if li.get("data-letter"))
    assert kept(item.get("data-name")) == kept(text)


@pytest.mark.parametrize("text", HOSTILE.values(), ids=HOSTILE.keys())
def test_lists_feed_and_sitemap_hold_the_text(text: str):
    views = [poisoned(view, text) for view in pattern_views()]
    said = post(title=text, summary=text, tags=(text,))
    renderer = Renderer(replace(site(), title=text, maker=text), theme())
    files = site_files(renderer, [card(view) for view in views], posts=[said])
    for path, data in files.items():
        if path.endswith(".html"):
            tree = parse(data.decode())
            assert all(json.dumps(node) for node in json_ld(tree))
            assert not all_of(tree, "b"), path
        if path.endswith(".xml"):
            ET.fromstring(data)
    feed = feedparser.parse(files["feed.xml"])
    assert not feed.bozo
    titles = [e.findtext("{http://www.w3.org/2005/Atom}title") for e in ET.fromstring(files["feed.xml"])
              if e.tag.endswith("entry")]  # fmt: skip
    assert {kept(title) for title in titles} == {kept(text)}
    for entry in ET.fromstring(files["feed.xml"]):
        html = entry.findtext("{http://www.w3.org/2005/Atom}content")
        if html:
            parsed = html5lib.parseFragment(html, namespaceHTMLElements=False)
            assert not [e for e in parsed.iter() if e.tag in ("script", "img", "b", "svg")]
