"""The small marks that pages set around numbers and terms, for scripts and style sheets to find.

A measure is shown in both systems, the reader's usual one first, and keeps its exact value:
`<span class="measure" data-kind="length" data-cm="38.2">38.2 cm (15 in)</span>`.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from markupsafe import Markup

from stripewright import figures
from stripewright.figures import Figures

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from stripewright.pages.cards import Card
    from stripewright.view.views import GaugeView, PatternView, SiteView

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

    figures: Figures

    @classmethod
    def of(cls, site: SiteView) -> Marks:
        """For a site's language, units and terms."""
        return cls(Figures.of(site))

    def filters(self) -> dict[str, Callable[..., str]]:
        """By the name that templates use."""
        return {
            "cm": self.length,
            "grams": self.mass,
            "metres": self.distance,
            "plain_grams": self.figures.mass,
            "plain_metres": self.figures.yarn,
            "gauge": self.gauge,
            "term": self.term,
            "day": self.day,
            "price": self.figures.price,
            "number": self.figures.number,
            "time_span": time_span,
            "rc": figures.rc,
        }

    def length(self, cm: float) -> Markup:
        """A length, marked."""
        return _measure("length", "cm", cm, self.figures.length(cm))

    def mass(self, g: float) -> Markup:
        """A mass, marked."""
        return _measure("mass", "g", g, self.figures.mass(g))

    def distance(self, m: float) -> Markup:
        """A length of yarn, marked."""
        return _measure("distance", "m", m, self.figures.yarn(m))

    def term(self, key: str) -> Markup:
        """A word that differs between the UK and the US, marked. Raises KeyError."""
        return _TERM.format(key, TERMS[key][self.figures.terms == "us"])

    def day(self, iso: str) -> Markup:
        """A date in words, marked."""
        return _TIME.format(iso, self.figures.day(date.fromisoformat(iso)))

    def gauge(self, gauge: GaugeView) -> str:
        """Stitches and rows, over 10 cm and over 4 in."""
        return self.figures.gauge((gauge.stitches_10cm, gauge.rows_10cm),
                                  (gauge.stitches_4in, gauge.rows_4in))  # fmt: skip


def _measure(kind: str, unit: str, value: float, text: str) -> Markup:
    """A marked measure. Digits, units and brackets only: nothing in it needs escaping."""
    mark = f'<span class="measure" data-kind="{kind}" data-{unit}="{value:g}">{text}</span>'
    return Markup(mark)  # noqa: S704  # see above


def time_span(item: PatternView | Card) -> str:
    """How long it takes, from the least to the most."""
    return figures.time_span(item.minutes_low, item.minutes_high)
