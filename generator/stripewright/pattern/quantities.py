"""Lengths, masses, prices, balls and gauges, written the way people write them.

Each reader takes the author's text and gives a number in the program's own units: cm, g, m.
Factors are exact by definition: 1 in = 2.54 cm, 1 yd = 0.9144 m, 1 oz = 28.349523125 g
(international yard and pound agreement, 1959). A ValueError says what is wrong with an example.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date
from typing import Annotated, Any

from pydantic import BeforeValidator, WithJsonSchema

CM = {"mm": 0.1, "cm": 1.0, "m": 100.0, "in": 2.54, "inch": 2.54, "inches": 2.54, '"': 2.54,
      "″": 2.54, "ft": 30.48, "yd": 91.44, "yds": 91.44}  # fmt: skip
GRAM = {"g": 1.0, "kg": 1000.0, "oz": 28.349523125, "lb": 453.59237, "lbs": 453.59237}

_NUMBER = r"(?:\d+\s+\d+\s*/\s*\d+|\d+\s*/\s*\d+|\d*[.,]\d+|\d+|[¼½¾⅓⅔⅛⅜⅝⅞]|\d+\s*[¼½¾⅓⅔⅛⅜⅝⅞])"
_QUANTITY = re.compile(rf"\s*({_NUMBER})\s*([A-Za-z\"″]+)\.?\s*", re.ASCII)
_GLYPHS = {"¼": 1 / 4, "½": 1 / 2, "¾": 3 / 4, "⅓": 1 / 3, "⅔": 2 / 3,
           "⅛": 1 / 8, "⅜": 3 / 8, "⅝": 5 / 8, "⅞": 7 / 8}  # fmt: skip


def number(text: str) -> float:
    """A number as people write it: `7`, `7.5`, `7,5`, `1/2`, `7 1/2`, `7½`. Raises ValueError."""
    text = text.strip()
    if text and text[-1] in _GLYPHS:
        whole = text[:-1].strip()
        return (float(whole) if whole else 0.0) + _GLYPHS[text[-1]]
    if "/" in text:
        *whole_part, fraction = text.replace(" /", "/").replace("/ ", "/").split()
        above, below = fraction.split("/")
        if float(below) == 0:
            raise ValueError(f"“{text}” divides by nothing")
        return sum(map(float, whole_part)) + float(above) / float(below)
    return float(text.replace(",", "."))


def _measure(value: Any, units: dict[str, float], what: str, example: str) -> float:
    match = _QUANTITY.fullmatch(value) if isinstance(value, str) else None
    unit = match and (match[2] if match[2] in units else match[2].lower())
    if match is None or unit not in units:
        raise ValueError(f"“{value}” is not a {what}; write it with its unit, like {example}")
    return number(match[1]) * units[unit]


def length_cm(value: Any) -> float:
    """A length in cm, from `38 cm`, `15 in`, `7 1/2 in`, `0.5 m`, `12 mm`."""
    return _measure(value, CM, "length", "38 cm or 7 1/2 in")


def mass_g(value: Any) -> float:
    """A mass in g, from `62 g`, `3.5 oz`, `1.2 kg`."""
    return _measure(value, GRAM, "mass", "62 g or 3.5 oz")


def percentage(value: Any) -> float:
    """A share of one, from `10 %` or `10%`."""
    match = re.fullmatch(rf"\s*([-+]?)\s*({_NUMBER})\s*%\s*", value) if isinstance(value, str) else None
    if match is None:
        raise ValueError(f"“{value}” is not a percentage; write it like 10 %")
    share = number(match[2]) / 100
    return -share if match[1] == "-" else share


@dataclass(frozen=True, slots=True)
class Money:
    """A price; `currency` is an ISO 4217 code, or empty for the studio's own."""

    amount: float
    currency: str = ""


def money(value: Any) -> Money:
    """A price, from `4.50`, `4.50 EUR` or `EUR 4.50`."""
    if isinstance(value, Money):
        return value
    if isinstance(value, (int, float)) and not isinstance(value, bool):
        return Money(float(value))
    match = isinstance(value, str) and re.fullmatch(
        r"\s*([A-Z]{3})?\s*(\d+(?:[.,]\d{1,2})?)\s*([A-Z]{3})?\s*", value
    )
    if not match or (match[1] and match[3]):
        raise ValueError(f"“{value}” is not a price; write it like 4.50 or 4.50 EUR")
    return Money(number(match[2]), match[1] or match[3] or "")


@dataclass(frozen=True, slots=True)
class BallSize:
    """A ball as its band states it: mass in g, length of yarn in m."""

    mass_g: float
    length_m: float

    @property
    def metres_per_gram(self) -> float:
        """How far a gram goes."""
        return self.length_m / self.mass_g


def ball_size(value: Any) -> BallSize:
    """A ball, from `100 g / 120 m` or `3.5 oz / 131 yd`."""
    if isinstance(value, BallSize):
        return value
    example = "100 g / 120 m or 3.5 oz / 131 yd"
    if not isinstance(value, str) or value.count("/") == 0:
        raise ValueError(f"“{value}” is not a ball; write its mass and its length, like {example}")
    left, right = re.split(r"/(?=[^/]*$)", value, maxsplit=1)
    try:
        ball = BallSize(mass_g(left), length_cm(right) / 100)
    except ValueError:
        raise ValueError(
            f"“{value}” is not a ball; write its mass and its length, like {example}"
        ) from None
    if ball.mass_g <= 0 or ball.length_m <= 0:
        raise ValueError(f"“{value}” has nothing on it; write it like {example}")
    return ball


@dataclass(frozen=True, slots=True)
class StatedGauge:
    """A gauge typed in directly: counts over one length in cm (10 for cm, 10.16 for 4 in)."""

    stitches: float
    rows: float
    over_cm: float


def stated_gauge(value: Any) -> StatedGauge:
    """A gauge, from `14 sts x 21 rows / 10 cm` or `14 sts x 21 rows / 4 in`."""
    if isinstance(value, StatedGauge):
        return value
    match = isinstance(value, str) and re.fullmatch(
        rf"\s*({_NUMBER})\s*(?:sts?|stitches)\s*[x×,]\s*({_NUMBER})\s*(?:rows?|r)\s*(?:/|to|over)\s*(.+)",
        value,
    )
    if not match:
        raise ValueError(f"“{value}” is not a gauge; write it like 14 sts x 21 rows / 10 cm")
    gauge = StatedGauge(number(match[1]), number(match[2]), length_cm(match[3]))
    if min(gauge.stitches, gauge.rows, gauge.over_cm) <= 0:
        raise ValueError(f"“{value}” has a zero in it; write it like 14 sts x 21 rows / 10 cm")
    return gauge


_HEX = re.compile(r"#?([0-9a-fA-F]{6}|[0-9a-fA-F]{3})")


def colour(value: Any) -> str:
    """A colour as `#rrggbb`, lower case, from `"#1f3d5c"` or `1f3d5c` in quotes."""
    match = _HEX.fullmatch(value) if isinstance(value, str) else None
    if match is None:
        raise ValueError(f'“{value}” is not a colour; write six hex digits in quotes, like "#1f3d5c"')
    digits = match[1].lower()
    return "#" + (digits if len(digits) == 6 else "".join(c * 2 for c in digits))


def iso_date(value: Any) -> date:
    """A day, from `2026-09-05`."""
    if isinstance(value, date):
        return value
    if not isinstance(value, str) or not re.fullmatch(r"\d{4}-\d{2}-\d{2}", value):
        raise ValueError(f"“{value}” is not a date; write it like 2026-09-05")
    try:
        return date.fromisoformat(value)
    except ValueError:
        raise ValueError(f"“{value}” is not a day of the calendar; write it like 2026-09-05") from None


def clock_s(value: Any) -> int:
    """A time into a video in s, from `2:30` or `1:02:30`."""
    if not isinstance(value, str) or not re.fullmatch(r"(\d{1,2}:)?\d{1,2}:\d{2}", value):
        raise ValueError(f"“{value}” is not a time in a video; write it like 2:30 or 1:02:30")
    seconds = 0
    for part in value.split(":"):
        seconds = seconds * 60 + int(part)
    return seconds


def _schema(example: str, pattern: str | None = None) -> WithJsonSchema:
    schema: dict[str, Any] = {"type": "string", "examples": [example]}
    if pattern:
        schema["pattern"] = pattern
    return WithJsonSchema(schema)


Centimetres = Annotated[float, BeforeValidator(length_cm), _schema("38 cm")]
Grams = Annotated[float, BeforeValidator(mass_g), _schema("62 g")]
Share = Annotated[float, BeforeValidator(percentage), _schema("10 %")]
Price = Annotated[
    Money,
    BeforeValidator(money),
    WithJsonSchema({"type": ["number", "string"], "examples": [4.5, "4.50 EUR"]}),
]
Ball = Annotated[BallSize, BeforeValidator(ball_size), _schema("100 g / 120 m")]
GaugeText = Annotated[
    StatedGauge, BeforeValidator(stated_gauge), _schema("14 sts x 21 rows / 10 cm")
]
Colour = Annotated[
    str, BeforeValidator(colour), _schema("#1f3d5c", "^#?([0-9a-fA-F]{6}|[0-9a-fA-F]{3})$")
]
Day = Annotated[date, BeforeValidator(iso_date), _schema("2026-09-05", r"^\d{4}-\d{2}-\d{2}$")]
Clock = Annotated[int, BeforeValidator(clock_s), _schema("2:30")]
