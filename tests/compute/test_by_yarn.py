"""Stripes given by their yarn: never more of it than there is, and a rest makes totals exact."""

from __future__ import annotations

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from stripewright.compute.public import equal_bands
from stripewright.compute.work import work
from stripewright.pattern.pattern import Pattern
from stripewright.pattern.quantities import CM, GRAM
from stripewright.pattern.read import as_model
from stripewright.pattern.stash import Stash, taken_from
from stripewright.source.reader import read_document
from support.patterns import SETTINGS, text_of, try_work

EDGES = ("open", "seamed", "gathered", "grafted", "hemmed")
ENOUGH = 1 + 1e-9

amounts = st.one_of(
    st.tuples(st.integers(5, 400), st.sampled_from(["g", "m"])),
    st.tuples(st.integers(1, 9), st.just("oz")),
    st.tuples(st.integers(5, 400), st.just("yd")),
)


@st.composite
def fronts(draw):
    """A pattern whose yarn deep is given by amounts alone, foam by amounts and rows."""
    ball = f"{draw(st.integers(20, 200))} g / {draw(st.integers(20, 400))} m"
    yarns = {
        "deep": {"name": "Deep", "colour": "#1f3d5c", "ball": ball,
                 "strands": draw(st.integers(1, 2))},
        "foam": {"name": "Foam", "colour": "#dfe9e4", "ball": "100 g / 120 m"},
    }  # fmt: skip
    stripes = []
    for _ in range(draw(st.integers(1, 3))):
        number, unit = draw(amounts)
        stripes += [f"deep {number} {unit}", f"foam {draw(st.integers(1, 9))}"]
    if draw(st.booleans()):
        stripes = [{"repeat": 2, "stripes": stripes}]
    if draw(st.booleans()):
        stripes.insert(0, "deep 40 m")
    form = draw(st.sampled_from(["tube", "panel"]))
    piece = {"form": form, "make": draw(st.integers(1, 2)), "stripes": stripes,
             "carry": draw(st.sampled_from([0, 4, 12])),
             "ends": [draw(st.sampled_from(EDGES)), draw(st.sampled_from(EDGES))]}  # fmt: skip
    if form == "panel":
        piece["sides"] = draw(st.sampled_from(["open", "seamed"]))
        piece["needles"] = draw(st.integers(4, 40))
    if draw(st.booleans()):
        stripes.append("foam rest")
        piece["rows"] = draw(st.integers(20, 900))
    pieces = {"one": piece}
    if draw(st.booleans()):
        pieces["other"] = {"form": form, "like": "one"}
    return {"yarns": yarns, "pieces": pieces}


def written(stripes):
    for stripe in stripes:
        if isinstance(stripe, dict):
            yield from [*written(stripe["stripes"])] * stripe["repeat"]
        elif stripe.startswith("deep"):
            _, number, unit = stripe.split()
            yield float(number), unit


@settings(deadline=None, max_examples=120)
@given(fronts())
def test_no_more_is_taken_than_there_is(front):
    worked, problems = try_work(text_of(**front))
    told = [one for one in problems if one.severity == "error"]
    assume(worked is not None or told)
    if worked is None:
        assert all(one.place.line > 1 and one.hint for one in told)
        return
    [deep] = (yarn for yarn in worked.yarns if yarn.key == "deep")
    ball = worked.pattern.yarns["deep"].ball
    there = sum(
        number * GRAM[unit] * ball.metres_per_gram if unit in GRAM else number * CM[unit] / 100
        for number, unit in written(front["pieces"]["one"]["stripes"])
    )
    assert deep.length_m.value <= there * ENOUGH
    assert sum(one.used_m for one in worked.amounts) <= there * ENOUGH
    for one in worked.amounts:
        assert one.rows >= 1
        assert one.used_m <= one.given_m * ENOUGH
        assert one.left_m == pytest.approx(one.given_m - one.used_m)
    asked = front["pieces"]["one"].get("rows")
    for piece in worked.pieces:
        assert asked is None or piece.visible_rows == asked


@settings(deadline=None, max_examples=60)
@given(st.integers(3, 300), st.integers(4, 60), st.integers(20, 300))
def test_a_row_more_would_take_more_than_there_is(metres, needles, reach):
    """Of a tube with open ends: nothing hangs otherwise with a row more."""
    front = {
        "machine": {"bed": "circular", "needles": needles},
        "yarns": {
            "deep": {"name": "Deep", "colour": "#1f3d5c", "ball": f"100 g / {reach} m"},
            "foam": {"name": "Foam", "colour": "#dfe9e4"},
        },
        "pieces": {"one": {"form": "tube", "stripes": ["foam 4", f"deep {metres} m", "foam 4"]}},
    }
    worked, _ = try_work(text_of(**front))
    assume(worked is not None)
    [amount] = worked.amounts
    row = needles * worked.loop_cm.value / 100
    join = 2 * worked.pattern.tails.inside / 100
    assert amount.used_m + row + join > amount.given_m
    # without a join the sum is exact: two tails at the changes, and the rows
    if amount.used_m < reach:
        assert amount.used_m == pytest.approx(0.28 + amount.rows * row)
        assert amount.used_m + row + (join if amount.used_m + row >= reach else 0) > metres


def test_rests_share_what_is_left_evenly():
    pieces = {"one": {"form": "tube", "rows": 61, "stripes": [{"mirror": ["deep rest", "foam 9"]}]}}
    worked, _ = try_work(text_of(pieces=pieces))
    assert [line.visible for line in worked.pieces[0].plan] == [26, 9, 26]


def test_nothing_of_it_is_public_of_a_paid_pattern():
    pieces = {"one": {"form": "tube", "stripes": ["deep 23 g", "foam 12 m"]}}
    worked, _ = try_work(text_of(pieces=pieces))
    assert worked.amounts
    public = equal_bands(worked)
    assert public.amounts == ()
    assert "23 g" not in repr(public)
    assert "12 m" not in repr(public.pattern.pieces)


def from_stash(left, pieces, yarns=None, **front):
    """A pattern whose yarn deep comes from a stash that has so much left of it, 1 m to the gram."""
    deep = {"name": "Deep", "colour": "#1f3d5c", "ball": "100 g / 100 m", "left": left}
    stash = Stash.model_validate({"yarns": {"deep": deep}})
    text = text_of(
        machine={"bed": "circular", "needles": 40},
        swatch={"stitches": 20, "rows": 30, "width": "10 cm", "length": "10 cm",
                "unravelled": {"stitches": 100, "length": "250 cm"}},
        yarns={"deep": {"from": "stash.deep"},
               "foam": {"name": "Foam", "colour": "#dfe9e4", "ball": "100 g / 100 m"},
               **(yarns or {})},
        pieces=pieces,
        **front,
    )  # fmt: skip
    document, _ = read_document(text.encode(), "case.md")
    pattern, problems = as_model(document, Pattern)
    assert pattern is not None, problems
    pattern, problems = taken_from(pattern, document, stash)
    assert pattern is not None, problems
    beside = SETTINGS.model_copy().beside(stash)
    return work(pattern, document, beside, "case")


def plan_of(worked):
    return [[f"{line.yarn} {line.visible}" for line in piece.plan] for piece in worked.pieces]


def test_all_is_what_the_stash_has_left_of_it_to_the_last_whole_row():
    # A row takes 1 m. Of 60 m the first stripe takes 10 rows and 0.75 + 0.14 m, the last 0.89 m of
    # tails: 60 - 10.89 - 0.89 = 48.22, so 48 rows, and 0.22 m is left.
    stripes = ["deep 10", "foam 5", "deep all"]
    worked, _ = from_stash("60 g", {"one": {"form": "tube", "stripes": stripes}})
    assert plan_of(worked) == [["deep 10", "foam 5", "deep 48"]]
    [amount] = worked.amounts
    assert amount.left_m == pytest.approx(0.22)


def test_all_is_shared_evenly_between_pieces_and_stripes():
    # Three stripes of 1 m a row, two of them with tails of 0.89, one with 0.28: 60 - 2.06 = 57.94,
    # 19 rows each, and 0.94 m is left.
    pieces = {
        "one": {"form": "tube", "stripes": ["deep all", "foam 5", "deep all", "foam 5"]},
        "two": {"form": "tube", "stripes": ["foam 2", "deep all"]},
    }
    worked, _ = from_stash("60 g", pieces)
    assert plan_of(worked) == [["deep 19", "foam 5", "deep 19", "foam 5"], ["foam 2", "deep 19"]]


def test_all_of_a_marl_ends_with_the_yarn_of_it_that_ends_first():
    # 30 m of deep less 1.5 m of tails are 28 rows; foam has no end here
    worked, _ = from_stash(
        "30 g", {"one": {"form": "tube", "stripes": ["both all"]}},
        {"both": {"name": "Both", "marl": ["deep", "foam"]}},
    )  # fmt: skip
    assert plan_of(worked) == [["both 28"]]


def test_all_and_the_rest_of_one_yarn_contradict_each_other():
    pieces = {"one": {"form": "tube", "rows": 90, "stripes": ["deep all", "foam 5", "deep rest"]}}
    worked, problems = from_stash("30 g", pieces)
    assert worked is None
    [problem] = [one for one in problems if one.severity == "error"]
    assert problem.message == "deep has a stripe of all there is, and one of the rest"


def test_all_of_nothing_is_told():
    stripes = ["deep 40", "foam 5", "deep all"]
    worked, problems = from_stash("30 g", {"one": {"form": "tube", "stripes": stripes}})
    assert worked is None
    [problem] = [one for one in problems if one.severity == "error"]
    assert problem.message.startswith("deep all knits no row")
    assert problem.hint


@settings(deadline=None, max_examples=60)
@given(
    st.integers(1, 300),
    st.lists(st.sampled_from(["deep all", "deep 3", "deep 9 g", "foam 2", "both all"]), min_size=1,
             max_size=6),
    st.integers(1, 2),
    st.sampled_from([0, 6]),
)  # fmt: skip
def test_all_never_takes_more_than_the_stash_has_and_leaves_less_than_a_row(
    left, stripes, make, carry
):
    piece = {"form": "tube", "make": make, "carry": carry, "stripes": stripes}
    worked, problems = from_stash(
        f"{left} g", {"one": piece}, {"both": {"name": "Both", "marl": ["deep", "foam"]}}
    )
    if worked is None:
        assert any(one.severity == "error" and one.hint for one in problems)
        return
    takes = worked.yarn("deep").length_m.value
    if any(one.endswith("all") for one in stripes):
        assert takes <= left * ENOUGH
        # a row more of all copies, and a join and a carried length that may come with it
        assert takes + make * (1 + 0.14 * 4 + 1) * 1.001 > left or "both all" in stripes
