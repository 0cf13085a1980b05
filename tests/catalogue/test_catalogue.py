"""Every word comes from the catalogue, and the catalogue has every word."""

from __future__ import annotations

import pytest
from babel.messages.pofile import read_po

from stripewright import catalogue
from stripewright.catalogue import _, n_, speaking
from support.catalogue import LOCALES, _file, american, drafted, renewed


@pytest.mark.parametrize("name", LOCALES)
def test_the_catalogue_is_current(name):
    current = _file(name).read_text(encoding="utf-8")
    # Which messages hold braces is flagged by newer versions of Babel alone.
    now, before = (
        [line for line in text.split("\n") if not line.startswith("#, ")]
        for text in (renewed(name), current)
    )
    assert now == before, "renew it: python tests/support/catalogue.py"


@pytest.mark.parametrize("name", LOCALES)
def test_each_message_has_words_with_the_same_fields(name):
    with _file(name).open("rb") as stream:
        read = read_po(stream, locale=name)
    messages = [one for one in read if one.id]
    assert len(messages) > 200
    for one in messages:
        said = [one.string] if isinstance(one.string, str) else list(one.string)
        assert all(said), one.id
        assert not list(one.check(read)), one.id


def test_british_english_is_the_messages_themselves():
    assert not catalogue.locale("en_GB").messages
    with _file("en_GB").open("rb") as stream:
        assert all(one.string == one.id for one in read_po(stream, locale="en_GB") if one.id)


def test_words_follow_the_locale_spoken():
    assert _("Your own colours") == "Your own colours"
    with speaking("en_US") as words:
        assert _("Your own colours") == "Your own colors"
        assert words.tag == "en-US"
        with speaking("en_GB"):
            assert _("Your own colours") == "Your own colours"
    assert _("Your own colours") == "Your own colours"


def test_a_count_takes_its_form():
    assert [n_("{number} row", "{number} rows", n) for n in (0, 1, 2)] == [
        "0 rows", "1 row", "2 rows",
    ]  # fmt: skip


@pytest.mark.parametrize(("language", "terms", "name"), [
    ("en", "uk", "en_GB"), ("en-GB", "us", "en_US"), ("en-US", "uk", "en_GB"), ("de", "us", "en_US"),
    ("de-AT", "uk", "en_GB"),
])  # fmt: skip
def test_pages_are_marked_with_the_language_of_their_words(language, terms, name):
    assert catalogue.locale_named(language, terms) == name


def test_a_draft_in_american_leaves_names_in_braces():
    assert american("{colour} of Colours, cast off") == "{colour} of Colors, bind off"
    assert drafted("{tension}: write 23 g or 12 m") == "{tension}: write 0.8 oz or 13 yd"
    assert american("123 g (12 m) of tension") == "123 g (12 m) of gauge"
    assert american("{{ colour }} {% if cast_off %}centre{% endif %}") == (
        "{{ colour }} {% if cast_off %}center{% endif %}"
    )


def test_warnings_are_told_in_the_studios_words_and_units():
    from stripewright.pattern.settings import Settings
    from stripewright.pipeline.make import work_source
    from stripewright.pipeline.sources import SourceFile
    from support.patterns import text_of

    def told(**settings):
        fit = {"pieces": {"hat": {"form": "tube", "stripes": ["deep 20"], "ends": ["open", "gathered"]}},
               "fit": {"head": "60 cm"}, "kind": "hat"}  # fmt: skip
        studio = Settings(title="S", maker="M", summary="S.", **settings)
        source = SourceFile("content/patterns/hat.md", text_of(**fit).encode())
        return [one.message for one in work_source(source, studio).problems]

    [metric] = [one for one in told() if "on a head of" in one]
    [inches] = [one for one in told(units="imperial", terms="us") if "on a head of" in one]
    assert metric.endswith("on a head of 60 cm")
    assert inches.endswith("on a head of 23⅝ in")


def test_a_pattern_may_have_units_and_terms_of_its_own():
    from stripewright.pattern.settings import Settings
    from stripewright.pipeline.make import work_source
    from stripewright.pipeline.sources import SourceFile
    from support.patterns import text_of

    studio = Settings(title="S", maker="M", summary="S.")
    source = SourceFile("content/patterns/own.md", text_of(units="imperial", terms="us").encode())
    done = work_source(source, studio)
    assert (done.settings.units, done.settings.terms, done.settings.words) == (
        "imperial", "us", "en_US",
    )  # fmt: skip
    steps = " ".join(step.text for group in done.written.groups for step in group.steps)
    assert "color A" in steps
    assert "colour" not in steps
    wrong = SourceFile("content/patterns/own.md", text_of(terms="american").encode())
    [problem] = work_source(wrong, studio).problems
    assert problem.place.line
    assert "terms" in problem.message
