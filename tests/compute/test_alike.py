"""Where parts of one weight get the same rows, and what whole repeats make of a length."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stripewright.compute.alike import alike_at, unlike
from stripewright.compute.rows import RowShare, share

LISTS = st.lists(st.tuples(st.sampled_from("abc"), st.integers(1, 6)), min_size=1, max_size=12)


def parts_of(stripes):
    return [RowShare(yarn, count, None) for yarn, count in stripes]


def test_three_repeats_of_one_and_one():
    """10 rows in six parts are 2, 2, 2, 2, 1, 1; 6 give one each, and 12 two."""
    parts = parts_of([("a", 1)] * 6)
    assert unlike(parts, share(10, [1] * 6, [1] * 6)) == ("a", 2, 1)
    assert alike_at(10, parts, [1] * 6) == (6, 12)
    assert alike_at(12, parts, [1] * 6) == (12,)
    assert alike_at(6, parts, [1] * 6) == (6,)


def test_nothing_lies_below_the_leasts():
    assert alike_at(11, parts_of([("a", 1)] * 4), [2] * 4) == (8, 12)
    assert alike_at(9, parts_of([("a", 1)] * 4), [2] * 4) == (8, 12)
    assert alike_at(5, parts_of([("a", 1)] * 3), [2, 2, 1]) == (6,)


@given(LISTS, st.integers(12, 200))
def test_the_nearest_totals_are_those_that_counting_finds(stripes, total):
    parts, leasts = parts_of(stripes), [1] * len(stripes)
    shares = [part.count for part in parts]

    def alike(rows):
        seen = {}
        return all(
            seen.setdefault(weight, count) == count
            for weight, count in zip(shares, share(rows, shares, leasts), strict=True)
        )

    found = alike_at(total, parts, leasts)
    assert all(alike(one) for one in found)
    assert not any(
        alike(one) for one in range(max(len(parts), found[0]), total + 1) if one > found[0]
    )
    assert not any(alike(one) for one in range(total, found[-1]) if one != found[0])


@pytest.mark.parametrize("total", [1, 7, 100])
def test_parts_of_different_weights_are_never_unlike(total):
    assert unlike(parts_of([("a", 1)]), [total]) is None
