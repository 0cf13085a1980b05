"""Links between pages, and numbers as readers see them."""

from __future__ import annotations

import pytest
from babel import Locale

from stripewright.pages import numbers
from stripewright.pages.clean import document
from stripewright.pages.families import family
from stripewright.pages.links import Links, absolute, entry_id, tag_slug
from stripewright.pages.marks import Marks, rc
from stripewright.view.make import site_view
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
    assert Links("404.html", HOST, rooted=True).to("index.html") == HOST + "index.html"
    assert Links("404.html", None, rooted=True).to("index.html") == "index.html"


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


GB, DE, US = Locale("en", "GB"), Locale("de"), Locale("en", "US")


@pytest.mark.reference
@pytest.mark.parametrize("locale", [GB, DE, US, Locale("fr"), Locale("sv")])
@pytest.mark.parametrize("value", [0, 0.05, 1.25, 38.2, 999.94, 1234.5, 1234567.8])
def test_numbers_are_those_of_babel(locale: Locale, value: float):
    from babel.numbers import format_decimal

    expected = format_decimal(round(value, 1), "#,##0.#", locale=locale)
    assert numbers.decimal(value, 1, locale) == expected


def test_a_number_that_rounds_to_nothing_has_no_sign():
    assert numbers.decimal(-0.01, 1, GB) == "0"
    assert numbers.decimal(-3.1, 1, GB) == "-3.1"


@pytest.mark.parametrize(
    ("cm", "told"),
    [
        (38.2, "15"),
        (2.54, "1"),
        (1.27, "½"),
        (30, "11¾"),
        (0, "0"),
        (100, "39¼"),
        (0.2, "0"),
        (-1.27, "−½"),
    ],
)
def test_inches_are_to_the_nearest_quarter(cm: float, told: str):
    """38.2 / 2.54 = 15.04; 30 / 2.54 = 11.81; 100 / 2.54 = 39.37."""
    assert numbers.inches(cm, GB) == told


def test_both_systems_are_always_shown_the_usual_one_first():
    metric = Marks.of(site_view(SETTINGS))
    imperial = Marks.of(site_view(SETTINGS.model_copy(update={"units": "imperial"})))
    assert metric.plain_length(38.2) == "38.2 cm (15 in)"
    assert imperial.plain_length(38.2) == "15 in (38.2 cm)"
    assert metric.plain_mass(62) == "62 g (2.2 oz)"  # 62 / 28.3495 = 2.187
    assert metric.plain_distance(120) == "120 m (131 yd)"  # 120 / 0.9144 = 131.23
    assert metric.length(38.2) == (
        '<span class="measure" data-kind="length" data-cm="38.2">38.2 cm (15 in)</span>'
    )


def test_prices_and_days_are_said_in_the_sites_language():
    assert numbers.price(6.5, "GBP", GB) == "£6.50"
    assert numbers.price(6.5, "EUR", DE) == "6,50\u00a0€"
    assert numbers.day("2026-09-05", GB) == "5 September 2026"
    assert numbers.day("2026-09-05", US) == "September 5, 2026"
    assert numbers.locale_of("en", "uk") == GB
    assert numbers.locale_of("en", "us") == US
    assert numbers.locale_of("xx", "uk") == GB


@pytest.mark.parametrize(
    ("minutes", "told", "iso"),
    [
        (45, "45 min", "PT45M"),
        (60, "1 h", "PT1H"),
        (210, "3 h 30 min", "PT3H30M"),
        (0, "0 min", "PT0M"),
    ],
)
def test_durations(minutes: int, told: str, iso: str):
    assert numbers.duration(minutes) == told
    assert numbers.iso_duration(minutes) == iso


def test_the_counter_is_told_as_its_three_wheels_show_it():
    assert [rc(n) for n in (0, 14, 186, 1204)] == ["RC 000", "RC 014", "RC 186", "RC 1204"]


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
    assert document(f"a{bad}é\t\n\r·—🧶¿b") == "aé\t\n\r·—🧶¿b".encode()
