"""Lengths and masses as a reader meets them: rounded once, half up, in both systems."""

import pytest

from stripewright.words.units import (
    cm_text,
    counter_text,
    g_text,
    inch_text,
    length_text,
    m_text,
    mass_text,
    oz_text,
    run_text,
    yd_text,
)


@pytest.mark.parametrize(
    ("cm", "metric", "imperial"),
    [
        (14, "14 cm", "5½ in"),  # 14 / 2.54 = 5.512
        (25.4, "25 cm", "10 in"),
        (38.1, "38 cm", "15 in"),
        (0.9, "0.9 cm", "¼ in"),  # 0.354 in lies nearer to a quarter than to a half
        (2.5, "2.5 cm", "1 in"),
        (9.95, "10 cm", "4 in"),
        (9.94, "9.9 cm", "4 in"),
        (112.5, "113 cm", "44½ in"),  # half up; 44.29 in lies nearer to 44½
        (0, "0 cm", "0 in"),
        (0.2, "0.2 cm", "0 in"),
        (-2.54, "-2.5 cm", "-1 in"),
    ],
)
def test_lengths(cm, metric, imperial):
    assert (cm_text(cm), inch_text(cm)) == (metric, imperial)


def test_own_units_come_first():
    assert length_text(14, "metric") == "14 cm (5½ in)"
    assert length_text(14, "imperial") == "5½ in (14 cm)"
    assert mass_text(100, "metric") == "100 g (3.5 oz)"
    assert mass_text(100, "imperial") == "3.5 oz (100 g)"
    assert run_text(64, "metric") == "64 m (70 yd)"
    assert run_text(64, "imperial") == "70 yd (64 m)"


def test_yarn_and_mass():
    assert (m_text(9.94), m_text(10.4), yd_text(9.144)) == ("9.9 m", "10 m", "10 yd")
    assert (g_text(2.5), g_text(62.5), oz_text(28.349523125)) == ("2.5 g", "63 g", "1 oz")


@pytest.mark.reference
def test_against_pint():
    """The words' own factors against Pint's definitions (source: Pint's unit registry)."""
    import pint

    from stripewright.words.units import CM_PER_IN, G_PER_OZ, M_PER_YD

    unit = pint.UnitRegistry()
    assert unit("inch").to("cm").magnitude == pytest.approx(CM_PER_IN, rel=1e-12)
    assert unit("yard").to("m").magnitude == pytest.approx(M_PER_YD, rel=1e-12)
    assert unit("ounce").to("g").magnitude == pytest.approx(G_PER_OZ, rel=1e-12)


def test_the_counter_shows_three_digits():
    assert [counter_text(n) for n in (0, 7, 27, 123, 1234)] == [
        "RC 000", "RC 007", "RC 027", "RC 123", "RC 1234",
    ]  # fmt: skip
