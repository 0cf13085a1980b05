"""Stripes from data: a row or more for each record of a table, coloured by its value."""

from __future__ import annotations

import csv
import io
import itertools
import re
from datetime import date, timedelta
from math import ceil
from typing import TYPE_CHECKING, NamedTuple

from stripewright.catalogue import say
from stripewright.pattern.base import shown
from stripewright.pattern.stripes import FromData, of_kind
from stripewright.pattern.tables import Record, Table, ValueBand
from stripewright.problems import Place, Problem, did_you_mean, error

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from stripewright.pattern.pattern import Pattern
    from stripewright.source.document import Document
    from stripewright.source.places import Path

_FOLDER = "content/data"
MOST_RECORDS = 4_000
"""Ten years of days, and to spare."""
_MOST_TOLD = 20
"""Mistakes of one table that are told one by one."""
_NUMBER = re.compile(r"[-+−]?[0-9]{1,12}(?:[.,][0-9]{1,9})?")
_DAY = re.compile(r"([0-9]{4})([-/])([0-9]{2})\2([0-9]{2})")


class _Line(NamedTuple):
    number: int
    day: date | None
    value: float | None


def fill_in_tables(pattern: Pattern, document: Document) -> list[Problem]:
    """Read the tables that a pattern's stripes are made from; each keeps its own.

    Returns:
        What is wrong with them, at their own lines, or where the pattern names them.
    """
    problems: list[Problem] = []
    for key, piece in pattern.pieces.items():
        for name, items in (("stripes", piece.stripes), ("parts", piece.parts)):
            for item, path in of_kind(items or (), ("pieces", key, name), FromData):
                table, found = _read(item, path, document)
                problems += [one for one in found if one not in problems]
                if table is not None:
                    item.keep(table)
    return problems


def _read(item: FromData, path: Path, document: Document) -> tuple[Table | None, list[Problem]]:
    data = document.tables.get(item.data)
    if data is None:
        hint = did_you_mean(item.data, sorted(document.tables), say("put it in {folder}", _FOLDER))
        at = document.place(*path, "data")
        return None, [
            error(at, say("there is no table {data} in {folder}", item.data, _FOLDER), hint)
        ]
    reader = _Reader(item, path, document)
    lines = reader.lines(data)
    if not reader.problems and not lines:
        reader.tell(1, "there is no record in this table", "give it a line of names, then records")
    if reader.problems:
        return None, reader.problems
    bands = tuple(ValueBand(one.below, one.yarn) for one in item.limits) or _equal_counts(
        item.bands, [one.value for one in lines]
    )
    records = list(_records(item, bands, lines, reader))
    if reader.problems:
        return None, reader.problems
    own = item.gaps if item.gaps not in (None, "skip", "repeat") else ""
    return Table(
        item.column, item.unit or "", reader.digits, bands, tuple(records), reader.source, own or ""
    ), []


def source_of(item: FromData) -> str:
    """The table and column that stripes are made from, as one name."""
    return f"{item.data}, {item.column}"


class _Reader:
    """Reads one table, and notes what is wrong at its line."""

    def __init__(self, item: FromData, path: Path, document: Document) -> None:
        self.item, self.path, self.document = item, path, document
        self.file = f"{_FOLDER}/{item.data}"
        self.source = source_of(item)
        self.problems: list[Problem] = []
        self.digits = 0

    def tell(self, line: int, message: str, hint: str) -> None:
        """Note a mistake of the table."""
        if len(self.problems) < _MOST_TOLD:
            self.problems.append(error(Place(self.file, line, 1), message, hint))

    def lines(self, data: bytes) -> list[_Line]:
        """Its records; with mistakes noted, those that could be read."""
        try:
            text = data.decode("utf-8-sig")
        except UnicodeDecodeError as fault:
            line = data.count(b"\n", 0, fault.start) + 1
            self.tell(line, "there are bytes here that are not UTF-8", "save the table as UTF-8")
            return []
        head = text.partition("\n")[0]
        sign = ";" if head.count(";") > head.count(",") else "\t" if "\t" in head else ","
        reader = csv.reader(io.StringIO(text, newline=""), delimiter=sign, strict=True)
        found: list[_Line] = []
        try:
            columns = [name.strip() for name in next(reader, [])]
            value, day = self._column(columns, "column", self.item.column), self._day(columns)
            if value is None or day is False:
                return []
            for row in reader:
                if any(cell.strip() for cell in row):
                    found += self._line(reader.line_num, row, value, day)
                if len(found) > MOST_RECORDS:
                    what = say("there are over {most_records:,} records here", MOST_RECORDS)
                    self.tell(reader.line_num, what, "take a shorter table")
                    break
        except csv.Error as fault:
            self.tell(
                reader.line_num,
                say("this line can't be read: {fault}", fault),
                "mend it, or write it with a comma between its values",
            )
        self._check_days(found)
        return found

    def _column(self, columns: Sequence[str], key: str, name: str) -> int | None:
        if name in columns:
            return columns.index(name)
        place = self.document.place(*self.path, key)
        hint = did_you_mean(
            name, columns, say("it has {columns}", ", ".join(columns)[:200] or say("none"))
        )
        what = say("{data} has no column {name}", self.item.data, shown(name))
        self.problems.append(error(place, what, hint))
        return None

    def _day(self, columns: Sequence[str]) -> int | bool | None:
        """Where days stand; None where they don't, False where they should and don't."""
        if self.item.date is None:
            return columns.index("date") if "date" in columns else None
        found = self._column(columns, "date", self.item.date)
        return False if found is None else found

    def _line(self, line: int, row: Sequence[str], value: int, day: int | None) -> list[_Line]:
        when: date | None = None
        if day is not None:
            text = row[day].strip() if day < len(row) else ""
            when = _as_day(text)
            if when is None:
                self.tell(
                    line, say("{text} is not a date", shown(text)), "write it like 2026-03-12"
                )
                return []
        text = row[value].strip() if value < len(row) else ""
        if not text:
            if self.item.gaps is None:
                self.tell(
                    line,
                    say("there is no {column} in this record", self.item.column),
                    "fill it in; or say in the pattern what stands for it: gaps: skip, "
                    "gaps: repeat, or gaps: and a yarn",
                )
            return [_Line(line, when, None)]
        if not _NUMBER.fullmatch(text):
            self.tell(line, say("{text} is not a number", shown(text)), "write digits, like 11.4")
            return []
        plain = text.replace("−", "-").replace(",", ".")
        self.digits = max(self.digits, len(plain.partition(".")[2]))
        return [_Line(line, when, float(plain))]

    def _check_days(self, lines: Sequence[_Line]) -> None:
        for before, here in itertools.pairwise(lines):
            if before.day is None or here.day is None:
                continue
            if here.day <= before.day:
                self.tell(
                    here.number,
                    say("{day} stands after {day2}", here.day, before.day),
                    "put the records in the order of their days, each day once",
                )
        if self.item.gaps is None and not self.problems:
            for before, here in _holes(lines):
                days = (here.day - before.day).days - 1  # type: ignore[operator]  # both have days
                what = say("1 day is") if days == 1 else say("{days} days are", days)
                self.tell(
                    here.number,
                    say("{what} missing before {day}", what, here.day),
                    "add them; or say in the pattern what stands for them: gaps: skip, "
                    "gaps: repeat, or gaps: and a yarn",
                )


def _as_day(text: str) -> date | None:
    try:
        return date.fromisoformat(text.replace("/", "-")) if _DAY.fullmatch(text) else None
    except ValueError:
        return None


def _holes(lines: Sequence[_Line]) -> Iterator[tuple[_Line, _Line]]:
    """Neighbours with days missing between them, in a table of single days."""
    pairs = [(a, b) for a, b in itertools.pairwise(lines) if a.day and b.day]
    steps = [(b.day - a.day).days for a, b in pairs]  # type: ignore[operator]  # both have days
    if 1 in steps:
        yield from (pair for pair, step in zip(pairs, steps, strict=True) if step > 1)


def _equal_counts(yarns: Sequence[str], values: Sequence[float | None]) -> tuple[ValueBand, ...]:
    """Bands of as many values each as can be; equal values stay together."""
    known = sorted(value for value in values if value is not None)
    last = ValueBand(None, yarns[-1])
    if not known:
        return (last,)
    parts = min(len(yarns), len(known))
    ends = (known[ceil(n * len(known) / parts)] for n in range(1, parts))
    return (*(ValueBand(end, yarn) for end, yarn in zip(ends, yarns, strict=False)), last)


def _records(
    item: FromData, bands: Sequence[ValueBand], lines: Sequence[_Line], reader: _Reader
) -> Iterator[Record]:
    before: Record | None = None
    holes: Mapping[int, _Line] = {here.number: was for was, here in _holes(lines)}
    for number, line in enumerate(lines, start=1):
        if line.number in holes and line.day and item.gaps not in (None, "skip"):
            day = holes[line.number].day
            while day and (day := day + timedelta(days=1)) < line.day:
                if (missed := _missed(item, day, before, number - 1)) is not None:
                    yield missed
        record = _record(item, bands, line, number, reader)
        if line.value is None:
            record = _missed(item, line.day, before, number)
        if record is not None:
            yield record
            before = record


def _missed(item: FromData, day: date | None, before: Record | None, number: int) -> Record | None:
    """What stands for a value that isn't there."""
    if item.gaps in (None, "skip") or (item.gaps == "repeat" and before is None):
        return None
    yarn = before.yarn if item.gaps == "repeat" and before else str(item.gaps)
    return Record(day, None, yarn, item.each, number, source_of(item))


def _record(
    item: FromData, bands: Sequence[ValueBand], line: _Line, number: int, reader: _Reader
) -> Record | None:
    if line.value is None:
        return None
    for band in bands:
        if band.below is None or line.value < band.below:
            return Record(line.day, line.value, band.yarn, item.each, number, reader.source)
    reader.tell(
        line.number,
        say("{value:g} is not below any limit", line.value),
        "leave below out of the last one, and it takes all the rest",
    )
    return None
