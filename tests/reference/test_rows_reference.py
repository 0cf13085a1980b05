"""Row sharing and the lots against outside implementations."""

from __future__ import annotations

import random
from fractions import Fraction
from itertools import islice

import pytest
from apportionment import methods

from stripewright.compute.rows import share, split_mix

pytestmark = pytest.mark.reference

CASES = 3000


def untied(shares, total):
    """Whether the rows left over are decided by the remainders alone."""
    quotas = [Fraction(total * one, sum(shares)) for one in shares]
    remainders = sorted((quota % 1 for quota in quotas), reverse=True)
    left = total - sum(quota // 1 for quota in quotas)
    return left == 0 or remainders[left - 1] != remainders[left]


def test_sharing_agrees_with_another_largest_remainder():
    """Against the `apportionment` library's exact Hamilton method, where ties don't decide."""
    lots = random.Random("largest remainder")
    compared = 0
    while compared < CASES:
        shares = [lots.randint(1, 60) for _ in range(lots.randint(1, 50))]
        total = lots.randint(1, 600)
        if not untied(shares, total):
            continue
        wanted = methods.compute("hamilton", shares, total, fractions=True)
        assert share(total, shares, [0] * len(shares)) == wanted, (shares, total)
        compared += 1


def test_hamiltons_method_on_the_textbook_case():
    """The worked example of many textbooks: 10 seats for votes of 47, 16, 15.8, 12, 6.1, 3.1
    thousand give 5, 2, 1, 1, 1, 0 (from memory)."""
    votes = [47_000, 16_000, 15_800, 12_000, 6_100, 3_100]
    assert share(10, votes, [0] * 6) == [5, 2, 1, 1, 1, 0]


def test_lots_are_splitmix64():
    """The published sequence for the seed 1234567 (Rosetta Code, "Pseudo-random numbers/
    Splitmix64", from memory)."""
    assert list(islice(split_mix(1234567), 5)) == [
        6457827717110365317,
        3203168211198807973,
        9817491932198370423,
        4593380528125082431,
        16408922859458223821,
    ]
