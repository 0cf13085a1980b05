"""Filled pieces against what is known of paper bags, discs and cylinders."""

from __future__ import annotations

from itertools import pairwise
from math import cos, dist, gamma, pi, sin, sqrt

import pytest

from stripewright.compute.filling import (
    DISC_THICKNESS,
    DISC_WIDTH,
    cushion,
    cylinder,
    robin_volume,
)

pytestmark = pytest.mark.reference


@pytest.mark.parametrize(
    ("long", "volume"),
    [
        (1, 1 / pi - 0.142 * 0.9),  # 0.1905: the bracket is 0.9 for a square
        (2, 2 / pi - 0.142 * 0.99),
        (3, 3 / pi - 0.142 * 0.999),
    ],
)
def test_robins_formula_at_whole_ratios(long, volume):
    """Robin, "Paper bag problem", Mathematics Today, June 2004: powers of ten fall out by hand."""
    assert robin_volume(1, long) == pytest.approx(volume, rel=1e-12)
    assert robin_volume(10, 10 * long) == pytest.approx(1000 * volume, rel=1e-12)


def test_robins_square_against_the_bounds_known():
    """The square bag of unit side holds at least 0.2055 (a construction) and at most 0.217
    (A. Kepert; both from memory). Robin's formula stands 7 to 12 % under them, as its docstring
    says: it errs to the safe side for buying no more filling than fits."""
    found = robin_volume(1, 1)
    assert 0.2055 * (1 - 0.08) < found < 0.2055
    assert 0.07 < 1 - found / 0.2055 < 0.08
    assert 0.12 < 1 - found / 0.217 < 0.13


def test_robins_long_bag_is_a_cylinder():
    """For long bags V nears w²h/π: a cylinder of girth 2w; the ends take 0.142 w³ for good."""
    for long in (50, 500, 5000):
        tube = long / pi
        assert robin_volume(1, long) / tube == pytest.approx(1, abs=0.5 / long)
        assert tube - robin_volume(1, long) == pytest.approx(0.142, rel=1e-6)


def test_gathered_ends_lie_between_a_disc_and_a_dome():
    """Geometry: a girth of 2π has radius 1. A tube 5 long with flat ends is 5 - 2 = 3 long, of
    3π cm³; with half balls of an arc of π/2 each, 5 - π + 2 long, of π(5 - π) + 4π/3."""
    solid = cylinder(2 * pi, 5)
    assert solid is not None
    assert (solid.width_cm, solid.thickness_cm) == pytest.approx((2, 2))
    assert (solid.low_length_cm, solid.length_cm) == pytest.approx((3, 7 - pi))
    assert solid.volume_cm3 == pytest.approx((3 * pi + pi * (5 - pi) + 4 * pi / 3) / 2)


@pytest.mark.parametrize("along", [0.05, 0.3, 0.7, 1.0])
def test_a_short_tube_makes_an_ellipsoid_of_its_own_fabric(along):
    """The quarter of an ellipse, summed from a thousand chords, is half the tube."""
    turns = [pi / 2 * number / 1000 for number in range(1001)]
    spots = [(along * (1 - cos(turn)), sin(turn)) for turn in turns]
    quarter = sum(dist(one, two) for one, two in pairwise(spots))
    solid = cylinder(2 * pi, 2 * quarter)
    assert solid is not None
    assert solid.length_cm == pytest.approx(2 * along, rel=0.01, abs=0.03)
    assert solid.dome_cm == pytest.approx(along, rel=0.01, abs=0.015)


def test_the_inflated_disc():
    """Paulsen 1994: a disc of radius a inflates to radius r with a = r·Γ(1/4)²/(4√(2π)); its
    thickness comes from integrating its profile, z(x) = ∫ t² dt / √(r⁴ − t⁴) from x to r."""
    radius = DISC_WIDTH  # of a disc of radius 1
    assert radius * gamma(0.25) ** 2 / (4 * sqrt(2 * pi)) == pytest.approx(1, abs=1e-6)
    # with t = r(1 − u²) there is no pole at the rim
    steps = 20_000
    height = 0.0
    for step in range(steps):
        u = (step + 0.5) / steps
        t = 1 - u * u
        height += t * t / sqrt((1 + t) * (1 + t * t)) * 2 / steps
    assert 2 * radius * height / 2 == pytest.approx(DISC_THICKNESS, abs=1e-6)


def test_a_cushions_outline_between_its_limits():
    """Square: the disc's proportions. Long: a cylinder as thick as wide, 2w/π."""
    square = cushion(1, 1)
    assert (square.width_cm, square.length_cm) == pytest.approx((DISC_WIDTH, DISC_WIDTH))
    assert square.thickness_cm == pytest.approx(DISC_THICKNESS)
    long = cushion(1, 12)
    assert long.width_cm == pytest.approx(2 / pi, abs=1e-6)
    assert long.thickness_cm == pytest.approx(2 / pi, abs=1e-6)
    assert 11.6 < long.length_cm < 11.7
