"""Tables of the studio, through the whole line: page, worksheet, cache and preview, and a paid page."""

from __future__ import annotations

import json

from click.testing import CliRunner

from stripewright.cli import main
from stripewright.preview.saved import Saved
from support.studio_here import built, pattern, published, studio

TABLE = "date,high\n2026-03-11,-2.5\n2026-03-12,11.4\n2026-03-13,11.5\n2026-03-14,3\n"
OLD = "stripes: [deep 10, foam 4, deep 10, foam 5, deep 9]"
NEW = 'stripes: [{data: w.csv, column: high, unit: "°C", limits: [{below: 5, yarn: deep}, {yarn: foam}], each: 3}]'


def weather(folder, table=TABLE, **options):
    made = pattern(**options)
    assert OLD in made
    here = studio(folder, {"one": made.replace(OLD, NEW)})
    (here.content / "data").mkdir(exist_ok=True)
    (here.content / "data/w.csv").write_text(table)
    return here


def test_page_and_worksheet_tell_each_day(tmp_path):
    """Four days of three rows: deep 3, foam 6, deep 3; the end takes up a row where it is seamed."""
    here = weather(tmp_path / "s")
    page = built(here).files["patterns/one/index.html"].decode()
    assert "below 5 °C" in page
    assert "5 °C and over" in page
    done = CliRunner().invoke(
        main,
        ["worksheet", str(here.content / "patterns/one.md"), "--studio", str(here.root), "--json"],
    )
    [piece] = json.loads(done.stdout)["pieces"]
    [table] = piece["tables"]
    hidden = piece["worked_rows"] - piece["visible_rows"]
    first = table["records"][0]["from"]
    assert first in (1, 1 + hidden // 2, 1 + hidden)
    assert [(one["day"], one["value"], one["letter"], one["from"] - first, one["to"] - first)
            for one in table["records"]] == [
        ("2026-03-11", -2.5, "A", 0, 2), ("2026-03-12", 11.4, "B", 3, 5),
        ("2026-03-13", 11.5, "B", 6, 8), ("2026-03-14", 3, "A", 9, 11),
    ]  # fmt: skip
    assert [one["records"] for one in table["bands"]] == [2, 2]
    assert f"12 March, 11.4 °C: <b>B</b>, rows {first + 3}–{first + 5}" in page


def test_a_changed_table_makes_the_page_anew(tmp_path):
    here = weather(tmp_path / "s")
    assert published(here).outcome.written
    assert published(here).outcome.written == 0
    (here.content / "data/w.csv").write_text(TABLE.replace("11.4", "12.4"))
    assert published(here).outcome.written
    assert "12.4 °C" in (here.site / "patterns/one/index.html").read_text()


def test_a_mistake_in_a_table_is_told_at_its_line(tmp_path):
    here = weather(tmp_path / "s", TABLE.replace("11.5", "warm"))
    [problem] = built(here).problems
    assert (str(problem.place), problem.message) == (
        "content/data/w.csv:4",
        "“warm” is not a number",
    )


def test_the_preview_hears_a_saved_table(tmp_path):
    here = weather(tmp_path / "s")
    saved = Saved(here)
    saved.read_all()
    path = here.content / "data/w.csv"
    assert not saved.read([path])
    path.write_text(TABLE.replace("11.4", "12.4"))
    assert saved.read([path]).sources == {("patterns", "content/patterns/one.md")}


def test_a_link_out_of_the_studio_is_no_table(tmp_path):
    here = weather(tmp_path / "s")
    (tmp_path / "away.csv").write_text(TABLE)
    (here.content / "data/w.csv").unlink()
    (here.content / "data/w.csv").symlink_to(tmp_path / "away.csv")
    [problem] = built(here).problems
    assert problem.message == "there is no table w.csv in content/data"


def test_nothing_of_a_paid_pattern_s_table_is_public(tmp_path):
    here = weather(tmp_path / "s", paid=True)
    files = built(here).files
    page = files["patterns/one/index.html"].decode()
    assert "°C" not in page
    assert "11.4" not in page
    assert not any(path.endswith(".csv") for path in files)
