"""The page "How the numbers are worked": every sum in its table comes out as it says."""

from __future__ import annotations

import re
from pathlib import Path

from support.patterns import worked_from

PAGE = Path(__file__).parents[2] / "content" / "pages" / "how-the-numbers-are-worked.md"

RESULTS = {
    "Stitches to 10 cm": lambda w: f"{w.gauge.stitches_10cm:g}",
    "Rows to 10 cm": lambda w: f"{w.gauge.rows_10cm:g}",
    "Girth": lambda w: f"{w.piece('cushion').girth_cm:g} cm",
    "Width laid flat": lambda w: f"{w.piece('cushion').flat_width_cm:g} cm",
    "Visible rows": lambda w: f"{w.piece('cushion').visible_rows}",
    "Rows of gold": lambda w: f"{w.piece('cushion').plan[1].visible}",
    "Rows of each grey": lambda w: " and ".join(
        {f"{w.piece('cushion').plan[n].visible}" for n in (0, 2)}
    ),
    "Worked rows": lambda w: f"{w.piece('cushion').worked_rows}",
    "First change": lambda w: f"RC {w.piece('cushion').changes[0]:03d}",
    "Second change": lambda w: f"RC {w.piece('cushion').changes[1]:03d}",
    "Yarn in one stitch": lambda w: f"{w.loop_cm.value:.2f} cm",
    "Tail that sews an end": lambda w: f"{w.tails_cm['cushion.first']:g} cm",
    "Grey yarn": lambda w: f"{w.yarn('grey').length_m.value:.1f} m",
    "Gold yarn": lambda w: f"{w.yarn('gold').length_m.value:.1f} m",
    "Balls of grey": lambda w: f"{w.yarn('grey').balls.balls}",
    "Filled volume": lambda w: f"{w.filling.volume_cm3:,.0f} cm³",
    "Filling": lambda w: f"{w.filling.mass_g.value:.0f} g",
}


def test_every_sum_on_the_page_comes_out():
    text = PAGE.read_text("utf-8")
    [front] = re.findall(r"```yaml\n(.*?)```", text, flags=re.DOTALL)
    pattern = worked_from(f"---\ntitle: Cushion\nsummary: The example.\n{front}---\n", "example")
    told = dict(re.findall(r"^\| ([^|]+?) \|[^|]+\| ([^|]+?) \|$", text, flags=re.MULTILINE))
    told.pop("What")
    told.pop("---", None)
    assert told == {name: result(pattern) for name, result in RESULTS.items()}
