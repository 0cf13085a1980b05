"""Quantities as types of keys: how each is read, and what the schema says of it."""

from __future__ import annotations

from datetime import date
from typing import Annotated, Any

from pydantic import BeforeValidator, WithJsonSchema

from stripewright.pattern.days import clock_s, iso_date
from stripewright.pattern.quantities import (
    FRACTION_SIGNS,
    BallSize,
    Money,
    StatedGauge,
    ball_size,
    colour,
    length_cm,
    mass_g,
    money,
    percentage,
    stated_gauge,
)


def _schema(example: str, pattern: str | None = None) -> WithJsonSchema:
    schema: dict[str, Any] = {"type": "string", "examples": [example]}
    if pattern:
        schema["pattern"] = pattern
    return WithJsonSchema(schema)


# What a schema can know of a quantity: that it begins with a number and ends with a unit.
_LENGTH_FORM = rf"^\s*[0-9.,{''.join(FRACTION_SIGNS)}].*([A-Za-z]\.?|[\"″”']\s*)\s*$"
_MASS_FORM = r"^\s*[0-9.,].*[A-Za-z]\.?\s*$"
_BALL_FORM = r"^\s*[0-9.,].*[A-Za-z].*/.*[0-9].*\S\s*$"
_GAUGE_FORM = r"^\s*[0-9.,].*st.*[0-9].*r.*[0-9].*\S\s*$"
_PERCENTAGE_FORM = r"^\s*[-+−]?\s*[0-9.,].*%\s*$"

Centimetres = Annotated[float, BeforeValidator(length_cm), _schema("38 cm", _LENGTH_FORM)]
Grams = Annotated[float, BeforeValidator(mass_g), _schema("62 g", _MASS_FORM)]
Share = Annotated[float, BeforeValidator(percentage), _schema("10 %", _PERCENTAGE_FORM)]
Price = Annotated[
    Money,
    BeforeValidator(money),
    WithJsonSchema(
        {
            "type": ["number", "string"],
            "minimum": 0,
            "pattern": "[0-9]",
            "examples": [4.5, "4.50 EUR"],
        }
    ),
]
Ball = Annotated[BallSize, BeforeValidator(ball_size), _schema("100 g / 120 m", _BALL_FORM)]
GaugeText = Annotated[
    StatedGauge, BeforeValidator(stated_gauge), _schema("14 sts x 21 rows / 10 cm", _GAUGE_FORM)
]
Colour = Annotated[
    str,
    BeforeValidator(colour),
    WithJsonSchema(
        {
            "type": ["string", "integer"],
            "pattern": "^#?([0-9a-fA-F]{6}|[0-9a-fA-F]{3})$",
            "examples": ["#1f3d5c"],
        }
    ),
]
Day = Annotated[date, BeforeValidator(iso_date), _schema("2026-09-05", r"^\d{4}-\d{2}-\d{2}$")]
Clock = Annotated[
    int, BeforeValidator(clock_s), _schema("2:30", r"^\s*(\d{1,2}:)?\d{1,2}:\d{2}\s*$")
]

READERS = {length_cm: ("cm", "38 cm"), mass_g: ("g", "62 g"), percentage: ("share", "10 %"),
           money: ("", "4.50"), ball_size: ("", "100 g / 120 m"),
           stated_gauge: ("", "14 sts x 21 rows / 10 cm"), colour: ("", '"#1f3d5c"'),
           iso_date: ("", "2026-09-05"), clock_s: ("", "2:30")}  # fmt: skip
"""Each reader with the unit of its number and an example of what it reads."""
