"""Figures as readers see them: rounded once, half up, in both systems, in the site's language."""

from __future__ import annotations

from datetime import date

import pytest
from babel import Locale
from hypothesis import example, given
from hypothesis import strategies as st

from stripewright.figures import (
    CM_PER_IN,
    G_PER_OZ,
    M_PER_YD,
    Figures,
    decimal,
    eighths,
    filling_told,
    rc,
    rounded,
)
from stripewright.locales import locale_of
from stripewright.times import duration, time_span

METRIC, IMPERIAL = Figures(), Figures(imperial=True)


@pytest.mark.parametrize(
    ("cm", "metric", "imperial"),
    [
        (14, "14 cm", "5½ in"),  # 14 / 2.54 = 5.512, in eighths 44.09
        (15, "15 cm", "5⅞ in"),  # 5.906, 47.24 eighths
        (38.2, "38.2 cm", "15 in"),  # 15.04
        (30, "30 cm", "11¾ in"),  # 11.811, 94.49 eighths
        (60, "60 cm", "23⅝ in"),  # 23.622
        (112.55, "112.6 cm", "44¼ in"),  # half up; 44.31, 354.5 eighths
        (9.94, "9.9 cm", "3⅞ in"),
        (0, "0 cm", "0 in"),
        (0.1, "0.1 cm", "0 in"),
        (-2.54, "-2.5 cm", "-1 in"),
    ],
)
def test_lengths_are_to_the_millimetre_and_the_eighth(cm: float, metric: str, imperial: str):
    assert (METRIC.in_cm(cm), METRIC.in_inches(cm)) == (metric, imperial)
    assert METRIC.length(cm) == f"{metric} ({imperial})"
    assert IMPERIAL.length(cm) == f"{imperial} ({metric})"


@pytest.mark.parametrize(
    ("m", "told"),
    [(120, "120 m (131 yd)"), (64, "64 m (70 yd)"), (177.5, "178 m (194 yd)"), (9.94, "9.9 m (11 yd)"),
     (9.96, "10 m (11 yd)"), (2, "2 m (2.2 yd)")],
)  # fmt: skip
def test_yarn(m: float, told: str):
    """120 / 0.9144 = 131.23; 177.5 / 0.9144 = 194.1."""
    assert METRIC.yarn(m) == told


def test_masses():
    """62 / 28.3495 = 2.187."""
    assert METRIC.mass(62) == "62 g (2.2 oz)"
    assert METRIC.mass(62.5) == "63 g (2.2 oz)"
    assert METRIC.mass(2.5) == "2.5 g (0.1 oz)"
    assert IMPERIAL.mass(100) == "3.5 oz (100 g)"


def test_what_is_cut_is_never_short():
    """14 cm are 5.51 in, 60 cm 23.62; 10.16 cm are 4 in and 11 cm."""
    assert METRIC.cut(14) == "14 cm (6 in)"
    assert METRIC.cut(60) == "60 cm (24 in)"
    assert METRIC.cut(10.16) == "11 cm (4 in)"


def test_filling_is_never_short():
    """An estimate is told to two figures, a weighed mass to 1 g."""
    assert [filling_told(g, weighed=False) for g in (173, 180, 180.1)] == [180, 180, 190]
    assert [filling_told(g, weighed=False) for g in (5.2, 47.07, 99.5, 1234)] == [6, 48, 100, 1300]
    assert [filling_told(g, weighed=True) for g in (47, 47.2)] == [47, 48]


def test_gauge_is_told_to_a_tenth():
    """13.33 stitches to 10 cm are 13.55 to 4 in, which is 10.16 cm."""
    told = METRIC.gauge((13.333, 20.69), (13.547, 21.02))
    assert told == (
        "about 13.3 stitches and 20.7 rows to 10 cm (about 13.5 stitches and 21 rows to 4 in)"
    )


def test_gauge_is_told_as_it_was_measured():
    """A swatch of 16 stitches and 22 rows to 4 in says so; over 10 cm it is 15.748 and 21.654."""
    told = Figures(imperial=True).gauge((16 / 1.016, 22 / 1.016), (16.0, 22.0))
    assert told == ("16 stitches and 22 rows to 4 in (about 15.7 stitches and 21.7 rows to 10 cm)")


@given(st.floats(-1e6, 1e6), st.integers(0, 3))
@example(0.05, 1)
@example(2.675, 2)
def test_rounded_is_the_nearest_and_half_goes_up(value: float, digits: int):
    """Against exact decimal arithmetic on the number as Python writes it."""
    from decimal import ROUND_HALF_UP, Decimal

    exact = Decimal(repr(value)).quantize(Decimal(1).scaleb(-digits), ROUND_HALF_UP)
    assert rounded(value, digits) == pytest.approx(float(exact), abs=1e-8)


@pytest.mark.reference
@pytest.mark.parametrize("language", ["en-GB", "de", "en-US", "fr", "sv"])
@pytest.mark.parametrize("value", [0, 1.3, 38.2, 999.94, 1234.5, 1234567.8])
def test_numbers_are_those_of_babel(language: str, value: float):
    from babel.numbers import format_decimal

    locale = Locale.parse(language, sep="-")
    expected = format_decimal(round(value, 1), "#,##0.#", locale=locale)
    assert Figures(language=language).number(value, 1) == expected


def test_every_figure_speaks_the_sites_language():
    german = Figures(language="de")
    assert german.length(38.1) == "38,1 cm (15 in)"
    assert german.yarn(1234) == "1.234 m (1.350 yd)"


def test_a_number_that_rounds_to_nothing_has_no_sign():
    assert decimal(-0.01, 1) == "0"
    assert decimal(-3.1, 1) == "-3.1"
    assert eighths(-0.01) == "0"


@pytest.mark.reference
def test_factors_against_pint():
    """Ours against Pint's definitions (source: Pint's unit registry)."""
    import pint

    unit = pint.UnitRegistry()
    assert unit("inch").to("cm").magnitude == pytest.approx(CM_PER_IN, rel=1e-12)
    assert unit("yard").to("m").magnitude == pytest.approx(M_PER_YD, rel=1e-12)
    assert unit("ounce").to("g").magnitude == pytest.approx(G_PER_OZ, rel=1e-12)


def test_prices_and_days_are_said_in_the_sites_language():
    gb, us, de = Figures(language="en-GB"), Figures(terms="us"), Figures(language="de")
    assert gb.price(6.5, "GBP") == "£6.50"
    assert de.price(6.5, "EUR") == "6,50\u00a0€"
    assert gb.day(date(2026, 9, 5)) == "5 September 2026"
    assert us.day(date(2026, 9, 5)) == "September 5, 2026"
    assert locale_of("en", "uk") == Locale("en", "GB")
    assert locale_of("xx", "uk") == Locale("en", "GB")


@pytest.mark.parametrize(
    ("minutes", "told"), [(45, "45 min"), (60, "1 h"), (210, "3 h 30 min"), (0, "0 min")]
)
def test_durations(minutes: int, told: str):
    assert duration(minutes) == told


@pytest.mark.parametrize(
    ("low", "high", "told"),
    [(41, 77, "40 min to 1 h 15 min"), (58, 62, "about 1 h"), (1, 2, "about 5 min"), (128, 240, "2 h 15 min to 4 h")],
)  # fmt: skip
def test_spans(low: float, high: float, told: str):
    """To 5 minutes under an hour, else to a quarter of an hour."""
    assert time_span(low, high) == told


def test_the_counter_is_told_as_its_three_wheels_show_it():
    assert [rc(n) for n in (0, 14, 186, 1204)] == ["RC 000", "RC 014", "RC 186", "RC 1204"]
