"""What a pattern's yarns take from the stash, and how what is left is written."""

from __future__ import annotations

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stripewright.pattern.pattern import Pattern
from stripewright.pattern.read import as_model
from stripewright.pattern.stash import Stash, taken_from
from stripewright.source.reader import read_document

STASH = Stash.model_validate({"yarns": {
    "deep": {"name": "Deep water", "colour": "#1f3d5c", "weight": 5, "fibre": "wool",
             "ball": "100 g / 120 m", "price": 4.5, "left": "2 1/2 balls", "where": "top shelf"},
    "foam": {"name": "Foam", "colour": "#dfe9e4", "left": "23 g"},
}})  # fmt: skip


def taken(yarns, stash=STASH):
    front = {
        "title": "T", "summary": "S.", "machine": {"bed": "circular", "needles": 40},
        "gauge": "14 sts x 21 rows / 10 cm", "yarns": yarns,
        "pieces": {"a": {"form": "tube", "stripes": [f"{key} 4" for key in yarns]}},
    }  # fmt: skip
    lines = [f"{key}: {json.dumps(value)}" for key, value in front.items()]
    document, _ = read_document("\n".join(["---", *lines, "---", ""]).encode(), "a.md")
    pattern, problems = as_model(document, Pattern)
    assert pattern is not None, problems
    return taken_from(pattern, document, stash)


def test_all_that_a_yarn_doesnt_say_comes_from_the_stash():
    pattern, problems = taken({"blue": {"from": "stash.deep"}})
    assert problems == []
    blue = pattern.yarns["blue"]
    assert (blue.name, blue.colour, blue.weight, blue.fibre) == ("Deep water", "#1f3d5c", 5, "wool")
    assert (blue.ball.mass_g, blue.ball.length_m, blue.price.amount) == (100, 120, 4.5)
    # two and a half balls of 100 g
    assert STASH.left_of(pattern) == {"blue": 250.0}


def test_what_a_yarn_says_itself_stays():
    own = {"from": "stash.deep", "name": "Ink", "ball": "50 g / 60 m"}
    blue = taken({"blue": own})[0].yarns["blue"]
    assert (blue.name, blue.colour, blue.ball.mass_g) == ("Ink", "#1f3d5c", 50)
    assert blue.price is None  # that of the stash is of another ball


def test_nothing_else_of_the_stash_is_in_the_pattern():
    text = repr(taken({"blue": {"from": "stash.deep"}})[0])
    assert "top shelf" not in text
    assert "2 1/2" not in text


def test_a_yarn_that_isnt_there_is_told_at_its_line():
    pattern, [problem] = taken({"blue": {"from": "stash.dep"}})
    assert pattern is None
    assert (problem.place.line, problem.message) == (6, "the stash has no yarn called dep")
    assert "stash.deep" in problem.hint
    pattern, [problem] = taken({"blue": {"from": "stash.deep"}}, None)
    assert pattern is None
    assert problem.message == "there is no stash to take stash.deep from"
    assert "content/stash.yaml" in problem.hint


@pytest.mark.parametrize(
    ("left", "grams"),
    [
        ("340 g", 340), ("1.2 kg", 1200), ("2 oz", 56.69904625),  # 2 × 28.349523125
        ("3 balls", 300), ("1 ball", 100), ("½ ball", 50), ("2½ balls", 250),
        ("2.5 balls", 250), ("2 balls and 30 g", 230), ("2 balls, 1 oz", 228.349523125),
    ],
)  # fmt: skip
def test_what_is_left(left, grams):
    yarn = {"name": "A", "colour": "#000000", "ball": "100 g / 120 m", "left": left}
    stash = Stash.model_validate({"yarns": {"a": yarn}})
    assert stash.yarns["a"].left_g == pytest.approx(grams)


@given(st.text(max_size=30))
def test_no_text_breaks_it(left):
    yarn = {"name": "A", "colour": "#000000", "ball": "100 g / 120 m", "left": left}
    try:
        Stash.model_validate({"yarns": {"a": yarn}})
    except ValueError as fault:
        assert "left" in str(fault)  # noqa: PT017  # any other text is what is left of it
