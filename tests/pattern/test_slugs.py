"""Slugs: one each, on any system."""

import pytest

from stripewright.pattern.pattern import Pattern
from stripewright.pattern.settings import Page, Settings
from stripewright.pattern.slugs import check_slug, duplicate_slugs, proposed, slug_of
from stripewright.source.document import Document


def told(file, slug=None, model=Pattern):
    return [problem.message for problem in check_slug(slug, Document(file, {}), model)]


def test_a_slug_is_stated_or_the_files_name():
    assert slug_of(None, "content/patterns/two-tides-hat.md") == "two-tides-hat"
    assert slug_of("hat", "content/patterns/two-tides-hat.md") == "hat"


@pytest.mark.parametrize("name", ["con", "nul", "prn", "aux", "com1", "lpt9"])
def test_names_of_devices_are_refused(name):
    assert "Windows" in told("a.md", name)[0]
    assert "Windows" in told(f"content/patterns/{name}.md")[0]


@pytest.mark.parametrize(
    ("name", "better"),
    [
        ("Über Hut", "uber-hut"),
        ("A_B", "a-b"),
        ("x.y", "x-y"),
        ("-", "my-pattern"),
        ("ßtraße", "sstrasse"),
    ],
)
def test_a_files_name_that_can_not_be_an_address_says_what_could(name, better):
    [problem] = check_slug(None, Document(f"content/patterns/{name}.md", {}), Pattern)
    assert f"slug: {better}" in problem.hint
    assert problem.place.line == 1
    assert proposed(name) == better


def test_pages_leave_the_sites_own_names_alone():
    assert told("content/pages/tags.md", model=Page)
    assert not told("content/patterns/tags.md")
    assert not told("content/Studio Settings.yaml", model=Settings)


def test_two_files_of_one_slug_are_told_at_the_later_one_whatever_the_capitals():
    problems = duplicate_slugs(
        [("a.md", "hat"), ("b.md", "Hat"), ("c.md", "cap"), ("d.md", "hat"), ("e.md", "hat-2")]
    )
    assert [problem.place.file for problem in problems] == ["b.md", "d.md"]
    assert all("taken by a.md" in problem.message for problem in problems)
    assert all("hat-3" in problem.hint for problem in problems)
    assert duplicate_slugs([("a.md", "hat"), ("b.md", "cap")]) == []
