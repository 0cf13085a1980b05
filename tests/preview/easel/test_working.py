"""What the easel tells is what the program tells."""

from __future__ import annotations

from datetime import date

import pytest

from stripewright.pipeline.commands import proof, worksheet
from stripewright.pipeline.context import Options
from stripewright.preview.easel.asked import Unfit
from stripewright.preview.easel.compose import composed
from stripewright.preview.easel.starts import START_KINDS, started
from stripewright.preview.easel.working import answer
from stripewright.source.reader import read_document
from stripewright.studio import Studio
from support.demo import CONTENT, demo_settings
from support.demo_tables import TABLES

PATTERNS = sorted((CONTENT / "patterns").glob("*.md"))
SOME = CONTENT / "patterns/lamplit-bolster.md"
GAUGE = "14 sts x 20 rows / 10 cm"


@pytest.mark.parametrize("path", PATTERNS, ids=lambda path: path.stem)
def test_a_pattern_s_numbers_are_those_of_its_worksheet(path):
    (worked, *_), settings, *_ = worksheet(Studio(CONTENT.parent), path)
    document, _ = read_document(path.read_bytes(), path.name)
    said = answer(document.front, document.body, settings, name=path.name, tables=TABLES)
    assert said["sound"]
    for piece in worked.pieces:
        told = said["pieces"][piece.key]
        assert (told["worked"], told["visible"], told["stitches"]) == (
            piece.worked_rows,
            piece.visible_rows,
            piece.stitches,
        )
        assert sum(rows for _, rows, *_ in told["parts"]) == piece.visible_rows
        assert [line["rc"] for line in told["plan"]] == [
            f"RC {line.last:03d}" for line in piece.plan
        ]
    assert list(said["yarns"]) == [yarn.key for yarn in worked.yarns]


@pytest.mark.parametrize("bed", ["circular", "flat"])
@pytest.mark.parametrize("kind", START_KINDS)
def test_every_start_is_a_draft_that_proof_accepts(tmp_path, kind, bed):
    front = started({"title": "Mine", "kind": kind, "bed": bed, "needles": 40, "gauge": GAUGE}, {})
    (tmp_path / "content/patterns").mkdir(parents=True)
    (tmp_path / "content/studio.yaml").write_text("title: Here\nmaker: Me\nsummary: Stripes.\n")
    (tmp_path / "content/patterns/mine.md").write_bytes(composed(front))
    options = Options(date(2026, 1, 1), drafts=True, paper=False)
    problems = proof(Studio(tmp_path), options).problems
    # A bare scarf or blanket is a draft whose edges roll up; proof says so, and what helps.
    rolling = {"scarf", "blanket"} if bed == "flat" else {"blanket"}
    assert [one.severity.value for one in problems] == ["warning"] * (kind in rolling)
    assert all("roll" in one.message for one in problems)


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"title": " "}, "title"),
        ({"kind": "boat"}, "what it is"),
        ({"bed": "round"}, "bed"),
        ({"needles": 2}, "needles"),
        ({"needles": None}, "needles"),
        ({"gauge": "x"}, "gauge"),
        ({"gauge": None}, "gauge"),
        ({"like": "content/patterns/none.md"}, "not there"),
        ({"swatch": {"stitches": 0, "rows": 1, "width": "1 cm", "length": "1 cm"}}, "stitches"),
    ],
)
def test_what_is_missing_at_the_start_is_told(change, says):
    asked = {"title": "Mine", "kind": "cushion", "bed": "flat", "needles": 40, "gauge": GAUGE}
    with pytest.raises(Unfit, match=f"(?i){says}"):
        started(asked | change, {})


def test_a_start_takes_a_past_pattern_s_gauge():
    asked = {"title": "Mine", "kind": "scarf", "bed": "flat", "needles": 40, "like": "a.md"}
    swatch = {"stitches": 40, "rows": 60, "width": "30 cm", "length": "30 cm"}
    assert started(asked, {"a.md": {"swatch": swatch}})["swatch"] == swatch


def test_a_mistake_is_told_by_its_path_and_the_numbers_stay_where_they_can():
    settings = demo_settings()
    document, _ = read_document(SOME.read_bytes(), "x.md")
    said = answer({**document.front, "price": "5"}, "", settings, name="x.md")
    assert not said["sound"]
    assert [one["path"] for one in said["problems"] if one["severity"] == "error"] == [("price",)]
    said = answer(document.front, "One\n\n{{ nothing.here }}\n", settings, name="x.md")
    assert [one.get("line") for one in said["problems"]] == [3]
    assert said["pieces"]
    assert said["told"]["yarns"]


def test_a_pattern_s_own_units_come_first_as_on_its_page():
    document, _ = read_document(SOME.read_bytes(), "x.md")
    said = answer({**document.front, "units": "imperial"}, "", demo_settings(), name="x.md")
    assert all(" in (" in piece["width"] for piece in said["pieces"].values())
    assert all(" in (" in told for _title, told in said["told"]["sizes"])


def test_a_picture_is_drawn_as_an_eye_sees_it():
    settings = demo_settings()
    document, _ = read_document(SOME.read_bytes(), "x.md")
    made = {
        sight: answer(document.front, "", settings, name="x.md", sight=sight)
        for sight in ("normal", "grey", "bogus")
    }
    grey = made["grey"]["yarns"]
    for key, yarn in grey.items():
        red, green, blue = (yarn["seen"]["grey"][n : n + 2] for n in (1, 3, 5))
        assert red == green == blue, key
    assert made["grey"]["finished"] != made["normal"]["finished"] == made["bogus"]["finished"]
    assert made["grey"]["told"] == made["normal"]["told"]
