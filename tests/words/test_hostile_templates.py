"""What a template can't do, whoever wrote it: reach out, go on for ever, write without end."""

import time

import pytest

from stripewright.figures import Figures
from stripewright.words.facts import Ask, Facts, Hinted, Later, Length, nearest
from stripewright.words.sandbox import MOST_OUTPUT, Language, fill_in, unknown_names

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
    unknown = unknown_names(compiled, FACTS, nearest)
    if unknown:
        return unknown[0].message
    written, fault = fill_in(compiled, FACTS)
    return fault.message if fault else written


REACHING = [
    "{{ ''.__class__ }}",
    "{{ ''.__class__.__mro__[1].__subclasses__() }}",
    "{{ cover.__class__ }}",
    "{{ cover.__init__.__globals__ }}",
    "{{ cover._facts }}",
    "{{ cover['_facts'] }}",
    "{{ cover['__class__'] }}",
    "{{ cover.get }}",
    "{{ cover.get('title') }}",
    "{{ cover.change.answer }}",
    "{{ cover.change.__self__ }}",
    "{{ cover.change.ask.__func__ }}",
    "{{ cover.changes.__len__() }}",
    "{{ cover.changes.count(1) }}",
    "{{ cover.changes.index }}",
    "{{ cover.width.units }}",
    "{{ cover.width.hex() }}",
    "{{ number.bit_length() }}",
    "{{ number.real }}",
    "{{ name.upper() }}",
    "{{ name.format }}",
    "{{ '%s' % cover }}",
    "{{ '{0.__class__}'.format(cover) }}",
    "{{ name | attr('upper') }}",
    "{{ [cover] | map(attribute='_facts') | first }}",
    "{{ cover | pprint }}",
    "{{ cover | tojson }}",
    "{{ cover | xmlattr }}",
    "{{ self }}",
    "{{ self.__init__ }}",
    "{{ self._TemplateReference__context }}",
    "{{ request }}",
    "{{ config }}",
    "{{ open('/etc/passwd') }}",
    "{{ lipsum() }}",
    "{{ lipsum.__globals__ }}",
    "{{ cycler('a').next() }}",
    "{{ joiner() }}",
    "{{ namespace(a=1) }}",
    "{{ dict(a=1) }}",
    "{{ {'a': 1} }}",
    "{% for c in [1] %}{{ loop.__class__ }}{% endfor %}",
    "{% for c in [1] %}{{ loop._iterable }}{% endfor %}",
    "{% for c in [1] %}{{ loop.cycle('a', 'b') }}{% endfor %}",
    "{% for c in [1] recursive %}{{ loop([1]) }}{% endfor %}",
    "{% for c in cover %}{{ c }}{% endfor %}",
    "{% for c in name %}{{ c }}{% endfor %}",
    "{% include 'x' %}",
    "{% include '/etc/passwd' ignore missing %}",
    "{% import 'x' as y %}",
    "{% from 'x' import y %}",
    "{% extends 'x' %}",
    "{% block x %}{% endblock %}",
    "{% macro a() %}{{ a() }}{% endmacro %}{{ a() }}",
    "{% call cover.change() %}{% endcall %}",
    "{% filter upper %}x{% endfilter %}",
    "{% with a = 1 %}{{ a }}{% endwith %}",
    "{% set a %}x{% endset %}{{ a }}",
    "{% autoescape true %}x{% endautoescape %}",
    "{% do cover.change(2) %}",
    "{% debug %}",
    "{% set cover.title = 'x' %}",
    "{{ cover.change(*cover.changes) }}",
    "{{ cover.change(**cover) }}",
    "{{ cover.change(number=2) }}",
    "{{ cover.change() }}",
    "{{ cover.change(1, 2) }}",
    "{{ range }}",
    "{{ 1 | round(precision=1) }}",
    "{% for a, b in [1] %}{% endfor %}",
    "{% set a, b = 1, 2 %}",
    "{% set a = [[1]] %}",
    "{{ name[0] }}",
    "{{ cover.changes[1:3] }}",
]


@pytest.mark.parametrize("text", REACHING)
def test_nothing_is_reached(text):
    told = outcome(text)
    assert told
    for leak in ("<", "0x", "object", "root:", "function", "{'", "class '"):
        assert leak not in told, told
    compiled = LANGUAGE.compile(text)
    faults = compiled.faults or unknown_names(compiled, FACTS, nearest)
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


SOUND = {
    "{{ cover.worked_rows }}": "86",
    "{{ cover['worked_rows'] }}": "86",
    "{{ cover }}": "Cover",
    "{{ cover.worked_rows / 4 }}": "21.5",
    "{{ cover.worked_rows // 4 }} {{ 86 % 4 }} {{ -7 + 1 }}": "21 2 -6",
    "{{ cover.width }}": "18.4 cm (7¼ in)",
    "{{ cover.width | cm }} {{ cover.width | inch }}": "18.4 cm 7¼ in",
    "{{ (cover.width * 2) | cm }}": "36.8 cm",
    "{{ cover.change(2) }}": "RC 027",
    "{{ 27 | rc }}": "RC 027",
    "{{ 2.345 | round(2) }} {{ 2.5 | round }}": "2.35 3",
    "{{ cover.changes | first }} {{ cover.changes | last }} {{ cover.changes | length }}": "1 19999 19999",
    "{{ cover.changes[0] }} {{ cover.changes[-1] }}": "1 19999",
    "{{ [3, 1, 2] | min }}{{ [3, 1, 2] | max }}{{ [3, 1, 2] | sum }}": "136",
    "{{ ['a', 'b'] | join(' and ') }}": "a and b",
    "{{ 'slate Blue' | upper }} {{ 'slate Blue' | lower }} {{ 'slate Blue' | capitalize }}": "SLATE BLUE slate blue Slate Blue",
    "{% for line in cover.plan %}{{ loop.index }}:{{ line.rows }}{{ '' if loop.last else ', ' }}{% endfor %}": "1:3, 2:5",
    "{% for n in range(1, 4) %}{{ n }}{% else %}none{% endfor %}": "123",
    "{% for n in [] %}{{ n }}{% else %}none{% endfor %}": "none",
    "{% for n in [1, 2, 3, 4] if n is odd %}{{ n }}{% endfor %}": "13",
    "{% if cover.worked_rows > 80 and not 1 == 2 %}long{% elif 1 %}short{% endif %}": "long",
    "{{ 'yes' if 86 in [86, 87] else 'no' }}": "yes",
    "{% set half = cover.worked_rows / 2 %}{{ half }}": "43",
    "{{ 3 < number <= 7 }} {{ number is even }}": "yes no",
    "{# a note #}x{{ '{{' }}": "x{{",
    "{% raw %}{{ as it is }}{% endraw %}": "{{ as it is }}",
}  # fmt: skip


@pytest.mark.parametrize(("text", "written"), SOUND.items())
def test_what_a_template_can_do(text, written):
    assert outcome(text) == written


MISTAKES = {
    "{{ cover.wroked_rows }}": ("cover has nothing called wroked_rows", "did you mean worked_rows?"),
    "{{ covr.title }}": ("there is nothing called covr here", "did you mean cover?"),
    "{{ zzz }}": ("there is nothing called zzz here", "there are cover, name, number"),
    "{{ cover.change(9) }}": ("there is no such change", ""),
    "{{ cover.change() }}": ("change wants one number", "write it like change(2)"),
    "{{ cover.title() }}": ("Cover can't be called", "leave out the brackets after it"),
    "{{ name + 1 }}": ("x is not a number, so + can't be done with it", "texts stand beside each other as {{ one }} {{ two }}"),
    "{{ 1 / 0 }}": ("this divides by nothing", ""),
    "{{ name | cm }}": ("x is not a number", ""),
    "{{ 3.5 | rc }}": ("a row counter doesn't show 3.5", "it counts whole rows"),
    "{{ 1 | round(9) }}": ("round wants how many decimals, 0 to 6", "write it like round(1)"),
    "{{ cover.changes[99999] }}": ("there is no item 99999: the list has 19999, counted from 0", ""),
    "{% for a in number %}{% endfor %}": ("7 is not a list, so it can't be gone through", "go through a plan or changes, like {% for line in cover.plan %}"),
    "{{ half }}{% set half = 1 %}": ("half has no value here", ""),
    "{{ half + 1 }}{% set half = 1 %}": ("half has no value here", ""),
    "{{ half | join }}{% set half = 1 %}": ("half has no value here", ""),
    "{{ half | cm }}{% set half = 1 %}": ("half has no value here", ""),
    "{{ half | upper }}{% set half = 1 %}": ("half has no value here", ""),
    "{{ 5 | join }}": ("5 is not a list", ""),
    "{{ -name }}": ("x is not a number", ""),
    "{{ 'a' | upcase }}": ("there is no filter called upcase; there are abs, capitalize, cm, first, g, inch, join, last, length, lower, m, max, min, oz, rc, round, sum, upper, yd", ""),
    "{{ 1 is prime }}": ("there is no test called prime; there are defined, even, none, odd", ""),
    "{{ 1 ~ 2 }}": ("~ can't be used in a template here", "texts stand beside each other as {{ one }}{{ two }}"),
    "{% include 'x' %}": ("include can't be used in a template here", ""),
}  # fmt: skip


@pytest.mark.parametrize(("text", "told"), MISTAKES.items())
def test_mistakes_are_told(text, told):
    compiled = LANGUAGE.compile("\n\n" + text)
    faults = [*compiled.faults]
    if compiled.template is not None:
        faults = unknown_names(compiled, FACTS, nearest) or [fill_in(compiled, FACTS)[1]]
    [fault] = faults
    assert (fault.message, fault.hint) == told
    assert fault.line == 3


def test_every_unknown_name_is_told_at_once():
    compiled = LANGUAGE.compile(
        "{{ a }}\n{{ cover.b }}\n{% if c %}{{ cover.d }}{% endif %}\n{{ a }}"
    )
    told = [(fault.line, fault.message) for fault in unknown_names(compiled, FACTS, nearest)]
    assert told == [
        (1, "there is nothing called a here"),
        (2, "cover has nothing called b"),
        (3, "there is nothing called c here"),
        (3, "cover has nothing called d"),
        (4, "there is nothing called a here"),
    ]


@pytest.mark.parametrize(
    "text",
    [
        "{{ x",
        "{% if x %}",
        "{% endfor %}",
        "{{ }}",
        "{% for %}",
        "{{ a b }}",
        "{%",
        "{{ 'x }}",
        "{{ 1 | }}",
        "{% nonsense %}",
    ],
)
def test_syntax_is_told_not_raised(text):
    compiled = LANGUAGE.compile("one\n" + text)
    assert compiled.template is None
    [fault] = compiled.faults
    assert fault.line == 2
    assert fault.message[0].islower() or fault.message[0] in "'“{"
    assert not fault.message.endswith(".")
