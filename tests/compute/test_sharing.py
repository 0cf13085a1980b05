"""Row sharing: exact, fair, mirrored, never under its least."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import assume, example, given
from hypothesis import strategies as st

from stripewright.compute.rows import share

shares_of = st.lists(st.integers(1, 40), min_size=1, max_size=30)
halves_of = st.lists(st.integers(1, 40), min_size=1, max_size=15)
totals = st.integers(0, 700)


@st.composite
def with_leasts(draw):
    shares = draw(shares_of)
    leasts = [draw(st.integers(0, 12)) for _ in shares]
    return draw(st.integers(sum(leasts), sum(leasts) + 600)), shares, leasts


@given(with_leasts())
def test_the_sum_is_exact_and_no_part_is_under_its_least(case):
    total, shares, leasts = case
    rows = share(total, shares, leasts)
    assert sum(rows) == total
    assert all(got >= least for got, least in zip(rows, leasts, strict=True))


@given(totals, shares_of)
def test_each_part_is_within_one_row_of_its_share(total, shares):
    rows = share(total, shares, [0] * len(shares))
    for got, one in zip(rows, shares, strict=True):
        assert abs(got - Fraction(total * one, sum(shares))) <= 1


@given(with_leasts())
def test_parts_over_their_least_share_what_the_others_leave(case):
    """Each is within one row of max(least, λ × share), λ being what makes the sum right."""
    total, shares, leasts = case
    rows = share(total, shares, leasts)
    low, high = 0.0, float(total + 1)
    for _ in range(80):
        level = (low + high) / 2
        filled = sum(max(least, level * one) for one, least in zip(shares, leasts, strict=True))
        low, high = (level, high) if filled < total else (low, level)
    for got, one, least in zip(rows, shares, leasts, strict=True):
        assert abs(got - max(least, low * one)) <= 1 + 1e-6


@given(totals, shares_of, st.randoms())
def test_permuting_equal_parts_changes_nothing(total, shares, lots):
    """Equal parts at other places: the rows given to each size of share stay the same."""
    rows = share(total, shares, [0] * len(shares))
    order = list(range(len(shares)))
    for size in set(shares):
        places = [i for i, one in enumerate(shares) if one == size]
        mixed = places[:]
        lots.shuffle(mixed)
        for here, there in zip(places, mixed, strict=True):
            order[here] = there
    assert share(total, [shares[i] for i in order], [0] * len(shares)) == rows


@given(totals, st.integers(0, 50), shares_of)
def test_growing_the_target_never_shrinks_the_total(total, more, shares):
    none = [0] * len(shares)
    assert sum(share(total + more, shares, none)) >= sum(share(total, shares, none))


@given(totals, halves_of, st.booleans())
@example(6, [1, 2], True)
@example(20, [5, 4], True)
def test_mirrored_parts_stay_mirrored_where_the_parity_allows(total, half, odd):
    shares = half + (half[-2::-1] if odd and len(half) > 1 else half[::-1] if not odd else [])
    rows = share(total, shares, [0] * len(shares))
    if len(shares) % 2 or total % 2 == 0:
        assert rows == rows[::-1]
    else:
        unlike = sum(one != two for one, two in zip(rows, rows[::-1], strict=True))
        assert unlike == 2  # one row is left over that two parts can't share


@given(st.integers(0, 300), halves_of, st.lists(st.integers(0, 9), min_size=15, max_size=15))
def test_mirrored_leasts_keep_the_mirror_too(extra, half, floors):
    shares = half + half[-2::-1] if len(half) > 1 else half
    half_floors = floors[: len(half)]
    leasts = half_floors + half_floors[-2::-1] if len(half) > 1 else half_floors
    total = sum(leasts) + extra
    rows = share(total, shares, leasts)
    middle = len(rows) // 2
    held = rows[middle] == leasts[middle]
    # a middle that its least holds up can't take or give the odd row
    assume(not held or (total - rows[middle]) % 2 == 0)
    assert rows == rows[::-1]


@given(totals, shares_of)
def test_shares_count_by_their_ratio(total, shares):
    none = [0] * len(shares)
    assert share(total, [one * 0.1 for one in map(float, shares)], none) == share(
        total, [round(one * 0.1, 1) for one in shares], none
    ) or any(one * 0.1 != round(one * 0.1, 1) for one in shares)
    assert share(total, [one / 4 for one in shares], none) == share(total, shares, none)


@pytest.mark.parametrize(
    ("total", "shares", "leasts", "rows"),
    [
        (0, [1, 1], [0, 0], [0, 0]),
        (7, [1], [0], [7]),
        (10, [1, 1, 1], [0] * 3, [3, 4, 3]),  # the odd row to the middle
        (11, [1, 1, 1], [0] * 3, [4, 3, 4]),  # a pair to the ends
        (10, [1, 1, 1, 1], [0] * 4, [3, 2, 2, 3]),  # pairs from the ends inward
        (9, [1, 1, 1, 1], [0] * 4, [3, 2, 2, 2]),  # an odd row and no middle: the first
        (6, [1, 2, 1], [0] * 3, [1, 4, 1]),  # 1.5, 3, 1.5: the middle a row over its share
        (20, [5, 4, 5], [0] * 3, [7, 6, 7]),  # 7.14, 5.71, 7.14
        (5, [3, 4, 3], [0] * 3, [1, 3, 1]),  # 1.5, 2, 1.5: again the middle
        (8, [31, 31, 36, 31, 31], [0] * 5, [2, 1, 2, 1, 2]),  # 1.55 × 4 and 1.8: a pair is left
        (10, [9, 8, 8, 8, 8, 9], [0] * 6, [2, 2, 1, 1, 2, 2]),  # 1.8 win, and one pair of the 1.6
        (6, [1, 1, 2], [0] * 3, [2, 1, 3]),  # not mirrored: the first of those that tie
        (9, [2, 2, 2, 1], [0] * 4, [3, 3, 2, 1]),  # the first two
        (4, [1, 1, 1], [0, 0, 1], [2, 1, 1]),  # shares mirrored, leasts not
        (4, [1, 1, 1], [1, 0, 1], [1, 2, 1]),
        (3, [0.1, 0.2], [0, 0], [1, 2]),  # as the decimals they were written as, not as floats
        (30, [0.1, 0.2, 0.3, 0.4], [0] * 4, [3, 6, 9, 12]),
        (30, [12, 1, 12], [1, 4, 1], [13, 4, 13]),
        (30, [12, 1, 1], [1, 4, 5], [21, 4, 5]),
        (9, [100, 1, 1], [0, 4, 5], [0, 4, 5]),
    ],
)
def test_by_hand(total, shares, leasts, rows):
    assert share(total, shares, leasts) == rows


def test_a_middle_that_won_its_row_gives_it_up_for_a_pair():
    """114 rows to 3, 1, 2, 1, 3: 34.2, 11.4, 22.8, 11.4, 34.2. Two rows are left over; the middle
    has the largest remainder, but then one would be left for two that tie."""
    assert share(114, [3, 1, 2, 1, 3], [0] * 5) == [34, 12, 22, 12, 34]


def test_too_much_to_hold_up_is_refused():
    with pytest.raises(ValueError, match=r"^3 rows can't hold parts of at least 4 rows together$"):
        share(3, [1, 1], [2, 2])


@pytest.mark.parametrize("shares", [[0, 1], [1, -0.5]])
def test_a_share_of_nothing_is_refused(shares):
    with pytest.raises(ValueError, match=r"^a share is over 0$"):
        share(3, shares, [0, 0])
