"""Lengths, masses, prices, balls and gauges, written the way people write them.

Each reader takes the author's text and gives a number in the program's own units: cm, g, m.
Factors are exact by definition: 1 in = 2.54 cm, 1 yd = 0.9144 m, 1 oz = 28.349523125 g
(international yard and pound agreement, 1959). A `Wrong` says what is unclear, with an example.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from stripewright.catalogue import _, say
from stripewright.pattern.base import Wrong, shown

CM = {
    "mm": 0.1, "cm": 1.0, "cms": 1.0, "centimetres": 1.0, "centimeters": 1.0,
    "m": 100.0, "metre": 100.0, "metres": 100.0, "meter": 100.0, "meters": 100.0,
    "in": 2.54, "ins": 2.54, "inch": 2.54, "inches": 2.54,
    '"': 2.54, "″": 2.54, "”": 2.54, "''": 2.54,
    "ft": 30.48, "foot": 30.48, "feet": 30.48,
    "yd": 91.44, "yds": 91.44, "yard": 91.44, "yards": 91.44,
}  # fmt: skip
GRAM = {
    "g": 1.0, "gr": 1.0, "gram": 1.0, "grams": 1.0, "gramme": 1.0, "grammes": 1.0,
    "kg": 1000.0, "oz": 28.349523125, "ounce": 28.349523125, "ounces": 28.349523125,
    "lb": 453.59237, "lbs": 453.59237, "pound": 453.59237, "pounds": 453.59237,
}  # fmt: skip
_MOST = 1e6
"""No length in cm and no mass in g is larger; beyond it a number is a slip of the finger."""
_LONGEST = 80
"""Characters of the longest text that is read as a quantity."""

FRACTION_SIGNS = {"¼": 1 / 4, "½": 1 / 2, "¾": 3 / 4, "⅓": 1 / 3, "⅔": 2 / 3,
           "⅛": 1 / 8, "⅜": 3 / 8, "⅝": 5 / 8, "⅞": 7 / 8}  # fmt: skip
_GLYPH = "[" + "".join(FRACTION_SIGNS) + "]"
_NUMBER = (
    r"(?:[0-9]+(?:\s+|\s*-\s*)[0-9]+\s*/\s*[0-9]+|[0-9]+\s*/\s*[0-9]+"
    rf"|[0-9]*[.,][0-9]+|[0-9]+\s*{_GLYPH}|[0-9]+|{_GLYPH})"
)
_UNIT = r"[A-Za-z]+|[\"″”]|''"
_QUANTITY = re.compile(rf"({_NUMBER})\s*({_UNIT})\.?")
_THOUSANDS = re.compile(r"[1-9][0-9]{0,2},[0-9]{3}")


def tidy(value: Any) -> str:
    """A text with every kind of space made plain, or empty for what is no text.

    Thin, narrow and no-break spaces between a number and its unit come from other programs, and
    so do the slash of typeset fractions (U+2044) and the minus sign (U+2212).
    """
    if not isinstance(value, str) or len(value) > _LONGEST:
        return ""
    return " ".join(value.replace("\u2044", "/").replace("\u2212", "-").split())


def number(text: str) -> float:
    """A number as people write it: `7`, `7.5`, `7,5`, `1/2`, `7 1/2`, `7½`. Raises ValueError."""
    text = text.strip()
    if text and text[-1] in FRACTION_SIGNS:
        whole = text[:-1].strip()
        return (float(whole) if whole else 0.0) + FRACTION_SIGNS[text[-1]]
    if "/" in text:
        above, below = (part.strip() for part in text.split("/"))
        *wholes, above = above.replace("-", " ").split()
        if float(below) == 0:
            raise Wrong(say("{text} divides by nothing", shown(text)), "write a fraction like 1/2")
        return sum(map(float, wholes)) + float(above) / float(below)
    if _THOUSANDS.fullmatch(text):
        raise Wrong(
            say("{text} may be a thousand or a fraction", shown(text)),
            say("write {text} or {text2}", text.replace(",", ""), text.replace(",", ".")),
        )
    return float(text.replace(",", "."))


def _measured(text: str, units: dict[str, float]) -> float | None:
    match = _QUANTITY.fullmatch(text)
    factor = units.get(match[2].lower()) if match else None
    return None if match is None or factor is None else number(match[1]) * factor


@lru_cache(maxsize=4096)
def _read(text: str, what: str) -> float | None:
    return _measured(text, CM if what == "length" else GRAM)


def _measure(value: Any, what: str, example: str) -> float:
    text = tidy(value)
    measure = _read(text, what) if text else None
    if measure is None:
        bare = isinstance(value, int | float) and not isinstance(value, bool)
        lacks = (
            say("has no unit")
            if bare or re.fullmatch(_NUMBER, text)
            else say("is not a {what}", what)
        )
        raise Wrong(
            say("{written} {lacks}", shown(value), lacks),
            say("write it with its unit, like {example}", example),
        )
    if measure > _MOST:
        raise Wrong(
            say("{number} is too much for a {what}", shown(value), what),
            say("write it like {example}", example),
        )
    return measure


def length_cm(value: Any) -> float:
    """A length in cm, from `38 cm`, `15 in`, `7 1/2 in`, `0.5 m`, `12 mm`."""
    return _measure(value, "length", "38 cm or 7 1/2 in")


def mass_g(value: Any) -> float:
    """A mass in g, from `62 g`, `3.5 oz`, `1.2 kg`."""
    return _measure(value, "mass", "62 g or 3.5 oz")


_PERCENTAGE = re.compile(rf"([-+]?)\s*({_NUMBER})\s*%")


def percentage(value: Any) -> float:
    """A share of one, from `10 %` or `-10%`."""
    match = _PERCENTAGE.fullmatch(tidy(value))
    if match is None:
        raise Wrong(say("{number} is not a percentage", shown(value)), "write it like 10 %")
    share = number(match[2]) / 100
    return -share if match[1] == "-" else share


@dataclass(frozen=True, slots=True)
class Money:
    """A price; `currency` is an ISO 4217 code, or empty for the studio's own."""

    amount: float
    currency: str = ""


_SIGNS = {"€": "EUR", "£": "GBP"}
_MONEY = re.compile(r"([A-Z]{3}|[€£])?\s*([0-9]{1,9}(?:[.,][0-9]{1,3})?)\s*([A-Z]{3}|[€£])?")


def money(value: Any) -> Money:
    """A price, from `4.50`, `4.50 EUR`, `EUR 4.50` or `€4.50`."""
    if isinstance(value, Money):
        return value
    if isinstance(value, int | float) and not isinstance(value, bool):
        amount, currency = float(value), ""
    else:
        text = tidy(value)
        match = _MONEY.fullmatch(text)
        if match is None or (match[1] and match[3]):
            hint = say("write it like 4.50 or 4.50 EUR")
            if "$" in text:
                hint = say("say whose dollars they are, like 4.50 USD or 4.50 CAD")
            raise Wrong(say("{number} is not a price", shown(value)), hint)
        code = match[1] or match[3] or ""
        amount, currency = number(match[2]), _SIGNS.get(code, code)
    if not 0 <= amount < 1e6:
        raise Wrong(
            say("{number} is no likely price", shown(value)), "write it like 4.50 or 4.50 EUR"
        )
    return Money(amount, currency)


@dataclass(frozen=True, slots=True)
class BallSize:
    """A ball as its band states it: mass in g, length of yarn in m."""

    mass_g: float
    length_m: float

    @property
    def metres_per_gram(self) -> float:
        """How far a gram goes."""
        return self.length_m / self.mass_g


_BALL = "100 g / 120 m or 3.5 oz / 131 yd"


def ball_size(value: Any) -> BallSize:
    """A ball, from `100 g / 120 m`, `3.5 oz / 131 yd` or `120 m / 100 g`."""
    if isinstance(value, BallSize):
        return value
    text = tidy(value)
    mass, length = _ball(text) if text else (None, None)
    if mass is None or length is None:
        raise Wrong(
            say("{number} is not a ball", shown(value)),
            say("write its mass and its length, like {ball}", _BALL),
        )
    if not (0 < mass <= _MOST and 0 < length <= _MOST):
        raise Wrong(
            say("{number} can't be right for a ball", shown(value)),
            say("write it like {ball}", _BALL),
        )
    return BallSize(mass, length / 100)


@lru_cache(maxsize=1024)
def _ball(text: str) -> tuple[float | None, float | None]:
    """Mass in g and length in cm. A fraction may stand on either side of the parting slash."""
    for slash in re.finditer("/", text):
        left, right = text[: slash.start()].strip(), text[slash.end() :].strip()
        for one, other in ((left, right), (right, left)):
            mass, length = _measured(one, GRAM), _measured(other, CM)
            if mass is not None and length is not None:
                return mass, length
    return None, None


@dataclass(frozen=True, slots=True)
class StatedGauge:
    """A gauge typed in directly: counts over one length in cm (10 for cm, 10.16 for 4 in)."""

    stitches: float
    rows: float
    over_cm: float


_GAUGE = re.compile(
    rf"({_NUMBER})\s*(?:sts?\.?|stitches)\s*(?:[x×,&+]|and|by)\s*({_NUMBER})\s*(?:rows?|r\.?)"
    r"\s*(?:/|=|to|over|in)\s*(.+)"
)


def stated_gauge(value: Any) -> StatedGauge:
    """A gauge, from `14 sts x 21 rows / 10 cm` or `14 sts x 21 rows / 4 in`."""
    if isinstance(value, StatedGauge):
        return value
    example = "14 sts x 21 rows / 10 cm"
    match = _GAUGE.fullmatch(tidy(value))
    over = _measured(match[3], CM) if match else None
    if match is None or over is None:
        raise Wrong(
            say("{number} is not a gauge", shown(value)), say("write it like {example}", example)
        )
    gauge = StatedGauge(number(match[1]), number(match[2]), over)
    if not (0 < gauge.stitches <= 1000 and 0 < gauge.rows <= 1000 and 0 < over <= 1000):
        raise Wrong(
            say("{number} can't be right for a gauge", shown(value)),
            say("write it like {example}", example),
        )
    return gauge


_HEX = re.compile(r"#?([0-9a-fA-F]{6}|[0-9a-fA-F]{3})")


def colour(value: Any) -> str:
    """A colour as `#rrggbb`, lower case, from `"#1f3d5c"` or `1f3d5c`."""
    number_like = isinstance(value, int) and not isinstance(value, bool)
    match = _HEX.fullmatch(str(value)) if isinstance(value, str) or number_like else None
    if match is None:
        raise Wrong(
            _("{value} is not a colour", value=shown(value)),
            'write six hex digits in quotes, like "#1f3d5c"',
        )
    digits = match[1].lower()
    return "#" + (digits if len(digits) == 6 else "".join(c * 2 for c in digits))
