"""Units as people write them, against Pint."""

from __future__ import annotations

import pint
import pytest

from stripewright.pattern.quantities import GRAM, ball_size, length_cm, mass_g

pytestmark = pytest.mark.reference

UNITS = pint.UnitRegistry()


@pytest.mark.parametrize(
    ("text", "value", "unit"),
    [
        ("38 cm", 38, "centimeter"),
        ("12 mm", 12, "millimeter"),
        ("0.5 m", 0.5, "meter"),
        ("15 in", 15, "inch"),
        ("7 1/2 in", 7.5, "inch"),
        ("1/2 in", 0.5, "inch"),
        ("2 ft", 2, "foot"),
        ("131 yd", 131, "yard"),
    ],
)
def test_lengths(text, value, unit):
    assert length_cm(text) == pytest.approx((value * UNITS(unit)).to("cm").magnitude, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "value", "unit"),
    [
        ("62 g", 62, "gram"),
        ("1.2 kg", 1.2, "kilogram"),
        ("3.5 oz", 3.5, "ounce"),
        ("1 lb", 1, "pound"),
    ],
)
def test_masses(text, value, unit):
    assert mass_g(text) == pytest.approx((value * UNITS(unit)).to("g").magnitude, rel=1e-12)
    assert GRAM["oz"] * 16 == pytest.approx(GRAM["lb"], rel=1e-12)


def test_balls():
    ball = ball_size("3.5 oz / 131 yd")
    assert ball.mass_g == pytest.approx((3.5 * UNITS.ounce).to("g").magnitude, rel=1e-12)
    assert ball.length_m == pytest.approx((131 * UNITS.yard).to("m").magnitude, rel=1e-12)
