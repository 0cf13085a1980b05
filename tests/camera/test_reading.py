"""Coloured sheets read back: what is on them, row by row, or a doubt."""

from __future__ import annotations

import numpy as np
import pytest

from camera.cases import Case, by_hand, judged, of_one_hue, on_screen, palette, read
from camera.sheets import linear, rgb, science, sheet, stripes
from camera.simulator import Camera, Hand, coloured, painted, photographed
from stripewright.camera.colours import differences, lab_of
from stripewright.camera.groups import grouped
from stripewright.camera.read import read_pictures
from stripewright.camera.tints import one_pen

HAND = (*range(1000, 1007), 1016)
DOUBTED = {1016}
"""A page curled so that its lines can't be followed under dark colours."""
HARD = {
    5048: "a shadow at the side beside which paper is brighter than a smooth light has it",
    5073: "a stripe whose last stroke only reaches into a row: the rest of it is white",
    5085: "a shadow's edge at one end of the rows",
    5094: "a curled page of letter paper whose marks fit A4 better",
    5161: "a stripe that is pressed lighter towards its end",
    20002: "a dark stripe that reaches into a pale row, a corner mark found askew",
    20069: "a shadow that ends on the outline's edge",
    20094: "a corner mark whose cells a blur joins",
    20124: "two colours parted by more than how much there is of them",
    30062: "ink over another's ink at the edge of a row",
    30096: "an overrun that was taken for a stripe's last stroke on white paper",
    110062: "white between a stripe's strokes, into which a JPEG's colours bled",
    110134: "a rare colour of the key that was taken for a mixture",
    110195: "one pen's strokes, pressed harder and lighter",
}
SCREEN = range(1000, 1004)


@pytest.mark.parametrize("seed", HAND)
def test_a_photo_of_a_sheet_coloured_by_hand(seed):
    """Never silently wrong; nearly all without a doubt (tests/bench counts hundreds)."""
    case = by_hand(seed)
    word, wrong = judged(case, read(case))
    assert word == "exact" or (word == "doubted" and seed in DOUBTED), wrong


@pytest.mark.parametrize("seed", HARD, ids=str)
def test_what_once_misled(seed):
    case = by_hand(seed)
    word, wrong = judged(case, read(case))
    assert word == "exact", (HARD[seed], wrong)


def test_a_row_left_white_beside_a_careless_stripe_is_doubted():
    """Where rows are left white, one that a stroke reaches into may be meant so, too."""
    one = sheet(rows=30)
    rows = [*ROWS[:20], 3, *ROWS[21:28], 3, 3]
    light = coloured(one, 1, rows, [*COLOURS, ""], Hand("marker"))
    from camera.simulator import MM

    page = one.pages[0]
    band = next(b for b in page["bands"] if b["row"] == 21)
    y0, y1 = (int((band["y"] + share * page["band"]) * MM) for share in (0.6, 1.0))
    x0, x1 = (int((page["outline"]["x"] + v) * MM) for v in (0, page["outline"]["width"]))
    light[y0:y1, x0:x1] = linear(rgb(COLOURS[ROWS[19]]))
    reading, _ = read_pictures([("p.jpg", photographed(light, Camera(seed=3)))])
    assert {21, 29, 30} <= {doubt.row for doubt in reading.doubts}


@pytest.mark.parametrize("seed", [2000, 2002])
def test_yarns_of_one_hue_are_told_apart_or_doubted(seed):
    case = of_one_hue(seed)
    word, wrong = judged(case, read(case))
    assert word != "wrong", (case.colours, wrong)


@pytest.mark.parametrize("seed", SCREEN)
def test_a_sheet_painted_on_a_screen(seed):
    case = on_screen(seed)
    word, wrong = judged(case, read(case))
    assert word == "exact", wrong


def plain(rows, colours, **asked) -> Case:
    one = sheet(rows=len(rows), **asked)
    pictures = [
        (f"{n}.png", painted(one, n, rows, colours, dpi=100)) for n in range(1, len(one.pages) + 1)
    ]
    return Case(one, pictures, rows, colours, 0)


ROWS = [0] * 13 + [1] * 4 + [2] * 9 + [0] * 1 + [1] * 3
COLOURS = ["#1f3d5c", "#dfe9e4", "#b5452c"]


def test_the_json_is_as_it_is_told():
    reading = read(plain(ROWS, COLOURS, form="filled"))
    made = reading.as_json()
    assert list(made) == ["sheet", "pieces", "colours", "doubts"]
    assert made["pieces"] == [
        {
            "title": "Filled tube",
            "stripes": [
                {"colour": letter, "rows": rows}
                for letter, rows in zip("ABCAB", (13, 4, 9, 1, 3), strict=True)
            ],
        }
    ]
    assert made["doubts"] == []
    assert (made["sheet"]["form"], made["sheet"]["visible"]) == ("filled", 30)
    for colour, (letter, read_as) in zip(COLOURS, made["colours"].items(), strict=True):
        apart = differences(lab_of(linear(rgb(colour))), lab_of(linear(rgb(read_as))))
        assert apart < 1.5, letter


def test_rows_left_white_are_a_question():
    rows = [*ROWS[:20], 3, 3, *ROWS[22:]]
    reading = read(plain(rows, [*COLOURS, ""]))
    assert {doubt.row for doubt in reading.doubts} == {21, 22}
    assert reading.pieces[0].letters[20:22] == ("?", "?")


def test_a_blank_sheet_is_a_question_for_every_row():
    reading = read(plain([0] * 30, [""]))
    assert [doubt.row for doubt in reading.doubts] == list(range(1, 31))
    assert all("left white" in str(doubt) for doubt in reading.doubts)


def test_the_key_may_say_that_white_is_a_colour():
    """A box left white between coloured ones: B, here."""
    one = sheet(rows=30)
    rows = [0] * 10 + [1] * 8 + [2] * 12
    colours = ["#1f3d5c", "", "#b5452c"]
    reading, _ = read_pictures([("a.png", painted(one, 1, rows, colours, dpi=100, key=3))])
    assert reading.pieces[0].stripes == (("A", 10), ("B", 8), ("C", 12))
    assert not reading.doubts
    assert reading.colours["B"] == "#ffffff"


def test_parts_in_any_order_and_one_missing():
    lot = np.random.default_rng(4)
    rows = stripes(lot, 174, 4)
    case = plain(rows, palette(lot, 4), form="filled", machine={"bed": "circular", "needles": 40})
    assert len(case.pictures) == 2
    one_way = read(case)
    case.pictures.reverse()
    assert read(case).pieces[0].letters == one_way.pieces[0].letters
    assert judged(case, one_way)[0] == "exact"
    reading, _ = read_pictures(case.pictures[:1])
    missing = {n for n, letter in enumerate(reading.pieces[0].letters, 1) if letter == "?"}
    assert missing
    assert missing == {doubt.row for doubt in reading.doubts}
    assert all("missing" in doubt.message for doubt in reading.doubts)


def test_two_sheets_at_once():
    first, second = plain(ROWS, COLOURS), plain(ROWS[::-1], COLOURS, title="Another", form="panel")
    reading, _ = read_pictures([*first.pictures, *second.pictures])
    assert [piece.title for piece in reading.pieces] == ["Tube", "Panel"]
    assert [len(piece.letters) for piece in reading.pieces] == [30, 30]
    assert [own["sheet"]["form"] for own in reading.as_json()["pieces"]] == ["tube", "panel"]


def test_panels_of_a_blanket_are_one_piece_when_alike():
    asked = {"form": "blanket", "machine": {"bed": "flat", "needles": 50}, "panels": 4,
             "gauge": "16 sts x 22 rows / 10 cm"}  # fmt: skip
    reading = read(plain(ROWS, COLOURS, **asked))
    assert [piece.title for piece in reading.pieces] == ["Blanket"]
    assert reading.as_json()["sheet"]["panels"] == 4


def test_the_title_comes_from_the_sheet_s_file():
    case = plain(ROWS, COLOURS, title="Sea mist")
    reading, _ = read_pictures(case.pictures, [case.sheet.subject])
    assert reading.pieces[0].title == "Sea mist"


def test_a_sheet_without_a_code_is_read_by_its_file():
    """As sheets were printed before: the code painted over."""
    import io

    from PIL import Image, ImageDraw

    case = plain(ROWS, COLOURS, title="Sea mist")
    picture = Image.open(io.BytesIO(case.pictures[0][1]))
    code, mm = case.sheet.pages[0]["code"], 100 / 25.4
    area = [v * mm for v in (code["x"], code["y"])]
    ImageDraw.Draw(picture).rectangle([*area, *(v + code["side"] * mm for v in area)], "white")
    out = io.BytesIO()
    picture.save(out, "PNG")
    reading, problems = read_pictures([("old.png", out.getvalue())])
    assert not reading.pieces
    assert "--sheet" in problems[0].hint
    reading, problems = read_pictures([("old.png", out.getvalue())], [case.sheet.subject])
    assert not problems
    assert judged(case, reading)[0] == "exact"


@pytest.mark.parametrize("upright", [True, False])
def test_a_painted_bar(upright):
    import io

    from PIL import Image

    lot = np.random.default_rng(7)
    rows = stripes(lot, 78, 5)
    bar = np.array([rgb(palette(np.random.default_rng(3), 5)[n]) for n in rows], np.uint8)
    image = np.repeat(np.repeat(bar[None], 60, 0), 9, 1)
    if upright:
        image = np.rot90(image)
    out = io.BytesIO()
    Image.fromarray(np.ascontiguousarray(image)).save(out, "PNG")
    reading, _ = read_pictures([("bar.png", out.getvalue())], rows=78)
    names = {n: reading.pieces[0].letters[rows.index(n)] for n in set(rows)}
    assert list(reading.pieces[0].letters) == [names[n] for n in rows]
    assert len(set(names.values())) == 5
    assert not reading.doubts
    wrong, _ = read_pictures([("bar.png", out.getvalue())], rows=70)
    assert wrong.doubts


def bar(rows, colours, *, pitch=9.0, noise=0.0, paper=None, margin=14) -> bytes:
    """A lying bar with anti-aliased bands, on paper or without."""
    import io

    from PIL import Image

    lines = np.repeat(np.array([rgb(colours[n]) for n in rows], np.uint8), 32, 0)
    size = (round(pitch * len(rows)), 50)
    image = Image.fromarray(np.repeat(lines[None], 8, 0)).resize(size, Image.Resampling.BOX)
    pixels = np.asarray(image)
    if paper:
        around = np.full((50 + 2 * margin, size[0] + 2 * margin, 3), rgb(paper), np.uint8)
        around[margin:-margin, margin:-margin] = pixels
        pixels = around
    grain = noise * np.random.default_rng(3).standard_normal(pixels.shape)
    out = io.BytesIO()
    Image.fromarray(np.clip(pixels + grain, 0, 255).astype(np.uint8)).save(out, "PNG")
    return out.getvalue()


BAR = ["#1f3d5c", "#b5452c", "#d9a02c", "#ffffff"]


@pytest.mark.parametrize("paper", [None, "#101010", "#c8beaa"])
def test_a_bar_with_noise_on_paper_or_without(paper):
    rows = stripes(np.random.default_rng(5), 78, 4)
    picture = bar(rows, BAR, pitch=6.7, noise=5, paper=paper)
    reading, _ = read_pictures([("bar.png", picture)], rows=78)
    assert judged(Case(None, [], rows, BAR, 0), reading) == ("exact", set())


def test_a_bar_whose_ends_are_of_its_paper_s_colour_is_doubted():
    """White rows on white paper can't be seen; what is left may seem to fit all the same."""
    rows = [3] * 12 + [0] * 22 + [1] * 22 + [2] * 22
    reading, _ = read_pictures([("bar.png", bar(rows, BAR, paper="#ffffff"))], rows=78)
    assert judged(Case(None, [], rows, BAR, 0), reading)[0] == "doubted"


@pytest.mark.parametrize("size", [(300, 4), (60, 41), (90, 90)])
def test_a_bar_of_one_colour_and_one_of_noise_are_read_or_told(size):
    import io

    from PIL import Image

    lot = np.random.default_rng(8)
    for pixels in (np.full((*size, 3), 255, np.uint8), lot.integers(0, 256, (*size, 3), np.uint8)):
        out = io.BytesIO()
        Image.fromarray(pixels).save(out, "PNG")
        for rows in (1, 7, 40):
            reading, problems = read_pictures([("bar.png", out.getvalue())], rows=rows)
            assert problems or sum(n for _, n in reading.pieces[0].stripes) == rows


def test_what_saving_makes_of_a_row_beside_another_is_no_colour_of_its_own():
    """At 50 dpi, drawn twice as large; a code whose modules run into each other; a JPEG's waves."""
    cases = map(on_screen, (60040, 60136, 300007))
    assert [judged(case, read(case))[0] for case in cases] == ["exact"] * 3


BLUES = {"far": ["#16284a", "#3d74b8", "#a9cbe8"], "near": ["#2d5f9e", "#3b6cab", "#a9cbe8"]}
BETWEEN = (["#34629e", "#3d74b8", "#5187c4"], 7)
"""Three blues 7 CIEDE2000 apart, and how they are strewn."""


def test_three_blues_of_one_pigment_are_doubted():
    colours, seed = BETWEEN
    lot = np.random.default_rng(seed)
    one = sheet(rows=78)
    rows = stripes(lot, 78, 3, 2)
    pictures = [
        (f"{n}.jpg", photographed(coloured(one, n, rows, colours, Hand("marker", seed=seed)),
                                  Camera(seed=seed + n)))
        for n in range(1, len(one.pages) + 1)
    ]  # fmt: skip
    case = Case(one, pictures, rows, colours, 0)
    assert judged(case, read(case))[0] != "wrong"


PASSES = {
    "apart": ("RRRRR BBBB PPPPP BBBB RRRRR BB PPPP BBBB RRRRRR", (), True),
    "meeting": ("RRRRR PPPPP RRRR PPPP BBBB RRRRR BBBB PPPPPP", (), False),
    "in the key": ("RRRRR BBBB PPPPP BBBB RRRRR BB PPPP BBBB RRRRRR", "RBP", False),
}
"""Rows from the cast-on end, boxes of the key, and whether P may be R's pen in one pass."""


@pytest.mark.parametrize("how", PASSES)
def test_a_stripe_of_one_pass_of_a_pen_that_has_two_elsewhere_is_doubted(how):
    rows, key, doubtful = PASSES[how]
    rows = rows.replace(" ", "")
    red = linear(rgb("#c4282a"))
    light = {"R": 1 - 0.92 * (1 - red), "P": 1 - 0.66 * (1 - red), "B": linear(rgb("#24528f"))}
    seen = np.array([light[x] for x in rows])
    seen *= 1 + np.random.default_rng(1).normal(0, 0.01, (len(rows), 1))
    groups = grouped(seen, np.array([light[x] for x in key]).reshape(-1, 3), 0.05)
    assert set(groups.doubts) == {n for n, x in enumerate(rows) if doubtful and x == "P"}
    assert len({(x, int(group)) for x, group in zip(rows, groups.of, strict=True)}) == 3


@pytest.mark.reference
@pytest.mark.parametrize("which", BLUES)
def test_three_blues_are_told_apart_or_doubted(which):
    """CIEDE2000 between them, by colour-science: 20 and more, told apart; 3 to 6, doubted."""
    colour = science()

    lab = [colour.XYZ_to_Lab(colour.sRGB_to_XYZ(np.array(rgb(c)) / 255)) for c in BLUES[which]]
    apart = min(colour.delta_E(lab[a], lab[b], method="CIE 2000") for a, b in ((0, 1), (1, 2)))
    assert apart > 20 if which == "far" else 3 < apart < 6
    lot = np.random.default_rng(11)
    one = sheet(rows=78)
    rows = stripes(lot, 78, 3, 2)
    pictures = [
        (f"{n}.jpg", photographed(coloured(one, n, rows, BLUES[which], Hand("marker", seed=2)),
                                  Camera(seed=5 + n)))
        for n in range(1, len(one.pages) + 1)
    ]  # fmt: skip
    case = Case(one, pictures, rows, BLUES[which], 0)
    word, _ = judged(case, read(case))
    assert word == ("exact" if which == "far" else "doubted")


def test_a_blurred_and_a_tiny_photo_are_doubted_or_refused():
    one = sheet(rows=30)
    light = coloured(one, 1, ROWS, COLOURS, Hand("marker"))
    for camera in (Camera(seed=1, long_side=1500, blur=9), Camera(seed=1, long_side=420)):
        reading, problems = read_pictures([("p.jpg", photographed(light, camera))])
        assert problems or reading.doubts
        assert reading.doubts


def test_a_row_coloured_in_part_is_doubted():
    one = sheet(rows=30)
    light = coloured(one, 1, ROWS, COLOURS, Hand("marker"))
    from camera.simulator import MM

    page = one.pages[0]
    band = next(b for b in page["bands"] if b["row"] == 8)
    y0, y1 = (int((band["y"] + v) * MM) for v in (0.3, page["band"] - 0.3))
    middle = int((page["outline"]["x"] + page["outline"]["width"] / 2) * MM)
    right = int((page["outline"]["x"] + page["outline"]["width"] - 1) * MM)
    light[y0:y1, middle:right] = linear(rgb("#b5452c"))
    reading, _ = read_pictures([("p.jpg", photographed(light, Camera(seed=3)))])
    assert 8 in {doubt.row for doubt in reading.doubts}


PENS = (("#3a78bd", 1.2), ("#c9302c", 1.25), ("#4d9e51", 1.15), ("#7d4fa0", 1.3))


@pytest.mark.parametrize(("colour", "layers"), PENS)
def test_a_second_layer_of_one_pen_is_the_same_pen(colour, layers):
    """By the law of Beer and Lambert (from memory) a layer's light is raised to its thickness."""
    thin = linear(rgb(colour)).astype(np.float64)
    assert one_pen(thin, np.maximum(thin, 2e-3) ** layers)
    assert one_pen(np.maximum(thin, 2e-3) ** layers, thin)
    assert not one_pen(thin, np.maximum(thin, 2e-3) ** 1.5)  # a yarn, or more than a layer's change
    assert not one_pen(thin, 0.8 * thin + 0.2 * np.roll(thin, 1))
