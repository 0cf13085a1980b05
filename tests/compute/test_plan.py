"""Allowances and the numbering of rows."""

from __future__ import annotations

import pytest

from stripewright.compute.plan import allowance, lay_out, worked_ends
from stripewright.compute.rows import StripeRows
from stripewright.compute.worked import WorkedGauge
from stripewright.pattern.edge import Edge


@pytest.mark.parametrize(
    ("edge", "rows_per_cm", "rows"),
    [
        ("open", 3, 0),
        ("seamed", 3, 1),
        ("gathered", 3, 1),
        ("grafted", 3, 0),
        ("hemmed", 3, 6),
        ("hemmed", 2.2, 4),  # 4.4
        ("hemmed", 0.6, 2),  # 1.2: a hem has two rows at least
        ("hemmed", 5000, 200),
    ],
)
def test_common_practice(edge, rows_per_cm, rows):
    assert allowance(Edge(edge=edge), WorkedGauge(1, rows_per_cm)) == rows


@pytest.mark.parametrize("edge", ["open", "seamed", "gathered", "grafted", "hemmed"])
@pytest.mark.parametrize("rows", [0, 2, 9])
def test_the_authors_word_wins(edge, rows):
    assert allowance(Edge(edge=edge, rows=rows), WorkedGauge(2, 3)) == rows


def told(stripes, first, last):
    ends = worked_ends(
        (Edge(edge="seamed", rows=first), Edge(edge="hemmed", rows=last)), WorkedGauge(2, 3)
    )
    lines = lay_out([StripeRows(*stripe) for stripe in stripes], ends, {"a": "A", "b": "B"})
    return [
        (line.letter, line.first, line.last, line.allowance_before, line.allowance_after)
        for line in lines
    ]


def test_the_first_and_the_last_stripe_take_the_allowances():
    assert told([("a", 4), ("b", 3), ("a", 4)], 1, 2) == [
        ("A", 1, 5, 1, 0),
        ("B", 6, 8, 0, 0),
        ("A", 9, 14, 0, 2),
    ]


def test_a_single_stripe_takes_both():
    assert told([("b", 4)], 3, 2) == [("B", 1, 9, 3, 2)]
