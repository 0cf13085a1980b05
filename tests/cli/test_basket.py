"""The basket command and worksheet --with, as they are typed."""

from __future__ import annotations

import json

import pytest

from support.studio_here import pattern, run, studio

STASH = """\
yarns:
  deep: {name: Deep, colour: "#12304d", weight: 5, ball: 100 g / 120 m, left: 2 1/2 balls, where: top shelf}
  shell: {name: Shell, colour: "#f0ece0", weight: 5, ball: 100 g / 120 m, left: 80 g}
"""


@pytest.fixture
def here(tmp_path):
    made = studio(
        tmp_path,
        {"one": pattern("One"), "draft": pattern("Two").replace("published: 2026-01-05\n", "")},
    )
    (made.content / "stash.yaml").write_text(STASH)
    return made


def asked(here, *words):
    return run(words[0], "--studio", str(here.root), *words[1:])


def test_published_patterns_are_held_against_the_stash(here):
    done = asked(here, "basket")
    assert done.exit_code == 0, done.output
    assert "One: enough, with other colours for Foam" in done.output
    assert "Two" not in done.output
    assert "CIEDE2000" in " ".join(done.output.split())
    assert "top shelf" in done.output


def test_files_that_are_named_are_told_published_or_not(here):
    done = asked(here, "basket", str(here.content / "patterns" / "draft.md"), "--json")
    assert done.exit_code == 0, done.output
    told = json.loads(done.stdout)
    [one] = told["patterns"]
    assert (one["pattern"], one["enough"], one["with_swaps"], one["lacks"]) == (
        "draft", False, True, ["foam"])  # fmt: skip
    deep, foam = one["yarns"]
    assert deep["enough"]
    assert deep["left_g"] == 250
    assert deep["over_g"] == pytest.approx(250 - deep["need_g"])
    assert foam["swap"]["stash"] == "shell"
    assert foam["swap"]["difference"] > 0
    [bed] = told["yarns"]["deep"]["rows"]
    assert (bed["bed"], bed["needles"], bed["pattern"]) == ("circular", 22, "one")


def test_one_yarn(here):
    done = asked(here, "basket", "--yarn", "shell", "--json")
    assert list(json.loads(done.stdout)["yarns"]) == ["shell"]
    done = asked(here, "basket", "--yarn", "shel")
    assert done.exit_code == 1
    assert "did you mean shell" in done.output


def test_without_a_stash_it_is_said_where_it_would_be(here):
    (here.content / "stash.yaml").unlink()
    done = asked(here, "basket")
    assert done.exit_code == 1
    assert "content/stash.yaml: error: this studio has no stash" in done.output


def test_a_broken_pattern_is_told_and_the_others_are_looked_at(here):
    (here.content / "patterns" / "broken.md").write_text("---\ntitle: Broken\n---\n")
    done = asked(here, "basket")
    assert done.exit_code == 1
    assert "broken.md" in done.output
    assert "One: enough" in done.output


def test_the_longest_piece_with_some_yarn(here):
    file = str(here.content / "patterns" / "one.md")
    done = asked(here, "worksheet", file, "--with", "140 g")
    assert done.exit_code == 0, done.output
    assert "With 140 g, each piece by itself:" in done.output
    told = json.loads(asked(here, "worksheet", file, "--with", "140 g", "--json").stdout)
    [cover] = told["with"]
    assert cover["piece"] == "cover"
    assert cover["rows"] > cover["rows_with_margin"] > 0
    assert cover["takes_g"] <= 140


@pytest.mark.parametrize(
    ("amount", "said"),
    [("lots", "no yarn is called lots"), ("dep 40 g", "did you mean deep"),
     ("deep 40 cm", "may be yarn"), ("rest", "no yarn is called rest"), ("40", "write it like")],
)  # fmt: skip
def test_an_amount_that_cant_be_read(here, amount, said):
    done = asked(here, "worksheet", str(here.content / "patterns" / "one.md"), "--with", amount)
    assert done.exit_code == 1
    assert said in done.output
