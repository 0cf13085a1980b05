"""The rows a record is told by: the counter never reads a row that grafting makes."""

import pytest

from stripewright.compute.recorded import WorkedBand, WorkedRecord, WorkedTable
from stripewright.figures import Figures
from stripewright.view.recorded import table_view
from support.patterns import worked


@pytest.mark.parametrize(
    ("first", "last", "told"),
    [
        (5, 8, "rows 5–8"),
        (44, 47, "rows 44–47"),
        (45, 48, "rows 45–47 and the grafted one"),
        (47, 48, "row 47 and the grafted one"),
        (48, 48, "the grafted row"),
        (0, 3, "rows 1–3 and the grafted one"),  # grafting makes its first row
        (0, 0, "the grafted row"),
    ],
)
def test_a_grafted_row_of_a_record(first: int, last: int, told: str):
    """47 rows are knitted; one more is grafted at either end."""
    [yarn, *_] = worked().yarns
    record = WorkedRecord(None, 6.0, yarn.letter, first, last, 12)
    band = WorkedBand(yarn.letter, yarn.key, None, None, 1)
    table = WorkedTable("rain", "mm", 0, (band,), (record,))
    [row] = table_view(table, {yarn.letter: yarn}, Figures(), 47).records
    assert (row.what, row.rows) == ("record 12", told)
