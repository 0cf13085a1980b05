"""What stripes are made from, as it is told: which yarn for which values, each record's rows."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stripewright.catalogue import _, n_
from stripewright.phrases import capital

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
    days = [one.day for one in table.records if one.day]
    one_year = len({day.year for day in days}) == 1
    return TableView(
        _("{column}: which yarn for which values", column=capital(table.column)),
        _("The rows of each day") if days else _("The rows of each record"),
        tuple(
            LegendRow(
                band.letter,
                yarns[band.letter].name,
                yarns[band.letter].colour,
                _values(band, table, figures),
                n_("{number} day", "{number} days", band.records)
                if days
                else n_("{number} record", "{number} records", band.records),
            )
            for band in table.bands
        ),
        tuple(
            RecordRow(
                _what(one, figures, one_year=one_year),
                _("missing") if one.value is None else _value(one.value, table, figures),
                one.letter,
                yarns[one.letter].colour,
                _rows(one, worked_rows),
            )
            for one in table.records
        ),
    )


def _value(number: float, table: WorkedTable, figures: Figures) -> str:
    return figures.number(number, table.digits) + (f" {table.unit}" if table.unit else "")


def _values(band: WorkedBand, table: WorkedTable, figures: Figures) -> str:
    """`20 °C and over`: what a yarn is knitted for."""
    if band.missing:
        return _("missing")
    start = None if band.low is None else _value(band.low, table, figures)
    end = None if band.below is None else _value(band.below, table, figures)
    if start is None:
        return _("all") if end is None else _("below {end}", end=end)
    if end is None:
        return _("{start} and over", start=start)
    return _("{start} to under {end}", start=start, end=end)


def _what(one: WorkedRecord, figures: Figures, *, one_year: bool) -> str:
    if one.day is None:
        return _("record {number}", number=one.number)
    return figures.day_of_year(one.day) if one_year else figures.day(one.day)


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
