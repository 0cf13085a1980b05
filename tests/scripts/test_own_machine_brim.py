"""A brim on one's own machine: the page works it anew as the program does."""

from __future__ import annotations

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


def lots() -> list[dict[str, Any]]:
    found = []
    for piece in PIECES:
        for needles, gauge, keep in ASKED:
            front = {"kind": "hat", "machine": {"bed": "circular", "needles": 60}, "yarns": YARNS,
                     "pieces": {"hat": {"form": "tube", **piece}}, "fill": None,
                     "gauge": "14 sts x 20 rows / 10 cm"}  # fmt: skip
            said = f"{gauge[0] * 10} sts x {gauge[1] * 10} rows / 10 cm"
            typed = ["--needles", str(needles), "--gauge", said, "--keep", keep]
            change = {"needles": needles, "gauge": gauge, "keep": keep}
            found.append({"front": front, "typed": typed, "change": change})
    return found


@pytest.mark.browser
def test_the_page_comes_to_the_same_brim(profile: Callable[..., Any]):
    cases = [case_of(one) for one in lots()]
    assert all("brim turned up" in case["answer"]["sizes"][0] for case in cases)
    for told, case in zip(told_in(profile().new_page(), cases), cases, strict=True):
        assert told["answer"] == case["answer"]
