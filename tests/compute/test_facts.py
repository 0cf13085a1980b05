"""What follows from a pattern's facts: cautions, fit, further sizes, the worksheet, purity."""

from __future__ import annotations

import ast
import json
import pickle
from pathlib import Path

import pytest

import stripewright.compute
from stripewright.compute.cautions import KEYS
from stripewright.compute.tables import WEIGHTS, _rows, head_sizes, worksheet_object, yarn_classes
from support.patterns import FRONT, problems_of, text_of, try_work, worked

HAT = {
    "kind": "hat",
    "fill": None,
    "machine": {"bed": "circular", "needles": 66},
    "pieces": {"hat": {"form": "tube", "ends": ["gathered", "gathered"], "fold": "half",
                       "stripes": ["deep 40", "foam 40", "sand 2"]}},
}  # fmt: skip


@pytest.mark.parametrize(
    ("keys", "cautions"),
    [
        ({}, "machine filled"),
        ({"fill": None}, "machine filled"),  # it's a cushion: leaving fill out takes nothing away
        ({"fill": None, "kind": "cowl"}, "machine"),
        ({"kind": "other", "pieces": {"a": {"form": "panel", "stripes": ["deep 9", "foam 9", "sand 9"]}}},
         "machine filled"),  # fill is written, though nothing closed is there to hold it
        ({"steam": True, "cords": True, "small_parts": True}, "machine steam filled small_parts cords"),
        ({"audience": "infant"}, "machine filled infant"),
        ({"audience": "child"}, "machine filled child"),
        ({"audience": "pet"}, "machine filled pet"),
        ({"kind": "toy"}, "machine filled child"),
        ({"title": "Baby's first bolster"}, "machine filled infant"),
        ({"summary": "For a cot or a pram."}, "machine filled infant"),
        ({"tags": ["newborn"]}, "machine filled infant"),
        ({"tags": ["toy", "for cats"]}, "machine filled child pet"),
        ({"summary": "A sausage dog at the door."}, "machine filled"),
        (HAT | {"fit": {"head": "56 cm"}}, "machine"),
        (HAT | {"fit": {"wearer": "6 months"}}, "machine infant"),
        (HAT | {"fit": {"wearer": "woman"}}, "machine"),
    ],
)  # fmt: skip
def test_cautions_follow_from_facts(keys, cautions):
    found = worked(**keys).cautions
    assert found == tuple(cautions.split())
    assert set(found) <= set(KEYS)


def test_a_hat_by_the_table():
    """66 stitches at 4/3 to the cm: 49.5 cm, against 56 × 0.9 = 50.4 cm; ease −11.6 %."""
    fit = worked(**HAT, fit={"wearer": "woman"}).fit
    assert fit.head_cm == 56
    assert fit.girth_cm == pytest.approx(49.5)
    assert fit.wanted_girth_cm == pytest.approx(50.4)
    assert fit.actual_ease == pytest.approx(49.5 / 56 - 1)
    assert fit.wearer == "woman"


def test_a_hat_by_its_own_measure():
    fit = worked(**HAT, fit={"head": "58 cm", "ease": "-15 %"}).fit
    assert (fit.head_cm, fit.ease, fit.wearer) == (58, -0.15, None)
    assert fit.wanted_girth_cm == pytest.approx(49.3)
    assert worked().fit is None


def test_the_tables_name_their_sources():
    assert all(row["source"] for row in _rows("head_sizes.csv"))
    sizes = [head.head_cm for head in head_sizes().values()]
    assert sizes == sorted(sizes)
    assert list(yarn_classes()) == list(range(len(WEIGHTS)))


SIZED = {
    "fill": None,
    "kind": "scarf",
    "gauge": "20 sts x 30 rows / 10 cm",
    "swatch": None,
    "machine": {"bed": "circular", "needles": 60},
    "yarns": {"deep": {"name": "Deep", "colour": "#1f3d5c", "weight": 4},
              "foam": {"name": "Foam", "colour": "#dfe9e4", "weight": 4}},
    "pieces": {
        "tube": {"form": "tube", "ends": ["seamed", {"edge": "seamed", "rows": 2}],
                 "stripes": ["deep 60", "foam 30"], "fold": 30,
                 "openings": [{"what": "gap", "after": 3, "rows": 3}]},
        "inner": {"form": "tube", "like": "tube", "yarn": "foam"},
        "short_inner": {"form": "tube", "like": "tube", "yarn": "foam", "length": "15 cm"},
        "panel": {"form": "panel", "needles": 40, "sides": "seamed", "ends": ["hemmed", "open"],
                  "length": "20 cm", "parts": ["deep 1", "foam 1"], "width": "20 cm"},
        "same": {"form": "panel", "like": "panel", "make": 2},
    },
}  # fmt: skip


def sized(**size):
    pattern = worked(**SIZED, sizes={"other": size})
    [found] = pattern.sizes
    assert found.key == "other"
    assert found.worked.sizes == ()
    return pattern, found


def plans(pattern):
    return {
        piece.key: [(line.yarn, line.visible) for line in piece.plan] for piece in pattern.pieces
    }


def test_a_size_that_keeps_the_finished_size():
    """A gauge of 24 by 36: 90 rows at 3 are 30 cm, at 3.6 108; the panel's 40 stitches are 48."""
    base, found = sized(gauge="24 sts x 36 rows / 10 cm", weight=3, title="Finer")
    assert found.title == "Finer"
    other = found.worked
    assert plans(other) == {
        "tube": [("deep", 72), ("foam", 36)],
        "inner": [("foam", 106)],  # knitted 108, and sewn at both ends
        "short_inner": [("foam", 52)],
        "panel": [("deep", 36), ("foam", 36)],
        "same": [("deep", 36), ("foam", 36)],
    }
    for piece in other.pieces:
        if piece.lining_of:
            continue
        assert piece.finished_length_cm == pytest.approx(base.piece(piece.key).finished_length_cm)
    assert [piece.stitches for piece in other.pieces] == [60, 60, 60, 48, 48]
    assert other.piece("panel").flat_width_cm == pytest.approx(20)
    assert other.piece("same").sides == "seamed"
    assert [end.edge for end in other.piece("same").ends] == ["hemmed", "open"]
    assert other.piece("same").make == 2
    assert [end.rows for end in other.piece("tube").ends] == [1, 2]
    assert other.piece("tube").folded == 36
    assert (other.piece("tube").openings[0].first, other.piece("tube").openings[0].last) == (6, 9)
    assert other.piece("inner").lining_of == "tube"
    assert other.piece("panel").least_stitches == 48
    assert {yarn.weight for yarn in other.yarns} == {3}
    assert {yarn.weight for yarn in base.yarns} == {4}


def test_a_size_that_keeps_the_proportions():
    """A bed of 90 for one of 60: the tube is half as wide again and half as long again; the panel
    keeps its needles, and so its length."""
    base, found = sized(machine={"bed": "circular", "needles": 90}, keep="proportions")
    other = found.worked
    assert found.title == "other"
    assert plans(other)["tube"] == [("deep", 90), ("foam", 45)]
    assert plans(other)["inner"] == [("foam", 133)]
    assert plans(other)["short_inner"] == [("foam", 66)]  # 15 × 1.5 × 3 = 67.5, less 2
    assert plans(other)["panel"] == [("deep", 30), ("foam", 30)]
    assert other.piece("panel").stitches == 40
    assert other.gauge == base.gauge
    for piece in other.pieces:
        was = base.piece(piece.key)
        if piece.lining_of:
            continue
        assert piece.flat_width_cm / piece.finished_length_cm == pytest.approx(
            was.flat_width_cm / was.finished_length_cm, rel=0.02
        )


def test_a_size_by_a_swatch_of_its_own():
    other = sized(
        swatch={"stitches": 30, "rows": 40, "width": "10 cm", "length": "10 cm", "mass": "9 g"}
    )[1]
    assert other.worked.gauge.stitches_10cm == pytest.approx(30)
    assert other.worked.pattern.gauge is None
    assert other.worked.loop_cm.estimated  # no ball says how far a gram goes


def test_proportions_on_a_smaller_bed_take_the_whole_of_it():
    _, found = sized(machine={"bed": "circular", "needles": 30}, keep="proportions")
    assert [piece.stitches for piece in found.worked.pieces] == [30, 30, 30, 30, 30]
    assert found.worked.piece("panel").finished_length_cm == pytest.approx(15)


def test_what_is_wrong_with_the_base_is_not_told_again_for_a_size():
    """The fit's warning is told of the base alone: no size is for a head that it wasn't said of."""
    keys = HAT | {"machine": {"bed": "circular", "needles": 40}, "fit": {"head": "60 cm"}}
    same = problems_of(**keys, sizes={"thin": {"weight": 5}})
    assert [p.message for p in same] == ["30 cm around is tight on a head of 60 cm"]
    wider = problems_of(**keys, sizes={"wide": {"machine": {"bed": "circular", "needles": 50}}})
    assert [p.message for p in wider] == ["30 cm around is tight on a head of 60 cm"]


def test_a_bare_end_is_told_once_whatever_the_sizes():
    ends = [{"edge": "seamed", "rows": 0}, "seamed"]
    pieces = {
        "cover": FRONT["pieces"]["cover"] | {"ends": ends},
        "lining": FRONT["pieces"]["lining"],
    }
    sizes = {"wide": {"machine": {"bed": "circular", "needles": 50}}}
    assert len(problems_of(pieces=pieces, sizes=sizes)) == 1


def test_the_worksheet_has_the_keys_that_programs_rely_on():
    sheet = worksheet_object(worked())
    assert list(sheet) == ["pattern", "pieces", "yarns"]
    cover, lining = sheet["pieces"]
    assert list(cover) == ["name", "form", "stitches", "visible_rows", "worked_rows",
                           "flat_width_cm", "finished_length_cm", "plan"]  # fmt: skip
    assert cover["plan"][:2] == [
        {"letter": "A", "yarn": "deep", "from": 1, "to": 17, "rows": 17},
        {"letter": "B", "yarn": "foam", "from": 18, "to": 26, "rows": 9},
    ]
    assert (cover["finished_length_cm"], lining["worked_rows"]) == (28.52, 59)
    assert sheet["yarns"][0] == {"key": "deep", "length_m": 43.64, "mass_g": 36.37, "balls": 1,
                                 "leftover_g": 63.63, "estimated": False}  # fmt: skip
    json.dumps(sheet)


def test_the_worksheet_says_null_for_what_is_not_known():
    yarns = {key: {"name": key, "colour": colour} for key, colour in
             [("deep", "#1f3d5c"), ("foam", "#dfe9e4"), ("sand", "#c2913f")]}  # fmt: skip
    swatch = {key: value for key, value in FRONT["swatch"].items() if key != "mass"}
    yarn = worksheet_object(worked(yarns=yarns, swatch=swatch))["yarns"][0]
    assert (yarn["mass_g"], yarn["balls"], yarn["leftover_g"], yarn["estimated"]) == (
        None,
        None,
        None,
        True,
    )


def test_the_same_pattern_gives_the_same_numbers():
    text = text_of(sizes={"big": {"machine": {"bed": "circular", "needles": 60}}})
    one, two = try_work(text)[0], try_work(text)[0]
    assert one == two
    assert repr(one) == repr(two)
    assert pickle.loads(pickle.dumps(one)) == one


def test_pieces_and_yarns_are_found_by_key():
    pattern = worked()
    assert pattern.piece("lining").yarns == ("foam",)
    assert pattern.piece("cover").yarns == ("deep", "foam", "sand")
    assert pattern.yarn("sand").letter == "C"
    with pytest.raises(KeyError):
        pattern.piece("cuff")
    with pytest.raises(KeyError):
        pattern.yarn("salt")


IMPURE = {
    "time",
    "datetime",
    "random",
    "os",
    "pathlib",
    "io",
    "secrets",
    "uuid",
    "socket",
    "subprocess",
    "sys",
}


@pytest.mark.parametrize(
    "path",
    sorted(Path(stripewright.compute.__file__).parent.glob("*.py")),
    ids=lambda path: path.stem,
)
def test_nothing_here_asks_a_clock_a_disk_or_chance(path):
    """By what each module imports; `tables` reads the program's own tables, and nothing else does."""
    tree = ast.parse(path.read_text("utf-8"))
    typing = "TYPE_CHECKING"  # what only names types is never imported
    tree.body = [
        one for one in tree.body if not (isinstance(one, ast.If) and one.test.id == typing)
    ]
    named = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            named |= {alias.name.split(".")[0] for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            named.add(node.module.split(".")[0])
    assert not named & IMPURE
    if path.stem != "tables":
        assert "importlib" not in named


def test_titles_are_headings_whether_written_or_taken_from_the_key():
    pieces = {
        "inner_bag": FRONT["pieces"]["cover"],
        "b": FRONT["pieces"]["cover"] | {"title": "big bag"},
    }
    assert [piece.title for piece in worked(pieces=pieces).pieces] == ["Inner bag", "Big bag"]
