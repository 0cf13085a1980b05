"""What the post about the basket promises of other patterns, against their worked numbers."""

from __future__ import annotations

import re

import pytest

from stripewright.compute.basket import held_against
from stripewright.compute.work import work
from stripewright.source.document import Document
from support.demo import CONTENT, demo, demo_settings

POST = (CONTENT / "posts" / "the-basket-by-the-stairs.md").read_text(encoding="utf-8")


def row(beginning):
    [line] = [line for line in POST.splitlines() if line.startswith(f"| {beginning}")]
    return line


def number(text, unit):
    return float(re.search(rf"([0-9.]+) {unit}", text)[1])


def yarn(slug, key):
    return next(one for one in demo(slug)[0].yarns if one.key == key)


def test_one_flag_takes_what_it_says_and_so_does_the_fringe_of_a_scarf():
    line = row("About 17 m")
    worked = demo("regatta-bunting")[0]
    flags = []
    for key, piece in worked.pattern.pieces.items():
        one = {"pieces": {key: piece.model_copy(update={"make": 1})}}
        alone, _ = work(worked.pattern.model_copy(update=one), Document("flag", {}),
                        demo_settings(), "flag")  # fmt: skip
        flags += [sum(yarn.length_m.value for yarn in alone.yarns)] * piece.make
    assert len(flags) == 11
    assert sum(flags) / 11 == pytest.approx(number(line, r"m,"), abs=0.05)
    assert max(flags) < 17
    # 10 tassels of 3 strands of 27 cm at both ends: 16.2 m
    fringe = demo("winter-forecast-scarf")[0].pieces[0].fringe
    length = 2 * fringe.tassels * fringe.strands * fringe.cut_cm / 100
    assert length == pytest.approx(16.2)
    assert length < number(line, "m")


def test_the_narrow_stripes_of_wrist_warmers_and_a_colour_of_the_scarf():
    assert 14 < number(row("About 15 g"), "g") <= 15
    assert yarn("kettle-wrist-warmers", "cream").mass_g.value < 15
    colours = [one.mass_g.value for one in demo("winter-forecast-scarf")[0].yarns]
    assert any(abs(mass - number(row("About 60 g"), "g")) < 5 for mass in colours)


def test_the_cowl_is_knitted_from_the_basket_as_the_post_says():
    worked = demo("landing-cowl")[0]
    stash = demo_settings().stash
    assert held_against(worked, stash).enough
    told = [(one.text[-2:].strip(), one.yarn) for one in worked.amounts]
    # two colours by the gram, one by the metre, all of another
    assert len({key for unit, key in told if unit == "g"}) == 2
    assert {key for unit, key in told if unit == "m"} == {"mist"}
    assert [key for unit, key in told if unit == "ll"] == ["sun"]
    for one in worked.amounts:
        assert 0 <= one.left_m < 1.3  # less than another row takes
    # 62 cm at 2 rows to the cm
    assert worked.pieces[0].visible_rows == 124
    for key in worked.pattern.yarns:
        assert stash.yarns[key].where == "basket by the stairs"


def test_each_pattern_of_the_post_says_what_is_left_over():
    for slug in re.search(r"patterns: \[(.+)\]", POST)[1].split(", "):
        assert all(one.balls and one.balls.leftover_g for one in demo(slug)[0].yarns)
