"""Days, and times in a film, as the author writes them."""

from __future__ import annotations

import re
from datetime import date
from typing import Any

from stripewright.catalogue import say
from stripewright.pattern.base import Wrong, shown
from stripewright.pattern.quantities import tidy

YEARS = range(1900, 2200)
"""A year outside these is a slip of the finger."""


def iso_date(value: Any) -> date:
    """A day, from `2026-09-05`."""
    if isinstance(value, date):
        return value
    if not isinstance(value, str) or not re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", value):
        raise Wrong(
            say("{number} is not a date", shown(value)),
            "write year, month and day, like 2026-09-05",
        )
    try:
        day = date.fromisoformat(value)
    except ValueError:
        raise Wrong(
            say("{number} is not a day of the calendar", shown(value)), "write it like 2026-09-05"
        ) from None
    if day.year not in YEARS:
        raise Wrong(say("{number} is not a likely year", shown(value)), "write it like 2026-09-05")
    return day


def clock_s(value: Any) -> int:
    """A time into a video in s, from `2:30` or `1:02:30`."""
    text = tidy(value)
    if not re.fullmatch(r"([0-9]{1,2}:)?[0-9]{1,2}:[0-5][0-9]", text):
        raise Wrong(
            say("{number} is not a time in a video", shown(value)),
            "write minutes and seconds, like 2:30 or 1:02:30",
        )
    seconds = 0
    for part in text.split(":"):
        seconds = seconds * 60 + int(part)
    return seconds
