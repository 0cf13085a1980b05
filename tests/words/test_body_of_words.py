"""The author's body: what is inserted says just that, and the introduction keeps its secrets."""

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stripewright.pattern.settings import Settings
from stripewright.source.reader import read_document
from stripewright.words.body import escape_markdown
from stripewright.words.html import to_html
from stripewright.words.markdown import prose
from stripewright.words.write import write
from support.patterns import SETTINGS, text_of, worked_from

PAID = {"access": "paid", "price": 5.0, "shop": "https://shop.example.org/x"}


def words(body, settings=SETTINGS, **overrides):
    text = text_of(body, **overrides)
    document, problems = read_document(text.encode(), "content/patterns/x.md")
    assert problems == []
    return write(worked_from(text, settings=settings), document, settings)


def sound(body, **overrides):
    written, problems = words(body, **overrides)
    assert written is not None, "\n".join(map(str, problems))
    assert problems == []
    return written


NASTY = [
    "*bold* and _it_", "# heading", "- list", "1. list", "1) list", "> quote", "[a](javascript:x)",
    "![a](https://x/y.png)", "<script>alert(1)</script>", "<https://example.org>", "`code`", "a|b",
    "~~gone~~", "&copy;", "&#106;", "    code", "a\\", "---", "===", "***",
    "```", "[x]: https://x", "{{ cover.worked_rows }}", "{% if %}", "\ue0007\ue001", "+ x",
    "www.example.org", "a@example.org", "| a | b |", "#",
]  # fmt: skip


@pytest.mark.parametrize("name", NASTY)
@pytest.mark.parametrize(
    "where", ["{{ deep.name }}", "- {{ deep.name }}", "> {{ deep.name }} x", "x {{ deep.name }}\ny"]
)
def test_inserted_text_says_just_that(name, where):
    """A yarn's name that is Markdown or HTML stands in the page as the text that it is."""
    from html.parser import HTMLParser

    yarn = {"name": name, "colour": "#1f3d5c"}
    front = {
        "yarns": {"deep": yarn},
        "pieces": {"cover": {"form": "tube", "stripes": ["deep 9"]}},
        "fill": None,
    }
    html = to_html(sound("## Below\n\n" + where, **front).body)
    tags = re.findall(r"</?([a-z0-9]+)", html)
    assert set(tags) <= {"h2", "p", "ul", "li", "blockquote"}
    texts = []
    parser = HTMLParser()
    parser.handle_data = texts.append
    parser.feed(html)
    plain = " ".join(re.sub(r"[\x00-\x1f\u2028\ue000\ue001]+", " ", name).split())
    assert plain in " ".join("".join(texts).split())


@given(st.text(min_size=1, max_size=40))
@settings(max_examples=300, deadline=None)
def test_any_text_is_escaped(text):
    """Whatever is escaped comes back from the page as one paragraph that says it."""
    import html as entities

    escaped = escape_markdown(text)
    if not escaped:
        return
    read, problems = prose("x" + escaped + "x", "a.md")
    assert problems == []
    shown = to_html(read)
    assert shown.startswith("<p>x")
    assert shown.count("<") == 2
    plain = " ".join(re.sub("[\x00-\x1f\x7f-\x9f\u2028\u2029\ue000\ue001]+", " ", text).split())
    assert entities.unescape(shown[3:-5]) == "x" + plain + "x"


def test_numbers_stay_numbers():
    written = sound(
        "## Below\n\n`{{ cover.worked_rows }}` {{ cover.worked_rows / 8 }}, {{ cover.finished_length }}\n"
    )
    assert "<code>61</code> 7.63, 28.5 cm (11¼ in)" in to_html(written.body)


@pytest.mark.parametrize(
    "asked",
    [
        "{{ cover.stitches }} x {{deep.name}}\n{{ cover.change(1) }}{{ pattern.title }}",
        "{{ cover.change(99) }}", "{{ cover.nothing }}\n{{ nothing }}", "{{ cover }}", "{{ none }}",
        "{{{ cover.stitches }}}", "{{ cover.stitches }", "{{ cover.stitches\n}} x", "{{ if }}",
    ],
)  # fmt: skip
def test_asking_for_facts_is_what_any_template_does(asked):
    """A text that only asks for facts is filled in apart from others, to the same end."""
    for below in ("x\n", "[x](#lost)\n"):
        body = f"## Below\n\n{asked}\n\n{below}"
        (alone, told), (beside, told_beside) = words(body), words(body + "{# a note #}\n")
        assert told == told_beside
        assert alone is None or to_html(alone.body) == to_html(beside.body)


def test_parting():
    written = sound("Above.\n\n## Below\n\nBelow too.\n")
    assert to_html(written.intro) == "<p>Above.</p>\n"
    assert to_html(written.body) == '<h2 id="h-below">Below</h2>\n<p>Below too.</p>\n'


def test_no_text_at_all():
    written = sound("")
    assert written.intro.empty
    assert written.body.empty
    assert to_html(written.intro) == to_html(written.body) == ""


def test_a_comment_is_no_heading_and_is_not_shown():
    written = sound("Above.\n\n{#\n# no heading\n#}\n\nAbove too.\n\n## Below\n{# a note #}\n")
    assert to_html(written.intro) == "<p>Above.</p>\n<p>Above too.</p>\n"
    assert "note" not in to_html(written.body)


@pytest.mark.parametrize(
    "body",
    [
        "{% raw %}```{% endraw %}\n",
        "{% if cover.stitches > 1000 %}\n```\n{% endif %}\n",
        "{% if cover.stitches < 1000 %}\n~~~\n{% endif %}\nx\n~~~\n\n",
        "{{ '' }}",
        "<div>\n",
    ],
)
def test_no_template_moves_the_rest_above_the_heading(body):
    """However a template is written, what stands from a heading on is never in the introduction."""
    written, _ = words(body + "\n# Secret plan\n\nMarker 4711\n", **PAID)
    if written is not None:
        assert "4711" not in to_html(written.intro)
        assert "4711" not in written.intro.source
        assert "4711" in to_html(written.body)


def test_the_introduction_shares_references_and_headings_with_the_rest():
    written = sound("[a][ref], [down](#below).\n\n## Below\n\n[ref]: https://example.org/\n")
    assert (
        to_html(written.intro)
        == '<p><a href="https://example.org/">a</a>, <a href="#h-below">down</a>.</p>\n'
    )


PUBLIC = [
    "pattern.title", "pattern.bed", "pattern.needles", "pattern.level", "pattern.kind", "cover.title",
    "cover.form", "cover.make", "cover.stitches", "cover.flat_width", "cover.finished_length",
    "cover.girth", "deep.name", "deep.letter", "deep.colour", "deep.balls", "deep.weight",
]  # fmt: skip
PRIVATE = [
    "cover.worked_rows", "cover.visible_rows", "cover.worked_length", "cover.changes", "cover.change(1)",
    "cover.plan", "cover.stripes", "cover.fold", "cover.brim", "cover.worn_length", "deep.rows", "deep.length", "deep.mass", "deep.leftover",
    "pattern.rows", "pattern.minutes", "pattern.waste_rows",
]  # fmt: skip


def test_public_and_private_are_all_there_is():
    from stripewright.words.namespace import namespace

    facts = namespace(worked_from(text_of("")), "metric")
    names = {f"{key}.{name}" for key in ("pattern", "cover", "deep") for name in facts[key]._facts}
    told = {name.split("(")[0] for name in PUBLIC + PRIVATE}
    assert names - told == {
        "pattern.summary",
        "pattern.version",
        "cover.key",
        "deep.key",
        "deep.role",
        "deep.fibre",
    }


@pytest.mark.parametrize("name", PUBLIC)
def test_what_a_paid_introduction_may_say(name):
    paid = sound("It: {{ " + name + " }}.\n\n## Below\n", **PAID)
    free = sound("It: {{ " + name + " }}.\n\n## Below\n")
    assert to_html(paid.intro).startswith("<p>It: ")
    if not name.startswith("cover.f"):
        assert to_html(paid.intro) == to_html(free.intro)


@pytest.mark.parametrize("name", PRIVATE)
@pytest.mark.parametrize(
    "way", ["{{ % }}", "{{ % if 1 }}", "{% if % %}x{% endif %}", "{% set a = % %}"]
)
def test_what_a_paid_introduction_may_not_say(name, way):
    text = way.replace("%", name, 1) if way.startswith("{{") else way.replace(" % ", f" {name} ")
    body = f"One.\n\n{text}\n\n## Below\n\n{text}\n"
    written, problems = words(body, **PAID)
    assert written is None
    assert len(problems) == 1
    assert "can't stand in the introduction of a paid pattern" in problems[0].message
    assert problems[0].place.line == text_of("", **PAID).count("\n") + 3
    assert sound(body)


def test_lengths_of_a_paid_introduction_are_whole_centimetres():
    """59 rows at 60/29 to the cm are 28.5 cm; a paid page tells no more than the page around it."""
    told = to_html(sound("{{ cover.finished_length * 10 }}\n\n## Below\n", **PAID).intro)
    assert told == "<p>290</p>\n"


def test_units_and_terms_follow_the_studio():
    inches = Settings(title="S", maker="M", summary="S.", units="imperial", terms="us")
    written, _ = words("## B\n\n{{ cover.finished_length }}\n", settings=inches)
    assert "11¼ in (28.5 cm)" in to_html(written.body)
    steps = " ".join(step.text for group in written.groups for step in group.steps)
    assert "color A" in steps
    assert "colour" not in steps


def test_the_same_words_twice():
    body = "{% for line in cover.plan %}\n- {{ line.rc }}\n{% endfor %}\n\n## B\n\n{{ cover.change(1) }}\n"
    first, second = sound(body), sound(body)
    assert first.groups == second.groups
    assert to_html(first.intro) == to_html(second.intro)


def texts(part):
    return [token.content for token in part.tokens if token.type == "inline"]


def test_the_steps_stand_where_the_author_puts_them():
    written = sound(
        "Hello.\n\n## First\n\nOne.\n\n{{ steps }}\n\n## After\n\nIt has {{ cover.worked_rows }} rows.\n"
    )
    assert texts(written.intro) == ["Hello."]
    assert texts(written.before) == ["First", "One."]
    assert texts(written.after) == ["After", "It has 61 rows."]
    assert texts(written.body) == texts(written.before) + texts(written.after)


def test_without_a_place_the_steps_follow_the_text():
    written = sound("Hello.\n\n## First\n\nOne.\n")
    assert texts(written.before) == texts(written.body) == ["First", "One."]
    assert written.after.empty


@pytest.mark.parametrize(
    "body",
    [
        "Hello.\n\n{{steps}}\n\nIt has {{ cover.worked_rows }} rows.\n\n## More\n",
        "Hello.\n\n   {{ steps }}\n\nIt changes at {{ cover.change(1) }}.\n",
        "Hello.\n\n{{ steps | lower }}\n\nAir it.\n",
    ],
)
def test_below_the_steps_a_paid_pattern_is_private_without_a_heading_too(body):
    written = sound(body, **PAID)
    assert texts(written.intro) == ["Hello."]
    assert texts(written.before) == []
    assert len(texts(written.after)) >= 1
    assert "\ue002" not in to_html(written.intro) + to_html(written.body)


def test_a_text_keeps_no_private_character_of_its_own():
    written = sound("Hello.\n\n## First\n\n\ue002\n\nOne.\n")
    assert written.steps_at is None
    assert texts(written.body) == ["First", "One."]
