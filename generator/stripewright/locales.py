"""Numbers, prices and days as a language writes them, by Babel."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from datetime import date

    from babel import Locale


@lru_cache(maxsize=8)
def locale_of(language: str, terms: str) -> Locale:
    """The locale of a language tag; plain `en` is British or American as the terms are.

    An unknown language is shown in English, which the pages' own words are in.
    """
    from babel import Locale, UnknownLocaleError

    if language == "en":
        language = "en-US" if terms == "us" else "en-GB"
    try:
        return Locale.parse(language, sep="-")
    except (UnknownLocaleError, ValueError):
        return Locale.parse("en_GB")


@lru_cache(maxsize=8)
def signs_of(language: str, terms: str) -> tuple[str, str]:
    """The decimal point and the mark between thousands."""
    if language in {"en", "en-GB", "en-US"}:
        return ".", ","  # so that a check alone needn't wait for Babel
    symbols = locale_of(language, terms).number_symbols["latn"]
    return symbols["decimal"], symbols["group"]


@lru_cache(maxsize=4096)
def price_in(amount: float, currency: str, language: str, terms: str) -> str:
    """A price with its currency."""
    from babel.numbers import format_currency

    return str(format_currency(amount, currency, locale=locale_of(language, terms)))


@lru_cache(maxsize=4096)
def day_in(day: date, language: str, terms: str) -> str:
    """A day in words."""
    from babel.dates import format_date

    return str(format_date(day, "long", locale=locale_of(language, terms)))
