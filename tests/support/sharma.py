"""Pairs of colours with their CIEDE2000 difference; the source is named in the table itself."""

from __future__ import annotations

import csv
from pathlib import Path

Lab = tuple[float, float, float]

_TABLE = Path(__file__).parents[1] / "reference" / "data" / "ciede2000.csv"


def _read() -> tuple[tuple[Lab, Lab, float], ...]:
    lines = (line for line in _TABLE.read_text("utf-8").splitlines() if not line.startswith("#"))
    _, *rows = csv.reader(lines)
    found = ([float(value) for value in row[1:]] for row in rows)
    return tuple(((a, b, c), (d, e, f), apart) for a, b, c, d, e, f, apart in found)


SHARMA = _read()
"""Two colours as (L*, a*, b*), and their difference to four places."""
