"""Amounts as paper says them: both systems of units, the studio's own first."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from datetime import date

    from stripewright.compute.worked import Figure

INCH_CM = 2.54
YARD_M = 0.9144
OUNCE_G = 28.349523125
_EIGHTHS = ("", "⅛", "¼", "⅜", "½", "⅝", "¾", "⅞")


@dataclass(frozen=True, slots=True)
class Amounts:
    """Writes amounts for one studio.

    Attributes:
        metric_first: whether cm and g come before inches and ounces.
        language: as in the settings, like en-GB.
    """

    metric_first: bool = True
    language: str = "en"

    def _both(self, metric: str, imperial: str) -> str:
        first, second = (metric, imperial) if self.metric_first else (imperial, metric)
        return f"{first} ({second})"

    def length(self, cm: float) -> str:
        """A finished measure: to 1 mm, and to an eighth of an inch."""
        return self._both(f"{self.number(cm, 1)} cm", f"{inches(cm)} in")

    def sides(self, *cm: float) -> str:
        """Two or three measures together: `38 × 52 cm (15 × 20½ in)`."""
        metric = " × ".join(self.number(side, 1) for side in cm)
        return self._both(f"{metric} cm", f"{' × '.join(inches(side) for side in cm)} in")

    def yarn(self, metres: float) -> str:
        """A length of yarn, rounded up to whole metres and yards."""
        return self._both(f"{_up(metres)} m", f"{_up(metres / YARD_M)} yd")

    def mass(self, grams: float) -> str:
        """A mass, to 1 g and to a tenth of an ounce."""
        ounces = self.number(grams / OUNCE_G, 1)
        return self._both(f"{self.number(grams, 0)} g", f"{ounces} oz")

    def number(self, value: float, digits: int) -> str:
        """A number with the language's decimal mark and no zeros behind it."""
        from babel.numbers import format_decimal  # noqa: PLC0415  # heavy

        rounded = round(value, digits)
        return format_decimal(rounded, "#,##0." + "#" * digits, self._locale)

    def money(self, amount: float, currency: str) -> str:
        """A price."""
        from babel.numbers import format_currency  # noqa: PLC0415  # heavy

        return format_currency(amount, currency, locale=self._locale)

    def day(self, day: date) -> str:
        """A day, written out."""
        from babel.dates import format_date  # noqa: PLC0415  # heavy

        return format_date(day, "long", locale=self._locale)

    @property
    def _locale(self) -> str:
        return self.language.replace("-", "_")


def inches(cm: float) -> str:
    """A length in inches to the nearest eighth: `15⅛`."""
    eighths = round(cm / INCH_CM * 8)
    whole, rest = divmod(eighths, 8)
    return f"{whole or ''}{_EIGHTHS[rest]}" or "0"


def span(figure: Figure) -> str:
    """Minutes as hours, with their range when it is wider than five minutes."""
    low, high = (5 * round(minutes / 5) for minutes in (figure.low, figure.high))
    return hours(low) if low == high else f"{hours(low)} to {hours(high)}"


def hours(minutes: int) -> str:
    """Minutes as hours and minutes: `2 h 30 min`."""
    whole, rest = divmod(minutes, 60)
    parts = ([f"{whole} h"] if whole else []) + ([f"{rest} min"] if rest or not whole else [])
    return " ".join(parts)


def _up(value: float) -> int:
    return -int(-round(value, 3) // 1)
