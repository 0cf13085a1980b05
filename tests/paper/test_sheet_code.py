"""What a sheet's code says, and that the page follows from it."""

from __future__ import annotations

import pytest
import segno
from hypothesis import given
from hypothesis import strategies as some

from stripewright.compute.worked import WorkedGauge
from stripewright.compute.worked_piece import WorkedEnd
from stripewright.paper.sheet_code import (
    EDGE_CODES,
    FORMS,
    LENGTH,
    packed_code,
    title_digest,
    unpack,
)
from stripewright.paper.sheet_plan import pages_of
from stripewright.paper.sheet_subject import Subject

ENDS = some.builds(WorkedEnd, some.sampled_from(EDGE_CODES), some.integers(0, 200))
GAUGES = some.builds(WorkedGauge, some.floats(0.2, 40), some.floats(0.2, 40))
SUBJECTS = some.builds(
    Subject,
    title=some.text(max_size=40),
    form=some.sampled_from(FORMS),
    bed=some.sampled_from(["circular", "flat"]),
    needles=some.integers(4, 1000),
    stitches=some.integers(2, 1000),
    gauge=GAUGES,
    visible=some.integers(1, 5000),
    ends=some.tuples(ENDS, ENDS),
    panels=some.integers(1, 40),
    fold=some.none() | some.integers(1, 5000),
)


@given(SUBJECTS, some.sampled_from(["a4", "letter"]))
def test_the_pages_follow_from_the_code(subject, paper):
    """Read back, each code gives the page it is printed on, to the last digit."""
    pages = pages_of(subject, paper)
    for number in {1, len(pages)}:
        page = pages[number - 1]
        said = unpack(page["code"]["text"])
        assert (said.part, said.paper) == (number, paper)
        assert said.digest == title_digest(subject.title)
        again = pages_of(said.subject, said.paper)
        assert len(again) == len(pages)
        for key in ("bands", "outline", "band", "key", "panels", "marks"):
            assert again[number - 1][key] == page[key]


@given(SUBJECTS)
@pytest.mark.reference
def test_it_fits_a_code_of_version_2(subject):
    """ISO/IEC 18004, table 7: 38 capitals and digits at version 2, M; segno refuses more."""
    text = packed_code(subject, 1, "a4")
    assert len(text) == LENGTH
    assert text.isalnum()
    assert text == text.upper()
    made = segno.make_qr(text, version=2, error="m", boost_error=False)
    assert made.designator == "2-M"


@given(some.text(max_size=60))
def test_any_other_code_is_none_of_ours(text):
    assert unpack(text) is None


@given(some.text("0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ", min_size=35, max_size=35))
def test_a_made_up_code_is_refused_or_sound(text):
    said = unpack("SW1" + text)
    assert said is None or said.subject.rows >= 1


def test_a_changed_character_is_noticed():
    subject = Subject("Hat", "hat", "circular", 40, 40, WorkedGauge(1.25, 2.0), 48,
                      (WorkedEnd("open", 0), WorkedEnd("gathered", 1)))  # fmt: skip
    text = packed_code(subject, 1, "a4")
    for at in range(3, LENGTH):
        other = text[:at] + ("7" if text[at] != "7" else "8") + text[at + 1 :]
        said = unpack(other)
        assert said is None or said.subject != unpack(text).subject
        assert said is None
