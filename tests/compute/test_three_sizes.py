"""A hat in three sizes, worked out by hand in each."""

from __future__ import annotations

import pytest

from stripewright.compute.public import equal_bands
from stripewright.compute.work import work
from stripewright.pattern.pattern import Pattern
from stripewright.pattern.read import as_model
from stripewright.pattern.settings import Settings
from stripewright.source.reader import read_document
from stripewright.words.write import write
from support.hats import CHILD, hat_file

HAT = hat_file(
    "base: {title: Adult}",
    "fit: {head: 54 cm, ease: -10 %}",
    sizes=(
        CHILD,
        "tall: {title: Tall, pieces: {hat: {rows: 120}}}",
        "tight: {title: Tight, machine: {bed: circular, needles: 40}, fit: {head: 54 cm}}",
    ),
)
STUDIO = Settings(title="Studio", maker="The maker", summary="A studio.")


def _worked(text=HAT):
    document, found = read_document(text.encode(), "three-hats.md")
    pattern, more = as_model(document, Pattern)
    assert not [*found, *more]
    worked, problems = work(pattern, document, STUDIO, "three-hats")
    assert worked is not None, problems
    return document, worked, problems


# 30 stitches on 24 cm are 1.25 to the cm, 40 rows on 20 cm are 2 to the cm.
@pytest.mark.parametrize(
    ("size", "stitches", "girth", "visible", "head"),
    [
        ("base", 60, 48.0, 90, 54.0),  # 60 / 1.25 = 48; 90 rows as written
        ("child", 54, 43.2, 82, 49.0),  # 54 / 1.25 = 43.2; 90 x 49 / 54 = 81.7 rows
        ("tall", 60, 48.0, 120, None),  # as said; no head was said of it
        ("tight", 40, 32.0, 90, 54.0),  # 40 / 1.25 = 32; the same head, so the same height
    ],
)
def test_each_size_by_hand(size, stitches, girth, visible, head):
    one = _worked()[1].of_size(size)
    hat = one.piece("hat")
    assert (hat.stitches, hat.visible_rows) == (stitches, visible)
    assert hat.girth_cm == pytest.approx(girth)
    assert (one.fit.head_cm if one.fit else None) == head
    # Gathered ends take a row each.
    assert hat.worked_rows == visible + 2
    # Two thirds of what shows are pine.
    assert hat.plan[0].visible == pytest.approx(visible * 2 / 3, abs=0.5)


def test_a_tight_size_is_told_the_needles_that_fit():
    """Wanted are 54 x 0.9 = 48.6 cm; 0.95 and 1.05 of it at 1.25 are 57.7 and 63.8 needles."""
    (problem,) = _worked()[2]
    assert HAT.splitlines()[problem.place.line - 1].startswith("  tight:")
    assert "32 cm around is tight on a head of 54 cm" in problem.message
    assert "58 to 63 needles" in problem.hint


def test_forty_needles_for_a_head_of_54_cm_are_warned_of():
    """At 1 stitch to the cm, 40 needles are 40 cm, 26 % under a head of 54 cm."""
    text = HAT.replace("needles: 60}", "needles: 40}").replace("width: 24 cm", "width: 30 cm")
    text = text[: text.index("sizes:\n")] + text[text.index("---\nHello") :]
    (problem,) = _worked(text)[2]
    assert "40 cm around is tight on a head of 54 cm" in problem.message
    assert "47 to 51 needles" in problem.hint  # 48.6 x 0.95 = 46.2, x 1.05 = 51.03


def test_each_size_has_its_own_words():
    document, worked, _ = _worked()
    written, problems = write(worked, document, STUDIO)
    assert written is not None
    assert not problems
    for key in ("base", "child", "tall", "tight"):
        text, one = written.of_size(key), worked.of_size(key)
        assert f"over {one.piece('hat').stitches} needles" in text.body.source
        cautions = {caution.key for caution in text.cautions}
        assert ("child" in cautions) == (key == "child")
        assert text.groups[0].steps


def test_a_twin_tells_of_its_sizes_how_large_they_are_and_no_more():
    _, worked, _ = _worked()
    twin = equal_bands(worked)
    assert [size.title for size in twin.sizes] == ["Child", "Tall", "Tight"]
    for size in twin.sizes:
        assert size.worked.nominal
        assert all(yarn.balls is None and yarn.length_m is None for yarn in size.worked.yarns)
        assert len({line.rows for line in size.worked.piece("hat").plan}) == 1
