"""What is joined into a ring is as wide as it was long: the number that says whether a head fits."""

from __future__ import annotations

import pytest

from support.patterns import worked

GAUGE = "14 sts x 20 rows / 10 cm"


def sizes(**overrides):
    made = worked(
        fill=None, swatch=None, gauge=GAUGE, machine={"bed": "circular", "needles": 42}, **overrides
    )
    return made.finished


def test_a_cowl_grafted_end_to_end_is_measured_along_its_rows():
    # 120 rows at 2 rows to the cm are 60 cm around; 42 stitches at 1.4 to the cm are a girth of
    # 30 cm, so the tube lies 15 cm high in two layers.
    (size,) = sizes(
        kind="cowl",
        pieces={
            "cowl": {
                "form": "tube",
                "ends": ["grafted", "grafted"],
                "stripes": ["deep 60", "foam 60"],
            }
        },
    )
    assert (size.width_cm, size.length_cm, size.around) == (
        pytest.approx(60.0),
        pytest.approx(15.0),
        True,
    )


def test_a_scarf_is_as_wide_as_it_lies():
    # 42 stitches at 1.4 to the cm are 30 cm around, 15 cm laid flat; 200 rows are 100 cm.
    (size,) = sizes(
        kind="scarf", pieces={"scarf": {"form": "tube", "stripes": ["deep 100", "foam 100"]}}
    )
    assert (size.width_cm, size.length_cm, size.around) == (
        pytest.approx(15.0),
        pytest.approx(100.0),
        False,
    )
