"""The colours of a picture that matter: worked by hand, and what holds for every picture."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as some

from stripewright.compute.colour import VIEWS, difference, enough
from stripewright.compute.palette import palette

SKY, SEA, SAND, SUN, BUOY = (168, 205, 234), (31, 61, 102), (216, 195, 165), (242, 210, 46), (201, 48, 44)  # fmt: skip


def hexes(found):
    return [one.colour for one in found]


def test_shares_by_hand():
    """Half sky, a third sea, a sixth sand: 300, 200 and 100 of 600."""
    found = palette({SKY: 300, SEA: 200, SAND: 100}, 2)
    assert hexes(found) == ["#a8cdea", "#1f3d66"]
    # Asked for two, sand counts with what it is nearest to: the sky. (300 + 100) / 600.
    assert [one.share for one in found] == pytest.approx([400 / 600, 200 / 600])


def test_what_is_small_and_vivid_matters():
    """A buoy of 1 % is taken before a second blue of 30 %: sqrt(0.01) × 2 > what a blue like the
    first would bring, for it can't be told from it."""
    near = (36, 66, 108)
    found = palette({SKY: 350, SEA: 340, near: 300, BUOY: 10}, 3)
    assert set(hexes(found)) >= {"#a8cdea", "#c9302c"}
    assert len([one for one in found if one.colour in ("#1f3d66", "#24426c")]) == 1


def test_what_some_can_not_tell_apart_is_moved_and_said():
    """Sand and sky have nearly one lightness: a black-and-white print doesn't tell them."""
    found = {one.was: one.colour for one in palette({SKY: 300, SEA: 200, SAND: 100}, 3)}
    assert found["#d8c3a5"] != "#d8c3a5"
    assert {found[""]} <= {"#a8cdea", "#1f3d66"}


def test_one_colour_is_one():
    assert hexes(palette({SUN: 5}, 5)) == ["#f2d22e"]
    assert [one.share for one in palette({SUN: 5}, 5)] == [1]


channel = some.integers(0, 255)


@settings(max_examples=40)
@given(
    some.dictionaries(
        some.tuples(channel, channel, channel), some.integers(1, 999), min_size=1, max_size=60
    ),
    some.integers(1, 6),
)
def test_everyone_can_tell_all_apart_and_shares_are_the_whole(counts, most):
    found = palette(counts, most)
    assert 1 <= len(found) <= most
    assert sum(one.share for one in found) == pytest.approx(1)
    assert [one.share for one in found] == sorted((one.share for one in found), reverse=True)
    for n, one in enumerate(found):
        for other in found[:n]:
            for view in VIEWS:
                assert difference(one.colour, other.colour, view) >= enough(view)


@pytest.mark.reference
def test_clusters_are_those_of_a_kept_library():
    """Well-parted colours with noise: the middles are those that OpenCV's k-means finds, in OKLab
    by colour-science (both from the registry), within what a byte rounds off."""
    import cv2
    import numpy as np

    from camera.sheets import science

    colour = science()

    lot = np.random.default_rng(4)
    middles = np.array([SKY, SEA, SUN, BUOY])
    pixels = np.clip(np.repeat(middles, 400, axis=0) + lot.integers(-6, 7, (1600, 3)), 0, 255)
    labs = colour.XYZ_to_Oklab(colour.sRGB_to_XYZ(pixels / 255)).astype(np.float32)
    stop = (cv2.TERM_CRITERIA_MAX_ITER, 50, 0)
    _, _, centres = cv2.kmeans(labs, 4, None, stop, 10, cv2.KMEANS_PP_CENTERS)
    theirs = colour.XYZ_to_sRGB(colour.Oklab_to_XYZ(centres)) * 255
    counts: dict = {}
    for pixel in map(tuple, pixels.tolist()):
        counts[pixel] = counts.get(pixel, 0) + 1
    ours = {one.was or one.colour: one for one in palette(counts, 4)}
    assert sum(one.share for one in ours.values()) == pytest.approx(1)
    for one in ours:
        rgb = np.array([int(one[n : n + 2], 16) for n in (1, 3, 5)])
        assert np.abs(theirs - rgb).max(axis=1).min() <= 8
