"""Stripes built out: repeat, mirror, Fibonacci, graded, faded, drawn."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import TypeAdapter

from stripewright.compute.rows import StripeRows, build_stripes, merged, stripe_count
from stripewright.pattern.stripes import StripeItem

ITEMS = TypeAdapter(tuple[StripeItem, ...])


def built(*items):
    return [(part.yarn, part.count) for part in build_stripes(ITEMS.validate_python(items))]


def test_runs_and_their_leasts():
    parts = build_stripes(ITEMS.validate_python(["deep 16", "foam 2.5 least 4"]))
    assert [(p.yarn, p.count, p.least) for p in parts] == [("deep", 16, None), ("foam", 2.5, 4)]


def test_repeat_holds_any_stripes():
    inner = {"mirror": ["a 1", "b 2"]}
    assert built({"repeat": 2, "stripes": [inner, "c 3"]}) == [
        ("a", 1), ("b", 2), ("a", 1), ("c", 3),
        ("a", 1), ("b", 2), ("a", 1), ("c", 3),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("half", "middle", "yarns"),
    [
        (["a 1", "b 2", "c 3"], "once", "abcba"),
        (["a 1", "b 2", "c 3"], "twice", "abccba"),
        (["a 1"], "once", "a"),
        (["a 1"], "twice", "aa"),
        ([{"repeat": 2, "stripes": ["a 1", "b 2"]}], "once", "abababa"),
    ],
)
def test_mirror_goes_there_and_back(half, middle, yarns):
    assert "".join(yarn for yarn, _ in built({"mirror": half, "middle": middle})) == yarns


@pytest.mark.parametrize(
    ("item", "rows"),
    [
        ({"stripes": 6}, [1, 1, 2, 3, 5, 8]),
        ({"stripes": 6, "order": "shrinking"}, [8, 5, 3, 2, 1, 1]),
        ({"stripes": 1}, [1]),
        ({"stripes": 2, "times": 3}, [3, 3]),
        ({"stripes": 5, "times": 2}, [2, 2, 4, 6, 10]),
        (
            {"stripes": 18},
            [1, 1, 2, 3, 5, 8, 13, 21, 34, 55, 89, 144, 233, 377, 610, 987, 1597, 2584],
        ),
    ],
)
def test_fibonacci(item, rows):
    stripes = built({"fibonacci": ["a", "b", "c"], **item})
    assert [count for _, count in stripes] == rows
    assert [yarn for yarn, _ in stripes] == [("a", "b", "c")[n % 3] for n in range(len(rows))]


def test_graded():
    assert built({"graded": ["a", "b"], "first": 12, "by": -2, "stripes": 5}) == [
        ("a", 12), ("b", 10), ("a", 8), ("b", 6), ("a", 4),
    ]  # fmt: skip
    assert built({"graded": ["a"], "first": 1, "by": 3, "stripes": 3}) == [
        ("a", 1),
        ("a", 4),
        ("a", 7),
    ]


@pytest.mark.parametrize(
    ("band", "bands", "firsts"),
    [
        (6, 5, [5, 4, 3, 2, 1]),
        (6, 1, [3]),
        (5, 1, [3]),
        (6, 2, [5, 1]),
        (2, 4, [1, 1, 1, 1]),
        (3, 5, [2, 2, 2, 1, 1]),
        (12, 3, [11, 6, 1]),
        (10, 4, [9, 6, 4, 1]),  # from 9 to 1 in steps of 8/3: 9, 6.33, 3.67, 1
    ],
)
def test_faded_by_hand(band, bands, firsts):
    stripes = built({"faded": ["a", "b"], "band": band, "bands": bands})
    assert [count for yarn, count in stripes if yarn == "a"] == firsts
    assert [yarn for yarn, _ in stripes] == ["a", "b"] * bands


@given(st.integers(2, 200), st.integers(1, 60))
def test_faded_trades_rows_evenly(band, bands):
    stripes = built({"faded": ["a", "b"], "band": band, "bands": bands})
    firsts = [count for yarn, count in stripes if yarn == "a"]
    seconds = [count for yarn, count in stripes if yarn == "b"]
    assert all(one + two == band for one, two in zip(firsts, seconds, strict=True))
    assert min(firsts + seconds) >= 1
    assert firsts == sorted(firsts, reverse=True)
    steps = max(bands - 1, 1)
    ideal = [band - 1 - (band - 2) * n / steps for n in range(bands)] if bands > 1 else [band / 2]
    assert all(abs(one - fair) <= 0.5 for one, fair in zip(firsts, ideal, strict=True))
    if bands > 1 and not (bands % 2 and band % 2):
        assert firsts == seconds[::-1]


def test_drawn_is_the_same_everywhere():
    """Written out, so that another machine, or a later Python, that draws otherwise fails here."""
    item = {
        "drawn": ["deep", "foam", "sand"],
        "seed": "harbour",
        "stripes": 12,
        "least": 2,
        "most": 9,
    }
    assert built(item) == [
        ("deep", 3), ("sand", 7), ("foam", 9), ("sand", 8), ("foam", 5), ("sand", 7),
        ("deep", 8), ("sand", 3), ("foam", 4), ("sand", 5), ("foam", 5), ("deep", 9),
    ]  # fmt: skip


@given(
    st.lists(st.sampled_from("abcd"), min_size=2, max_size=6).filter(lambda y: len(set(y)) > 1),
    st.text(min_size=1, max_size=10).filter(lambda text: text.strip()),
    st.integers(1, 80),
    st.integers(1, 9),
    st.integers(0, 9),
)
def test_drawn_keeps_its_bounds(yarns, seed, stripes, least, more):
    try:
        drawn = built(
            {"drawn": yarns, "seed": seed, "stripes": stripes, "least": least, "most": least + more}
        )
    except ValueError:
        return  # a seed of control characters is refused where it is read
    assert len(drawn) == stripes
    assert all(least <= count <= least + more for _, count in drawn)
    assert all(one[0] != two[0] for one, two in pairwise(drawn))
    assert {yarn for yarn, _ in drawn} <= set(yarns)


def test_every_lot_is_drawn():
    """Over many stripes each yarn and each width comes up, about as often as the others."""
    drawn = built({"drawn": ["a", "b", "c"], "seed": 1, "stripes": 500, "least": 1, "most": 5})
    for yarn in "abc":
        assert 130 < sum(one == yarn for one, _ in drawn) < 210
    for width in range(1, 6):
        assert 70 < sum(count == width for _, count in drawn) < 130


def test_a_yarn_named_twice_is_drawn_more_often():
    drawn = built({"drawn": ["a", "a", "a", "b", "c"], "seed": "x", "stripes": 400})
    assert sum(yarn == "a" for yarn, _ in drawn) > 160


items_of = st.recursive(
    st.builds(lambda y, n: f"{y} {n}", st.sampled_from("abc"), st.integers(1, 9))
    | st.builds(lambda n: {"fibonacci": ["a", "b"], "stripes": n}, st.integers(1, 8))
    | st.builds(
        lambda n: {"graded": ["a", "b"], "first": 3, "by": 1, "stripes": n}, st.integers(1, 8)
    )
    | st.builds(lambda n: {"faded": ["a", "b"], "band": 4, "bands": n}, st.integers(1, 8))
    | st.builds(lambda n: {"drawn": ["a", "b"], "seed": "s", "stripes": n}, st.integers(1, 8)),
    lambda inner: (
        st.builds(
            lambda items, n: {"repeat": n, "stripes": items},
            st.lists(inner, min_size=1, max_size=3),
            st.integers(1, 3),
        )
        | st.builds(
            lambda items, middle: {"mirror": items, "middle": middle},
            st.lists(inner, min_size=1, max_size=3),
            st.sampled_from(["once", "twice"]),
        )
    ),
    max_leaves=8,
)


@given(st.lists(items_of, min_size=1, max_size=4))
def test_stripes_are_counted_without_building_them(items):
    written = ITEMS.validate_python(items)
    assert stripe_count(written) == len(build_stripes(written))


@given(st.lists(st.builds(StripeRows, st.sampled_from("abc"), st.integers(1, 9)), max_size=30))
def test_merging_keeps_rows_and_leaves_no_equal_neighbours(stripes):
    joined = merged(stripes)
    for yarn in "abc":
        assert sum(s.rows for s in joined if s.yarn == yarn) == sum(
            s.rows for s in stripes if s.yarn == yarn
        )
    assert all(one.yarn != two.yarn for one, two in pairwise(joined))
