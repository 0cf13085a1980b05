"""Yarn in a stitch and yarn classes against handbooks and the standard's table."""

from __future__ import annotations

from math import pi, sqrt

import pytest

from stripewright.compute.tables import yarn_classes
from stripewright.compute.yarn import MUNDEN_KS, munden_loop, peirce_loop
from support.patterns import worked

pytestmark = pytest.mark.reference

STANDARD = {
    0: (33, 40),
    1: (27, 32),
    2: (23, 26),
    3: (21, 24),
    4: (16, 20),
    5: (12, 15),
    6: (7, 11),
}
"""Knit gauge ranges in stitches to 4 in: Craft Yarn Council, Standard Yarn Weight System."""


@pytest.mark.parametrize("number", range(8))
def test_yarn_classes(number):
    found = yarn_classes()[number]
    if number == 7:
        assert found.high == 6  # "6 stitches or fewer"
    else:
        assert (found.low, found.high) == STANDARD[number]


def test_mundens_relation():
    """Munden 1959: stitch density S = Ks/ℓ², Ks = 21.6 wet relaxed (from memory). A loop of 0.6 cm
    gives 60 loops to the cm², and back."""
    assert pytest.approx(60) == MUNDEN_KS / 0.6**2
    assert munden_loop(6, 10) == pytest.approx(0.6)


def test_mundens_constants_hang_together():
    """Munden's wet relaxed constants for courses and wales are Kc = 5.3 and Kw = 4.1 (from memory);
    Ks is their product to a part in a hundred."""
    assert pytest.approx(MUNDEN_KS, rel=0.01) == 5.3 * 4.1
    loop = munden_loop(4.1 / 0.6, 5.3 / 0.6)
    assert loop == pytest.approx(0.6, rel=0.01)


def test_peirces_loop_by_hand():
    """Peirce 1947: ℓ = 2c + w + 5.94 d (from memory). With d = 0.1, w = 0.4 and c = 0.35 that is
    0.7 + 0.4 + 0.594 = 1.694."""
    diameter = 0.1
    tex = pi * diameter**2 / 4 * 0.5 / 1e-5
    assert peirce_loop(1 / 0.4, 1 / 0.35, tex) == pytest.approx(1.694)


def test_peirce_and_munden_agree_for_a_common_yarn():
    """Two theories of one loop: for a bulky yarn at its usual gauge they stand within 15 %."""
    across, along = 13 / 10, 20 / 10
    tex = 100 / 0.120
    assert peirce_loop(across, along, tex) == pytest.approx(munden_loop(across, along), rel=0.15)


def areal_density(stitches_per_cm: float, rows_per_cm: float, loop_cm: float, tex: float) -> float:
    """Mass of plain knitting in g/m²: stitches/m × rows/m × loop in m × tex/1000.

    Source: the definition, as in D. J. Spencer, "Knitting technology" (from memory).
    """
    return (stitches_per_cm * 100) * (rows_per_cm * 100) * (loop_cm / 100) * tex / 1000


def test_areal_density_by_hand():
    """Mass per m² = stitches/m × rows/m × ℓ in m × tex/1000 (Spencer, "Knitting technology", from
    memory): 500 wales and 700 courses to the metre, loops of 6 mm, 40 tex:
    500 × 700 × 0.006 = 2100 m of yarn to the m², at 40 g/km 84 g."""
    assert areal_density(5, 7, 0.6, 40) == pytest.approx(84)


def test_areal_density_of_a_weighed_swatch_both_ways():
    """The swatch weighs what its area says, and its loops say, and so does the knitting in a piece."""
    pattern = worked()
    gauge, tex = pattern.gauge, 1000 * 100 / 120
    density = areal_density(gauge.stitches_per_cm, gauge.rows_per_cm, pattern.loop_cm.value, tex)
    assert density == pytest.approx(62 / (0.30 * 0.29))  # g over m², from the swatch itself
    lining = pattern.piece("lining")
    stitches = lining.stitches * lining.worked_rows
    area = stitches / gauge.stitches_per_cm / gauge.rows_per_cm / 1e4
    knitted_g = stitches * pattern.loop_cm.value / 100 * tex / 1000
    assert knitted_g == pytest.approx(area * density)


def test_areal_density_by_mundens_relation():
    """Without a weighed swatch: S·ℓ = Ks/ℓ, so mass per m² = Ks/ℓ × tex × (10 000 / 100 000)."""
    loop = munden_loop(1.4, 2.1)
    density = areal_density(1.4, 2.1, loop, 800)
    assert density == pytest.approx(MUNDEN_KS / loop * 800 / 10)
    assert sqrt(MUNDEN_KS / (1.4 * 2.1)) == loop
