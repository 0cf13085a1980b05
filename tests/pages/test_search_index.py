"""The list that the catalogue is searched by: what it holds, how small it is, what it never holds."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest

from stripewright.addresses import CATALOGUE, SEARCH
from stripewright.pages.cards import by_day, card
from stripewright.pages.parts import MOST_CARDS
from stripewright.pages.render import Renderer
from stripewright.pages.search import SearchIndex
from stripewright.publish.reading import marked_up
from support.many_cards import many_cards
from support.pages import all_of, parse, site_files
from support.views import FREE, PAID, site, theme, view_of

EACH_BYTES = 260
"""10,000 patterns are to be less than 3 MB."""


def read(data: bytes) -> dict:
    text = data.decode()
    assert text.startswith("document.patternIndex={")
    assert text.endswith("};\n")
    return json.loads(text[len("document.patternIndex=") : -2])


def number(code: str) -> int:
    value = 0
    for letter in code:
        value = value * 26 + ord(letter) - ord("a")
    return value


def rows(data: bytes) -> list[dict]:
    """Each row, its codes looked up."""
    lists = read(data)
    found = []
    for row in lists["rows"].splitlines():
        slug, title, summary, codes = row.split("\t")
        kind, level, bed, size, minutes, changed, price, yarns, tags, written = codes.split(".")
        found.append({
            "slug": slug, "title": title, "summary": summary,
            "kind": lists["kinds"][number(kind)], "level": lists["levels"][number(level)],
            "bed": lists["beds"][number(bed)], "size": lists["sizes"][number(size)],
            "minutes": number(minutes), "changed": number(changed),
            "price": lists["prices"][number(price)] if price else None,
            "yarns": [lists["yarns"][number(code)].split("\t")[0] for code in yarns.split(",")],
            "written": number(written) if written else None,
            "tags": [lists["tags"][number(code)] for code in tags.split(",") if code],
        })  # fmt: skip
    return found


def test_each_pattern_is_told_as_its_card_tells_it():
    cards = by_day(many_cards(60))
    found = rows(SearchIndex(cards).data)
    assert len(found) == 60
    for one, row in zip(cards, found, strict=True):
        view = one.view
        assert (row["slug"], row["title"], row["summary"]) == (view.slug, view.title, view.summary)
        assert (row["kind"], row["level"]) == (view.kind, view.level)
        assert row["bed"] == f"{view.numbers.bed} {view.numbers.needles}"
        assert (row["size"], row["minutes"]) == (one.size_class, round(view.numbers.minutes))
        assert row["price"] == (view.offer.price if view.offer else None)
        assert row["written"] is None
        assert row["yarns"] == [name for name, _, _ in one.yarns]
        assert row["tags"] == list(view.tags)
    days = {one.view.slug: one.changed for one in cards}
    in_order = sorted(found, key=lambda row: row["changed"])
    assert [days[row["slug"]] for row in in_order] == sorted(days.values())


@pytest.mark.parametrize("text", [FREE, PAID], ids=["free", "paid"])
def test_yarns_of_sizes_and_colourways_are_found_too(text: str):
    ways = """sizes:
  thin: {gauge: 18 sts x 26 rows / 10 cm, weight: 4, keep: size}
colourways:
  moor: {yarns: {deep: {name: Zinnia, colour: "#b0202c"}}}
fill: medium
"""
    one = card(view_of(text.replace("fill: medium\n", ways), "many-ways"))
    (row,) = rows(SearchIndex([one]).data)
    assert {"Deep water", "Foam", "Zinnia"} <= set(row["yarns"])
    assert (one.weights, one.classes) == ((5,), (4, 5))
    assert one.colours == ("#1f3d5c", "#dfe9e4"), "the card shows the yarns that it is written in"
    assert row["written"] == 2, "and so does what is found"
    assert "red" in one.families


def test_it_is_compact():
    assert len(SearchIndex(many_cards(2000)).data) < 2000 * EACH_BYTES


def test_the_same_patterns_give_the_same_bytes_and_another_another_stamp():
    cards, renderer = many_cards(30), Renderer(site(), theme())
    one, two = site_files(renderer, cards), site_files(renderer, cards[::-1])
    assert one[SEARCH] == two[SEARCH]
    assert one[CATALOGUE] == two[CATALOGUE]
    assert SearchIndex(cards).stamp != SearchIndex(cards[1:]).stamp


@pytest.mark.parametrize("count", [3, MOST_CARDS + 1])
def test_the_catalogue_asks_for_this_very_list(count: int):
    cards = by_day(many_cards(count))
    files = site_files(Renderer(site(), theme()), cards)
    pages = [path for path in files if path.startswith("patterns/") and path.endswith(".html")]
    assert len(pages) == 1 + (count > MOST_CARDS)
    for path in pages:
        tree = parse(files[path].decode())
        (tool,) = (e for e in all_of(tree, "div") if e.get("data-tool") == "catalogue-filters")
        assert tool.get("data-index") == f"../{SEARCH}?{SearchIndex(cards).stamp}"
        assert not all_of(tree, "input"), "without scripts there is no field"
        told = [e for e in all_of(tree, "script") if e.get("id") == "choices"]
        assert len(told) == (count > MOST_CARDS)
        if told:
            assert json.loads(told[0].text)["total"] == count


@pytest.mark.parametrize("hostile", [
    '"};alert(1)//', "</script><script>alert(1)</script>", "a\tb\nc", "\u2028\u2029", "\\n\\t", "\x00\x1f",
    "zu\u0308g 🧶", "'", "a|b",
])  # fmt: skip
def test_any_text_stays_a_text(hostile: str):
    one = many_cards(1)[0]
    view = replace(one.view, title=f"x{hostile}", summary=hostile, tags=(f"t{hostile}",))
    data = SearchIndex([replace(one, view=view, yarns=((hostile, "#1f3d5c", None),))]).data
    assert not {"\u2028", "\u2029"} & set(data.decode())
    (row,) = rows(data)
    clean = "".join(sign for sign in hostile if sign.isspace() or sign.isprintable())
    assert row["summary"] == " ".join(clean.split())
    assert row["title"].startswith("x")


def test_no_row_of_figures_stands_in_it():
    """What the guard reads as a plan are whole numbers a few characters apart; here are none."""
    cards = [replace(one, view=replace(one.view, slug="no-figure")) for one in many_cards(200)]
    words = marked_up(SearchIndex(cards).data.decode())
    found = [numbers for _, numbers in words.numbers() if numbers]
    assert found == [[40]], "the needles"
