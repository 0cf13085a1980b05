"""What a plan's row says besides its numbers: stripes that merged, and where to stop on the way."""

from stripewright.source.reader import read_document
from stripewright.view.numbers import numbers
from stripewright.words.write import write
from support.patterns import SETTINGS, text_of, worked_from


def rows(**piece):
    text = text_of(fill=None, pieces={"cover": {"form": "tube", **piece}})
    document, _ = read_document(text.encode(), "content/patterns/x.md")
    worked = worked_from(text)
    written, problems = write(worked, document, SETTINGS)
    assert problems == []
    (piece,) = numbers(worked, SETTINGS, written.events).pieces
    assert [(row.first, row.last, row.letter) for row in piece.plan] == [
        (line.first, line.last, line.letter) for line in worked.pieces[0].plan if line.rows
    ]
    return piece.rows


def test_neighbours_of_one_yarn_are_one_stripe_and_say_so():
    """Fibonacci there and back: 1, 1, 2, 3 and 3, 2, 1, 1; the two threes are knitted as six rows."""
    there = {"fibonacci": ["deep", "foam"], "stripes": 4}
    back = {"fibonacci": ["foam", "deep"], "stripes": 4, "order": "shrinking"}
    shown = [row for row in rows(stripes=[there, back]) if row.kind == "stripe"]
    assert [row.rows for row in shown] == [1, 1, 2, 6, 2, 1, 1]
    assert [row.what for row in shown if "in one" in row.what] == ["Foam, 3 and 3 rows in one"]


def test_what_happens_inside_a_stripe_stands_after_it():
    opening = {"what": "thumb", "after": 6, "rows": 4}
    shown = rows(stripes=["deep 4", "foam 10", "deep 4"], openings=[opening])
    assert [(row.kind, row.reading) for row in shown] == [
        ("stripe", "004"), ("stripe", "014"), ("slit", "006"), ("slit_end", "010"), ("stripe", "018"),
    ]  # fmt: skip
    assert shown[1].what == "Foam, stop at RC 006 and RC 010"


def test_nine_repeats_of_a_rhythm_are_told_once_with_the_readings_of_all():
    """1 to 10, then 26 rows 9 times: 11 to 36, 37 to 62, up to 244; every reading is 26 further."""
    rhythm = {"repeat": 9, "stripes": ["foam 4", "deep 6", "foam 3", "deep 13"]}
    shown = rows(stripes=["deep 10", rhythm, "foam 7"])
    assert [(row.kind, row.reading) for row in shown] == [
        ("stripe", "010"), ("repeat", "010"), ("stripe", "014"), ("stripe", "020"),
        ("stripe", "023"), ("stripe", "036"), ("repeat_end", "244"), ("stripe", "251"),
    ]  # fmt: skip
    end = shown[6]
    assert end.title == "Repeat rows 11–36, 9 times"
    assert [(again.number, [row.reading for row in again.rows]) for again in end.again] == [
        (time, [f"{reading + 26 * (time - 1):03d}" for reading in (14, 20, 23, 36)])
        for time in range(2, 10)
    ]


def test_a_repeat_that_another_follows_has_its_own_readings():
    two = [
        {"repeat": 3, "stripes": ["foam 4", "deep 6"]},
        {"repeat": 3, "stripes": ["foam 2", "deep 1"]},
    ]
    ends = [row for row in rows(stripes=two) if row.kind == "repeat_end"]
    assert [row.title for row in ends] == [
        "Repeat rows 1–10, 3 times",
        "Repeat rows 31–33, 3 times",
    ]
    assert [[one.reading for one in again.rows] for row in ends for again in row.again] == [
        ["014", "020"], ["024", "030"], ["035", "036"], ["038", "039"],
    ]  # fmt: skip


def test_a_plan_stops_for_no_hem_that_nothing_is_hung_on():
    """A shallow hem is told by the rows it takes; a deep one, from 8 rows on, is marked."""
    shallow = rows(stripes=["deep 20"], ends=["open", {"edge": "hemmed", "rows": 7}])
    assert [(row.kind, row.what) for row in shallow] == [("stripe", "Deep water")]
    assert shallow[0].edge == "7 rows"
    deep, hem = rows(stripes=["deep 20"], ends=["open", {"edge": "hemmed", "rows": 8}])
    assert deep.what == "Deep water, stop at RC 020"
    assert hem.text.startswith("Hang a scrap of yarn")
