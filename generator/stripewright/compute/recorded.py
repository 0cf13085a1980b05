"""Records in worked rows: which of a piece's rows each record of its data is."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING

from stripewright.pattern.stripes import FromData, of_kind

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence
    from datetime import date

    from stripewright.compute.rows import StripeRows
    from stripewright.pattern.pieces import Piece
    from stripewright.pattern.tables import Table


@dataclass(frozen=True, slots=True)
class WorkedRecord:
    """A record; `first` and `last` are worked rows, both included."""

    day: date | None
    value: float | None
    letter: str
    first: int
    last: int
    number: int
    """Which of its table's records it is, from 1."""


@dataclass(frozen=True, slots=True)
class WorkedBand:
    """The values that a yarn is knitted for: from `low` to under `below`."""

    letter: str
    yarn: str
    low: float | None
    below: float | None
    records: int
    missing: bool = False
    """Whether it stands for what is missing."""


@dataclass(frozen=True, slots=True)
class WorkedTable:
    """What a piece's stripes are made from."""

    column: str
    unit: str
    digits: int
    bands: tuple[WorkedBand, ...]
    records: tuple[WorkedRecord, ...]


def worked_tables(
    pieces: Mapping[str, Piece],
    key: str,
    stripes: Sequence[StripeRows],
    hidden: int,
    letters: Mapping[str, str],
) -> tuple[WorkedTable, ...]:
    """The tables of a piece, each with its records where they are knitted.

    Args:
        pieces: as written.
        key: the piece's.
        stripes: its visible stripes.
        hidden: worked rows before the first that shows.
        letters: each yarn's letter.
    """
    found = _tables(pieces, key)
    records: dict[str, list[WorkedRecord]] = {source: [] for source in found}
    row = hidden
    for stripe in stripes if found else ():
        at = row
        for record, rows in stripe.records:
            letter, first, at = letters[record.yarn], at + 1, at + rows
            records[record.source].append(
                WorkedRecord(record.day, record.value, letter, first, at, record.number)
            )
        row += stripe.rows
    return tuple(
        WorkedTable(
            table.column, table.unit, table.digits, tuple(_bands(table, letters)), tuple(knitted)
        )
        for source, table in found.items()
        if (knitted := records[source])
    )


def _tables(pieces: Mapping[str, Piece], key: str) -> dict[str, Table]:
    """By source, the tables that the stripes of a piece, or of the one it is like, come from."""
    piece = pieces[key]
    while piece.like is not None and piece.stripes is None and piece.parts is None:
        piece = pieces[piece.like]
    found: dict[str, Table] = {}
    for items in (piece.stripes, piece.parts):
        for item, _ in of_kind(items or (), (), FromData):
            if item.table is not None:
                found.setdefault(item.table.source, item.table)
    return found


def _bands(table: Table, letters: Mapping[str, str]) -> Iterator[WorkedBand]:
    """The table's bands with how many of its records are in each."""
    low: float | None = None
    counts: Counter[int] = Counter()
    for record in table.records:
        if record.value is not None:
            counts[
                next(
                    n
                    for n, band in enumerate(table.bands)
                    if band.below is None or record.value < band.below
                )
            ] += 1
    for number, band in enumerate(table.bands):
        yield WorkedBand(letters[band.yarn], band.yarn, low, band.below, counts[number])
        low = band.below
    if table.gaps:
        missing = sum(record.value is None for record in table.records)
        yield WorkedBand(letters[table.gaps], table.gaps, None, None, missing, missing=True)
