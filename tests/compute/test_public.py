"""What a paid pattern may show: nothing in it depends on how its rows are split."""

from __future__ import annotations

import re

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from stripewright.compute.public import equal_bands
from stripewright.compute.tables import worksheet_object
from support.patterns import worked

YARNS = {
    "deep": {"name": "Deep water", "colour": "#1f3d5c", "ball": "100 g / 120 m", "price": 4.50},
    "foam": {"name": "Foam", "colour": "#dfe9e4", "ball": "100 g / 120 m", "price": 4.50},
    "sand": {"name": "Sand", "colour": "#c2913f"},
}
ORDER = ("deep", "foam", "sand", "foam", "deep")
TOTAL = 100


def paid(rows, **keys):
    """Five stripes on 40 needles at 2 by 3 to the cm, with everything private that there is."""
    piece = {
        "form": "tube",
        "ends": ["seamed", {"edge": "gathered", "rows": keys.pop("allowance", 1)}],
        "stripes": [f"{yarn} {count}" for yarn, count in zip(ORDER, rows, strict=True)],
        "fold": keys.pop("fold", "half"),
        "openings": [{"what": "gap", "after": keys.pop("after", 7), "rows": 9}],
        "fringe": {"length": "8 cm", "every": keys.pop("every", 2)},
    }
    front = {
        "access": "paid",
        "price": "6.50",
        "shop": "https://shop.example.org/bolster",
        "kind": "other",
        "fill": "medium",
        "gauge": "20 sts x 30 rows / 10 cm",
        "swatch": None,
        "yarns": YARNS,
        "pieces": {"cover": piece, "lining": {"form": "tube", "like": "cover", "yarn": "foam"}},
        "fit": {"head": "22 cm"},
        "making_up": [{"do": "seam_end", "pieces": ["cover"], "note": keys.pop("note", "PRIVATE")}],
        "techniques": {"seam_end": "PRIVATE words"},
        "video": {"url": "https://video.example.org/1", "title": "How",
                  "chapters": [{"at": "0:10", "title": "PRIVATE chapter"}]},
        "published": "2026-01-01",
        "corrections": [{"date": "2026-02-01", "text": "PRIVATE correction"}],
        "tails": {"inside": "15 cm", "seam": "71 cm"},
        "waste": {"rows": 6},
        "sizes": {"big": {"machine": {"bed": "circular", "needles": 50}}},
    }  # fmt: skip
    return worked(**(front | keys))


@st.composite
def splits(draw):
    """Five stripes that come to `TOTAL` rows, none so wide that it needs another ball."""
    cuts = sorted(draw(st.sets(st.integers(1, TOTAL - 1), min_size=4, max_size=4)))
    return [two - one for one, two in zip([0, *cuts], [*cuts, TOTAL], strict=True)]


EQUAL = [20, 20, 20, 20, 20]


@settings(max_examples=50)
@given(splits(), st.integers(1, 3), st.integers(2, 60), st.integers(1, 80))
def test_other_row_counts_give_the_same_public_pattern(rows, allowance, fold, after):
    """One colour order, one size, one number of balls: equal, whatever the rows are."""
    one = paid(EQUAL)
    other = paid(rows, allowance=allowance, fold=fold, after=after)
    assume(bought(one) == bought(other))  # what there is to buy is told
    assert equal_bands(one) == equal_bands(other)
    assert repr(equal_bands(one)) == repr(equal_bands(other))


def bought(pattern):
    """Balls of each yarn; one without a ball band is not told."""
    return [yarn.balls and yarn.balls.balls for yarn in pattern.yarns]


def test_a_small_difference_in_size_does_not_show():
    """100 and 101 rows are 33.3 and 33.7 cm: 33 and 34. 98 and 100 are both 33."""
    assert equal_bands(paid([19, 20, 20, 20, 19])) == equal_bands(paid(EQUAL))
    assert equal_bands(paid([21, 20, 20, 20, 20])) != equal_bands(paid(EQUAL))


def test_gauge_and_sizes_are_rounded_once_in_each_system():
    """100 rows of 3 to the cm are 33.33 cm, 13.12 in. 16 and 22 to 4 in are 15.75 and 21.65 to 10 cm."""
    [size] = equal_bands(paid([13, 27, 17, 31, 12], fill=None, fold=None)).finished
    assert (size.length_cm, size.inches.length_cm / 2.54) == (33, pytest.approx(13))
    measured = {"stitches": 16, "rows": 22, "width": "4 in", "length": "4 in"}
    gauge = equal_bands(paid(EQUAL, gauge=None, swatch=measured)).gauge
    assert gauge.rough_4in == (16, 22, True)
    assert gauge.rough_10cm == (15.5, 21.5, False)


def test_nothing_private_is_left():
    told = repr(equal_bands(paid([13, 27, 17, 31, 12])))
    assert "PRIVATE" not in told
    for count in (13, 27, 17, 31, 12):
        assert not re.search(rf"(count|rows|first|last)={count}\b", told), count
    assert "71" not in re.findall(r"\d+", told)


def test_what_is_kept():
    one = paid([13, 27, 17, 31, 12])
    public = equal_bands(one)
    cover = public.piece("cover")
    assert public.nominal
    assert not one.nominal
    assert [line.yarn for line in cover.plan] == list(ORDER)
    assert len({line.rows for line in cover.plan}) == 1
    assert cover.plan[0].rows == 20  # 33 cm at 3 rows over five stripes: 19.8
    assert (cover.finished_length_cm, cover.worked_length_cm, cover.flat_width_cm) == (33, 33, 10)
    assert (cover.girth_cm, cover.made_up_width_cm, cover.made_up_length_cm) == (20, 10, 17)
    assert [(end.edge, end.rows) for end in cover.ends] == [("seamed", 0), ("gathered", 0)]
    assert (cover.fold, cover.folded) == (50, 50)
    assert [(gap.what, gap.side, gap.first, gap.last) for gap in cover.openings] == [
        ("gap", "right", 34, 66)
    ]
    assert (cover.fringe.tassels, cover.fringe.strands, cover.fringe.cut_cm) == (6, 2, 16)
    assert (cover.least_stitches, cover.panels_to_width, cover.asked_length_cm) == (
        None,
        None,
        None,
    )
    assert public.piece("lining").lining_of == "cover"
    assert (public.fit.head_cm, public.fit.girth_cm) == (22, 20)
    assert public.tails_cm == {}
    assert public.clashes == ()
    deep, foam, sand = public.yarns
    assert (deep.rows, deep.length_m, deep.mass_g, deep.balls.leftover_g) == (0, None, None, 0)
    assert (deep.balls.balls, deep.balls.cost) == (1, 4.5)
    assert public.waste_m is None
    assert all(choice.leftover_g == 0 for yarn in public.yarns for choice in yarn.choices)
    assert foam.balls.balls == one.yarn("foam").balls.balls
    assert (sand.length_m, sand.mass_g, sand.balls) == (None, None, None)
    assert public.filling.mass_g.estimated
    assert public.cautions == one.cautions
    assert (public.gauge.stitches_10cm, public.gauge.rows_10cm) == pytest.approx((20, 30))
    for minutes in (public.time.knitting, public.time.making_up, public.time.total):
        assert minutes.value % 15 == minutes.low % 15 == minutes.high % 15 == 0
    assert all(size.worked.nominal for size in public.sizes)
    [size] = public.finished
    assert (size.title, size.note, size.length_cm % 1, size.thickness_cm % 1) == (
        "Cover",
        "filled",
        0,
        0,
    )


def test_the_front_matter_is_scrubbed_too():
    pattern = equal_bands(paid([13, 27, 17, 31, 12])).pattern
    assert pattern.swatch is None
    assert (pattern.gauge.stitches, pattern.gauge.rows, pattern.gauge.over_cm) == (20, 30, 10)
    assert pattern.pieces["cover"].stripes[0].count == 20
    assert pattern.pieces["cover"].fringe is None
    assert (pattern.making_up, pattern.techniques, pattern.sizes) == (None, {}, {})
    assert (pattern.video.title, pattern.video.chapters) == ("How", ())
    assert [(str(one.date), one.text) for one in pattern.corrections] == [("2026-02-01", "")]
    assert (pattern.tails.seam, pattern.waste.rows) == (None, 5)
    assert (pattern.title, pattern.price.amount) == ("Breakwater bolster", 6.5)


def test_a_plain_pattern_has_a_public_twin_as_well():
    public = equal_bands(worked())
    assert public.fit is None
    assert public.pattern.video is None
    assert public.piece("cover").fold is None
    assert public.piece("cover").fringe is None
    assert public.piece("lining").solid is None
    worksheet_object(public)


def test_very_small_pieces_keep_at_least_a_row_and_a_centimetre():
    tiny = {"tab": {"form": "panel", "needles": 2, "sides": "joined", "stripes": ["deep 1", "foam 1", "sand 1"], "fold": 1,
                    "openings": [{"what": "eye", "after": 0, "rows": 1}]}}  # fmt: skip
    public = equal_bands(worked(pieces=tiny, gauge="60 sts x 90 rows / 10 cm", swatch=None))
    tab = public.piece("tab")
    assert (tab.finished_length_cm, tab.flat_width_cm) == (1, 1)
    assert tab.worked_rows == 9
    assert tab.girth_cm is None
    one_row = {
        "tab": {
            "form": "panel",
            "stripes": ["deep 1"],
            "openings": [{"what": "eye", "after": 0, "rows": 1}],
        }
    }
    flat = equal_bands(worked(pieces=one_row, gauge="2 sts x 1 rows / 10 cm", swatch=None)).piece(
        "tab"
    )
    assert flat.worked_rows == 1
    assert (flat.openings[0].first, flat.openings[0].last) == (1, 1)


def test_equal_bands_of_equal_bands_are_the_same():
    once = equal_bands(paid([13, 27, 17, 31, 12]))
    again = equal_bands(once)
    assert again.pieces == once.pieces
    assert again.yarns == once.yarns
    assert again.gauge == once.gauge


def told_of(rows, *balls):
    """The counts of balls that the public and the buyer are told, for one yarn of so many rows."""
    yarns = {"deep": {"name": "Deep", "colour": "#1f3d5c",
                      "balls": [{"ball": one, "price": 2.5} for one in balls]}}  # fmt: skip
    pieces = {"cover": {"form": "tube", "stripes": [f"deep {rows}"]}}
    whole = worked(yarns=yarns, pieces=pieces, fill=None)
    [public], [true] = equal_bands(whole).yarns, whole.yarns
    assert {one.balls: one.cost for one in public.choices} == {
        one.balls: pytest.approx(2.5 * one.balls) for one in public.choices
    }
    assert public.balls in public.choices
    return tuple(tuple(one.balls for one in yarn.choices) for yarn in (public, true))


@pytest.mark.parametrize(
    "balls", [("25 g / 30 m",), ("10 g / 12 m",), ("100 g / 120 m", "50 g / 60 m", "25 g / 30 m")]
)
def test_balls_tell_no_amount_closer_than_to_a_fifth(balls):
    """However small they are: all rows that give one public answer span a fifth of the most."""
    spans = {}
    for rows in range(20, 1500, 5):
        public, true = told_of(rows, *balls)
        assert all(told >= need for told, need in zip(public, true, strict=True))
        spans.setdefault(public, []).append(rows)
    inner = list(spans.values())[1:-1]  # the range cuts the first and the last
    assert len(inner) > 4
    for rows in inner:
        assert (rows[-1] + 5 - rows[0]) / rows[-1] > 0.19


def test_few_balls_are_told_as_they_are():
    for rows in range(20, 200, 20):
        public, true = told_of(rows, "100 g / 120 m")
        assert public == true
