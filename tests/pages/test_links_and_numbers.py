"""Links between pages, and numbers as readers see them."""

from __future__ import annotations

import pytest

from stripewright.figures import Figures
from stripewright.pages.clean import clean_document
from stripewright.pages.families import family
from stripewright.pages.links import Links, absolute, entry_id, tag_slug
from stripewright.pages.marks import marked
from stripewright.pages.structured import iso_duration
from stripewright.phrases import Phrase
from support.views import SETTINGS

HOST = "https://saltloft.example.org/knits/"


@pytest.mark.parametrize(
    ("here", "path", "link"),
    [
        ("index.html", "patterns/index.html", "patterns/index.html"),
        ("patterns/cowl/index.html", "index.html", "../../index.html"),
        ("about/index.html", "assets/base.css", "../assets/base.css"),
        ("posts/index.html", "tags/sea/index.html", "../tags/sea/index.html"),
        ("index.html", "photos/a b#c?.jpg", "photos/a%20b%23c%3F.jpg"),
    ],
)
def test_links_are_relative_and_encoded(here: str, path: str, link: str):
    assert Links(here, HOST).to(path) == link


def test_a_page_served_at_any_address_links_from_the_sites_own():
    assert Links("404.html", HOST, HOST).to("index.html") == HOST + "index.html"
    assert Links("404.html", None).to("index.html") == "index.html"


def test_absolute_addresses_leave_out_the_index():
    assert absolute(HOST, "patterns/cowl/index.html") == HOST + "patterns/cowl/"
    assert absolute(HOST, "index.html") == HOST
    assert absolute(HOST, "myindex.html") == HOST + "myindex.html"
    assert absolute(None, "index.html") is None


def test_entry_ids_last_and_differ():
    """RFC 4151: tag:AUTHORITY,DATE:SPECIFIC. Without an address, a UUID of title and path."""
    one = entry_id(HOST, "Salt Loft", "patterns/cowl/index.html", "2026-09-05")
    assert one == "tag:saltloft.example.org,2026-09-05:patterns/cowl"
    two = entry_id(None, "Salt Loft", "patterns/cowl/index.html", "2026-09-05")
    assert two == entry_id(None, "Salt Loft", "patterns/cowl/index.html", "2026-09-05")
    assert two != entry_id(None, "Salt Loft", "patterns/hat/index.html", "2026-09-05")
    assert two.startswith("urn:uuid:")


@pytest.mark.parametrize(
    ("tag", "slug"),
    [("First projects", "first-projects"), ("Été", "ete"), ("  sea  ", "sea"), ("A/B & c", "a-b-c"),
     ("../..", None), ("море", None), ("🧶", None)],
)  # fmt: skip
def test_tags_become_safe_folder_names(tag: str, slug: str | None):
    found = tag_slug(tag)
    assert found == slug if slug else found.startswith("tag-")
    assert tag_slug(tag.upper()) == found


def test_tags_without_latin_letters_stay_apart():
    assert tag_slug("море") != tag_slug("лес")


def test_both_systems_are_always_shown_the_usual_one_first():
    imperial = Figures.of(SETTINGS.model_copy(update={"units": "imperial"}))
    assert str(imperial.measure("cm", 38.2)) == "15 in (38.2 cm)"
    length = Figures.of(SETTINGS).measure("cm", 38.2)
    span = '<span class="measure" data-kind="length" data-cm="38.2">38.2 cm (15 in)</span>'
    assert marked(length) == span
    assert marked(Phrase("<", length, " & more")) == f"&lt;{span} &amp; more"


@pytest.mark.parametrize(
    ("minutes", "iso"), [(45, "PT45M"), (60, "PT1H"), (210, "PT3H30M"), (0, "PT0M")]
)
def test_durations_for_machines(minutes: int, iso: str):
    """ISO 8601, 5.5.2."""
    assert iso_duration(minutes) == iso


@pytest.mark.parametrize(
    ("colour", "name"),
    [("#000000", "black"), ("#ffffff", "white"), ("#808080", "grey"), ("#c0392b", "red"), ("#e08a2e", "orange"),
     ("#e8c547", "yellow"), ("#3f7a44", "green"), ("#1f3d5c", "blue"), ("#6b4a8b", "purple"),
     ("#e79ab3", "pink"), ("#6b4426", "brown"), ("#f2ead9", "white")],
)  # fmt: skip
def test_colour_families(colour: str, name: str):
    """By eye; common practice, no source."""
    assert family(colour) == name


def test_documents_hold_no_character_that_xml_and_html_refuse():
    bad = "".join(
        map(chr, [*range(9), 11, 12, *range(14, 32), *range(127, 160), 0xD800, 0xFDD0, 0xFFFE])
    )
    assert clean_document(f"a{bad}é\t\n\r·—🧶¿b") == "aé\t\n\r·—🧶¿b".encode()
