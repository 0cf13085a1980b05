"""Brims and hems on one's own machine: the page works them anew as the program does.

A hem is marked from 8 rows on: its steps come and go with the reader's numbers.
"""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import pytest

from support.own_machines import case_of, told_in

if TYPE_CHECKING:
    from collections.abc import Callable

YARNS = {
    key: {"name": key, "colour": colour, "ball": "100 g / 120 m"}
    for key, colour in (("deep", "#1f3d5c"), ("foam", "#dfe9e4"))
}
PIECES: list[dict[str, Any]] = [
    {"ends": ["open", "gathered"], "brim": {"turned_up": 12}, "stripes": ["deep 8", "foam 30"]},
    {"ends": ["gathered", "open"], "brim": {"turned_up": 7}, "stripes": ["deep 8", "foam 30"]},
    {"ends": ["open", "gathered"], "brim": {"doubled": 16, "turned_up": 11},
     "stripes": ["deep 18", "foam 30"]},
    {"ends": ["gathered", "gathered"], "fold": "half", "brim": {"turned_up": 10},
     "stripes": ["deep 30", "foam 6", "deep 30"]},
]  # fmt: skip
ASKED = [(72, [2.0, 2.9], "size"), (48, [1.3, 1.7], "rows"), (80, [1.5, 2.1], "proportions")]


def lot(piece: dict[str, Any], asked: tuple[int, list[float], str], **more: Any) -> dict[str, Any]:
    """A hat and somebody's machine."""
    needles, gauge, keep = asked
    front = {"kind": "hat", "machine": {"bed": "circular", "needles": 60}, "yarns": YARNS,
             "pieces": {"hat": {"form": "tube", **piece}}, "fill": None,
             "gauge": "14 sts x 20 rows / 10 cm", **more}  # fmt: skip
    said = f"{gauge[0] * 10} sts x {gauge[1] * 10} rows / 10 cm"
    typed = ["--needles", str(needles), "--gauge", said, "--keep", keep]
    change = {"needles": needles, "gauge": gauge, "keep": keep}
    return {"front": front, "typed": typed, "change": change}


@pytest.mark.browser
def test_the_page_comes_to_the_same_brim(profile: Callable[..., Any]):
    cases = [case_of(lot(piece, asked)) for piece in PIECES for asked in ASKED]
    assert all("brim turned up" in case["answer"]["sizes"][0] for case in cases)
    for told, case in zip(told_in(profile().new_page(), cases), cases, strict=True):
        assert told["answer"] == case["answer"]
        assert told["words"] == json.loads(json.dumps(case["words"]))


HEM = {"ends": ["hemmed", "gathered"], "stripes": ["deep 8", "foam 30"]}
OWN = {"take_off": "At {{ until }} cut {{ colour }} {{ letter }}.",
       "set_counter": "It comes to {{ hat.worked_rows }} rows."}  # fmt: skip


@pytest.mark.browser
def test_steps_of_a_deep_hem_come_and_go(profile: Callable[..., Any]):
    fine, coarse = (60, [2.0, 4.5], "rows"), (60, [1.0, 1.5], "rows")
    deep = lot(HEM, coarse, gauge="14 sts x 45 rows / 10 cm")
    cases = [case_of(one) for one in (lot(HEM, fine), deep)]
    come, gone = told_in(profile().new_page(), cases)
    for told, case in zip((come, gone), cases, strict=True):
        assert told["words"] == json.loads(json.dumps(case["words"]))
    keys = [key for key, *_ in come["words"]["steps"]]
    assert "hat.hem-first" in keys
    assert keys.index("hat.hem-first") > keys.index("hat.counter")
    assert "hem" in [kind for _, kind, *_ in come["words"]["events"]["hat"]]
    assert "hat.hem-first" not in [key for key, *_ in gone["words"]["steps"]]


@pytest.mark.browser
def test_an_authors_own_words_are_told_anew_or_left(profile: Callable[..., Any]):
    """What asks a pattern for more than its step's own figures is left to the page, which says so."""
    case = case_of(lot(HEM, ASKED[0], techniques=OWN))
    [told] = told_in(profile().new_page(), [case])
    texts = {key: text for key, _, text, *_ in told["words"]["steps"]}
    wanted = {key: text for key, _, text, *_ in case["words"]["steps"]}
    assert texts.pop("hat.counter") is None
    assert wanted.pop("hat.counter").startswith("It comes to ")
    assert texts == wanted
    assert texts["hat.take-off"].startswith("At RC ")
