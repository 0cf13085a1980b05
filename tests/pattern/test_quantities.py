"""Quantities as people write them; factors by the international yard and pound agreement (1959)."""

from contextlib import suppress
from datetime import date
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stripewright.pattern.base import Wrong
from stripewright.pattern.days import clock_s, iso_date
from stripewright.pattern.quantities import (
    BallSize,
    Money,
    StatedGauge,
    ball_size,
    colour,
    length_cm,
    mass_g,
    money,
    number,
    percentage,
    stated_gauge,
)

LENGTHS = {
    "38 cm": 38, "38cm": 38, "38 CM": 38, "0.5 m": 50, ".5 m": 50, "12 mm": 1.2, "3,5 cm": 3.5, "0,125 m": 12.5,
    "15 in": 38.1, "15in.": 38.1, '15"': 38.1, "15″": 38.1, "15''": 38.1, "15 inches": 38.1, "1/2 in": 1.27,
    "7 1/2 in": 19.05, "7-1/2 in": 19.05, "7½ in": 19.05, "7 ½ in": 19.05, "½ in": 1.27, "7 1⁄2 in": 19.05,
    "3 ft": 91.44, "1 yd": 91.44, "2 yards": 182.88, "38\u00a0cm": 38, "38\u202fcm": 38, "38\u2009cm": 38,
    "  38   cm  ": 38,
}  # fmt: skip
MASSES = {
    "62 g": 62,
    "62g": 62,
    "1.2 kg": 1200,
    "1 oz": 28.349523125,
    "3 1/2 oz": 99.2233309375,
    "1 lb": 453.59237,
}
BALLS = {
    "100 g / 120 m": (100, 120), "100g/120m": (100, 120), "3.5 oz / 131 yd": (99.2233309375, 119.7864),
    "1 3/4 oz / 108 yd": (49.61166546875, 98.7552), "120 m / 100 g": (100, 120), "50 g/ 62,5 m": (50, 62.5),
    "1/2 lb / 1/2 yd": (226.796185, 0.4572),
}  # fmt: skip
UNCLEAR = ["", "38", "cm", "38 cm 2", "38 c m", "--38 cm", "-5 cm", "1/0 in", "1,200 mm", "1 200 mm", "1e3 cm",
           "nan cm", "inf cm", "٣ cm", "9" * 70 + " cm", "9" * 90, "½½ in", "1/2/3 in", "38 g", None, 38, True, [], {}]  # fmt: skip


@pytest.mark.parametrize(("text", "cm"), LENGTHS.items())
def test_lengths(text, cm):
    assert length_cm(text) == pytest.approx(cm, rel=1e-12)


@pytest.mark.parametrize(("text", "g"), MASSES.items())
def test_masses(text, g):
    assert mass_g(text) == pytest.approx(g, rel=1e-12)


@pytest.mark.parametrize(("text", "ball"), BALLS.items())
def test_balls(text, ball):
    read = ball_size(text)
    assert (read.mass_g, read.length_m) == pytest.approx(ball, rel=1e-12)
    assert ball_size(read) is read


@pytest.mark.parametrize("text", UNCLEAR, ids=lambda text: repr(text)[:20])
def test_an_unclear_length_is_refused_with_an_example(text):
    with pytest.raises(Wrong) as caught:
        length_cm(text)
    assert caught.value.message
    assert caught.value.hint


@pytest.mark.parametrize(
    "text", ["100 g", "100 g / 100 g", "120 m", "100 / 120", "0 g / 120 m", "a / b", "/", 4, None]
)
def test_an_unclear_ball_is_refused(text):
    with pytest.raises(Wrong, match="ball"):
        ball_size(text)


def test_prices():
    assert money("4.50") == money(4.5) == money("4,50") == Money(4.5)
    assert (
        money("4.50 EUR")
        == money("EUR 4.50")
        == money("€4.50")
        == money("4.50 €")
        == Money(4.5, "EUR")
    )
    assert money("£3") == Money(3.0, "GBP")
    for text in (
        "$4",
        "4 EUR 5",
        "EUR 4 EUR",
        "free",
        -1,
        True,
        None,
        "1,200",
        float("inf"),
        float("nan"),
        1e9,
    ):
        with pytest.raises(Wrong):
            money(text)
    with pytest.raises(Wrong, match="CAD"):
        money("$4.50")


def test_gauges():
    for text in ("14 sts x 21 rows / 10 cm", "14 stitches × 21 rows to 10 cm", "14 sts, 21 rows = 10cm",
                 "14 st. and 21 r over 100 mm"):  # fmt: skip
        assert stated_gauge(text) == StatedGauge(14, 21, 10)
    assert stated_gauge("14.5 sts x 21½ rows / 4 in") == StatedGauge(
        14.5, 21.5, pytest.approx(10.16)
    )
    for text in (
        "14 x 21",
        "14 sts x 21 rows",
        "0 sts x 21 rows / 10 cm",
        "14 sts x 21 rows / 10",
        None,
        14,
    ):
        with pytest.raises(Wrong):
            stated_gauge(text)


def test_shares_colours_days_and_clocks():
    assert percentage("12,5 %") == 0.125
    assert percentage("-10%") == percentage("−10 %") == -0.1
    assert colour("#1F3D5C") == colour("1f3d5c") == "#1f3d5c"
    assert colour("#abc") == "#aabbcc"
    assert colour(112233) == "#112233"
    assert iso_date("2024-02-29") == date(2024, 2, 29)
    assert clock_s("2:30") == 150
    assert clock_s("1:02:30") == 3750
    for read, text in ((percentage, "10"), (percentage, 0.1), (colour, "blue"), (colour, "#12345"), (colour, True),
                       (iso_date, "2023-02-29"), (iso_date, "1066-10-14"), (iso_date, "٢٠٢٦-٠٩-٠٥"), (iso_date, 2026),
                       (clock_s, "2:75"), (clock_s, 90), (clock_s, "1:2:3:4")):  # fmt: skip
        with pytest.raises(Wrong):
            read(text)


@given(st.integers(0, 500), st.integers(0, 63), st.sampled_from([2, 4, 8, 16, 32, 64]))
def test_whole_and_fraction_add_up(whole, above, below):
    exact = Fraction(whole) + Fraction(above, below)
    assert number(f"{whole} {above}/{below}") == pytest.approx(float(exact), rel=1e-12)


@given(st.text(max_size=30))
def test_any_text_is_read_or_refused(text):
    for read in (
        length_cm,
        mass_g,
        ball_size,
        money,
        stated_gauge,
        percentage,
        colour,
        iso_date,
        clock_s,
    ):
        with suppress(Wrong):
            read(text)


def test_a_ball_says_how_far_a_gram_goes():
    assert BallSize(100, 120).metres_per_gram == 1.2
