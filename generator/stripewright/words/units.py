"""Lengths and masses as a reader measures them: rounded once, here, in both systems."""

from __future__ import annotations

from typing import Literal

Units = Literal["metric", "imperial"]

CM_PER_IN = 2.54
M_PER_YD = 0.9144
G_PER_OZ = 28.349523125

_QUARTERS = {0: "", 1: "¼", 2: "½", 3: "¾"}


def _rounded(value: float, digits: int = 0) -> str:
    """A number rounded half up (not half to even, which surprises readers), without idle zeros."""
    scale = 10**digits
    whole = int(abs(value) * scale + 0.5 + 1e-9)
    text = f"{whole / scale:.{digits}f}"
    if digits:
        text = text.rstrip("0").rstrip(".")
    return f"-{text}" if value < 0 and whole else text


def cm_text(cm: float) -> str:
    """`14 cm`; whole cm from 10 cm up, halves of mm are never told."""
    return f"{_rounded(cm, 0 if abs(cm) >= 10 else 1)} cm"


def inch_text(cm: float) -> str:
    """`5½ in`; quarters under 10 in, halves from there up."""
    inches = abs(cm) / CM_PER_IN
    quarters = int(inches * 4 + 0.5 + 1e-9) if inches < 10 else int(inches * 2 + 0.5 + 1e-9) * 2
    whole, rest = divmod(quarters, 4)
    text = f"{whole or ''}{_QUARTERS[rest]}" or "0"
    return f"{'-' if cm < 0 and quarters else ''}{text} in"


def m_text(m: float) -> str:
    """`64 m`; tenths under 10 m."""
    return f"{_rounded(m, 0 if abs(m) >= 10 else 1)} m"


def yd_text(m: float) -> str:
    """`70 yd`; tenths under 10 yd."""
    yards = m / M_PER_YD
    return f"{_rounded(yards, 0 if abs(yards) >= 10 else 1)} yd"


def g_text(g: float) -> str:
    """`240 g`; tenths under 10 g."""
    return f"{_rounded(g, 0 if abs(g) >= 10 else 1)} g"


def oz_text(g: float) -> str:
    """`8.5 oz`."""
    return f"{_rounded(g / G_PER_OZ, 1)} oz"


def both(first: str, second: str, units: Units) -> str:
    """A measure in the studio's own units, the other in brackets."""
    return f"{first} ({second})" if units == "metric" else f"{second} ({first})"


def length_text(cm: float, units: Units) -> str:
    """`14 cm (5½ in)`, or `5½ in (14 cm)` for a studio that counts in inches."""
    return both(cm_text(cm), inch_text(cm), units)


def mass_text(g: float, units: Units) -> str:
    """`240 g (8.5 oz)`, or the other way round."""
    return both(g_text(g), oz_text(g), units)


def run_text(m: float, units: Units) -> str:
    """A length of yarn: `64 m (70 yd)`, or the other way round."""
    return both(m_text(m), yd_text(m), units)


def counter_text(rows: int) -> str:
    """What the row counter shows: `RC 027`."""
    return f"RC {rows:03d}"
