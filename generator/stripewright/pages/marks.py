"""The small marks that pages set around numbers and terms, for scripts and style sheets to find.

A measure is shown in both systems, the reader's usual one first, and keeps its exact value:
`<span class="measure" data-kind="length" data-cm="38.2">38.2 cm (15 in)</span>`.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Any

from jinja2 import pass_context
from markupsafe import Markup, escape

from stripewright.catalogue import N_, plain, spoken
from stripewright.figures import Figures
from stripewright.phrases import Measure, Phrase

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from stripewright.view.views import SiteView

TERMS: Mapping[str, str] = {
    "tension": N_("tension"),
    "cast_off": N_("cast off"),
    "colour": N_("colour"),
}
"""Words that differ between the UK and the US, by the name that templates use."""

_KINDS = {"cm": "length", "m": "distance", "g": "mass"}
"""What a measure in a unit is of."""

_TERM = Markup('<span class="term" data-term="{}">{}</span>')
_TIME = Markup('<time datetime="{}">{}</time>')


@dataclass(frozen=True, slots=True)
class Spans:
    """Filters of the templates, for one site."""

    figures: Figures

    @classmethod
    def of(cls, site: SiteView) -> Spans:
        """For a site's language, units and terms."""
        return cls(Figures.of(site))

    def filters(self) -> dict[str, Callable[..., str]]:
        """By the name that templates use."""
        return {
            "marked": marked,
            "term": _asked_anew(self.term),
            "day": _asked_anew(self.day),
            "number": _asked_anew(self.figures.number),
            "in_size": in_size,
        }

    def term(self, key: str) -> Markup:
        """A word that differs between the UK and the US, marked. Raises KeyError."""
        return _TERM.format(key, plain(TERMS[key]))

    def day(self, iso: str) -> Markup:
        """A date in words, marked."""
        return _TIME.format(iso, self.figures.day(date.fromisoformat(iso)))


def _asked_anew(tell: Callable[[Any], str]) -> Callable[..., str]:
    """A filter whose answer is the site's, and so never becomes part of a compiled template."""

    @pass_context
    def asked(_context: object, value: Any) -> str:
        return tell(value)

    return asked


def own_language(language: str) -> Markup:
    """The attribute that marks the author's own words on a page in another language."""
    if language == "en" or language == spoken().tag:
        return Markup()
    return Markup(' lang="{}"').format(language)


_HEADING = re.compile(r"(</?h)([2-5])(?=[ >])")
_NAMED = re.compile(r"""(\bid="|\bhref="#)(?=h-)""")


def in_size(html: str, key: str) -> Markup:
    """The author's text under the heading of a size: headings a level lower, named by the size."""
    lower = _HEADING.sub(lambda found: f"{found[1]}{int(found[2]) + 1}", html)
    return Markup(_NAMED.sub(rf"\g<1>{key}-", lower))  # noqa: S704  # safe html, of which no text is changed


def marked(words: Measure | Phrase) -> Markup:
    """A measure, or a phrase with every measure in it, marked."""
    if isinstance(words, Measure):
        return _measure(words)
    parts = (_measure(one) if isinstance(one, Measure) else escape(one) for one in words.parts)
    return Markup().join(parts)


def _measure(one: Measure) -> Markup:
    """Digits, units and brackets only: nothing in it needs escaping."""
    mark = (
        f'<span class="measure" data-kind="{_KINDS[one.unit]}" data-{one.unit}="{one.value:g}">'
        f"{one.text}</span>"
    )
    return Markup(mark)  # noqa: S704  # see above
