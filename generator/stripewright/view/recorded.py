"""What stripes are made from, as it is told: which yarn for which values, each record's rows."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stripewright.figures import counted

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
    """143; 143–144."""


@dataclass(frozen=True, slots=True)
class TableView:
    """One column of one table."""

    title: str
    each: str
    """What its records are: day, record."""
    legend: tuple[LegendRow, ...]
    records: tuple[RecordRow, ...]


def table_view(table: WorkedTable, yarns: Mapping[str, WorkedYarn], figures: Figures) -> TableView:
    """A table with its legend and records.

    Args:
        table: worked out.
        yarns: by letter.
        figures: how numbers and days are told.
    """
    unit = f" {table.unit}" if table.unit else ""

    def value(number: float) -> str:
        return figures.number(number, table.digits) + unit

    days = [one.day for one in table.records if one.day]
    one_year = len({day.year for day in days}) == 1

    def record(one: WorkedRecord) -> RecordRow:
        what = f"record {one.number}"
        if one.day:
            what = figures.day_of_year(one.day) if one_year else figures.day(one.day)
        rows = str(one.first) if one.first == one.last else f"{one.first}–{one.last}"
        told = "missing" if one.value is None else value(one.value)
        return RecordRow(what, told, one.letter, yarns[one.letter].colour, rows)

    def band(one: WorkedBand) -> LegendRow:
        if one.missing:
            values = "missing"
        elif one.low is None:
            values = "all" if one.below is None else f"below {value(one.below)}"
        elif one.below is None:
            values = f"{value(one.low)} and over"
        else:
            values = f"{value(one.low)} to under {value(one.below)}"
        yarn = yarns[one.letter]
        return LegendRow(one.letter, yarn.name, yarn.colour, values,
                         counted(one.records, "day" if days else "record"))  # fmt: skip

    return TableView(
        table.column[:1].upper() + table.column[1:],
        "day" if days else "record",
        tuple(map(band, table.bands)),
        tuple(map(record, table.records)),
    )
