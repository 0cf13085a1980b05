"""The parts that drawings are composed of."""

from __future__ import annotations

import re
from collections import Counter
from itertools import pairwise
from math import pi

import pytest
from coloraide import Color
from hypothesis import given
from hypothesis import strategies as st

from stripewright.draw.assembly import assembly
from stripewright.draw.canvas import path, unit
from stripewright.draw.edges import STYLES, edge
from stripewright.draw.finished.stuffed import foreshortened
from stripewright.draw.finished.view import finished
from stripewright.draw.groups import MANY, items, spread
from stripewright.draw.hatches import MARK, VEIL, VEIL_OPACITY, _kind
from stripewright.draw.inks import INK, MUTED, PAPER, mixed
from stripewright.draw.measure import ems, fitted, wrapped
from stripewright.draw.schematic import schematic
from stripewright.figures import METRIC, Figures
from support.demo import SLUGS, demo
from support.drawn import COLOURS
from support.patterns import text_of, worked, worked_from


@given(
    st.lists(st.floats(0, 1000), min_size=1, max_size=80).map(sorted),
    st.floats(1, 40),
)
def test_labels_never_overlap_and_stay_in_order(wanted: list[float], height: float) -> None:
    placed = spread(wanted, height, 0.0, 1000.0)
    assert all(b - a >= height - 1e-6 for a, b in pairwise(placed))
    if len(wanted) * height <= 1000:
        assert placed[0] >= height / 2 - 1e-6
        assert placed[-1] <= 1000 - height / 2 + 1e-6


def test_labels_with_room_stay_where_they_are_wanted() -> None:
    assert spread([20, 60, 100], 16, 0, 200) == [20, 60, 100]


def test_crowded_labels_move_evenly_to_both_sides() -> None:
    assert spread([50, 50, 50], 10, 0, 100) == [40, 50, 60]


@pytest.mark.parametrize(
    ("value", "text"),
    [(0, "0"), (-0.001, "0"), (12.0, "12"), (12.5, "12.5"), (-3.10, "-3.1"),
     (100, "100"), (0.004, "0"), (99.999, "100"), (1234.5, "1234.5")],
)  # fmt: skip
def test_coordinates(value: float, text: str) -> None:
    assert unit(value) == text


def test_path_data() -> None:
    assert path("M", 1, 2.5, "h", -0.0, "z") == "M 1 2.5h 0z"


@pytest.mark.parametrize(
    ("length", "metric", "imperial"),
    # inches to the eighth, from 2.54 cm to the inch (international yard and pound agreement, 1959)
    [(2.54, "2.5 cm", "1 in"), (38.1, "38.1 cm", "15 in"), (14.29, "14.3 cm", "5⅝ in"),
     (0.4, "0.4 cm", "⅛ in"), (0.05, "0.1 cm", "0 in"), (30.0, "30 cm", "11¾ in")],
)  # fmt: skip
def test_lengths_in_both_units(length: float, metric: str, imperial: str) -> None:
    assert METRIC.dimension(length) == f"{metric} · {imperial}"
    assert Figures(imperial=True).dimension(length) == f"{imperial} · {metric}"


def test_text_and_marks_have_contrast() -> None:
    """4.5:1 or more: text on paper and on plates; hatch marks on the lightened colour of any yarn."""
    of_yarns = (*COLOURS.values(), ("black", "#000000"))
    on_yarn = [(MARK, mixed(colour, VEIL, VEIL_OPACITY)) for _, colour in of_yarns]
    for ink, behind in ((INK, PAPER), (MUTED, PAPER), *on_yarn):
        assert Color(ink).contrast(behind, method="wcag21") >= 4.5


def test_each_letter_has_a_hatch_of_its_own() -> None:
    assert len({_kind(letter) for letter in "ABCDEFGHIJKLMNOPQRSTUVWXYZ"}) == 26


def test_each_edge_has_a_line_of_its_own() -> None:
    level = {style: (edge(style, (0, 10, 60, 10)), STYLES[style].width) for style in STYLES}
    assert len(set(level.values())) == len(STYLES)
    assert len({style.words for style in STYLES.values()}) == len(STYLES)


@pytest.mark.parametrize("half", [40.0, 100.0])
def test_end_stripes_are_foreshortened(half: float) -> None:
    """Along a profile that ends in quarter rounds of radius r, the surface is (π - 2) r longer."""
    thick = 30.0
    places = [foreshortened(n / 20, half, thick) for n in range(21)]
    widths = [b - a for a, b in pairwise(places)]
    assert places[0] == pytest.approx(-half)
    assert places[-1] == pytest.approx(half)
    assert widths[0] < widths[10] / 2
    assert widths[10] == pytest.approx((2 * half + (pi - 2) * thick / 2) / 20)


def test_few_stripes_have_a_line_each() -> None:
    plan = worked().piece("cover").plan
    told = items(plan, numbers=True)
    assert [item.words for item in told] == ["16+1 rows", "9 rows", "9 rows", "9 rows", "16+1 rows"]
    assert {item.words for item in items(plan, numbers=False)} == {""}


def test_very_many_stripes_tell_repeats_once() -> None:
    stripes = ["sand 10", {"repeat": 200, "stripes": ["deep 1", "foam 2"]}, "sand 9"]
    plan = worked(fill=None, pieces={"a": {"form": "panel", "stripes": stripes}}).piece("a").plan
    assert len(plan) > MANY
    told = [(item.letter, item.words, item.start, item.end) for item in items(plan, numbers=True)]
    assert told == [
        ("C", "10 rows", 0, 10),
        ("A", "1 row", 10, 11),
        ("B", "2 rows", 11, 13),
        ("", "× 199 more", 13, 610),
        ("C", "9 rows", 610, 619),
    ]


def test_texts_are_cut_and_broken_to_their_room() -> None:
    assert fitted("short", 100, 10) == "short"
    assert fitted("a very long piece of text", 60, 10).endswith("…")
    assert ems(fitted("a very long piece of text", 60, 10)) * 10 <= 60
    lines = wrapped("lower half of the long back", 60, 10)
    assert " ".join(lines) == "lower half of the long back"
    assert all(ems(line) * 10 <= 60 for line in lines)


@pytest.mark.browser
def test_reckoned_widths_are_never_too_small(chromium) -> None:
    """Every character of the table against Chromium's own sans-serif, a wide one."""
    characters = "".join(chr(code) for code in range(33, 127)) + "×·–…¼½¾⅛⅜⅝⅞"
    page = chromium.new_page()
    page.set_content("<svg font-family='system-ui, sans-serif' font-size='100'><text></text></svg>")
    for bold in (False, True):
        widths = page.evaluate(
            """([characters, weight]) => { const text = document.querySelector('text');
            text.setAttribute('font-weight', weight);
            return [...characters].map(c => (text.textContent = c, text.getComputedTextLength())) }""",
            [characters, "700" if bold else "400"],
        )
        short = {
            c: (seen, ems(c, bold=bold) * 100)
            for c, seen in zip(characters, widths, strict=True)
            if ems(c, bold=bold) * 100 < seen - 0.5
        }
        assert short == {}
    page.close()


@pytest.mark.parametrize("slug", SLUGS)
def test_an_assembly_lists_the_steps_that_it_shows(slug: str) -> None:
    """Every number in the list stands in the drawing too, and the words tell no other step."""
    drawing = assembly(*demo(slug), prefix="p")
    assert drawing is not None
    numbers = Counter(re.findall(r">(\d+)</text>", drawing.svg))
    told = re.findall(r"(\d+)\. [A-Z]", drawing.description)
    assert told
    assert set(told) == set(numbers)
    assert min(numbers.values()) >= 2


def test_a_step_done_to_several_pieces_stands_at_each() -> None:
    """The bunting's three kinds of pennant are sewn alike, in one step."""
    drawing = assembly(*demo("regatta-bunting"), prefix="p")
    assert drawing is not None
    (number,) = re.findall(r"(\d+)\. Sew", drawing.description)
    assert len(re.findall(f">{number}</text>", drawing.svg)) == 1 + 3


@pytest.mark.parametrize("straps", [0, 1, 2])
def test_a_bag_is_drawn_with_the_straps_that_are_knitted(straps: int) -> None:
    bag = {"form": "tube", "ends": ["seamed", "open"], "stripes": ["deep 40", "foam 20"]}
    pieces = {"bag": bag, "lining": {"form": "tube", "like": "bag", "yarn": "foam"}}
    if straps:
        strap = {"form": "panel", "needles": 8, "yarn": "deep", "rows": 100, "make": straps}
        pieces["strap"] = strap
    one = worked_from(text_of(kind="bag", fill=None, pieces=pieces))
    assert len(re.findall(r'class="yarn-\w-line"', finished(one, prefix="p").svg)) == straps


def test_a_schematic_tells_sizes_in_the_studio_s_own_order_and_language() -> None:
    """German has a decimal comma; an imperial studio's dimension lines begin with inches."""
    pattern = worked(swatch=None, gauge="14 sts x 21 rows / 10 cm")
    piece = pattern.pieces[0]
    width = 40 / 14 * 10 / 2  # 40 stitches around, laid flat: 14.2857 cm are 5.624 in
    assert piece.flat_width_cm == pytest.approx(width)
    for figures, words in (
        (METRIC, "14.3 cm · 5⅝ in"),
        (Figures(imperial=True), "5⅝ in · 14.3 cm"),
        (Figures(language="de"), "14,3 cm · 5⅝ in"),
    ):
        assert f">{words}<" in schematic(pattern, piece.key, prefix="p", figures=figures).svg
