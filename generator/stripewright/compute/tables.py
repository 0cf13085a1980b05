"""The tables that come with the program, read once; and the worked numbers as plain tables."""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import cache
from importlib import resources


@dataclass(frozen=True, slots=True)
class YarnClass:
    """A yarn weight class and its gauge range, in stitches to 4 in (10.16 cm)."""

    number: int
    name: str
    low: int
    high: int


@dataclass(frozen=True, slots=True)
class Head:
    """A head circumference in cm, whether it is an infant's, and where the figure comes from."""

    wearer: str
    head_cm: float
    infant: bool
    source: str


def _rows(name: str) -> list[dict[str, str]]:
    text = (resources.files("stripewright.compute") / "data" / name).read_text("utf-8")
    return list(csv.DictReader(line for line in text.splitlines() if not line.startswith("#")))


@cache
def yarn_classes() -> dict[int, YarnClass]:
    """Yarn weight classes by number, 0 to 7.

    Source: Craft Yarn Council, Standard Yarn Weight System.
    """
    return {
        int(row["class"]): YarnClass(
            int(row["class"]), row["name"], int(row["low"]), int(row["high"])
        )
        for row in _rows("yarn_weights.csv")
    }


@cache
def heads() -> dict[str, Head]:
    """Head sizes by wearer; each row names its source."""
    return {
        row["wearer"]: Head(
            row["wearer"], float(row["head_cm"]), row["infant"] == "yes", row["source"]
        )
        for row in _rows("head_sizes.csv")
    }
