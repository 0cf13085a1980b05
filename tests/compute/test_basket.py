"""The stash against patterns, and how far some yarn reaches: worked by hand, and whatever comes."""

from __future__ import annotations

import pytest
from coloraide import Color
from hypothesis import given, settings
from hypothesis import strategies as st

from stripewright.compute.basket import held_against, rows_on_beds
from stripewright.compute.reach import YarnAtHand, longest
from stripewright.pattern.amounts import yarn_amount
from stripewright.pattern.stash import Stash
from support.patterns import SETTINGS, text_of, try_work

# A stitch takes 2.5 cm, so that a round of 40 takes 1 m; a tail at an open end is 75 cm, one inside
# 14 cm. Deep is 1 m to the gram, foam 2 m.
FRONT = {
    "machine": {"bed": "circular", "needles": 40},
    "swatch": {"stitches": 20, "rows": 30, "width": "10 cm", "length": "10 cm",
               "unravelled": {"stitches": 100, "length": "250 cm"}},
    "yarns": {
        "deep": {"name": "Deep", "colour": "#1f3d5c", "weight": 5, "ball": "100 g / 100 m"},
        "foam": {"name": "Foam", "colour": "#dfe9e4", "weight": 5, "ball": "50 g / 100 m"},
    },
    "pieces": {"cowl": {"form": "tube", "stripes": ["deep 20", "foam 10"]}},
}  # fmt: skip


def worked(**front):
    made, problems = try_work(text_of(**(FRONT | front)))
    assert made is not None, problems
    return made


def stash(**yarns):
    return Stash.model_validate({"yarns": yarns})


def yarn(left, colour="#1f3d5c", ball="100 g / 100 m", weight=5, name="Other"):
    return {"name": name, "colour": colour, "ball": ball, "weight": weight, "left": left}


DEEP = yarn("30 g", name="Deep")


def test_enough_is_told_with_the_margin():
    # deep: 20 rows and tails of 0.75 and 0.14 m are 20.89 m, 20.89 g; with 10 % 22.979 g of 30 g
    # foam: 10 rows, 10.89 m, 5.445 g; with 10 % 5.9895 g
    have = stash(deep=DEEP, foam=yarn("6 g", "#dfe9e4", "50 g / 100 m", name="Foam"))
    basket = held_against(worked(margin="10 %"), have)
    deep, foam = basket.needs
    assert basket.enough
    assert deep.takes_g == pytest.approx(20.89)
    assert deep.need_g == pytest.approx(22.979)
    assert deep.over_g == pytest.approx(7.021)
    assert foam.over_g == pytest.approx(0.0105)


def test_what_is_lacking_and_what_could_stand_in():
    # 5 g of foam are less than its 5.445; shell takes 11.979 m at 1 m to the gram
    have = stash(
        deep=DEEP,
        foam=yarn("5 g", "#dfe9e4", "50 g / 100 m", name="Foam"),
        shell=yarn("12 g", "#d8d2c0"),
        near=yarn("11 g", "#dfe9e5"),
        thin=yarn("90 g", "#dfe9e5", weight=2),
    )
    basket = held_against(worked(margin="10 %"), have)
    foam = basket.needs[1]
    assert not basket.enough
    assert basket.with_stand_ins
    assert foam.over_g == pytest.approx(-0.9895)
    assert not foam.just_enough
    assert foam.stand_in.key == "shell"  # near has too little, thin is of another class
    assert foam.stand_in.need_g == pytest.approx(11.979)
    # CIEDE2000 by coloraide, checked against Sharma, Wu and Dalal's data in tests/reference
    wanted = Color("#dfe9e4").delta_e(Color("#d8d2c0"), method="2000")
    assert foam.stand_in.difference == pytest.approx(wanted, abs=0.01)


def test_just_enough_without_the_margin():
    have = stash(deep=yarn("21 g", name="Deep"))
    deep = held_against(worked(margin="10 %"), have).needs[0]
    assert deep.just_enough
    assert not deep.enough
    assert deep.over_g == pytest.approx(21 - 22.979)


def test_the_nearest_of_all_together_stand_in():
    # one dark yarn reaches for one of the two only: the other gets what is left, and is nearer so
    two = {"deep": FRONT["yarns"]["deep"],
           "ink": FRONT["yarns"]["deep"] | {"name": "Ink", "colour": "#22405f"}}  # fmt: skip
    made = worked(yarns=two, pieces={"cowl": {"form": "tube", "stripes": ["deep 20", "ink 20"]}})
    have = stash(one=yarn("30 g", "#22405f"), two=yarn("30 g", "#1f3d5c"))
    found = {need.key: need.stand_in.key for need in held_against(made, have).needs}
    assert found == {"deep": "two", "ink": "one"}


def test_rows_on_each_bed():
    flat = worked(machine={"bed": "flat", "needles": 20},
                  pieces={"scarf": {"form": "panel", "stripes": ["deep 20", "foam 10"]}})  # fmt: skip
    have = stash(deep=DEEP)
    # 30 m less two tails of 0.14: 29.72; a row takes 1 m on 40 needles, 0.5 m on 20
    rows = rows_on_beds("deep", have.yarns["deep"], [worked(), flat])
    assert [(one.bed, one.needles, one.rows) for one in rows] == [
        ("circular", 40, 29),
        ("flat", 20, 59),
    ]


def with_yarn(made, *amounts):
    at_hand = [YarnAtHand(key, yarn_amount(amount)) for key, amount in amounts]
    return longest(made, at_hand, SETTINGS)


def test_the_longest_piece_that_yarn_allows():
    # Five repeats of 30 rows take 5 × (20 + 5) = 125 g; the ten changes before, between and after
    # them to a sixth stripe of deep 10 × (0.14 + 0.07) = 2.1 g; the tails of the ends 2 × 0.75 g:
    # 128.6 g; deep is more than a ball of 100 m, and a new one joined in takes two tails more,
    # 0.28 g: 128.88 g. Of 140 g 11.12 g are left: 11 rows more of deep. 161 rows at 3 to the cm.
    [found] = with_yarn(worked(margin="10 %"), ("", "140 g"))
    assert (found.key, found.rows, found.whole_repeats) == ("cowl", 161, 5)
    assert found.length_cm == pytest.approx(161 / 3)
    assert found.takes_g == pytest.approx(139.88)
    # 140 / 1.1 = 127.27 g: five repeats end with 125 + 9 × 0.21 + 0.75 + 0.375 + 0.28 = 128.295;
    # the last stripe of foam weighs 0.5 g a row, so three rows less: 126.795
    assert found.with_margin_rows == 147


def test_the_longest_piece_of_one_yarn():
    # deep alone is counted: 21 m hold 20 rows and 0.89 m of tails, then foam goes on for 10 rows;
    # the next stripe of deep would take more
    [found] = with_yarn(worked(), ("deep", "21 m"))
    assert found.rows == 30


def test_no_row_at_all():
    [found] = with_yarn(worked(), ("", "1 g"))
    assert (found.rows, found.takes_g) == (0, None)


@settings(deadline=None, max_examples=40)
@given(
    st.lists(st.integers(1, 30), min_size=1, max_size=4),
    st.integers(3, 400),
    st.sampled_from(["g", "m"]),
    st.integers(1, 2),
)
def test_never_more_than_there_is_and_one_row_more_would_be(rows, number, unit, make):
    stripes = [f"{'deep' if n % 2 == 0 else 'foam'} {count}" for n, count in enumerate(rows)]
    made = worked(pieces={"cowl": {"form": "tube", "make": make, "stripes": stripes}})
    [found] = with_yarn(made, ("", f"{number} {unit}"))
    if found.rows:
        assert (found.takes_g if unit == "g" else found.takes_m) <= number * (1 + 1e-9)
    assert found.with_margin_rows <= found.rows
    if found.rows < 20_000:
        again = worked(pieces={"cowl": {
            "form": "tube", "make": make, "stripes": _cut(stripes, found.rows + 1)}})  # fmt: skip
        masses = [one.mass_g.value for one in again.yarns if one.rows]
        lengths = [one.length_m.value for one in again.yarns if one.rows]
        assert sum(masses if unit == "g" else lengths) > number


def _cut(stripes, rows):
    found = []
    while rows > 0:
        for stripe in stripes:
            yarn_key, count = stripe.split()
            if rows > 0:
                found.append(f"{yarn_key} {min(int(count), rows)}")
                rows -= int(count)
    return found


@settings(deadline=None, max_examples=60)
@given(
    st.lists(
        st.tuples(
            st.integers(1, 60), st.sampled_from(["#1f3d5c", "#dfe9e4", "#c2913f", "#8c3f1f"])
        ),
        max_size=5,
    )
)
def test_stand_ins_never_take_more_than_there_is(kept):
    have = stash(**{f"y{n}": yarn(f"{left} g", colour) for n, (left, colour) in enumerate(kept)})
    basket = held_against(worked(), have)
    taken = {}
    for need in basket.needs:
        if need.stand_in:
            taken[need.stand_in.key] = taken.get(need.stand_in.key, 0) + need.stand_in.need_g
    for key, grams in taken.items():
        assert grams <= have.yarns[key].left_g * (1 + 1e-9)
