"""Whatever a pattern holds, its numbers hang together, or its problems are told."""

from __future__ import annotations

from math import isfinite

from hypothesis import given, settings
from hypothesis import strategies as st

from stripewright.compute.balls import needed
from stripewright.compute.public import equal_bands
from stripewright.compute.tables import worksheet_object
from stripewright.problems import Severity
from support.patterns import text_of, try_work

YARNS = ("deep", "foam", "sand")
COLOURS = ("#1f3d5c", "#dfe9e4", "#c2913f", "#808080", "#b04a3a", "#6b7a2e")
EDGES = ("open", "seamed", "gathered", "grafted", "hemmed")
small = st.integers(1, 60)


@st.composite
def yarns(draw):
    made = {}
    for key in YARNS:
        yarn = {
            "name": key,
            "colour": draw(st.sampled_from(COLOURS)),
            "strands": draw(st.integers(1, 2)),
        }
        if draw(st.booleans()):
            yarn["ball"] = f"{draw(st.integers(1, 200))} g / {draw(st.integers(1, 400))} m"
            if draw(st.booleans()):
                yarn["price"] = draw(st.sampled_from(["4.50", "4.50 EUR", "3 GBP"]))
        made[key] = yarn
    return made


@st.composite
def stripes(draw):
    runs = draw(st.lists(st.tuples(st.sampled_from(YARNS), small), min_size=1, max_size=8))
    written = [f"{yarn} {count}" for yarn, count in runs]
    if draw(st.booleans()):
        written = [{"mirror": written}]
    if draw(st.booleans()):
        written = [{"repeat": draw(st.integers(1, 4)), "stripes": written}, "sand 3"]
    if draw(st.booleans()):
        written.append({"drawn": ["deep", "foam"], "seed": draw(small), "stripes": 5})
    return written


@st.composite
def pieces(draw):
    made = {}
    for number in range(draw(st.integers(1, 3))):
        form = draw(st.sampled_from(["tube", "panel"]))
        edge = st.sampled_from(EDGES) | st.builds(
            lambda kind, rows: {"edge": kind, "rows": rows},
            st.sampled_from(EDGES),
            st.integers(0, 5),
        )
        piece = {"form": form, "ends": [draw(edge), draw(edge)], "make": draw(st.integers(1, 3))}
        if form == "panel":
            piece["sides"] = draw(st.sampled_from(["open", "seamed", "joined"]))
            piece["needles"] = draw(st.integers(2, 40))
        if draw(st.booleans()):
            piece["stripes"] = draw(stripes())
        else:
            piece["parts"] = draw(stripes())
            piece |= draw(st.sampled_from([{"length": "30 cm"}, {"rows": 90}, {"rows": 7}]))
        if draw(st.booleans()):
            piece["fold"] = draw(st.just("half") | small)
        if draw(st.booleans()):
            piece["openings"] = [{"what": "gap", "after": draw(small), "rows": draw(small)}]
        if draw(st.booleans()):
            piece["fringe"] = {"length": "6 cm", "every": draw(st.integers(1, 50))}
        if draw(st.booleans()):
            piece["filled"] = draw(st.booleans())
        if draw(st.booleans()):
            piece["width"] = f"{draw(small)} cm"
        made[f"piece{number}"] = piece
    if draw(st.booleans()):
        made["lining"] = {"form": made["piece0"]["form"], "like": "piece0", "yarn": "foam"}
    return made


@st.composite
def fronts(draw):
    swatch = {"stitches": draw(small), "rows": draw(small), "width": "10 cm", "length": "10 cm"}
    if draw(st.booleans()):
        swatch["mass"] = f"{draw(small)} g"
    if draw(st.booleans()):
        swatch["unravelled"] = {"stitches": draw(small), "length": "1 m"}
    return {
        "swatch": swatch,
        "yarns": draw(yarns()),
        "pieces": draw(pieces()),
        "fill": draw(st.sampled_from([None, "light", "firm"])),
        "sizes": draw(
            st.sampled_from(
                [
                    {},
                    {"big": {"machine": {"bed": "circular", "needles": 60}}},
                    {"fine": {"gauge": "30 sts x 40 rows / 10 cm", "keep": "proportions"}},
                ]
            )
        ),
    }


@settings(max_examples=60)
@given(fronts())
def test_numbers_hang_together_or_problems_are_told(front):
    worked, problems = try_work(text_of(**front))
    if worked is None:
        assert any(problem.severity is Severity.ERROR for problem in problems)
        assert all(problem.hint for problem in problems)
        return
    for one in (worked, *(size.worked for size in worked.sizes)):
        check_pieces(one)
        check_yarns(one)
        worksheet_object(one)
    public = equal_bands(worked)
    check_pieces(public)
    worksheet_object(public)


def check_pieces(worked):
    for piece in worked.pieces:
        row = 0
        for line in piece.plan:
            assert line.first == row + 1
            assert line.visible >= 1
            row = line.last
        first, last = (end.rows for end in piece.ends)
        made = sum(end.grafted for end in piece.ends)
        before = first - piece.ends[0].grafted
        assert piece.plan[0].allowance_before == first
        assert piece.plan[-1].allowance_after == last
        assert piece.worked_rows == piece.visible_rows + first + last - made
        assert all(
            one.yarn != two.yarn for one, two in zip(piece.plan, piece.plan[1:], strict=False)
        )
        assert len(piece.changes) == sum(line.rows > 0 for line in piece.plan) - 1
        assert (
            piece.fold is None
            or before < piece.fold < before + piece.visible_rows
            or worked.nominal
        )
        assert all(
            before < gap.first <= gap.last <= before + piece.visible_rows for gap in piece.openings
        )
        assert piece.stitches <= worked.pattern.machine.needles
        assert 0 < piece.made_up_length_cm <= piece.finished_length_cm
        if piece.solid:
            assert piece.solid.volume_cm3 > 0
            box = piece.solid.width_cm * piece.solid.length_cm * piece.solid.thickness_cm
            assert box > 0
            assert isfinite(box)


def check_yarns(worked):
    knitted = dict.fromkeys(worked.pattern.yarns, 0)
    for piece in worked.pieces:
        for line in piece.plan:
            knitted[line.yarn] += line.rows * piece.make
    for yarn in worked.yarns:
        assert yarn.rows == knitted[yarn.key]
        for figure in (yarn.length_m, yarn.mass_g):
            if figure is not None:
                assert 0 <= figure.low <= figure.value <= figure.high
        for count in yarn.choices:
            assert (
                count.balls * count.length_m >= needed(yarn.length_m, worked.pattern.margin) - 1e-6
            )
            assert (count.balls - 1) * count.length_m < needed(yarn.length_m, worked.pattern.margin)
            assert count.leftover_g >= -1e-6
    assert worked.time.total.value >= worked.time.knitting.value > 0
    assert worked.waste_m > 0
