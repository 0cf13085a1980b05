"""Times as they are told: a moment of a film, and how long something takes."""

from __future__ import annotations

from stripewright.catalogue import _
from stripewright.figures import rounded


def clock(seconds: int) -> str:
    """A moment of a film: `2:05`, or with hours `1:02:05`."""
    minutes, second = divmod(seconds, 60)
    hours, minute = divmod(minutes, 60)
    return f"{hours}:{minute:02}:{second:02}" if hours else f"{minute}:{second:02}"


def minutes_told(minutes: float) -> int:
    """Minutes as a reader wants them: to 5 under an hour, else to a quarter of an hour."""
    step = 5 if minutes < 60 else 15
    return max(step, int(rounded(minutes / step)) * step)


def duration(minutes: int) -> str:
    """Minutes in hours and minutes: `45 min`, `2 h`, `3 h 30 min`."""
    hours, rest = divmod(minutes, 60)
    if not hours:
        return _("{minutes} min", minutes=rest)
    if not rest:
        return _("{hours} h", hours=hours)
    return _("{hours} h {minutes} min", hours=hours, minutes=rest)


def time_span(low: float, high: float) -> str:
    """How long something takes, from the least to the most minutes."""
    least, most = duration(minutes_told(low)), duration(minutes_told(high))
    if least == most:
        return _("about {amount}", amount=least)
    return _("{low} to {high}", low=least, high=most)
