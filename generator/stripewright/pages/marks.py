"""The small marks that pages set around numbers and terms, for scripts and style sheets to find.

A measure is shown in both systems, the reader's usual one first, and keeps its exact value:
`<span class="measure" data-kind="length" data-cm="38.2">38.2 cm (15 in)</span>`.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from markupsafe import Markup

from stripewright.pages import numbers

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from babel import Locale

    from stripewright.pages.cards import Card
    from stripewright.view.views import PatternView, SiteView

TERMS: Mapping[str, tuple[str, str]] = {
    "tension": ("tension", "gauge"),
    "cast_off": ("cast off", "bind off"),
    "colour": ("colour", "color"),
}
"""Words that differ, as (UK, US)."""

_TERM = Markup('<span class="term" data-term="{}">{}</span>')
_TIME = Markup('<time datetime="{}">{}</time>')


@dataclass(frozen=True, slots=True)
class Marks:
    """Filters of the templates, for one site."""

    locale: Locale
    imperial: bool
    us: bool

    @classmethod
    def of(cls, site: SiteView) -> Marks:
        """For a site's language, units and terms."""
        locale = numbers.locale_of(site.language, site.terms)
        return cls(locale, site.units == "imperial", site.terms == "us")

    def filters(self) -> dict[str, Callable[..., str]]:
        """By the name that templates use."""
        return {
            "cm": self.length,
            "grams": self.mass,
            "metres": self.distance,
            "plain_cm": self.plain_length,
            "plain_grams": self.plain_mass,
            "plain_metres": self.plain_distance,
            "term": self.term,
            "day": self.day,
            "price": self.price,
            "number": self.number,
            "minutes": numbers.duration,
            "time_span": time_span,
            "rc": rc,
        }

    def _both(self, metric: str, imperial: str) -> str:
        return f"{imperial} ({metric})" if self.imperial else f"{metric} ({imperial})"

    def plain_length(self, cm: float) -> str:
        """A length in both systems, as text."""
        cm_text = numbers.decimal(cm, 1, self.locale)
        return self._both(f"{cm_text} cm", f"{numbers.inches(cm, self.locale)} in")

    def plain_mass(self, g: float) -> str:
        """A mass in both systems, as text: to 0.1 g under 10 g, else to 1 g."""
        ounces = numbers.decimal(g / numbers.OUNCE_G, 1, self.locale)
        return self._both(
            f"{numbers.decimal(g, 1 if g < 10 else 0, self.locale)} g", f"{ounces} oz"
        )

    def plain_distance(self, m: float) -> str:
        """A length of yarn in both systems, as text: to 0.1 m under 10 m, else to 1 m."""
        digits = 1 if m < 10 else 0
        yards = numbers.decimal(m / numbers.YARD_M, digits, self.locale)
        return self._both(f"{numbers.decimal(m, digits, self.locale)} m", f"{yards} yd")

    def length(self, cm: float) -> Markup:
        """A length, marked."""
        return _measure("length", "cm", cm, self.plain_length(cm))

    def mass(self, g: float) -> Markup:
        """A mass, marked."""
        return _measure("mass", "g", g, self.plain_mass(g))

    def distance(self, m: float) -> Markup:
        """A length of yarn, marked."""
        return _measure("distance", "m", m, self.plain_distance(m))

    def term(self, key: str) -> Markup:
        """A word that differs between the UK and the US, marked. Raises KeyError."""
        return _TERM.format(key, TERMS[key][self.us])

    def day(self, iso: str) -> Markup:
        """A date in words, marked."""
        return _TIME.format(iso, numbers.day(iso, self.locale))

    def price(self, amount: float, currency: str) -> str:
        """A price."""
        return numbers.price(amount, currency, self.locale)

    def number(self, value: float, digits: int = 0) -> str:
        """A number."""
        return numbers.decimal(value, digits, self.locale)


def _measure(kind: str, unit: str, value: float, text: str) -> Markup:
    """A marked measure. Digits, units and brackets only: nothing in it needs escaping."""
    mark = f'<span class="measure" data-kind="{kind}" data-{unit}="{value:g}">{text}</span>'
    return Markup(mark)  # noqa: S704  # see above


def rc(reading: int) -> str:
    """What the row counter reads, as its three wheels show it."""
    return f"RC {reading:03d}"


def time_span(item: PatternView | Card) -> str:
    """How long it takes, from the least to the most."""
    low = numbers.rounded_minutes(item.minutes_low)
    high = numbers.rounded_minutes(item.minutes_high)
    if low == high:
        return f"about {numbers.duration(low)}"
    return f"{numbers.duration(low)} to {numbers.duration(high)}"
