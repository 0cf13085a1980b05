"""Colours against published data: CIEDE2000, and a cast taken out by the paper's white."""

from __future__ import annotations

import warnings

import numpy as np
import pytest

from camera.sheets import science
from stripewright.camera.colours import differences, lab_of
from stripewright.camera.light import PER_MM, blank_paper, linear, white_of
from stripewright.paper.sheet_plan import PAPERS_MM

pytestmark = pytest.mark.reference


def test_ciede2000_against_sharma_wu_and_dalal():
    """Their 34 pairs (Sharma, Wu and Dalal 2005, table 1)."""
    from support.sharma import SHARMA as PAIRS

    one = np.array([pair[0] for pair in PAIRS])
    other = np.array([pair[1] for pair in PAIRS])
    assert differences(one, other) == pytest.approx([pair[2] for pair in PAIRS], abs=1e-4)


def test_lab_against_colour_science():
    colour = science()

    lot = np.random.default_rng(2)
    light = lot.uniform(0, 1, (50, 3))
    xyz = colour.RGB_to_XYZ(light, "sRGB")
    assert lab_of(light) == pytest.approx(
        colour.XYZ_to_Lab(
            xyz, colour.CCS_ILLUMINANTS["CIE 1931 2 Degree Standard Observer"]["D65"]
        ),
        abs=0.05,
    )


@pytest.mark.parametrize("illuminant", ["A", "D50", "D75", "FL2"])
def test_a_cast_is_taken_out(illuminant):
    """The 24 patches of a colour checker under a lamp, each beside white paper.

    Reflectances and illuminants: colour-science's data (BabelColor's averages; CIE 15). A camera
    sees them as the CIE observer in linear sRGB; the paper's white is divided out. What is left
    is what no white can take out: the lamp's other spectrum.
    """
    colour = science()

    warnings.simplefilter("ignore")  # it tells of every spectrum that it aligns
    checker = colour.SDS_COLOURCHECKERS["BabelColor Average"]
    shape = colour.SpectralShape(400, 700, 10)

    def seen(lamp: str) -> np.ndarray:
        light = colour.SDS_ILLUMINANTS[lamp].copy().align(shape)
        flat = colour.sd_constant(0.9, shape)
        spectra = [sd.copy().align(shape) for sd in checker.values()] + [flat]
        xyz = np.array([colour.sd_to_XYZ(sd, illuminant=light) / 100 for sd in spectra])
        return xyz @ np.linalg.inv(colour.RGB_COLOURSPACES["sRGB"].matrix_RGB_to_XYZ).T

    day, lamp = seen("D65"), seen(illuminant)
    raw = differences(lab_of(np.clip(lamp[:-1], 0, 1)), lab_of(np.clip(day[:-1], 0, 1)))
    evened = differences(
        lab_of(np.clip(lamp[:-1] / lamp[-1], 0, 1)), lab_of(np.clip(day[:-1] / day[-1], 0, 1))
    )
    assert np.median(evened) < (6 if illuminant == "FL2" else 4.5)  # a fluorescent lamp has gaps
    assert np.median(evened) < 0.5 * np.median(raw) or np.median(raw) < 6


def test_the_paper_s_white_is_found_under_a_cast_and_a_slope():
    """Light from one side, 2:1, and a warm lamp: known everywhere, also under the outline."""
    from camera.sheets import encoded, page_pixels, sheet

    one = sheet(rows=30)
    page = one.pages[0]
    wide, high = (int(v) for v in PAPERS_MM["a4"])
    pixels = page_pixels(one, 1, PER_MM * 25.4)[: high * PER_MM, : wide * PER_MM]
    slope = np.linspace(1.0, 0.5, pixels.shape[1], dtype=np.float32)[None, :, None]
    lamp = slope * np.array([0.95, 0.8, 0.55], np.float32)
    photo = np.clip(encoded(linear(pixels) * lamp), 0, 255).astype(np.uint8)
    white, share = white_of(photo, np.ones((high, wide), bool), blank_paper(page, (wide, high)))
    wanted = np.broadcast_to(lamp, (1, pixels.shape[1], 3))[:, PER_MM // 2 :: PER_MM]
    assert share > 0.9
    assert white / wanted == pytest.approx(np.ones_like(white), abs=0.06)
