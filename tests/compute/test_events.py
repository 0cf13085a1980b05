"""What happens along a piece is one list: nothing is missing, in order, and repeats stand for it."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stripewright.compute.event import ORDER
from stripewright.compute.public import equal_bands
from stripewright.compute.repeats import LEAST_TIMES, repeats_of
from stripewright.compute.worked_piece import PlanLine
from support.patterns import problems_of, worked

PLANS = st.lists(st.tuples(st.sampled_from("abc"), st.integers(1, 3)), min_size=1, max_size=40)


def laid(stripes):
    """A plan of stripes (yarn, rows), numbered as the counter counts."""
    lines, row = [], 0
    for yarn, rows in stripes:
        lines.append(PlanLine(yarn.upper(), yarn, row + 1, row + rows))
        row += rows
    return lines


@given(PLANS)
def test_a_repeat_says_what_the_plan_says(stripes):
    plan, past = laid(stripes), 0
    for block in repeats_of(plan):
        assert block.first >= past, "none overlaps another"
        assert block.times >= LEAST_TIMES
        past = block.first + block.stripes * block.times
        told = [(line.yarn, line.rows) for line in plan[block.first : past]]
        assert told == told[: block.stripes] * block.times


@given(st.integers(3, 20), st.lists(st.sampled_from("abcd"), min_size=2, max_size=6, unique=True))
def test_what_is_written_as_a_repeat_is_told_as_one(times, yarns):
    plan = laid([(yarn, 2) for yarn in yarns] * times)
    assert repeats_of(plan) == ((0, len(yarns), times),)


def test_a_stripe_with_something_to_do_in_it_is_like_no_other():
    plan = laid([("a", 4), ("b", 2)] * 8)
    assert repeats_of(plan) == ((0, 2, 8),)
    assert repeats_of(plan, stops=[25]) == ((0, 2, 4), (9, 2, 3))  # row 26 is in the ninth stripe
    assert repeats_of(plan, stops=[24]) == ((0, 2, 4), (9, 2, 3))  # before its first row
    assert repeats_of(plan, stops=[28]) == ((0, 2, 4), (10, 2, 3))  # before the tenth stripe


def test_events_stand_in_order_and_name_every_change():
    piece = worked(
        pieces={"hat": {"form": "tube", "ends": ["gathered", "gathered"], "fold": "half",
                        "stripes": [{"repeat": 5, "stripes": ["deep 3", "foam 1", "sand 2"]}],
                        "openings": [{"what": "ear", "after": 4, "rows": 6}]}}
    ).pieces[0]  # fmt: skip
    places = [(event.row, ORDER.index(event.kind)) for event in piece.events]
    assert places == sorted(places)
    changes = [event for event in piece.events if event.kind == "change"]
    assert tuple(event.row for event in changes) == piece.changes
    assert [event.number for event in changes] == list(range(2, len(piece.plan) + 1))
    assert [event.until for event in changes] == [line.last for line in piece.plan[1:]]
    assert all(one.until == two.row for one, two in pairwise(changes))
    assert piece.events[0].kind == "begin"
    assert piece.events[-1].kind == "end"


@pytest.mark.parametrize(("at", "told"), [(60, "write at: 59 rows or less"), ("59 rows", None)])
def test_what_is_attached_beyond_a_piece_is_told(at, told):
    ear = {
        "form": "panel",
        "needles": 9,
        "stripes": ["sand 9"],
        "attach": {"to": "cover", "at": at},
    }
    cover = {"form": "tube", "stripes": ["deep 16", "foam 9", "sand 9", "foam 9", "deep 16"]}
    hints = [problem.hint for problem in problems_of(pieces={"cover": cover, "ear": ear})]
    assert hints == ([told] if told else [])


def test_the_public_twin_tells_none_of_the_rows():
    """Its events are those of its equal bands; repeats and places of what is attached are gone."""
    ear = {
        "form": "panel",
        "needles": 9,
        "stripes": ["sand 9"],
        "attach": {"to": "cover", "at": 57},
    }
    cover = {"form": "tube", "carry": 6,
             "stripes": [{"repeat": 5, "stripes": ["deep 7", "foam 3", "sand 2"]}]}  # fmt: skip
    one = worked(pieces={"cover": cover, "ear": ear})
    assert one.pieces[0].repeats
    assert one.pieces[0].joins == (("ear", 57),)
    assert any(line.carried for line in one.pieces[0].plan)
    twin = equal_bands(one)
    first, ear = twin.pieces
    assert first.repeats == first.joins == ()
    assert ear.attachment.row is None
    assert ear.attachment.to == "cover"
    assert {event.kind for event in first.events} == {"begin", "change", "end"}
    assert {event.row for event in first.events} <= {line.first - 1 for line in first.plan} | {
        first.worked_rows
    }
    assert not any(line.carried or line.written for line in first.plan)
