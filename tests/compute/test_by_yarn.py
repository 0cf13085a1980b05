"""Stripes given by their yarn: never more of it than there is, and a rest makes totals exact."""

from __future__ import annotations

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from stripewright.compute.public import equal_bands
from stripewright.pattern.quantities import CM, GRAM
from support.patterns import text_of, try_work

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
