"""Facts of the trade that have no printed source: common practice, no source."""

from __future__ import annotations

import pytest

from support.patterns import worked

pytestmark = pytest.mark.reference

PLAIN = {"colour": "#1f3d5c", "weight": 4}


@pytest.fixture(scope="module")
def pattern():
    """A circular bed of 48 needles; six stripes of 13 visible rows; both ends seamed; a lining."""
    colours = ("#1f3d5c", "#dfe9e4", "#c2913f", "#7a2e2e", "#3f7a4f", "#8a6fb0")
    yarns = {f"y{n}": {"name": f"Yarn {n}", "colour": c} for n, c in enumerate(colours)}
    return worked(
        machine={"bed": "circular", "needles": 48},
        swatch={"stitches": 24, "rows": 78, "width": "7 in", "length": "15 in"},
        yarns=yarns,
        pieces={
            "cover": {
                "form": "tube",
                "ends": ["seamed", "seamed"],
                "stripes": [f"{key} 13" for key in yarns],
            },
            "lining": {"form": "tube", "like": "cover", "yarn": "y0"},
        },
    )


def test_one_extra_row_at_each_seamed_end(pattern):
    """6 × 13 = 78 visible rows, and one row for each seam: 80."""
    cover = pattern.piece("cover")
    assert (cover.visible_rows, cover.worked_rows) == (78, 80)


def test_the_counter_at_each_change(pattern):
    """13 + 1 = 14, then 13 more each, and the last stripe has the other extra row: 66 + 14 = 80."""
    assert [line.last for line in pattern.piece("cover").plan] == [14, 27, 40, 53, 66, 80]


def test_the_plain_lining_has_the_visible_rows(pattern):
    assert pattern.piece("lining").worked_rows == 78


def test_waste_yarn_and_tails(pattern):
    """Five rows of waste yarn before and after; tails inside of 5 to 6 in."""
    assert pattern.pattern.waste.rows == 5
    assert 5 * 2.54 <= pattern.tails_cm["inside"] <= 6 * 2.54
    # two pieces, ten rows each, 48 stitches of the loop's length
    assert pattern.waste_m == pytest.approx(2 * 10 * 48 * pattern.loop_cm.value / 100)


def test_the_finished_piece_gives_its_gauge_back(pattern):
    """About 7 in by 15 in: 24 stitches across the flat side, 78 rows along it."""
    cover = pattern.piece("cover")
    assert cover.flat_width_cm == pytest.approx(7 * 2.54)
    assert cover.finished_length_cm == pytest.approx(15 * 2.54)
    assert pattern.gauge.stitches_per_cm == pytest.approx(24 / (7 * 2.54))
    assert pattern.gauge.rows_per_cm == pytest.approx(78 / (15 * 2.54))


@pytest.mark.parametrize("rows", [1, 2])
def test_one_or_two_extra_rows_for_a_filled_piece(rows):
    """Two are the author's choice; with one or two there is nothing to warn of."""
    ends = [{"edge": "seamed", "rows": rows}] * 2
    pieces = {"cover": {"form": "tube", "ends": ends, "stripes": ["deep 13", "foam 13", "sand 13"]}}
    assert worked(pieces=pieces).piece("cover").worked_rows == 39 + 2 * rows
