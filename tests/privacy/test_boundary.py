"""What reads like a heading begins the private part of a paid pattern, or is refused at its line.

The cases are blocks of title, text and what is done with it in cases/boundary.txt. Each text
stands in an introduction, above a paragraph that is for buyers only. A text of several paragraphs
is several cases where each is refused.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from stripewright.pipeline.make import work_source
from stripewright.pipeline.sources import SourceFile
from stripewright.problems import Severity
from stripewright.words.boundary import MOST_WORDS, public_part
from stripewright.words.private_figures import private_figures
from support.patterns import SETTINGS, text_of

_TEXT = (Path(__file__).parent / "cases" / "boundary.txt").read_text(encoding="utf-8")
_PARTS = ("\n" + _TEXT).split("\n.\n")
CASES = list(zip(_PARTS[0::3], _PARTS[1::3], _PARTS[2::3], strict=False))
SECRET = "Knit seventeen of them backwards, quietly."


def _cases():
    for title, written, done in CASES:
        text = re.sub(r"\\u([0-9a-f]{4})", lambda code: chr(int(code[1], 16)), written)
        parts = text.split("\n\n") if done == "refused" and "\n   " not in text else [text]
        for number, part in enumerate(parts):
            yield pytest.param(part, done, id=f"{title.strip()} {number}")


def paid(body, *, raw_html=False, **front):
    """A paid pattern taken through to its words."""
    text = text_of(body=body, **({"access": "paid", "price": 5.0,
                                  "shop": "https://shop.example.org/case"} | front))  # fmt: skip
    settings = SETTINGS.model_copy(update={"raw_html": raw_html})
    return work_source(SourceFile("content/patterns/case.md", text.encode()), settings)


def line_of(done, text):
    return done.document.body_line + done.document.body.split("\n").index(text)


@pytest.mark.parametrize("raw_html", [False, True], ids=["text", "html"])
@pytest.mark.parametrize(("text", "done"), [*_cases()])
def test_case(text, done, raw_html):
    made = paid(f"First words stand here.\n\n{text}\n\n{SECRET}\n", raw_html=raw_html)
    errors = [one for one in made.problems if one.severity is Severity.ERROR]
    if done == "refused" and errors:
        first = made.document.body_line + 2
        lines = range(first, first + 1 + text.count("\n"))
        assert any("heading" in one.message and one.place.line in lines for one in errors), errors
        assert made.sound is None
    else:
        # A text that is refused by one way of reading HTML may be a heading by the other.
        done = "private" if done == "refused" else done
        assert errors == []
        assert (SECRET in made.written.intro.source) == (done == "public")
        assert (SECRET in made.written.body.source) == (done == "private")


def test_there_are_cases():
    assert {done for _, _, done in CASES} == {"refused", "private", "public"}
    assert len(list(_cases())) == 94


def test_a_free_pattern_may_write_as_it_likes():
    made = paid("First.\n\n**Before**\n\nMore.\n", access="free", price=None, shop=None)
    assert made.sound is not None
    assert not made.problems


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("It has 120 rows in all.", "a count of rows"),
        ("Every band is twelve rows.", "a count of rows"),
        ("Knit forty-two plain rounds first.", "a count of rows"),
        ("A 16-row stripe begins it.", "a count of rows"),
        ("The change comes in row 31.", "a count of rows"),
        ("Change at RC 014.", "a reading of the row counter"),
        ("When the counter shows 14, change.", "a reading of the row counter"),
        ("It takes 230 g in all.", "an amount of yarn"),
        ("About 12.5 oz of it are needed.", "an amount of yarn"),
        ("It takes 240 m of the deep yarn.", "an amount of yarn"),
        ("You need 300 yards.", "an amount of yarn"),
        ("A hat of 40 stitches for a head of 56 cm.", None),
        ("Three 100 g balls (100 g / 120 m each).", None),
        ("It is 2 m long and made in two evenings.", None),
        ("One row after the other grows; it takes 3.5 oz / 175 yd balls.", None),
    ],
)
def test_figures_that_are_private_are_warned_of(text, what):
    assert [found for found, _ in private_figures(text)] == ([what] if what else [])
    made = paid(f"Hello.\n\n{text}\n\n## Then\n\nKnit.\n")
    told = [(one.severity, one.place.line) for one in made.problems]
    assert told == ([(Severity.WARNING, line_of(made, text))] if what else [])
    assert all(what in one.message for one in made.problems)


def test_a_long_introduction_is_warned_of():
    long = "So many words. " * (MOST_WORDS // 3)
    assert not paid(f"{long}\n\n## Then\n\nKnit.\n").problems
    (one,) = paid(f"\n\n{long}\nAgain.\n\n## Then\n\nKnit.\n").problems
    assert one.severity is Severity.WARNING
    assert f"{MOST_WORDS + 1} words" in one.message
    assert one.place.line == line_of(paid(f"\n\n{long}\n"), long)


def test_an_introduction_without_end_is_refused():
    (one,) = paid("So it went on. " * 2000 + f"\n\n{SECRET}\n").problems[:1]
    assert one.severity is Severity.ERROR
    assert "has no end" in one.message


@pytest.mark.parametrize(
    ("body", "told"),
    [
        ("One two.\n\n- three\n- four\n\n## Five\n\nsix\n", "3 paragraphs, 4 words, to line {3}"),
        ("One two\nthree.\n## Five\n\nsix\n", "1 paragraph, 3 words, to line {1}"),
        ("{{ cover.title }} it.\n\n{{ steps }}\n", "1 paragraph, 2 words, to line {0}"),
        ("## Five\n\nsix\n", "no text"),
    ],
)
def test_what_is_public_is_told(body, told):
    made = paid(body)
    lines = [made.document.body_line + number for number in range(9)]
    assert str(public_part(made.written.intro)) == told.format(*lines)


def test_a_mistake_in_the_private_part_does_not_call_it_public():
    made = paid("Hello.\n\n## Then\n\nKnit {{ covr.worked_rows }}.\n")
    assert not any("is public" in one.message for one in made.problems)
    assert len(made.problems) == 1
