"""What a template can't do, whoever wrote it: reach out, go on for ever, write without end."""

import time
from pathlib import Path

import pytest
import yaml

from stripewright.figures import Figures
from stripewright.words.facts import Ask, Facts, Hinted, Later, Length
from stripewright.words.sandbox import MOST_OUTPUT, Language, fill_in, unknown_names

CASES = yaml.safe_load(Path(__file__).with_name("templates.yaml").read_text(encoding="utf-8"))
LANGUAGE = Language(str)


def change(number):
    if number != 2:
        raise Hinted("there is no such change")
    return "RC 027"


COVER = Facts(
    "cover",
    {
        "worked_rows": 86,
        "title": "Cover",
        "width": Length(18.4, Figures()),
        "changes": tuple(range(1, 20_000)),
        "change": Ask("change", change, "change(2)"),
        "plan": Later(lambda: (Facts("a stripe", {"rows": 3}), Facts("a stripe", {"rows": 5}))),
    },
    title="Cover",
)
FACTS = {"cover": COVER, "name": "x", "number": 7}


def outcome(text):
    """What a template writes, or the mistake it is stopped with."""
    compiled = LANGUAGE.compile(text)
    if compiled.template is None:
        return compiled.faults[0].message
    unknown = unknown_names(compiled, FACTS)
    if unknown:
        return unknown[0].message
    written, fault = fill_in(compiled, FACTS)
    return fault.message if fault else written


@pytest.mark.parametrize("text", CASES["reaching"])
def test_nothing_is_reached(text):
    told = outcome(text)
    assert told
    for leak in ("<", "0x", "object", "root:", "function", "{'", "class '"):
        assert leak not in told, told
    compiled = LANGUAGE.compile(text)
    faults = compiled.faults or unknown_names(compiled, FACTS)
    assert faults or fill_in(compiled, FACTS)[1], "it was let through"


ENDLESS = [
    "{{ 10 ** 10 ** 10 }}",
    "{{ 9 * 9 * 99999999 * 99999999 }}",
    "{{ 1e308 * 10 }}",
    "{{ 1e999 }}",
    "{{ 99999999999999999999 }}",
    "{{ 'x' * 1000000000 }}",
    "{{ [1] * 1000000000 }}",
    "{{ 'x' + 'x' }}",
    "{{ 'x' ~ 'x' }}",
    "{{ range(1000000000) }}",
    "{{ range(0, 10, 0) }}",
    "{{ range(1, 10**9) }}",
    "{{ '%999999999d' % 1 }}",
    "{{ 'x' | center(999999999) }}",
    "{% for a in range(1000) %}{% for b in range(1000) %}{% for c in range(1000) %}{% endfor %}{% endfor %}{% endfor %}",
    "{% for a in range(1000) %}{% for b in range(1000) %}{% for c in range(1000) %}x{% endfor %}{% endfor %}{% endfor %}",
    "{% for a in cover.changes %}{% for b in cover.changes %}{{ a in cover.changes }}{% endfor %}{% endfor %}",
    "{% for a in cover.changes %}{{ cover.changes | join }}{% endfor %}",
    "{% for a in cover.changes %}{{ cover.changes | sum }}{% endfor %}x" * 40,
    "{% for a in cover.changes if a in cover.changes %}{{ a }}{% endfor %}",
    "{% for a in range(1000) %}{{ cover.changes }}{% endfor %}",
    "{% set a = 'x' %}" + "{% set a = [a, a, a, a, a, a, a, a] | join %}" * 30 + "{{ a }}",
    "{% set a = [1, 1] %}" + "{% set a = [a, a, a, a, a, a, a, a] %}" * 30 + "{{ a }}",
    "{% for a in [1] %}" * 30 + "{% endfor %}" * 30,
    "{% if 1 %}" * 300 + "{% endif %}" * 300,
    "{{ " + "(" * 5000 + "1" + ")" * 5000 + " }}",
    "{{ " + "-" * 5000 + "1 }}",
    "{{ " + "not " * 5000 + "1 }}",
    "{{ " + "+".join("1" * 5000) + " }}",
    "{{ " + "[" * 300 + "]" * 300 + " }}",
    "{{ " + "1" * 5000 + " }}",
    "{{ cover" + ".title" * 5000 + " }}",
    "{{ 1 }}" * 21_000,
]


@pytest.mark.parametrize("text", ENDLESS, ids=range(len(ENDLESS)))
def test_nothing_goes_on_for_ever(text):
    begun = time.process_time()
    compiled = LANGUAGE.compile(text)
    faults = compiled.faults
    if compiled.template is not None:
        written, fault = fill_in(compiled, FACTS)
        assert len(written) <= MOST_OUTPUT
        faults = (fault,) if fault else ()
    assert faults, "it was let through"
    assert len(faults[0].message) < 400
    # A bound, not a speed: without the meters these take from minutes to the age of the universe.
    assert time.process_time() - begun < 30


def test_half_a_megabyte_is_the_most():
    told = outcome(
        "{% for a in range(1000) %}{% for b in range(200) %}"
        + "x" * 20
        + "{% endfor %}{% endfor %}"
    )
    assert told == "the templates of this file write more than any page needs"


@pytest.mark.parametrize(("text", "written"), CASES["sound"].items())
def test_what_a_template_can_do(text, written):
    assert outcome(text) == written


@pytest.mark.parametrize(("text", "told"), CASES["mistakes"].items())
def test_mistakes_are_told(text, told):
    compiled = LANGUAGE.compile("\n\n" + text)
    faults = [*compiled.faults]
    if compiled.template is not None:
        faults = unknown_names(compiled, FACTS) or [fill_in(compiled, FACTS)[1]]
    [fault] = faults
    assert [fault.message, fault.hint] == told
    assert fault.line == 3


def test_every_unknown_name_is_told_at_once():
    compiled = LANGUAGE.compile(
        "{{ a }}\n{{ cover.b }}\n{% if c %}{{ cover.d }}{% endif %}\n{{ a }}"
    )
    told = [(fault.line, fault.message) for fault in unknown_names(compiled, FACTS)]
    assert told == [
        (1, "there is nothing called a here"),
        (2, "cover has nothing called b"),
        (3, "there is nothing called c here"),
        (3, "cover has nothing called d"),
        (4, "there is nothing called a here"),
    ]


@pytest.mark.parametrize("text", CASES["broken"])
def test_syntax_is_told_not_raised(text):
    compiled = LANGUAGE.compile("one\n" + text)
    assert compiled.template is None
    [fault] = compiled.faults
    assert fault.line == 2
    assert fault.message[0].islower() or fault.message[0] in "'“{"
    assert not fault.message.endswith(".")
