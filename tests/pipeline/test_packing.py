"""The packs and sheets commands: what they write, what they leave, what they refuse."""

from __future__ import annotations

import shutil
from datetime import date
from typing import TYPE_CHECKING

import pytest
from PIL import Image
from pypdf import PdfReader

from stripewright.pipeline import packing
from stripewright.pipeline.context import Options
from stripewright.pipeline.packing import make_packs, make_sheets
from stripewright.pipeline.progress import quiet
from stripewright.problems import Refused
from stripewright.studio import Studio
from support.demo import DEMO
from support.papers import elements
from support.patterns import text_of

if TYPE_CHECKING:
    from pathlib import Path

OPTIONS = Options(date(2026, 11, 1))
PAID = {"access": "paid", "price": 6.5, "shop": "https://shop.example.org/item"}
SHEET = """---
title: Plain tube
summary: To colour in.
sheets:
  - {title: Tube, form: tube, machine: {bed: circular, needles: 40}, gauge: 14 sts x 21 rows / 10 cm, rows: 40}
---
"""


@pytest.fixture
def studio(tmp_path: Path) -> Studio:
    """Two paid patterns, a free one and a paid draft; one planning sheet."""
    patterns = tmp_path / "content" / "patterns"
    patterns.mkdir(parents=True)
    shutil.copy(DEMO.content / "studio.yaml", tmp_path / "content")
    for slug, access, day in (
        ("first", PAID, "2026-01-02"),
        ("ahead", PAID, "2030-01-02"),
        ("draft", PAID, None),
        ("gift", {}, "2026-01-02"),
    ):
        (patterns / f"{slug}.md").write_text(text_of(title=slug, published=day, **access))
    (tmp_path / "content" / "sheets").mkdir()
    (tmp_path / "content" / "sheets" / "plain-tube.md").write_text(SHEET)
    return Studio(tmp_path)


def stood(folder: Path) -> dict[str, tuple[bytes, int]]:
    """Every file with its bytes and the time it was written."""
    return {
        path.relative_to(folder).as_posix(): (path.read_bytes(), path.stat().st_mtime_ns)
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


def test_paid_patterns_are_packed_and_nothing_else(studio):
    """Paid ones, those held back too: a shop wants them before the day. Not a draft, not a gift."""
    told = []
    done = make_packs(studio, OPTIONS, lambda *step: told.append(step))
    assert sorted(done.made) == ["ahead", "first"]
    assert sorted(path.name for path in studio.packs.iterdir()) == [
        "ahead",
        "first",
        "versions.json",
    ]
    assert told == [("packs", 1, 2), ("packs", 2, 2)]
    assert not studio.site.exists()


def test_only_what_changed_is_made_again(studio):
    """Nothing changed: no file is touched. One pattern, one file, one setting: what hangs on it."""
    make_packs(studio, OPTIONS, quiet)
    before = stood(studio.packs)
    assert make_packs(studio, OPTIONS, quiet).made == ()
    assert stood(studio.packs) == before

    path = studio.content / "patterns" / "first.md"
    path.write_text(path.read_text().replace("Foam", "Spume"))
    assert make_packs(studio, OPTIONS, quiet).made == ("first",)
    after = stood(studio.packs)
    changed = {name for name in after if after[name] != before[name]}
    assert "first/first-a4.pdf" in changed
    assert all(name.startswith("first/") for name in changed - {"versions.json"})
    assert "first/licence.txt" not in changed

    (studio.packs / "ahead" / "licence.txt").write_text("meddled with")
    assert make_packs(studio, OPTIONS, quiet).made == ("ahead",)
    assert stood(studio.packs)["ahead/licence.txt"][0] == after["ahead/licence.txt"][0]

    shutil.rmtree(studio.cache)
    assert sorted(make_packs(studio, OPTIONS, quiet).made) == ["ahead", "first"]
    assert {name: data for name, (data, _) in stood(studio.packs).items()} == {
        name: data for name, (data, _) in after.items()
    }


def test_named_files_are_made_whatever_they_are(studio):
    draft = studio.content / "patterns" / "draft.md"
    assert make_packs(studio, OPTIONS, quiet, (draft,)).made == ("draft",)


def test_an_error_stops_before_anything_is_written(studio):
    path = studio.content / "patterns" / "first.md"
    path.write_text(path.read_text().replace('"deep 16"', '"deeep 16"', 1))
    with pytest.raises(Refused) as refused:
        make_packs(studio, OPTIONS, quiet)
    assert refused.value.problems[0].place.file == "content/patterns/first.md"
    assert not studio.packs.exists()


def test_sheets_and_their_names(studio):
    assert make_sheets(studio, OPTIONS, quiet).made == ("plain-tube",)
    assert make_sheets(studio, OPTIONS, quiet).made == ()
    wanted = {"plain-tube-a4.pdf", "plain-tube-letter.pdf", "plain-tube.zip", "licence.txt"}
    assert wanted <= set(stood(studio.packs / "plain-tube"))


def test_a_sheet_does_not_take_a_pattern_s_folder(studio):
    (studio.content / "sheets" / "first.md").write_text(SHEET)
    make_packs(studio, OPTIONS, quiet)
    with pytest.raises(Refused, match="packs/first is already the pack of"):
        make_sheets(studio, OPTIONS, quiet)


def test_a_link_out_of_the_studio_is_not_followed(studio, tmp_path_factory):
    outside = tmp_path_factory.mktemp("outside")
    studio.packs.mkdir()
    (studio.packs / "first").symlink_to(outside)
    with pytest.raises(Refused, match="leads out of the studio"):
        make_packs(studio, OPTIONS, quiet)
    assert list(outside.iterdir()) == []


def test_photos_of_a_pattern_are_in_its_pack(studio):
    """And their words; a new picture under the same name makes the pack again."""
    photos = studio.content / "photos"
    photos.mkdir()
    Image.new("RGB", (640, 480), "#a33").save(photos / "seat.jpg")
    shown = [{"file": "seat.jpg", "alt": "On the window seat."}]
    text = text_of(title="first", published="2026-01-02", photos=shown, **PAID)
    (studio.content / "patterns" / "first.md").write_text(text)
    make_packs(studio, OPTIONS, quiet)
    pdf = PdfReader(studio.packs / "first" / "first-a4.pdf")
    assert "On the window seat." in [str(one["/Alt"]) for one in elements(pdf, "/Figure")]
    Image.new("RGB", (640, 480), "#3a3").save(photos / "seat.jpg")
    assert make_packs(studio, OPTIONS, quiet).made == ("first",)


def test_two_sheets_of_one_slug_are_told_with_both_places(studio):
    """A slug stands on line 3 of each; nothing is written."""
    for name in ("one", "two"):
        text = SHEET.replace("summary:", "slug: same\nsummary:")
        (studio.content / "sheets" / f"{name}.md").write_text(text)
    with pytest.raises(Refused) as refused:
        make_sheets(studio, OPTIONS, quiet)
    (problem,) = refused.value.problems
    assert str(problem.place) == "content/sheets/two.md:3"
    assert problem.message == "packs/same is already the pack of content/sheets/one.md:3"
    assert not studio.packs.exists()


@pytest.mark.slow
def test_packs_of_two_processes_are_those_of_one(studio, tmp_path, monkeypatch):
    """Bytes and order; with processes renewed on the way, and told of a bad template as well."""
    monkeypatch.setattr(packing, "WORTH_A_WORKER", 1)
    monkeypatch.setattr(packing, "RENEWED", 1)
    shutil.copytree(studio.root, tmp_path / "again")
    again = Studio(tmp_path / "again")
    one = make_packs(studio, OPTIONS, quiet, workers=1)
    two = make_packs(again, OPTIONS, quiet, workers=2)
    assert one.made == two.made == ("ahead", "first")

    def files(folder: Path) -> dict[str, bytes]:
        return {name: data for name, (data, _) in stood(folder).items()}

    assert files(again.packs) == files(studio.packs)
    prints = again.themes / "tideline" / "print"
    prints.mkdir(parents=True)
    (prints / "pattern.typ").write_text("#nothing\n")
    with pytest.raises(Refused, match=r"themes/tideline/print/pattern.typ:1: error: this print"):
        make_packs(again, OPTIONS, quiet, workers=2)
