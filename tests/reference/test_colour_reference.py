"""Colour differences and colour-vision deficiencies against published data and libraries."""

from __future__ import annotations

import random
import warnings
from functools import cache

import pytest
from coloraide import Color

from stripewright.compute import colour
from support.sharma import SHARMA

pytestmark = pytest.mark.reference


@cache
def colour_science():
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # it tells of optional libraries that are not needed here
        import colour as science

        science.blindness.matrix_cvd_Machado2009("Protanomaly", 1.0)
    return science


@pytest.mark.parametrize(("one", "two", "published"), SHARMA)
def test_ciede2000_gives_the_published_differences(one, two, published):
    """Sharma, Wu and Dalal 2005, table 1, to the four digits that are printed there."""
    found = colour.apart(Color("lab-d65", one), Color("lab-d65", two))
    assert round(found, 4) == published
    assert round(colour.apart(Color("lab-d65", two), Color("lab-d65", one)), 4) == published


def some_colours(count, seed):
    lots = random.Random(seed)
    return [f"#{lots.randrange(1 << 24):06x}" for _ in range(count)]


@pytest.mark.parametrize("view", colour.VIEWS)
def test_differences_agree_with_colour_science(view):
    """Against colour-science's CIEDE2000, over 300 pairs of random colours in each view."""
    science = colour_science()
    colours = some_colours(600, seed=view)
    for first, second in zip(colours[::2], colours[1::2], strict=True):
        one, two = (colour.seen(c, view).coords() for c in (first, second))
        assert colour.difference(first, second, view) == pytest.approx(
            float(science.delta_E(one, two, method="CIE 2000")), abs=1e-6
        )


def test_lab_agrees_with_colour_science():
    """sRGB (IEC 61966-2-1) to CIE Lab under D65, as colour-science has it."""
    science = colour_science()
    white = science.CCS_ILLUMINANTS["CIE 1931 2 Degree Standard Observer"]["D65"]
    for sample in some_colours(300, seed="lab"):
        rgb = [int(sample[i : i + 2], 16) / 255 for i in (1, 3, 5)]
        wanted = science.XYZ_to_Lab(science.sRGB_to_XYZ(rgb), white)
        # the two take the white point from tables of four and of five digits
        assert colour.seen(sample, "normal").coords() == pytest.approx(list(wanted), abs=0.05)


@pytest.mark.parametrize(("view", "name"), [("protan", "Protanomaly"), ("deutan", "Deuteranomaly")])
def test_red_and_green_deficiencies_agree_with_colour_science(view, name):
    """Machado, Oliveira and Fernandes 2009 at full severity, as colour-science tabulates it."""
    matrix = colour_science().blindness.matrix_cvd_Machado2009(name, 1.0)
    for sample in some_colours(300, seed=view):
        linear = Color(sample).convert("srgb-linear").coords()
        wanted = Color("srgb-linear", list(matrix @ linear)).convert("lab-d65").coords()
        assert colour.seen(sample, view).coords() == pytest.approx(wanted, abs=1e-3)


def test_blue_deficiency_agrees_with_daltonlens():
    """Brettel, Viénot and Mollon 1997 for tritanopia, as DaltonLens has it: the two take the cones'
    answers from tables of other precision, so within a CIEDE2000 that no one sees."""
    import numpy as np
    from daltonlens import convert, simulate

    simulator = simulate.Simulator_Brettel1997(convert.LMSModel_sRGB_SmithPokorny75())
    samples = some_colours(300, seed="tritan")
    image = np.array(
        [[[int(c[i : i + 2], 16) for i in (1, 3, 5)] for c in samples]], dtype=np.uint8
    )
    wanted = simulator.simulate_cvd(image, simulate.Deficiency.TRITAN, severity=1.0)[0]
    for sample, pixel in zip(samples, wanted, strict=True):
        ours = colour.seen(sample, "tritan").convert("srgb").clip()
        theirs = Color("srgb", [float(part) / 255 for part in pixel])
        assert colour.apart(ours.convert("lab-d65"), theirs.convert("lab-d65")) < 1.5, sample


def test_grey_keeps_the_lightness_and_nothing_else():
    """A black-and-white print: L* of CIE 15, no hue, no chroma."""
    for sample in some_colours(50, seed="grey"):
        lightness, a, b = colour.seen(sample, "grey").coords()
        assert (a, b) == (0, 0)
        assert lightness == pytest.approx(Color(sample).convert("lab-d65")["lightness"])
