"""Every page of the demo as HTML: it parses without an error, and every link leads somewhere."""

from __future__ import annotations

import itertools
import posixpath
from typing import TYPE_CHECKING

from support.pages import all_of, parse, split_target, targets, words

if TYPE_CHECKING:
    from support.pages import Site

ADDRESS = "https://lanternhythe.example.org/"


def test_every_page_parses_by_the_standard(site: Site):
    """html5lib in strict mode is the WHATWG parser with every parse error raised."""
    assert len(site.pages) > 25
    for path in site.pages:
        parse(site.text(path))


def test_no_id_stands_twice(site: Site):
    for path, tree in site.trees.items():
        ids = [element.get("id") for element in tree.iter() if element.get("id")]
        assert len(ids) == len(set(ids)), path


def test_every_link_inside_the_site_leads_to_a_file_and_a_place_in_it(site: Site):
    dead = []
    for path, tree in site.trees.items():
        for address in targets(tree):
            start = "" if address.startswith(ADDRESS) else posixpath.dirname(path)
            inside, fragment = split_target(address.removeprefix(ADDRESS))
            if address != ADDRESS and ":" in address.removeprefix(ADDRESS).split("/")[0]:
                continue
            target = posixpath.normpath(posixpath.join(start, inside)) if inside else path
            if (site.folder / target).is_dir():
                target = posixpath.join(target, "index.html")
            if not (site.folder / target).is_file() or (
                fragment and fragment not in _ids(site, target)
            ):
                dead.append((path, address))
    assert dead == []


def _ids(site: Site, path: str) -> set[str]:
    return {str(element.get("id")) for element in site.trees[path].iter()}


def test_links_are_relative_and_name_a_file(site: Site):
    """So that the folder opens from disk, from a sub-folder of a host, and from its root."""
    for path, tree in site.trees.items():
        if path == "404.html":
            continue
        for link in [*all_of(tree, "a"), *all_of(tree, "img"), *all_of(tree, "script")]:
            address = link.get("href") or link.get("src") or ""
            if ":" not in address and not address.startswith("#"):
                assert not address.startswith("/"), (path, address)
                assert not split_target(address)[0].endswith("/"), (path, address)


def test_each_page_has_one_heading_of_the_first_level_and_leaves_none_out(site: Site):
    for path, tree in site.trees.items():
        levels = [int(e.tag[-1]) for e in tree.iter() if isinstance(e.tag, str) and e.tag[-2:] in
                  {"h1", "h2", "h3", "h4", "h5", "h6"}]  # fmt: skip
        assert levels.count(1) == 1, path
        assert levels[0] == 1, path
        steps = [b - a for a, b in itertools.pairwise(levels)]
        assert max(steps, default=0) <= 1, (path, levels)


def test_titles_and_descriptions_are_each_pages_own(site: Site):
    heads = {}
    for path, tree in site.trees.items():
        title = words(all_of(tree, "title")[0])
        told = [m.get("content") for m in all_of(tree, "meta") if m.get("name") == "description"]
        assert title, path
        assert told[0], path
        assert title not in heads, (path, heads.get(title))
        heads[title] = path


def test_nothing_runs_or_styles_inline(site: Site):
    """The policy would block it, with a complaint in the console."""
    for path, tree in site.trees.items():
        for element in tree.iter():
            if isinstance(element.tag, str):
                names = {str(name).lower() for name in element.attrib}
                assert "style" not in names, (path, element.tag)
                assert not any(name.startswith("on") for name in names), (path, element.tag)
        for script in all_of(tree, "script"):
            assert script.get("src") or script.get("type") == "application/ld+json", path


def test_pictures_state_their_size_and_their_words(site: Site):
    for path, tree in site.trees.items():
        for image in all_of(tree, "img"):
            assert image.get("alt"), path
            assert int(image.get("width")) > 0, path
            assert int(image.get("height")) > 0, path
