"""The published page "How the numbers are worked": every sum on it, worked again from its example."""

import json
import re

import pytest

from support.demo import CONTENT, demo_settings
from support.patterns import worked_from

PAGE = (CONTENT / "pages" / "how-the-numbers-are-worked.md").read_text(encoding="utf-8")
EXAMPLE = re.search(r"```yaml\n(.*?)```", PAGE, re.DOTALL)[1]
SUMS = {
    what: result
    for what, _, result in re.findall(
        r"^\| ([^|]+?) \| ([^|]+?) \| ([^|]+?) \|$", PAGE, re.MULTILINE
    )
    if what not in {"What", "---"}
}


@pytest.fixture(scope="module")
def worked():
    return worked_from(f"---\ntitle: Example\nsummary: An example.\nkind: cushion\n{EXAMPLE}---\n")


def results(worked):
    """What the page should say, from the worked example, rounded as the page rounds."""
    (piece,) = worked.pieces
    grey, gold = worked.yarns
    first, second, _ = piece.plan
    return {
        "Stitches to 10 cm": f"{worked.gauge.stitches_10cm:g}",
        "Rows to 10 cm": f"{worked.gauge.rows_10cm:g}",
        "Girth": f"{piece.girth_cm:g} cm",
        "Width laid flat": f"{piece.flat_width_cm:g} cm",
        "Visible rows": str(piece.visible_rows),
        "Rows of gold": str(second.visible),
        "Rows of each grey": str(first.visible),
        "Worked rows": str(piece.worked_rows),
        "First change": f"RC {first.last:03d}",
        "Second change": f"RC {second.last:03d}",
        "Yarn in one stitch": f"{worked.loop_cm.value:.2f} cm",
        "Tail that sews an end": f"{worked.tails_cm['cushion.first']:g} cm",
        "Grey yarn": f"{grey.length_m.value:.1f} m",
        "Gold yarn": f"{gold.length_m.value:.1f} m",
        "Balls of grey": str(grey.balls.balls),
        "Filled volume": f"{worked.filling.volume_cm3:,.0f} cm³",
        "Filling": f"{worked.filling.mass_g.value:.0f} g",
    }


def test_the_page_says_what_is_worked(worked):
    assert results(worked) == SUMS


def test_the_greys_are_alike_and_the_total_exact(worked):
    (piece,) = worked.pieces
    assert piece.plan[0].visible == piece.plan[2].visible
    assert piece.finished_length_cm == piece.asked_length_cm


def test_the_sums_beside_the_results_are_right():
    """Each chain of numbers on the page, by plain arithmetic that the program has no part in."""
    w, h = 16, 34
    assert 40 / 32 * 10 == 12.5
    assert 50 / 25 * 10 == 20
    assert round(68 / 7, 2) == 9.71
    assert round(68 * 3 / 7, 2) == 29.14
    assert pytest.approx(3.15) == 60 * 1.05 / 2000 * 100
    assert 3 * 16 + 15 == 63
    assert pytest.approx(77.1, abs=0.05) == 60 * 40 * 0.0315 + 2 * 0.63 + 2 * 0.14
    assert pytest.approx(12.9, abs=0.05) == 10 * 40 * 0.0315 + 2 * 0.14
    assert w**3 == 4096
    assert round(h / (3.14159265 * w), 4) == 0.6764
    assert round(0.142 * (1 - 10 ** (-h / w)), 4) == 0.1409
    assert round(4096 * (h / (3.14159265 * w) - 0.142 * (1 - 10 ** (-h / w)))) == 2193
    for said in (
        "12.5",
        "9.71",
        "29.14",
        "3.15 cm",
        "63 cm",
        "4,096 × (0.6764 − 0.1409)",
        "2,193 cm³",
    ):
        assert said in PAGE


def test_the_pace_on_the_page_is_the_studios():
    pace = demo_settings().pace
    assert (
        pace.rows_per_minute,
        pace.change_minutes,
        pace.setup_minutes,
        pace.tail_minutes,
        pace.seam_cm_per_minute,
        pace.fill_minutes,
        pace.finishing_minutes,
        pace.making_up_minutes,
    ) == (7, 2, 12, 1, 3, 10, 15, None)
    for said in (
        "Rows at seven a minute",
        "two minutes a change",
        "twelve to set up",
        "a minute a tail",
        "a minute for three centimetres of seam",
        "ten minutes for 100 g of filling",
        "a quarter of an hour for whatever is done once",
    ):
        assert said in " ".join(PAGE.split())


def test_the_densities_on_the_page_are_the_programs(worked):
    from stripewright.compute.filling import DENSITY

    assert (
        json.dumps([DENSITY["light"], DENSITY["medium"], DENSITY["firm"]]) == "[20.0, 30.0, 45.0]"
    )
    assert "20, 30 and 45 g to the litre" in " ".join(PAGE.split())
