"""`explain` says of every name what the reference says, and of any other name what is near it."""

from __future__ import annotations

import pytest

from stripewright.pattern.reference import all_keys
from stripewright.pipeline import explain as explaining
from stripewright.pipeline.explain import words
from stripewright.words.filters import FILTERS
from stripewright.words.techniques import shipped_techniques
from support.studio_here import run


def asked(*name):
    return run("explain", *name)


def test_a_key_is_told_with_its_example_and_what_stands_below_it():
    shown = asked("pieces.ends").output
    assert shown.startswith("pieces.ends: a key of a pattern")
    assert "for example:  ends: [seamed, gathered]" in shown
    assert "edge: open (cast on or cast off and left)" in shown


def test_a_technique_is_told_with_its_words():
    shown = asked("seam_end").output
    assert "Sew {{ end }}" in shown
    assert "names in it: all, both_ends, copies" in shown


def test_a_name_of_several_things_gives_each():
    shown = asked("fold").output
    assert [line.split(":")[1].strip() for line in shown.split("\n") if line[:1].strip()] == [
        "a key of a pattern, content/patterns/NAME.md",
        "a technique, replaceable under techniques",
        "a fact of a piece, {{ PIECE.fold }}",
    ]
    many = asked("title").output
    assert "studio.title: a key of the studio's settings" in many
    assert "ask for one of them by its whole name" in many


def test_a_key_of_stripes_within_stripes_is_told_once_with_the_keys_beside_it():
    for name in ("fibonacci", "mirror", "graded", "faded", "drawn"):
        shown = asked(name).output
        assert shown.startswith(f"pieces.stripes.{name}: a key of a pattern"), shown
        assert shown.count(": a key of a pattern") == 1
    assert "    times: Each number times this." in asked("fibonacci").output
    assert "    middle: Whether the middle stripe" in asked("mirror").output
    lines = asked("stripes").output.strip().split("\n")[2:]
    assert len(lines) == len({*lines}) == 3


def test_a_whole_name_is_told_whole_however_many_have_it():
    shown = asked("pieces.stripes.stripes").output
    assert "ask for one of them" not in shown
    assert "How many stripes. 1 to 18." in shown


def test_every_key_technique_and_filter_can_be_asked_for(monkeypatch):
    entries = [*explaining._entries()]  # once for all, which takes most of the time
    monkeypatch.setattr(explaining, "_entries", lambda: entries)
    for path, where, key in all_keys(words()):
        assert key.example.startswith(f"{key.name}: "), path
        assert where
    for name in (
        "pieces.stripes.mirror",
        "yarns.balls.price",
        "sheet.sheets.form",
        *shipped_techniques(),
    ):
        assert asked(name).output.split(":")[0].endswith(name.rpartition(".")[2]), name
    for name in FILTERS:
        assert asked(name).exit_code == 0, name


@pytest.mark.parametrize(
    ("typed", "meant"),
    [("pieces.endz", "pieces.ends"), ("seem_end", "seam_end"), ("Mirrow", "mirror")],
)
def test_a_misspelt_name_is_told_the_nearest(typed, meant):
    answer = asked(typed)
    assert answer.exit_code == 1
    assert f"there is nothing called “{typed}”" in answer.output
    assert f"did you mean {meant}?" in answer.output


def test_a_name_like_no_other_is_told_where_all_are():
    answer = asked("qqqqqqqq")
    assert answer.exit_code == 1
    assert "`stripewright explain` lists every name" in answer.output
    listed = asked().output
    assert all(name in listed for name in shipped_techniques())


def test_the_shipped_templates_are_told_with_their_folder(tmp_path):
    shown = asked("templates").output
    folder = next(line for line in shown.split("\n") if "They are in" in line).split(
        "They are in "
    )[1]
    from pathlib import Path

    assert (Path(folder) / "templates" / "post.html").is_file()
