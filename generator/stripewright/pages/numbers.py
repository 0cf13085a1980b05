"""Numbers, prices and dates in the site's language, by Babel; each formatted once and kept."""

from __future__ import annotations

from datetime import date
from functools import lru_cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from babel import Locale

QUARTERS = ("", "¼", "½", "¾")
INCH_CM = 2.54
"""Exact by definition, as are the two below (international yard and pound agreement, 1959)."""
YARD_M = 0.9144
OUNCE_G = 28.349523125


@lru_cache(maxsize=8)
def locale_of(language: str, terms: str) -> Locale:
    """The locale of a language tag; plain `en` is British or American as the terms are.

    An unknown language is shown in English, which the pages' own words are in.
    """
    from babel import Locale, UnknownLocaleError  # noqa: PLC0415  # slow to import

    if language == "en":
        language = "en-US" if terms == "us" else "en-GB"
    try:
        return Locale.parse(language, sep="-")
    except (UnknownLocaleError, ValueError):
        return Locale.parse("en_GB")


@lru_cache(maxsize=8)
def _symbols(locale: Locale) -> tuple[str, str]:
    symbols = locale.number_symbols["latn"]
    return symbols["decimal"], symbols["group"]


def decimal(value: float, digits: int, locale: Locale) -> str:
    """A number with at most so many digits after the point, thousands grouped."""
    text = f"{value:,.{digits}f}"
    if digits:
        text = text.rstrip("0").rstrip(".")
    if text == "-0":
        text = "0"
    point, group = _symbols(locale)
    if (point, group) == (".", ","):
        return text
    return text.translate({ord(","): group, ord("."): point})


@lru_cache(maxsize=4096)
def price(amount: float, currency: str, locale: Locale) -> str:
    """A price with its currency."""
    from babel.numbers import format_currency  # noqa: PLC0415  # slow to import

    return str(format_currency(amount, currency, locale=locale))


@lru_cache(maxsize=4096)
def day(iso: str, locale: Locale) -> str:
    """A date in words, from its ISO form."""
    from babel.dates import format_date  # noqa: PLC0415  # slow to import

    return str(format_date(date.fromisoformat(iso), "long", locale=locale))


def inches(cm: float, locale: Locale) -> str:
    """Inches to the nearest quarter, as a tape shows them."""
    quarters = round(abs(cm) / INCH_CM * 4)
    whole, rest = divmod(quarters, 4)
    head = decimal(whole, 0, locale) if whole or not rest else ""
    return ("−" if cm < 0 and quarters else "") + head + QUARTERS[rest]


def duration(minutes: int) -> str:
    """Minutes in hours and minutes: `45 min`, `2 h`, `3 h 30 min`."""
    hours, rest = divmod(minutes, 60)
    parts = [f"{hours} h"] if hours else []
    if rest or not hours:
        parts.append(f"{rest} min")
    return " ".join(parts)


def rounded_minutes(minutes: int) -> int:
    """Minutes as a reader wants them: to 5 under an hour, else to a quarter of an hour."""
    step = 5 if minutes < 60 else 15
    return max(step, round(minutes / step) * step)


def iso_duration(minutes: int) -> str:
    """Minutes as an ISO 8601 duration: `PT3H30M`."""
    hours, rest = divmod(minutes, 60)
    return "PT" + (f"{hours}H" if hours else "") + (f"{rest}M" if rest or not hours else "")
