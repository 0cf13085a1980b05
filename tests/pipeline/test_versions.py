"""What buyers are told of a pack's versions, what the author is told, and what is remembered."""

from __future__ import annotations

import io
import json
import os
import re
import shutil
import zipfile
from contextlib import contextmanager, nullcontext
from functools import partial

import pytest

from stripewright.paper import packs
from stripewright.pipeline import packing
from stripewright.pipeline.context import Options
from stripewright.pipeline.packing import make_packs, make_sheets
from stripewright.pipeline.progress import quiet
from stripewright.pipeline.versions import VERSIONS, read_versions
from stripewright.problems import Refused
from stripewright.view import contents
from support.studio_here import DAY, SETTINGS, edit, pattern, run, studio


@pytest.fixture(autouse=True)
def quick(monkeypatch):
    """PDFs and PNGs say nothing that these tests look at, and take most of the time."""
    monkeypatch.setattr(packs, "pattern_pdfs", lambda *_, **__: {})
    monkeypatch.setattr(packs, "blank_sheet", lambda *_, **__: b"%PDF-1.7")
    monkeypatch.setattr(packs, "png", lambda svg, _px: svg.encode())


def paid(version="", more="", **options):
    said = f"version: {version}\n" if version else ""
    return pattern(paid=True, **options).replace("kind:", f"{said}{more}kind:", 1)


def packed(here):
    return make_packs(here, Options(DAY), quiet, workers=1)


def changes(here, slug="one"):
    text = (here.packs / slug / "changes.txt").read_bytes().decode()
    assert text.endswith("\r\n")
    with zipfile.ZipFile(here.packs / slug / f"{slug}.zip") as archive:
        assert archive.read(f"{slug}/changes.txt").decode() == text
    return text.replace("\r\n", "\n")


def test_the_first_pack_is_new_and_says_its_version_and_digest(tmp_path):
    here = studio(tmp_path, {"one": paid("1.2")})
    done = packed(here)
    assert (done.new, done.changed, done.warnings) == (("one",), (), ())
    told = changes(here)
    assert told.startswith(
        "Small thing, version 1.2\nby Ansel Varrow\n\nVersion 1.2, 5 January 2026\n"
    )
    [one] = read_versions(here)["one"]
    assert one.version == "1.2"
    assert f"Content of this pack (SHA-256): {one.digest}\n" in told
    assert re.fullmatch("[0-9a-f]{64}", one.digest)


@pytest.mark.parametrize(
    ("old", "new", "parts"),
    [
        ("foam 4", "foam 5", {"numbers", "yarn", "steps", "drawings"}),
        ('"#f4efe2"', '"#e4efe2"', {"yarn", "drawings"}),
        ("Wind the yarn first.", "Wind the yarn last.", {"words"}),
        ("title: Small thing", "title: Little thing", {"words"}),
        ("kind:", "corrections: [{date: 2026-02-01, text: It was wrong.}]\nkind:", {"corrections"}),
        ("kind:", "licence: Knit it.\nkind:", {"licence"}),
        ("kind:", "cautions: [Mind the crank.]\nkind:", {"cautions"}),
        ("kind:", "video: {url: 'https://films.example.org/one'}\nkind:", {"film"}),
        ("price: 5", "price: 6", set()),
        ("published: 2026-01-05", "published: 2026-01-06", {"look"}),
    ],
)  # fmt: skip
def test_what_changed_is_told_in_plain_words(tmp_path, old, new, parts):
    here = studio(tmp_path, {"one": paid()})
    packed(here)
    edit(here, old, new)
    done = packed(here)
    assert done.new == ()
    assert {part for _slug, told in done.changed for part in told} == parts
    assert bool(done.warnings) == bool(parts - {"look"})


def test_a_change_without_a_new_version_is_warned_of_at_its_line(tmp_path):
    here = studio(tmp_path, {"one": paid("1.9")})
    packed(here)
    edit(here, "Wind the yarn first.", "Wind the yarn last.")
    [problem] = packed(here).warnings
    assert "one changed (words), and is still version 1.9" in problem.message
    assert (problem.place.file, problem.place.line) == ("content/patterns/one.md", 4)
    assert "version: 1.10" in problem.hint
    assert "Changed since this version was first made: words." in changes(here)
    assert packed(here).warnings == ()


def test_versions_newest_first_with_what_changed_and_the_author_s_words(tmp_path):
    here = studio(tmp_path, {"one": paid("1.9")})
    packed(here)
    edit(here, "version: 1.9", "version: 1.10\nupdated: 2026-03-01\nchanges: "
         "[{version: 1.10, text: The slit is longer.}, {version: 1.0, text: The very first.}]")  # fmt: skip
    edit(here, "foam 4", "foam 6")
    assert packed(here).warnings == ()
    edit(here, "version: 1.10\n", "version: 2\n")
    assert packed(here).warnings == ()
    told = changes(here)
    headings = [line for line in told.split("\n") if line.startswith("Version ")]
    assert headings == ["Version 2, 1 March 2026", "Version 1.10, 1 March 2026",
                        "Version 1.9, 5 January 2026", "Version 1.0"]  # fmt: skip
    blocks = told.split("\n\n")
    assert blocks[1].endswith("\nThe same as version 1.10.")
    assert blocks[2].split("\n")[1:] == [
        "The slit is longer.",
        "Changed since version 1.9: numbers, yarn, steps and drawings.",
    ]
    assert blocks[3].endswith("\nThe first version that is known.")
    assert blocks[4] == "Version 1.0\nThe very first."


def test_a_version_written_after_the_warning_is_not_the_same_as_the_one_that_buyers_have(tmp_path):
    here = studio(tmp_path, {"one": paid("1.9")})
    packed(here)
    edit(here, "foam 4", "foam 6")
    packed(here)
    edit(here, "version: 1.9", "version: 1.10")
    done = packed(here)
    assert done.changed == (("one", ("dates",)),)
    told = changes(here)
    assert "Changed since version 1.9: numbers, yarn, steps and drawings." in told
    assert "The same as" not in told


def test_corrections_reach_buyers(tmp_path):
    fault = "corrections: [{date: 2026-02-01, text: The third change is at RC 24.}]\n"
    here = studio(tmp_path, {"one": paid(more=fault)})
    packed(here)
    assert "\nCorrections\n1 February 2026: The third change is at RC 24.\n" in changes(here)


def test_a_version_that_is_ahead_of_the_pattern_is_no_one_s(tmp_path):
    more = "changes: [{version: 3, text: Not yet.}]\n"
    here = studio(tmp_path, {"one": paid("2", more)})
    [problem] = packed(here).warnings
    assert "tells of version 3, and this is version 2" in problem.message
    assert problem.place.line == 5
    assert "Not yet" not in changes(here)


def test_a_version_that_goes_back_is_told(tmp_path):
    here = studio(tmp_path, {"one": paid("1")})
    for version in ("2", "1"):
        packed(here)
        edit(here, f"version: {3 - int(version)}", f"version: {version}")
    [problem] = packed(here).warnings
    assert "version 1 of one is older than version 2" in problem.message


def test_a_pattern_with_another_address_keeps_its_versions(tmp_path):
    here = studio(tmp_path, {"one": paid("1")})
    packed(here)
    (here.content / "patterns/one.md").unlink()
    studio(here.root, {"two": paid("2", "formerly: [one]\n", stripes="deep 10, foam 4, deep 9")})
    assert packed(here).changed == (("two", ("numbers", "yarn", "steps", "drawings")),)
    assert "Changed since version 1: numbers" in changes(here, "two")


def test_another_address_alone_is_no_change(tmp_path):
    ways = "sizes: {wide: {machine: {bed: circular, needles: 60}}}\n"
    ways += "colourways: {moor: {yarns: {deep: {name: Moor, colour: '#7b5f8c'}}}}\n"
    here = studio(tmp_path, {"one": paid("1", ways)})
    packed(here)
    [before] = read_versions(here)["one"]
    (here.content / "patterns/one.md").unlink()
    studio(here.root, {"two": paid("1", f"formerly: [one]\n{ways}")})
    done = packed(here)
    assert {part for _slug, parts in done.changed for part in parts} <= {"look"}
    [warned] = done.warnings
    assert (warned.place.file, "earlier address" in warned.message) == ("packs/one", True)
    [now] = read_versions(here)["two"]
    assert (now.digest, now.since) == (before.digest, ())


@contextmanager
def program_without(monkeypatch, **missing):
    """The program as it was, or will be, without some fields of what it tells."""

    def names(kind):
        return tuple(one for one in known(kind) if one != missing.get(kind.__name__))

    known = contents._names
    with monkeypatch.context() as patch:
        patch.setattr(contents, "_names", names)
        yield


@pytest.mark.parametrize("newer", [True, False], ids=["tells more", "tells less"])
def test_a_program_that_tells_otherwise_changes_no_pack(tmp_path, monkeypatch, newer):
    here = studio(tmp_path, {"one": paid("1")})
    other = partial(program_without, monkeypatch, Numbers="pitch", Step="technique")
    first, then = (other(), nullcontext()) if newer else (nullcontext(), other())
    with first:
        packed(here)
    [before] = read_versions(here)["one"]
    edit(here, "price: 5", "price: 6")
    with then:
        done = packed(here)
        assert (done.made, done.warnings) == (("one",), ())
        assert {part for _slug, parts in done.changed for part in parts} <= {"look"}
        [now] = read_versions(here)["one"]
        assert (now.digest == before.digest) == newer
        assert "Changed since" not in changes(here)
        edit(here, "foam 4", "foam 5")
        [(_slug, parts)] = packed(here).changed
        assert parts == ("numbers", "yarn", "steps", "drawings")


def test_a_record_of_another_way_of_making_parts_is_renewed_quietly(tmp_path):
    here = studio(tmp_path, {"one": paid("1")})
    packed(here)
    record = json.loads((here.packs / VERSIONS).read_bytes())
    record["one"][0] |= {"parts": {"numbers": "0" * 64}, "way": 0, "fields": {}}
    (here.packs / VERSIONS).write_text(json.dumps(record))
    edit(here, "price: 5", "price: 6")
    done = packed(here)
    assert (done.changed, done.warnings) == ((), ())
    edit(here, "foam 4", "foam 5")
    assert packed(here).changed == (("one", ("numbers", "yarn", "steps", "drawings")),)


BOOK = """---
title: First rows
summary: Blank sheets.
access: paid
price: 3
shop: https://shop.example.org/rows
published: 2026-01-05
sheets:
  - {title: Hat, form: hat, machine: {bed: circular, needles: 40}, gauge: 14 sts x 21 rows / 10 cm, rows: 90}
---
"""


def test_a_book_of_sheets_has_versions_too(tmp_path, monkeypatch):
    monkeypatch.setattr(packs, "sheets_pdf", lambda *_: (b"%PDF-1.7", 1))
    here = studio(tmp_path, {})
    book = here.content / "sheets/rows.md"
    book.parent.mkdir()

    def made(text):
        book.write_text(text)
        done = make_sheets(here, Options(DAY), quiet, workers=1)
        return done.new, done.changed, [one.message for one in done.warnings]

    here.packs.mkdir(exist_ok=True)
    none = {"version": "", "digest": "0" * 64, "parts": {"sheets": "0" * 64}}
    (here.packs / VERSIONS).write_text(json.dumps({"rows": [none]}))  # as books were kept once
    assert made(BOOK) == (("rows",), (), [])
    assert "The same as" not in changes(here, "rows")
    assert "First rows, version 1\nby Ansel Varrow\n\nVersion 1, 5 January 2026\n" in changes(
        here, "rows"
    )
    assert made(BOOK.replace("price: 3", "price: 4")) == ((), (), [])
    longer = BOOK.replace("rows: 90", "rows: 96")
    new, changed, [warned] = made(longer)
    assert (new, changed) == ((), (("rows", ("sheets",)),))
    assert "rows changed (sheets), and is still version 1" in warned
    said = "version: 2\nupdated: 2026-02-01\nchanges: [{version: 2, text: The hat is longer.}]\nsheets:"
    assert made(longer.replace("sheets:", said))[1:] == ((("rows", ("dates",)),), [])
    assert (
        "Version 2, 1 February 2026\nThe hat is longer.\nChanged since version 1: sheets.\n"
        in changes(here, "rows")
    )


def test_a_yarn_s_name_is_no_number(tmp_path):
    here = studio(tmp_path, {"one": paid()})
    packed(here)
    edit(here, "name: Foam", "name: Froth")
    [(_slug, parts)] = packed(here).changed
    assert "yarn" in parts
    assert "numbers" not in parts


def test_drafts_have_no_buyers_to_tell(tmp_path):
    here = studio(tmp_path, {"one": paid("1").replace("published: 2026-01-05\n", "")})
    draft = here.content / "patterns/one.md"

    def made():
        return make_packs(here, Options(DAY), quiet, (draft,), workers=1)

    made()
    edit(here, "foam 4", "foam 6")
    assert made().warnings
    edit(here, "kind:", "published: 2026-01-05\nkind:")
    edit(here, "foam 6", "foam 7")
    made()
    assert "since" not in changes(here)
    assert "first version that is known" in changes(here)


def test_the_same_content_is_the_same_digest_elsewhere_and_the_same_bytes(tmp_path):
    """Another folder, another file time, no cache: neither record nor files differ."""
    one = studio(tmp_path / "one", {"one": paid("1")})
    two = studio(tmp_path / "elsewhere", {"one": paid("1")})
    os.utime(two.content / "patterns/one.md", (1, 1))
    packed(one)
    packed(two)
    packed(two)
    assert (one.packs / VERSIONS).read_bytes() == (two.packs / VERSIONS).read_bytes()
    assert (one.packs / "one/one.zip").read_bytes() == (two.packs / "one/one.zip").read_bytes()


def test_a_theme_s_change_is_look_alone_and_asks_for_no_version(tmp_path):
    here = studio(tmp_path, {"one": paid()})
    packed(here)
    digest = read_versions(here)["one"][0].digest
    studio(tmp_path, {}, f"{SETTINGS}theme: ledger\n")
    done = packed(here)
    assert done.changed == (("one", ("look",)),)
    assert done.warnings == ()
    assert read_versions(here)["one"][0].digest == digest
    assert "look" not in changes(here)


def test_the_record_outlives_the_cache_and_the_packs(tmp_path):
    here = studio(tmp_path, {"one": paid("1")})
    packed(here)
    shutil.rmtree(here.cache)
    shutil.rmtree(here.packs / "one")
    edit(here, "version: 1", "version: 2")
    edit(here, "foam 4", "foam 6")
    done = packed(here)
    assert done.changed == (("one", ("numbers", "yarn", "steps", "drawings")),)
    assert "Changed since version 1: numbers" in changes(here)


@pytest.mark.parametrize("harm", ["{", "[]", '{"one": [{"version": 1}]}', ""])
def test_a_damaged_record_is_told_and_never_written_over(tmp_path, harm):
    here = studio(tmp_path, {"one": paid("1")})
    packed(here)
    before = changes(here)
    (here.packs / VERSIONS).write_text(harm)
    edit(here, "foam 4", "foam 6")
    with pytest.raises(Refused) as refused:
        packed(here)
    [problem] = refused.value.problems
    assert problem.place.file == "packs/versions.json"
    assert "older copy" in problem.hint
    assert (here.packs / VERSIONS).read_text() == harm
    assert changes(here) == before


def test_a_run_that_ends_between_pack_and_record_is_mended_by_the_next(tmp_path, monkeypatch):
    """Nothing is lost: the record is the old one, whole, and the next run tells the same."""
    here = studio(tmp_path, {"one": paid("1")})
    packed(here)
    before = (here.packs / VERSIONS).read_bytes()
    edit(here, "foam 4", "foam 6")
    edit(here, "version: 1", "version: 2")
    with monkeypatch.context() as broken:

        def killed(*_):
            raise KeyboardInterrupt

        broken.setattr(packing, "keep_version", killed)
        with pytest.raises(KeyboardInterrupt):
            packed(here)
    assert (here.packs / VERSIONS).read_bytes() == before
    told = changes(here)
    assert packed(here).changed == (("one", ("numbers", "yarn", "steps", "drawings")),)
    assert changes(here) == told
    assert [one.version for one in read_versions(here)["one"]] == ["2", "1"]


def test_other_packs_stay_in_the_record(tmp_path):
    """Of a run over one file, and of a pattern that is gone."""
    here = studio(tmp_path, {"one": paid(), "two": paid(title="Two")})
    packed(here)
    make_packs(here, Options(DAY), quiet, (here.content / "patterns/two.md",), workers=1)
    (here.content / "patterns/one.md").unlink()
    packed(here)
    assert {*read_versions(here)} == {"one", "two"}


def test_the_command_says_new_changed_and_unchanged(tmp_path):
    here = studio(tmp_path, {"one": paid(), "two": paid(title="Two")})

    def told():
        done = run("packs", "--studio", str(here.root))
        assert done.exit_code == 0, done.output
        return done

    assert "\nNew: one, two\n" in told().stdout
    edit(here, "foam 4", "foam 6")
    done = told()
    assert "\nChanged: one (numbers, yarn, steps, drawings)\nUnchanged: two\n" in done.stdout
    assert "is still version 1" in done.stderr
    assert "\nUnchanged: one, two\n" in told().stdout


def test_what_it_keeps_says_nothing_of_what_is_sold(tmp_path):
    """The record may stand in a public repository: versions, days, digests, words for parts."""
    here = studio(tmp_path, {"one": paid("1", "changes: [{version: 1, text: A secret slit.}]\n")})
    packed(here)
    record = json.loads((here.packs / VERSIONS).read_bytes())
    [one] = record["one"]
    assert {*one} == {"version", "digest", "parts", "day", "before", "changed", "since", "draft",
                      "fields", "way"}  # fmt: skip
    assert "secret" not in (here.packs / VERSIONS).read_text()


def test_a_newline_in_the_author_s_words_is_a_line(tmp_path):
    more = 'changes: [{version: 1, text: "One.\\nTwo."}]\n'
    here = studio(tmp_path, {"one": paid("1", more)})
    packed(here)
    assert "\nOne.\nTwo.\n" in changes(here)
    assert io.BytesIO((here.packs / "one/changes.txt").read_bytes()).read().count(b"\n") == (
        (here.packs / "one/changes.txt").read_bytes().count(b"\r\n")
    )
