"""What each gesture makes of stripes, by the page's own scripts; and gestures at random on files.

The scripts run in a page of Chromium that has nothing else on it: no server, no easel.
"""

from __future__ import annotations

from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stripewright.compute.rows import build_stripes
from stripewright.pattern.pieces import Piece
from support.written_files import a_gesture_file, gestures_at_random, holds, load_gestures, made_of

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def scripts(chromium):
    """Runs a function of the scripts."""
    page = chromium.new_page()
    load_gestures(page)
    yield page
    page.close()


DO = """([items, made, name, ...more]) => {
  const front = {yarns: {}, pieces: {cover: {form: 'tube', stripes: items}}};
  try {
    const next = Easel.gestures[name](front, 'cover', made, ...more);
    return next.pieces.cover.stripes;
  } catch (fault) {
    return fault instanceof Easel.gestures.WriteOut ? ['write out', fault.item]
      : fault instanceof Easel.gestures.Cannot ? ['cannot', fault.message] : ['fault', String(fault.stack)];
  }
}"""

CASES = [
    # what its yarn knits is written out first
    (["a 23 g", "b 6"], "paint", (0, 1, "c"), ["write out", 0]),
    (["b 6", "a 23 g"], "paint", (2, 4, "a"), ["b 2", "a 2", "b 2", "a 23 g"]),
    (["b 6", {"yarn": "a", "amount": "12 m"}], "recolour", (0, "c"), ["c 6", {"yarn": "a", "amount": "12 m"}]),
    (["a 12 m", "b 6"], "recolour", (0, "c"), ["write out", 0]),
    # colouring
    (["a 10"], "paint", (2, 5, "b"), ["a 2", "b 3", "a 5"]),
    (["a 10"], "paint", (0, 10, "b"), ["b 10"]),
    (["a 2", "b 3", "a 5"], "paint", (2, 5, "a"), ["a 10"]),
    (["a 2", "b 3", "a 5"], "paint", (1, 7, "c"), ["a 1", "c 6", "a 3"]),
    (["a 2 least 1", "b 3"], "paint", (0, 2, "c"), ["c 2 least 1", "b 3"]),
    ([{"mirror": ["a 4", "b 6"]}], "paint", (1, 3, "c"), [{"mirror": ["a 1", "c 2", "a 1", "b 6"]}]),
    ([{"mirror": ["a 4", "b 6"]}], "paint", (11, 13, "c"), [{"mirror": ["a 1", "c 2", "a 1", "b 6"]}]),
    ([{"mirror": ["a 4", "b 6"]}], "paint", (4, 10, "c"), [{"mirror": ["a 4", "c 6"]}]),
    ([{"mirror": ["a 4", "b 6"]}], "paint", (4, 7, "c"), ["write out", 0]),
    ([{"repeat": 3, "stripes": ["a 4", "b 2"]}], "paint", (6, 8, "c"), [{"repeat": 3, "stripes": ["c 2", "a 2", "b 2"]}]),
    (["a 1", {"graded": ["a", "b"], "first": 3, "by": -1, "stripes": 2}], "paint", (1, 2, "c"), ["write out", 1]),
    # edges and rows
    (["a 10", "b 6"], "edge", (0, 2), ["a 12", "b 4"]),
    (["a 10", "b 6"], "edge", (0, 6), ["cannot", "A stripe has at least one row."]),
    (["a 10", "b 6"], "edge", (1, 3), ["a 10", "b 9"]),
    ([{"mirror": ["a 4", "b 6"]}], "edge", (0, 1), [{"mirror": ["a 5", "b 4"]}]),
    ([{"mirror": ["a 4", "b 6"]}], "edge", (1, 1), [{"mirror": ["a 3", "b 8"]}]),
    ([{"repeat": 2, "stripes": ["a 4", "b 6"]}], "edge", (1, 1), [{"repeat": 2, "stripes": ["a 3", "b 7"]}]),
    ([{"mirror": ["a 4", "b 6"], "middle": "twice"}], "edge", (1, 1), ["write out", 0]),
    (["a 10", "b 6"], "size", (0, 12, False), ["a 12", "b 6"]),
    (["a 10", "b 6"], "size", (0, 12, True), ["a 12", "b 4"]),
    (["a 10", "b 6"], "size", (1, 8, True), ["a 8", "b 8"]),
    (["a 10"], "size", (0, 12, True), ["cannot", "The length is locked, and this is the only stripe."]),
    # stripes
    (["a 9", "b 6"], "split", (0, "c"), ["a 5", "c 4", "b 6"]),
    (["a 1"], "split", (0, "c"), ["cannot", "One row can’t be split."]),
    (["a 9", "b 6"], "recolour", (1, "c"), ["a 9", "c 6"]),
    (["a 9", "b 6", "c 2"], "remove", (1, 1, False), ["a 9", "c 2"]),
    (["a 9", "b 6", "c 2"], "remove", (1, 1, True), ["a 15", "c 2"]),
    (["a 9", "b 6", "c 2"], "remove", (0, 1, True), ["c 17"]),
    ([f"a {n}" for n in range(1, 13)], "remove", (8, 10, False), [f"a {n}" for n in (*range(1, 9), 12)]),
    (["a 9"], "remove", (0, 0, False), ["cannot", "One stripe has to stay."]),
    ([{"mirror": ["a 4", "b 2", "c 6"]}], "remove", (1, 1, False), [{"mirror": ["a 4", "c 6"]}]),
    (["a 9", "b 6", "c 2"], "move", (0, 0, 1), ["b 6", "a 9", "c 2"]),
    (["a 9", "b 6", "c 2"], "move", (1, 2, -1), ["b 6", "c 2", "a 9"]),
    (["a 9", "b 6"], "move", (1, 1, 1), ["cannot", "It is at the end of the piece."]),
    ([{"mirror": ["a 4", "b 2", "c 6"]}], "move", (0, 0, 1), [{"mirror": ["b 2", "a 4", "c 6"]}]),
    ([{"mirror": ["a 4", "b 2", "c 6"]}], "move", (4, 4, -1), [{"mirror": ["b 2", "a 4", "c 6"]}]),
    # selections
    (["a 9", "b 6", "c 2"], "repeat", (0, 1, False, 3), [{"repeat": 3, "stripes": ["a 9", "b 6"]}, "c 2"]),
    (["a 9", "b 6", "c 2"], "mirror", (0, 2, False), [{"mirror": ["a 9", "b 6", "c 2"]}]),
    (["a 9", "b 6", "c 2"], "mirror", (0, 2, True), ["cannot", "This makes the piece longer, and its length is locked."]),
    (["a 9", "b 6", "c 2"], "reverse", (0, 2), ["c 2", "b 6", "a 9"]),
    (["a 9", {"repeat": 2, "stripes": ["b 6", "c 2"]}], "reverse", (0, 4), [{"repeat": 2, "stripes": ["c 2", "b 6"]}, "a 9"]),
    (["a 9", "b 6", {"faded": ["a", "c"], "band": 4, "bands": 2}], "swap", (0, 5, "a", "b"), ["b 9", "a 6", {"faded": ["b", "c"], "band": 4, "bands": 2}]),
    (["a 9", "b 6", "c 2"], "evenly", (0, 2), ["a 6", "b 6", "c 5"]),
    (["a 9", "b 6", "c 2"], "duplicate", (0, 1, False), ["a 9", "b 6", "a 9", "b 6", "c 2"]),
]  # fmt: skip


@pytest.mark.parametrize(
    ("items", "name", "more", "wanted"), CASES, ids=lambda case: str(case)[:60]
)
def test_a_gesture(scripts, items, name, more, wanted):
    assert scripts.evaluate(DO, [items, made_of(items), name, *more]) == wanted


def test_a_rest_that_is_written_out_leaves_the_rows_to_the_stripes(scripts):
    front = {"pieces": {"cover": {"form": "tube", "rows": 30, "stripes": [
        {"graded": ["a", "b"], "first": 3, "by": -1, "stripes": 2}, "a 9", "b rest"]}}}  # fmt: skip
    written = """([front, item, rows]) => Easel.gestures.writeOut(front, 'cover', rows.map(
      ([yarn, rows, at]) => ({yarn, rows, count: rows, at: [at], slot: 0})), item).pieces.cover"""
    rows = [["a", 3, 0], ["b", 2, 0], ["a", 9, 1], ["b", 16, 2]]
    made = scripts.evaluate(written, [front, 2, rows])
    assert made == {"form": "tube", "stripes": [*front["pieces"]["cover"]["stripes"][:2], "b 16"]}
    made = scripts.evaluate(written, [front, 0, rows])
    assert made["rows"] == 30
    assert made["stripes"] == ["a 3", "b 2", "a 9", "b rest"]


def test_a_shuffle_of_a_seed_is_the_same_each_time_and_loses_nothing(scripts):
    items = [f"a {n}" for n in range(1, 20)]
    first = scripts.evaluate(DO, [items, {}, "shuffle", 0, 18, "harbour"])
    assert first == scripts.evaluate(DO, [items, {}, "shuffle", 0, 18, "harbour"]) != items
    assert sorted(first) == sorted(items)
    assert first != scripts.evaluate(DO, [items, {}, "shuffle", 0, 18, "lamp"])


@given(st.integers(0, 2**32))
@settings(max_examples=40)
def test_the_page_lays_out_stripes_as_the_program_builds_them(scripts, seed):
    _, front = a_gesture_file(Random(seed))
    for piece in front["pieces"].values():
        items = piece["stripes"]
        laid = scripts.evaluate(
            "([items, made]) => Easel.expand(items, made).map(({yarn, count}) => [yarn, count])",
            [items, made_of(items)],
        )
        assert laid == [
            [part.yarn, part.count]
            for part in build_stripes(Piece(form="tube", stripes=items).stripes)
        ]


@given(st.integers(0, 2**32))
@settings(max_examples=30)
def test_gestures_at_random_change_only_what_they_mean_to(scripts, seed):
    file, wanted = gestures_at_random(scripts, Random(seed))
    holds(file, wanted)
