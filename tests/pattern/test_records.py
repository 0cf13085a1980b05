"""Stripes from data: records, limits, equal counts, gaps, and what is wrong with a table."""

from __future__ import annotations

import csv
from importlib.util import find_spec
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as some

from stripewright.pattern.pattern import Pattern
from stripewright.pattern.read import as_model
from stripewright.source.reader import read_document
from support.studio_here import pattern

LIMITS = "limits: [{below: 0, yarn: deep}, {below: 10, yarn: foam}, {yarn: sand}]"
TABLE = "date,high\n2026-01-01,-1.5\n2026-01-02,0\n2026-01-03,9.9\n2026-01-04,10\n"


def text(more: str) -> str:
    stripes = f"stripes: [{{data: w.csv, column: high, {more}}}]"
    old = "stripes: [deep 10, foam 4, deep 10, foam 5, deep 9]"
    yarns = 'yarns:\n  sand: {name: Sand, colour: "#d8c3a5", weight: 4, ball: 100 g / 170 m}\n'
    made = pattern().replace("yarns:\n", yarns, 1)
    assert old in made
    return made.replace(old, stripes)


def read(more: str, table: str | bytes):
    data = table if isinstance(table, bytes) else table.encode()
    document, problems = read_document(
        text(more).encode(), "content/patterns/p.md", [("w.csv", data)]
    )
    assert problems == []
    made, problems = as_model(document, Pattern)
    items = next(iter(made.pieces.values())).stripes if made else []
    return (items[0].table if items else None), problems


def yarns(table):
    return [(record.yarn, record.rows) for record in table.records]


def test_limits_by_hand():
    """-1.5 is below 0; 0 is not, and is below 10; so is 9.9; 10 is not."""
    table, problems = read(f"{LIMITS}, each: 2", TABLE)
    assert problems == []
    assert yarns(table) == [("deep", 2), ("foam", 2), ("foam", 2), ("sand", 2)]
    assert table.digits == 1


def test_equal_counts_by_hand():
    """Six values in three bands: 1 1 | 2 5 | 7 9. The bands end below 2 and below 7."""
    table, _ = read("bands: [deep, foam, sand]", "high\n5\n1\n9\n2\n7\n1\n")
    assert [(band.below, band.yarn) for band in table.bands] == [
        (2, "deep"),
        (7, "foam"),
        (None, "sand"),
    ]
    assert yarns(table) == [
        ("foam", 1),
        ("deep", 1),
        ("sand", 1),
        ("foam", 1),
        ("sand", 1),
        ("deep", 1),
    ]


GAPPED = "date,high\n2026-01-01,-1\n2026-01-02,\n2026-01-03,5\n2026-01-06,12\n"


@pytest.mark.parametrize(
    ("gaps", "expected"),
    [
        ("skip", ["deep", "foam", "sand"]),
        ("repeat", ["deep", "deep", "foam", "foam", "foam", "sand"]),
        ("sand", ["deep", "sand", "foam", "sand", "sand", "sand"]),
    ],
)
def test_gaps_by_hand(gaps, expected):
    """2 January has no value; 4 and 5 January have no record."""
    table, problems = read(f"{LIMITS}, gaps: {gaps}", GAPPED)
    assert problems == []
    assert [record.yarn for record in table.records] == expected


BAD = [
    (GAPPED, LIMITS, "content/data/w.csv:3", "there is no high in this record"),
    ("date,high\n2026-01-01,1\n2026-01-02,2\n2026-01-05,3\n", LIMITS, "content/data/w.csv:4", "2 days are missing before 2026-01-05"),
    ("date,high\n2026-01-01,warm\n", LIMITS, "content/data/w.csv:2", "“warm” is not a number"),
    ("date,high\n1.2.2026,1\n", LIMITS, "content/data/w.csv:2", "“1.2.2026” is not a date"),
    ("date,high\n2026-02-30,1\n", LIMITS, "content/data/w.csv:2", "“2026-02-30” is not a date"),
    ("date,high\n2026-01-02,1\n2026-01-01,1\n", LIMITS, "content/data/w.csv:3", "stands after"),
    ("date,high\n", LIMITS, "content/data/w.csv:1", "there is no record"),
    ("", LIMITS, "content/patterns/p.md:", "w.csv has no column “high”"),
    ("date,hihg\n2026-01-01,1\n", LIMITS, "content/patterns/p.md:", "w.csv has no column “high”"),
    (b"date,high\n2026-01-01,\xff\n", LIMITS, "content/data/w.csv:2", "not UTF-8"),
    ('date,high\n2026-01-01,"1\n', LIMITS, "content/data/w.csv:2", "this line can't be read"),
    (TABLE, "limits: [{below: 0, yarn: deep}, {below: 10, yarn: foam}]", "content/data/w.csv:5", "10 is not below any limit"),
    (TABLE, "limits: [{below: 9, yarn: deep}, {below: 1, yarn: foam}]", "content/patterns/p.md:", "1 is not over 9"),
    (TABLE, "limits: [{yarn: deep}, {below: 1, yarn: foam}]", "content/patterns/p.md:", "only the last limit"),
    (TABLE, "each: 1", "content/patterns/p.md:", "need limits, or bands"),
    (TABLE, f"{LIMITS}, bands: [deep]", "content/patterns/p.md:", "need limits, or bands, and not both"),
    (TABLE, f"{LIMITS}, gaps: nobody", "content/patterns/p.md:", "no yarn is called nobody"),
    (TABLE, f"{LIMITS}, date: day", "content/patterns/p.md:", "w.csv has no column “day”"),
]  # fmt: skip


@pytest.mark.parametrize(("table", "more", "where", "what"), BAD)
def test_what_is_wrong_is_told_with_its_file_and_line(table, more, where, what):
    made, problems = read(more, table)
    assert made is None
    told = [(str(one.place), one.message, one.hint) for one in problems]
    assert any(place.startswith(where) and what in message for place, message, _ in told), told
    assert all(hint for *_, hint in told)


def test_every_mistake_of_a_table_at_once():
    _, problems = read(LIMITS, "date,high\n2026-01-01,x\n2026-01-02,y\nno,1\n")
    assert [one.place.line for one in problems] == [2, 3, 4]


def test_a_table_that_is_not_there_is_told_with_the_nearest_name():
    document, _ = read_document(text(LIMITS).encode(), "p.md", [("ww.csv", b"high\n1\n")])
    made, [problem] = as_model(document, Pattern)
    assert made is None
    assert problem.message == "there is no table w.csv in content/data"
    assert "ww.csv" in problem.hint


def test_semicolons_and_decimal_commas_are_read():
    table, problems = read(LIMITS, "date;high\n2026-01-01;-1,5\n2026-01-02;11,25\n")
    assert problems == []
    assert [record.value for record in table.records] == [-1.5, 11.25]
    assert table.digits == 2


@settings(max_examples=60)
@given(
    some.lists(some.integers(-30, 40), min_size=1, max_size=80),
    some.integers(1, 4),
    some.integers(2, 3),
)
def test_records_are_conserved(values, each, kinds):
    """Every record is knitted, in order, in as many rows as it was given; bands are as even as
    equal values allow."""
    lines = "high\n" + "".join(f"{value}\n" for value in values)
    chosen = ["deep", "foam", "sand"][:kinds]
    table, _ = read(f"bands: [{', '.join(chosen)}], each: {each}", lines)
    assert [record.value for record in table.records] == values
    assert {record.rows for record in table.records} == {each}
    order = {yarn: n for n, yarn in enumerate(chosen)}
    ranks = sorted((record.value, order[record.yarn]) for record in table.records)
    assert [rank for _, rank in ranks] == sorted(rank for _, rank in ranks)
    if len(set(values)) == len(values):
        counts = [sum(record.yarn == yarn for record in table.records) for yarn in chosen]
        assert max(counts) - min(counts) <= 1 or len(values) < kinds


@pytest.mark.reference
def test_a_year_of_a_city_s_weather():
    """Daily weather of Seattle, 2012 to 2015, as the package vega-datasets ships it (from NOAA)."""
    folder = Path(next(iter(find_spec("vega_datasets").submodule_search_locations)))
    path = folder / "_data/seattle-weather.csv"
    limits = "limits: [{below: 5, yarn: deep}, {below: 20, yarn: foam}, {yarn: sand}]"
    table, problems = read(
        f"{limits}, gaps: skip",
        path.read_bytes().replace(b"temp_max", b"high"),
    )
    assert problems == []
    with path.open() as file:
        rows = list(csv.DictReader(file))
    assert len(table.records) == len(rows) == 1461
    for record, row in zip(table.records, rows, strict=True):
        high = float(row["temp_max"])
        assert (record.day.strftime("%Y/%m/%d"), record.value) == (row["date"], high)
        assert record.yarn == ("deep" if high < 5 else "foam" if high < 20 else "sand")
