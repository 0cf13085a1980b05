"""Neighbouring stripes that can't be told apart: by whom, and what would do."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stripewright.compute.colour import (
    VIEWS,
    difference,
    enough,
    proposal,
    seen,
    unseen_by,
)
from support.patterns import problems_of, worked

hexes = st.integers(0, 0xFFFFFF).map(lambda number: f"#{number:06x}")


def two(first, second, stripes=("a 4", "b 4", "a 4")):
    yarns = {"a": {"name": "A", "colour": first}, "b": {"name": "B", "colour": second}}
    pieces = {"wrap": {"form": "panel", "stripes": list(stripes)}}
    return {"yarns": yarns, "pieces": pieces, "fill": None, "kind": "other"}


@pytest.mark.parametrize(
    ("first", "second", "views"),
    [
        ("#000000", "#ffffff", ()),
        ("#808080", "#828282", VIEWS),
        ("#1f3d5c", "#1f3d5c", VIEWS),
        # a red and a green that only normal sight, or sight without blue, can part
        ("#b04a3a", "#6b7a2e", ("deutan",)),
        # two hues of one lightness: only a black-and-white print loses them
        ("#c85a5a", "#3f8f8f", ("grey",)),
    ],
)
def test_who_cannot_tell_two_colours_apart(first, second, views):
    assert set(views) <= set(unseen_by(first, second))
    if not views:
        assert unseen_by(first, second) == ()
    if len(views) == 1:
        assert "normal" not in unseen_by(first, second)


def test_clear_neighbours_make_no_clash():
    assert worked().clashes == ()


def test_a_clash_is_found_once_a_pair_with_its_first_stripes():
    keys = two("#808080", "#858585", ["a 4", "b 4", "a 4", "b 4"])
    [clash] = worked(**keys).clashes
    assert (clash.piece, clash.first, clash.second, clash.stripes) == ("wrap", "a", "b", (1, 2))
    assert clash.seen_by == VIEWS
    assert clash.difference == min(difference("#808080", "#858585", view) for view in VIEWS)
    [problem] = problems_of(**keys)
    assert problem.message == ("stripes 1 (a) and 2 (b) of wrap can hardly be told apart by anyone")
    assert problem.hint == f'colour "{clash.proposal}" for b would do'


def test_a_pair_that_clashes_in_two_pieces_is_told_once():
    keys = two("#808080", "#858585")
    keys["pieces"] |= {"cuff": {"form": "panel", "stripes": ["b 4", "a 4"]}}
    assert [clash.piece for clash in worked(**keys).clashes] == ["wrap", "cuff"]
    assert len(problems_of(**keys)) == 1


def test_yarns_that_never_meet_make_no_clash():
    keys = two("#808080", "#858585", ["a 4", "c 4", "b 4"])
    keys["yarns"]["c"] = {"name": "C", "colour": "#10161c"}
    assert worked(**keys).clashes == ()


def test_readers_are_named():
    message = problems_of(**two("#b04a3a", "#6b7a2e"))[0].message
    assert "see little green" in message
    assert "black-and-white" in message


@settings(max_examples=40)
@given(hexes, hexes)
def test_a_proposal_is_the_nearest_lightness_that_all_can_tell(first, second):
    found = proposal(first, second)
    assert found is not None  # black or white is always far enough from one of the two
    assert unseen_by(first, found) == ()
    wanted = seen(second, "normal").convert("oklch")
    step = abs(seen(found, "normal").convert("oklch")["lightness"] - wanted["lightness"])
    for part in range(1, 5):
        for way in (-1, 1):
            lightness = wanted["lightness"] + way * (step - 0.02) * part / 5
            if step > 0.03 and 0 < lightness < 1:
                tried = wanted.clone().set("lightness", lightness).convert("srgb").fit()
                other = tried.to_string(hex=True)
                moved = abs(
                    seen(other, "normal").convert("oklch")["lightness"] - wanted["lightness"]
                )
                # the gamut may hold it back; a colour nearer in lightness won't do
                assert moved > step - 0.02 or unseen_by(first, other) != ()


def test_differences_are_symmetric_and_nothing_for_a_colour_with_itself():
    for view in VIEWS:
        assert difference("#1f3d5c", "#1f3d5c", view) == 0
        assert difference("#1f3d5c", "#c2913f", view) == pytest.approx(
            difference("#c2913f", "#1f3d5c", view)
        )
        assert 0 < enough(view) <= 10


def test_no_lightness_will_do(monkeypatch):
    """With thresholds that nothing meets, the hint asks for another colour."""
    from stripewright.compute import colour

    monkeypatch.setattr(colour, "TOLD_APART", 1000.0)
    for cached in (colour.unseen_by, colour.proposal):
        cached.cache_clear()
    try:
        [problem] = problems_of(**two("#101010", "#f0f0f0"))
        assert problem.hint == "no lightness of this colour would do; take another colour"
    finally:
        for cached in (colour.unseen_by, colour.proposal):
            cached.cache_clear()
