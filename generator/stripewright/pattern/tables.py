"""A table of the studio as stripes are made from it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from datetime import date


class Record(NamedTuple):
    """A record as it is knitted."""

    day: date | None
    value: float | None
    """None where it is missing and a yarn of its own, or the last one again, stands for it."""
    yarn: str
    rows: int
    number: int
    """Which of the table's records it is, from 1; a missing day has that of the one before."""
    source: str = ""
    """The table and column that it is from."""


class ValueBand(NamedTuple):
    """The values that a yarn is knitted for: under `below`, and not under the band before."""

    below: float | None
    """None for all that are left."""
    yarn: str


@dataclass(frozen=True, slots=True)
class Table:
    """What stripes are made from: the records, and the bands that they are coloured by."""

    column: str
    unit: str
    digits: int
    """Decimals that the values were written with."""
    bands: tuple[ValueBand, ...]
    records: tuple[Record, ...]
    source: str = ""
    """The table and column: weather.csv, high."""
    gaps: str = ""
    """The yarn of what is missing, where it has one of its own."""
