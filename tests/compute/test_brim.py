"""Brims worked by hand: doubled, turned up outside, and both.

Which face shows, and in what order, is geometry; the terms are common practice, no source.
"""

from __future__ import annotations

import pytest

from stripewright.compute.heights import true_heights
from stripewright.compute.public import equal_bands
from stripewright.compute.tables import worksheet_object
from stripewright.pipeline.basket import longest_with
from support.patterns import SETTINGS, problems_of, worked

# 30 stitches on 24 cm and 40 rows on 20 cm: 1.25 stitches and 2 rows to the cm.
SWATCH = {"stitches": 30, "rows": 40, "width": "24 cm", "length": "20 cm"}
STRIPES = ["deep 8", "sand 4", "foam 20", "deep 10", "sand 4", "foam 12"]  # 58 rows show


def hat(brim, *, ends=("open", "gathered"), stripes=STRIPES, **piece):
    one = {"form": "tube", "ends": list(ends), "stripes": stripes, **piece}
    if brim is not None:
        one["brim"] = brim
    return {"kind": "hat", "machine": {"bed": "circular", "needles": 60}, "swatch": SWATCH,
            "fill": None, "pieces": {"hat": one}}  # fmt: skip


def shown(piece):
    return [(band.yarn, band.rows) for band in piece.brim.bands]


def test_one_layer_turned_up_shows_its_wrong_side_upside_down():
    """Rows 1 to 12 go up: the cast-on edge lies above, so from there down 8 deep and 4 sand."""
    piece = worked(**hat({"turned_up": "12 rows"})).piece("hat")
    assert shown(piece) == [("deep", 8), ("sand", 4)]
    assert (piece.brim.turn, piece.brim.layers, piece.brim.worn_rows) == (12, 1, 46)
    assert piece.made_up_length_cm == pytest.approx(46 / 2)
    assert piece.finished_length_cm == pytest.approx(58 / 2)
    assert piece.worked_rows == 59  # a row goes into the gathering, none into the brim
    assert [(e.kind, e.row, e.number) for e in piece.events if e.kind == "turn_up"] == [
        ("turn_up", 12, 12)
    ]


def test_at_the_last_end():
    """Of rows 2 to 59 the last 12 go up: from the take-off edge down 12 foam, turned at 59 - 12."""
    piece = worked(**hat({"turned_up": 12}, ends=("gathered", "open"))).piece("hat")
    assert (piece.worked_rows, piece.brim.turn, piece.brim.end) == (59, 47, "last")
    assert shown(piece) == [("foam", 12)]
    assert piece.made_up_length_cm == pytest.approx(23)


def test_doubled_is_knitted_so_much_longer_and_worn_as_long():
    """16 rows more, in the first stripe's yarn, before the 58 that show; one for the gathering."""
    plain, piece = (worked(**hat(brim)) for brim in (None, {"doubled": "16 rows"}))
    piece, plain = piece.piece("hat"), plain.piece("hat")
    assert piece.worked_rows == plain.worked_rows + 16 == 75
    assert piece.plan[0].last == 24  # 16 inside and 8 that show
    assert piece.made_up_length_cm == plain.made_up_length_cm == pytest.approx(29)
    assert piece.brim is None
    assert ("hem", 16) in [(e.kind, e.row) for e in piece.events]


def test_doubled_and_turned_up_shows_what_lay_inside():
    """Both layers go up: above lies the turning row (16), and from it down rows 16 to 5, all deep.

    It turns 12 rows above the turning row, at 28.
    """
    piece = worked(**hat({"doubled": 16, "turned_up": 12})).piece("hat")
    assert (piece.brim.turn, piece.brim.layers) == (28, 2)
    assert shown(piece) == [("deep", 12)]
    assert piece.made_up_length_cm == pytest.approx((58 - 12) / 2)


@pytest.mark.parametrize(
    ("fold", "turn", "bands", "long"),
    [
        # 80 rows show, and one before them goes into the gathering: reading = visible row + 1.
        # half: 40 inside. From the fold (41) down rows 40 to 31: 2 sand (39, 40), 8 foam.
        ("half", 51, [("sand", 2), ("foam", 8)], (40 - 10) / 2),
        # 60: the last 20 inside, rows 61 to 80; from the fold (61) they go 61 to 70, all deep.
        (60, 51, [("deep", 10)], (60 - 10) / 2),
    ],
)
def test_a_double_layer_turned_up(fold, turn, bands, long):
    stripes = ["deep 30", "foam 8", "sand 4", "foam 18", "deep 20"]
    front = hat({"turned_up": 10}, ends=("gathered", "gathered"), stripes=stripes, fold=fold)
    piece = worked(**front).piece("hat")
    assert (piece.brim.turn, piece.brim.layers) == (turn, 2)
    assert shown(piece) == bands
    assert piece.made_up_length_cm == pytest.approx(long)


def test_the_worksheet_object_tells_it():
    told = worksheet_object(worked(**hat({"turned_up": 12})))["pieces"][0]["brim"]
    assert told == {
        "turned_up": 12, "layers": 1, "counter": 12, "side": "wrong", "worn_rows": 46,
        "worn_length_cm": 23.0,
        "shows": [{"letter": "A", "yarn": "deep", "rows": 8},
                  {"letter": "C", "yarn": "sand", "rows": 4}],
    }  # fmt: skip


def test_a_further_size_keeps_its_share():
    """For 49 cm instead of 54: 58 x 49 / 54 = 52.6, 53 rows, and of the brim 11 of 12."""
    front = hat({"turned_up": 12}) | {
        "fit": {"head": "54 cm"},
        "sizes": {
            "child": {"machine": {"bed": "circular", "needles": 54}, "fit": {"head": "49 cm"}}
        },
    }
    piece = worked(**front).of_size("child").piece("hat")
    assert (piece.visible_rows, piece.brim.rows) == (53, 11)
    front["pieces"]["hat"]["brim"] = {"doubled": 16, "turned_up": 12}
    piece = worked(**front).of_size("child").piece("hat")  # 16 x 53 / 58 = 14.6
    assert (piece.ends[0].rows, piece.brim.rows, piece.brim.turn) == (15, 11, 26)


@pytest.mark.parametrize(
    ("brim", "more", "said", "hint"),
    [
        ({"turned_up": 29}, {}, "turned up, 29 rows cover 29 more, and 58 show in all", "28 or fewer"),
        ({"doubled": 8, "turned_up": 9}, {}, "9 rows are turned up, and the layer inside has 8",
         "8 or fewer"),
        ({"doubled": 58}, {}, "58 rows are doubled of 58 that show", "up to 57"),
        ({"turned_up": 4}, {"ends": ("gathered", "gathered")}, "no edge for a brim",
         "[open, gathered]"),
        ({"turned_up": 4}, {"form": "panel"}, "this panel's sides are open", "sides: seamed"),
        ({"doubled": 4}, {"ends": ("gathered", "gathered"), "fold": "half"},
         "fold says already", "leave doubled out"),
        ({"doubled": 4}, {"ends": ({"edge": "hemmed", "rows": 6}, "gathered")},
         "ends say 6 rows", "here alone"),
        ({}, {}, "this brim says nothing", "{turned_up: 12 rows}"),
        ({"turned_up": "some"}, {}, "no number of rows", "30 rows"),
        ({"up": 3}, {}, "up is not known here", "turned_up"),
    ],
)  # fmt: skip
def test_a_brim_that_cannot_be_is_told_at_its_line(brim, more, said, hint):
    front = hat(brim)
    front["pieces"]["hat"] |= {key: list(value) if isinstance(value, tuple) else value
                               for key, value in more.items()}  # fmt: skip
    (problem,) = [one for one in problems_of(**front) if said in one.message]
    assert hint in problem.hint
    assert problem.place.line > 1


def test_a_paid_pattern_keeps_how_much_is_turned_up():
    """Worn alike, two hats give one public twin, whatever of them is turned up or revealed."""

    def twin(up, first, **more):
        stripes = [f"deep {first}", "sand 4", "foam 20", "deep 10", "sand 4", "foam 12"]
        paid = {"access": "paid", "price": 5, "shop": "https://shop.example.org/x", **more}
        return worked(**hat({"turned_up": up}, stripes=stripes), **paid)

    # 58 - 12 = 46 and 62 - 16 = 46 rows high.
    one, other = (equal_bands(each).piece("hat") for each in (twin(12, 8), twin(16, 12)))
    assert one == other
    assert one.brim.rows == one.visible_rows // 6
    seen = true_heights(twin(12, 8, reveal="heights")).piece("hat")
    assert seen.brim.rows == 58 // 6


@pytest.mark.parametrize("brim", [{"turned_up": 12}, {"doubled": 16, "turned_up": 12}])
def test_the_longest_from_some_yarn_counts_what_is_doubled(brim):
    """300 g of a yarn: turned up takes none of it, 16 doubled rows come off what is left."""
    rows = {}
    for key, said in (("plain", None), ("brim", brim)):
        made = worked(**hat(said) | {"swatch": SWATCH | {"mass": "31 g"}})
        (found,) = longest_with(made, ["300 g"], SETTINGS, "hat.md")
        rows[key] = found.rows
    assert rows["brim"] - rows["plain"] == pytest.approx(-brim.get("doubled", 0), abs=1)
