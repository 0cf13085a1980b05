"""Steps: every stripe once, in order, told as the counter counts; making up from the pieces' facts."""

from typing import get_args

import pytest
from pydantic import ValidationError

from stripewright.figures import rc
from stripewright.pattern.edge import EdgeKind
from stripewright.pattern.settings import Settings
from stripewright.source.reader import read_document
from stripewright.words.cautions import TEXTS
from stripewright.words.techniques import (
    Technique,
    closing,
    finishing,
    shipped_techniques,
    technique,
)
from stripewright.words.write import write
from support.demo import SLUGS, demo
from support.patterns import SETTINGS, text_of, try_work, worked_from


def words(settings=SETTINGS, **overrides):
    text = text_of(**overrides)
    document, _ = read_document(text.encode(), "content/patterns/x.md")
    written, problems = write(worked_from(text, settings=settings), document, settings)
    assert written is not None, problems
    return written


def steps_of(written, key):
    return next((group.steps for group in written.groups if group.key == key), ())


@pytest.mark.parametrize("slug", SLUGS)
def test_every_stripe_of_the_demo_is_told_once_or_repeated(slug):
    worked, written = demo(slug)
    for piece in worked.pieces:
        steps = steps_of(written, piece.key)
        knitted = [step for step in steps if step.technique == "stripe" and step.first <= step.last]
        told = {step.last: step for step in knitted}
        repeated = set()
        for block in piece.repeats:
            lines = piece.plan[block.first : block.first + block.stripes * block.times]
            repeated |= {line.last for line in lines[block.stripes :]}
            step = next(
                step for step in steps if step.key == f"{piece.key}.repeat-{block.first + 1}"
            )
            assert f"{block.times - 1} more times" in step.text
            assert f"until {rc(lines[-1].last)}." in step.text
        assert set(told) | repeated == {line.last for line in piece.plan if line.rows}
        assert not set(told) & repeated
        for line in (line for line in piece.plan if line.last in told and line.rows):
            step = told[line.last]
            assert (step.letter, step.first) == (line.letter, line.first)
            assert f"knit until {rc(line.last)}." in step.text
            rows = f"Row {line.first}," if line.rows == 1 else f"Rows {line.first}–{line.last},"
            assert rows in step.text
        assert (steps[-1].technique == "again") == (piece.make > 1)


@pytest.mark.parametrize("slug", SLUGS)
def test_steps_are_numbered_through_and_read_as_text(slug):
    _, written = demo(slug)
    steps = [step for group in written.groups for step in group.steps]
    assert [step.number for step in steps] == list(range(1, len(steps) + 1))
    assert len({step.key for step in steps}) == len(steps)
    for step in steps:
        assert step.title[0].isupper() or step.title[0].isdigit()
        assert step.text.endswith(".")
        for wrong in ("{", "}", "  ", " .", " ,", "None", "..", "the the", "<", "\n"):
            assert wrong not in step.text, step.text
            assert wrong not in step.title, step.title


def test_a_piece_has_a_title_in_headings_and_a_small_name_in_sentences():
    written = words(
        pieces={
            "inner_bag": {**TUBE, "ends": ["seamed", "seamed"]},
            "flap": {**PANEL, "title": "outer flap"},
        },
        fill="medium",
    )
    assert [group.title for group in written.groups] == ["Inner bag", "Outer flap", "Making up"]
    assert [step.title for step in steps_of(written, "making-up")][4] == "Close the inner bag"


def test_what_was_told_once_is_not_told_again():
    cover = {**TUBE, "ends": ["gathered", "gathered"]}
    lining = {"form": "tube", "like": "cover", "yarn": "foam"}
    written = words(pieces={"cover": cover, "lining": lining})
    told = [step.text for group in written.groups for step in group.steps]
    for once, times in {
        "Both tails go inside": 1,
        "look at every needle": 1,
        "thread the long tail": 2,
        "snip one stitch": 1,
        "won't show": 2,  # of the cover, and of the lining
    }.items():
        assert sum(once.lower() in text.lower() for text in told) == times, once
    making = {f"{step.title}: {step.text}" for step in steps_of(written, "making-up")}
    assert (
        "Gather the cast-on end of the lining: Gather the cast-on end as you did that of the cover."
    ) in making
    titles = [step.title for step in steps_of(written, "making-up")]
    assert len(set(titles)) == len(titles)


TUBE = {"form": "tube", "stripes": ["deep 20", "foam 20", "sand 20"]}
PANEL = {**TUBE, "form": "panel"}


def test_a_filled_ring_keeps_a_gap_to_fill_it_by():
    written = words(pieces={"wreath": {**TUBE, "ends": ["grafted", "grafted"]}})
    _, _, graft, fill, close = steps_of(written, "making-up")
    assert "Stop while your hand still fits through the gap" in graft.text
    assert "begin on the far side of the ring" in fill.text
    assert "closed end" not in fill.text
    assert close.text.startswith("Graft the rest of the stitches over the filling")
    *_, ended = (step for step in steps_of(written, "wreath") if "tail" in step.text)
    assert "it will graft the ends" in ended.text


def test_a_panel_with_open_sides_does_not_line_a_tube():
    cover, lining = {**TUBE, "ends": ["seamed", "seamed"]}, {"form": "panel", "yarn": "foam"}
    for more, told in ({}, 1), ({"sides": "seamed"}, 0), ({"form": "tube"}, 0):
        pieces = {"cover": cover, "lining": {**lining, "like": "cover", **more}}
        _, problems = try_work(text_of(pieces=pieces))
        assert ["can't line a tube" in p.message for p in problems] == [True] * told


def test_what_is_done_in_a_stripe_is_told_before_it_and_beside_the_plan():
    written = words(
        fill=None,
        pieces={
            "mitt": {**TUBE, "openings": [{"what": "thumb", "after": 14, "rows": 12}]},
            "bag": {**PANEL, "sides": "seamed", "fold": 20},
        },
    )
    slit = next(step for step in steps_of(written, "mitt") if step.technique == "slit")
    assert "from row 15 to row 26 (12 rows)" in slit.text
    assert "Change yarns at the turn, as the steps after this say" in slit.text
    fold = next(step for step in steps_of(written, "bag") if step.technique == "mark_fold")
    assert fold.text.startswith("The counter reads RC 020: hang a scrap of yarn on the first and")


def test_a_panel_s_end_grafted_to_nothing_is_told():
    panel = {**PANEL, "ends": ["open", "grafted"]}
    for more, told in ({}, 1), ({"making_up": ["graft it"]}, 0), ({"pieces": {"it": TUBE}}, 0):
        keys = {"fill": None, "pieces": {"it": panel}, **more}
        _, problems = try_work(text_of(**keys))
        assert ["can't be grafted by itself" in p.message for p in problems] == [True] * told


def test_a_ring_leaves_one_long_tail_and_nothing_to_weave_in_once_it_is_closed():
    written = words(
        pieces={"ring": {**TUBE, "ends": ["grafted", "grafted"]}}, fill=None, kind="cowl"
    )
    begun, *_, ended = (step for step in steps_of(written, "ring") if "tail" in step.text)
    # 30 cm around: 4 x 30 + 15 = 135 cm.
    assert "Leave a short tail, 14 cm" in begun.text
    assert "leaving a long tail, 135 cm" in ended.text
    assert [step.title for step in steps_of(written, "making-up")] == [
        "Look for dropped stitches", "Tie the tails", "Graft the ends", "Wash and rest",
    ]  # fmt: skip
    stated = words(
        pieces={"ring": {**TUBE, "ends": ["grafted", "grafted"]}},
        fill=None,
        making_up=["graft ring"],
    )
    graft = steps_of(written, "making-up")[2].text
    assert steps_of(stated, "making-up")[0].text == graft
    assert "With the long tail of colour C, 135 cm (54 in), graft" in graft
    assert "wrong side" not in graft


def test_fold_openings_and_copies_are_told():
    written = words(
        fill=None,
        pieces={
            "glove": {**TUBE, "make": 2, "openings": [{"what": "thumb hole", "after": 24, "rows": 8}]},
            "body": {**PANEL, "sides": "seamed", "fold": 30, "ends": ["hemmed", "open"],
                     "openings": [{"what": "pocket slit", "after": 4, "rows": 5, "side": "left"}]},
        },
    )  # fmt: skip
    glove = [step.technique for step in steps_of(written, "glove")]
    assert glove == [
        "set_up",
        "set_counter",
        "stripe",
        "change",
        "slit",
        "stripe",
        "stripe",
        "take_off",
        "again",
    ]
    slit = steps_of(written, "glove")[4]
    assert "from row 25 to row 32 (8 rows)" in slit.text
    body = {step.technique: step for step in steps_of(written, "body")}
    # 2 cm of hem at 60 / 29 rows to the cm are 4.1, so 4 rows lie before visible row 1.
    assert (
        "left edge, as seen from the right side, when the counter reads RC 008, and another at RC 013"
        in body["gap"].text
    )
    assert "stop when the counter reads RC 034" in body["mark_fold"].text
    making = {step.technique: step for step in steps_of(written, "making-up")}
    assert "Leave open: pocket slit from RC 008 to RC 013." in making["seam_sides"].text
    assert "turn 4 rows to the wrong side at the cast-on end" in making["hem"].text
    assert (
        "Do both."
        in next(s for s in steps_of(written, "making-up") if s.technique == "finish_edge").text
    )


def test_stated_making_up_replaces_the_usual():
    written = words(
        making_up=[
            "seam_end cover", "seam_end cover", {"do": "fill", "pieces": ["cover", "lining"], "note": "Softly."},
            "tassel cover",
        ],
        techniques={"tassel": "Make {{ copies + 3 }} tassels of {{ deep.name }} and sew them to {{ piece }}."},
    )  # fmt: skip
    steps = steps_of(written, "making-up")
    assert [step.title for step in steps] == [
        "Sew the cast-on end",
        "Sew the take-off end",
        "Fill",
        "Tassel",
    ]
    assert steps[2].text.endswith(" Softly.")
    assert steps[2].text.startswith("Fill the cover and the lining with about ")
    assert steps[3].text == "Make 4 tassels of Deep water and sew them to cover."


def test_a_lining_takes_the_ends_of_its_cover_in_other_sizes_too():
    pieces = {
        "cover": {**TUBE, "ends": ["seamed", {"edge": "gathered", "rows": 2}]},
        "lining": {"form": "tube", "like": "cover", "yarn": "foam"},
    }
    sizes = {"wide": {"machine": {"bed": "circular", "needles": 60}}}
    worked = worked_from(text_of(pieces=pieces, sizes=sizes))
    for size in (worked, worked.sizes[0].worked):
        lining = size.piece("lining")
        assert [(end.edge, end.rows) for end in lining.ends] == [("seamed", 1), ("gathered", 1)]
        assert lining.worked_rows == size.piece("cover").visible_rows


def test_which_end_a_stated_step_means():
    pieces = {
        "a": {**TUBE, "ends": ["open", "gathered"]},
        "b": {**TUBE, "ends": ["seamed", "seamed"]},
    }
    steps = ["gather a", "finish_edge a", "seam_end b", "close_seam b", "gather"]
    titles = [
        step.title
        for step in steps_of(words(fill=None, pieces=pieces, making_up=steps), "making-up")
    ]
    assert titles == [
        "Gather the take-off end",
        "Cast off the cast-on end",
        "Sew the cast-on end",
        "Close the b",
        "Gather both ends",
    ]
    alone = words(fill=None, pieces=pieces, making_up=["seam_end b"])
    assert steps_of(alone, "making-up")[0].title == "Sew both ends"


def test_every_mistake_of_a_technique_is_told_once():
    text = text_of(techniques={"stripe": "{{ aa }} {{ bb }} {{ rows + letter }}"})
    document, _ = read_document(text.encode(), "content/patterns/x.md")
    _, problems = write(worked_from(text), document, SETTINGS)
    assert [problem.message for problem in problems] == [
        "technique “stripe”: there is nothing called aa here",
        "technique “stripe”: there is nothing called bb here",
    ]
    text = text_of(techniques={"stripe": "{{ rows + letter }}"})
    document, _ = read_document(text.encode(), "content/patterns/x.md")
    [problem] = write(worked_from(text), document, SETTINGS)[1]
    assert problem.message == "technique “stripe”: A is not a number, so + can't be done with it"


def test_no_making_up_at_all():
    assert steps_of(words(making_up=[]), "making-up") == ()


def test_a_studio_and_a_pattern_put_their_own_words():
    studio = Settings(
        title="S",
        maker="M",
        summary="S.",
        techniques={"fill": "Stuff {{ piece }}.", "line": "In it goes."},
    )
    written = words(settings=studio, techniques={"line": "Turn {{ the_lining }} right side out."})
    texts = {step.technique: step.text for step in steps_of(written, "making-up")}
    assert texts["fill"] == "Stuff lining."
    assert texts["line"] == "Turn the lining right side out."


def test_a_mistake_in_the_studios_words_names_the_settings():
    studio = Settings(title="S", maker="M", summary="S.", techniques={"fill": "Stuff {{ peice }}."})
    text = text_of()
    document, _ = read_document(text.encode(), "content/patterns/x.md")
    written, problems = write(worked_from(text, settings=studio), document, studio)
    assert written is None
    assert [str(problem) for problem in problems] == [
        (
            "content/studio.yaml: error: technique “fill”: there is nothing called peice here\n"
            "    did you mean piece?"
        ),
    ]


def test_us_terms():
    us = Settings(title="S", maker="M", summary="S.", terms="us")
    written = words(settings=us, pieces={"a": TUBE}, fill=None)
    assert steps_of(written, "making-up")[0].title == "Bind off both ends"
    assert "Bind off both ends loosely" in steps_of(written, "making-up")[0].text


def test_every_technique_has_a_title_and_a_text():
    for name, each in shipped_techniques().items():
        assert each.title, name
        assert each.text.rstrip().endswith((".", "%}")), name


@pytest.mark.parametrize("edge", get_args(EdgeKind))
def test_every_edge_has_one_way_to_finish_it_that_says_what_its_rows_and_tail_are_for(edge):
    made = {
        name
        for name, each in shipped_techniques().items()
        if each.edge == edge and each.at == "first"
    }
    assert made == {finishing(edge)}
    assert technique(finishing(edge)).takes_up
    assert technique(finishing(edge)).tail_for
    assert closing(edge) is None or technique(closing(edge)).at == "last"


@pytest.mark.parametrize("wrong", [{"edge": "seamed"}, {"at": "top left"}, {"taken_up": "seam"}])
def test_a_wrong_record_of_a_technique_is_refused(wrong):
    with pytest.raises(ValidationError):
        Technique.model_validate({"title": "Sew", "text": "Sew it.", **wrong})


def test_cautions():
    written = words(
        small_parts=True, cords=True, steam=True, audience="infant", cautions=["Mind the pins."]
    )
    keys = [caution.key for caution in written.cautions]
    assert keys == ["machine", "steam", "filled", "small_parts", "cords", "infant", "own-1"]
    assert written.cautions[-1].text == "Mind the pins."
    for key in ("filled", "small_parts", "cords", "infant", "child"):
        assert "Local rules come first" in TEXTS[key][1]
        assert "qualified" in TEXTS[key][1]


def test_every_caution_has_its_words():
    from stripewright.compute.cautions import KEYS

    assert set(KEYS) == set(TEXTS)
