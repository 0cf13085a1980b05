"""What stripes are made from, as it is told: which yarn for which values, each record's rows."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stripewright.catalogue import _, n_

if TYPE_CHECKING:
    from collections.abc import Mapping

    from stripewright.compute.recorded import WorkedBand, WorkedRecord, WorkedTable
    from stripewright.compute.worked import WorkedYarn
    from stripewright.figures import Figures


@dataclass(frozen=True, slots=True)
class LegendRow:
    """A yarn and its values."""

    letter: str
    yarn: str
    colour: str
    values: str
    """below 0 °C; 0 °C to under 10 °C; 20 °C and over; all; missing."""
    records: str
    """31 days."""


@dataclass(frozen=True, slots=True)
class RecordRow:
    """A record and the rows that are knitted for it."""

    what: str
    """12 March; or record 14, where there are no days."""
    value: str
    """11.4 °C; missing."""
    letter: str
    colour: str
    rows: str
    """row 143; rows 143–144."""


@dataclass(frozen=True, slots=True)
class TableView:
    """One column of one table."""

    title: str
    each: str
    """What its records are called: The rows of each day."""
    legend: tuple[LegendRow, ...]
    records: tuple[RecordRow, ...]


def table_view(
    table: WorkedTable, yarns: Mapping[str, WorkedYarn], figures: Figures, worked_rows: int
) -> TableView:
    """A table with its legend and records.

    Args:
        table: worked out.
        yarns: by letter.
        figures: how numbers and days are told.
        worked_rows: rows that the machine knits; grafting makes those beyond them.
    """
    unit = f" {table.unit}" if table.unit else ""

    def value(number: float) -> str:
        return figures.number(number, table.digits) + unit

    days = [one.day for one in table.records if one.day]
    one_year = len({day.year for day in days}) == 1

    def record(one: WorkedRecord) -> RecordRow:
        what = _("record {number}", number=one.number)
        if one.day:
            what = figures.day_of_year(one.day) if one_year else figures.day(one.day)
        told = _("missing") if one.value is None else value(one.value)
        rows = _rows(one, worked_rows)
        return RecordRow(what, told, one.letter, yarns[one.letter].colour, rows)

    def band(one: WorkedBand) -> LegendRow:
        if one.missing:
            values = _("missing")
        elif one.low is None:
            values = _("all") if one.below is None else _("below {end}", end=value(one.below))
        elif one.below is None:
            values = _("{start} and over", start=value(one.low))
        else:
            values = _("{start} to under {end}", start=value(one.low), end=value(one.below))
        yarn = yarns[one.letter]
        return LegendRow(
            one.letter,
            yarn.name,
            yarn.colour,
            values,
            n_("{number} day", "{number} days", one.records)
            if days
            else n_("{number} record", "{number} records", one.records),
        )

    column = table.column[:1].upper() + table.column[1:]
    return TableView(
        _("{column}: which yarn for which values", column=column),
        _("The rows of each day") if days else _("The rows of each record"),
        tuple(map(band, table.bands)),
        tuple(map(record, table.records)),
    )


def _rows(one: WorkedRecord, worked_rows: int) -> str:
    """`rows 45–47 and the grafted one`: the counter knows no row 48 that grafting makes."""
    first, last = max(one.first, 1), min(one.last, worked_rows)
    if first > last:
        return _("the grafted row")
    told = (
        _("row {row}", row=first)
        if first == last
        else _("rows {first}–{last}", first=first, last=last)
    )
    if (first, last) == (one.first, one.last):
        return told
    return _("{rows} and the grafted one", rows=told)
