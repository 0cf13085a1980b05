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
