"""Panels are drawn in the order and number they are joined; a grafted row is drawn as one row."""

from pathlib import Path

import pytest

from stripewright.draw.assembly_layout import assembly_layout
from stripewright.draw.schematic_layout import schematic_layout
from stripewright.paper.sheet_subject import of_piece
from support.patterns import worked_from

CASES = Path(__file__).parent.parent
JOINED = (CASES / "compute/cases/worked/joined.md").read_text("utf-8")
GRAFTED = (CASES / "words/cases/grafted-alone.md").read_text("utf-8")


def test_panels_stand_in_the_order_and_number_they_are_joined():
    placed = assembly_layout(worked_from(JOINED), ()).placed
    drawn = sorted((left, one.piece.key, one.width) for one in placed for left in one.lefts)
    assert [key for _, key, _ in drawn] == ["one", "two", "one", "two", "one"]
    ends = [left + width for left, _, width in drawn]
    gaps = [left - end for (left, _, _), end in zip(drawn[1:], ends, strict=False)]
    assert gaps == [pytest.approx(12, abs=0.02)] * 4
    assert [" ".join(one.name) for one in placed] == ["One, Two, One, Two, One", ""]
    assert drawn[1][2] == pytest.approx(1.5 * drawn[0][2])  # 30 stitches against 20


@pytest.mark.parametrize("make", [2, 12, 25])
def test_all_panels_of_one_kind_are_drawn(make):
    text = JOINED.replace("make: 3", f"make: {make}").replace(
        "join: [one, two, one, two, one]\n", ""
    )
    placed = assembly_layout(worked_from(text), ()).placed
    assert [len(one.lefts) for one in placed] == [make, 2]
    assert all(0 <= left <= 340 - one.width for one in placed for left in one.lefts)


@pytest.mark.parametrize(("key", "words"), [("first", "24 rows, 1 grafted"), ("last", "24 rows")])
def test_a_row_that_grafting_makes_before_the_first_is_drawn(key, words):
    """48 rows show and are drawn; 47 are knitted, and those alone are coloured in on a sheet."""
    worked = worked_from(GRAFTED)
    piece = worked.piece(key)
    layout = schematic_layout(worked, piece)
    assert layout.sole - layout.head == pytest.approx(48 * layout.scale.per_row, abs=0.02)
    assert layout.length == pytest.approx((layout.head, layout.sole), abs=0.02)
    assert layout.labels[-1].item.words == words
    assert (piece.worked_rows, of_piece(worked, piece).rows) == (47, 47)
