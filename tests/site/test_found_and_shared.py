"""What search engines and messengers read: structured data, canonical addresses, Open Graph.

Required properties: schema.org's definitions of HowTo, Product, Offer, BlogPosting and
BreadcrumbList, and the Open Graph protocol's (ogp.me) four required ones; from memory.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import pytest

from support.pages import all_of, json_ld, words

if TYPE_CHECKING:
    from xml.etree.ElementTree import Element

    from support.pages import Site

ADDRESS = "https://lanternhythe.example.org/"
DAY = re.compile(r"\d{4}-\d\d-\d\d")
DURATION = re.compile(r"PT(?=\d)(\d+H)?(\d+M)?")


def nodes(tree: Element) -> dict[str, dict]:
    return {node["@type"]: node for node in json_ld(tree)}


def meta(tree: Element) -> dict[str, str]:
    found = {}
    for element in all_of(tree, "meta"):
        name = element.get("property") or element.get("name")
        if name:
            found[name] = element.get("content")
    return found


@pytest.mark.reference
def test_free_patterns_are_how_tos_with_supplies_tools_and_steps(site: Site):
    seen = 0
    for path in site.patterns:
        tree = site.trees[path]
        if 'class="buy"' in site.text(path):
            continue
        seen += 1
        how = nodes(tree)["HowTo"]
        assert how["name"] == words(all_of(tree, "h1")[0])
        assert how["description"]
        assert how["author"]["name"]
        assert DURATION.fullmatch(how["totalTime"])
        assert DAY.fullmatch(how["datePublished"])
        materials = next(u for u in all_of(tree, "ul") if u.get("class") == "materials")
        assert len(how["supply"]) > len(materials)
        assert all(s["@type"] == "HowToSupply" and s["name"] for s in how["supply"])
        assert all(t["@type"] == "HowToTool" and t["name"] for t in how["tool"])
        told = [s for section in how["step"] for s in section["itemListElement"]]
        sizes = [s for s in all_of(tree, "section") if s.get("data-in-size") not in (None, "base")]
        others = {id(box) for size in sizes for box in all_of(size, "input")}
        boxes = [b for b in all_of(tree, "input") if b.get("data-step") and id(b) not in others]
        runs = [one for one in all_of(tree, "li") if one.get("class") == "run"]
        inside = {id(b) for run in runs for b in all_of(run, "input")}
        alone = [b for b in boxes if id(b) not in inside]
        assert len(told) == len(alone) + len(runs) - sum(
            id(run) in {id(one) for size in sizes for one in all_of(size, "li")} for run in runs
        )
        assert len(told) > 5
        ids = {element.get("id") for element in tree.iter()}
        for step in told:
            assert step["@type"] == "HowToStep"
            assert step["text"]
            assert step["name"]
            assert step["url"].split("#")[1] in ids
    assert seen >= 6


@pytest.mark.reference
def test_paid_patterns_are_products_with_an_offer_and_no_steps(site: Site):
    seen = 0
    for path in site.patterns:
        if 'class="buy"' not in site.text(path):
            continue
        seen += 1
        found = nodes(site.trees[path])
        assert "HowTo" not in found
        product = found["Product"]
        assert product["name"]
        assert product["description"]
        assert product["brand"]["name"]
        offer = product["offers"]
        assert offer["@type"] == "Offer"
        assert re.fullmatch(r"\d+\.\d\d", offer["price"])
        assert re.fullmatch(r"[A-Z]{3}", offer["priceCurrency"])
        assert offer["url"].startswith("https://")
        assert offer["availability"].startswith("https://schema.org/")
    assert seen >= 3


@pytest.mark.reference
def test_posts_are_blog_postings(site: Site):
    posts = [p for p in site.pages if p.startswith("posts/") and p.count("/") == 2]
    assert len(posts) >= 3
    for path in posts:
        post = nodes(site.trees[path])["BlogPosting"]
        assert post["headline"]
        assert post["author"]["name"]
        assert DAY.fullmatch(post["datePublished"])
        assert post["dateModified"] >= post["datePublished"]
        assert post["url"] == ADDRESS + path.removesuffix("index.html")


@pytest.mark.reference
def test_breadcrumbs_count_from_home_to_the_page(site: Site):
    for path, tree in site.trees.items():
        if path in ("index.html", "404.html"):
            continue
        items = nodes(tree)["BreadcrumbList"]["itemListElement"]
        assert [item["position"] for item in items] == list(range(1, len(items) + 1))
        assert items[0]["item"] == ADDRESS
        assert items[-1]["item"] == ADDRESS + path.removesuffix("index.html")
        assert all(item["name"] for item in items)


def test_the_home_page_is_the_web_site(site: Site):
    found = nodes(site.trees["index.html"])["WebSite"]
    assert found["name"] == "Lanternhythe"
    assert found["url"] == ADDRESS


def test_every_page_says_its_own_address_and_open_graph_the_same(site: Site):
    for path, tree in site.trees.items():
        if path == "404.html":
            continue
        canonical = [x.get("href") for x in all_of(tree, "link") if x.get("rel") == "canonical"]
        assert canonical == [ADDRESS + path.removesuffix("index.html")]
        told = meta(tree)
        assert told["og:url"] == canonical[0]
        assert told["og:title"] == words(all_of(tree, "title")[0])
        assert told["og:description"] == told["description"]
        assert told["og:type"]


def test_patterns_have_a_share_picture_that_is_there(tideline: Site):
    from PIL import Image

    for path in tideline.patterns:
        told = meta(tideline.trees[path])
        assert told["og:image"] == ADDRESS + path.replace("index.html", "share.jpg")
        assert told["og:image:alt"]
        with Image.open(tideline.folder / path.replace("index.html", "share.jpg")) as picture:
            assert told["og:image:type"] == picture.get_format_mimetype() == "image/jpeg"
            told_size = (told["og:image:width"], told["og:image:height"])
            assert told_size == tuple(map(str, picture.size)) == ("800", "600")
            assert not picture.getexif()


def test_a_link_is_marked_as_sponsored_where_the_settings_mark_its_shop_and_nowhere_else(
    site: Site,
):
    for path in site.pages:
        for link in all_of(site.trees[path], "a"):
            rel = (link.get("rel") or "").split()
            sponsored = "woolbarn.example.com" in (link.get("href") or "")
            assert ("sponsored" in rel) == sponsored, (path, link.get("href"))
