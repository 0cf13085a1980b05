"""Every figure as it is told: rounded once, here, the same on page, paper, terminal and in steps.

Lengths in cm, yarn in m, masses in g, times in minutes. A half is rounded up (not to the even
neighbour, which surprises readers). Inches, yards and ounces follow from the unrounded value.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, floor, log10
from typing import TYPE_CHECKING, Protocol, Self

from stripewright.catalogue import _, plural
from stripewright.locales import day_in, locale_of, price_in, signs_of
from stripewright.phrases import Measure

if TYPE_CHECKING:
    from collections.abc import Iterable
    from datetime import date


CM_PER_IN = 2.54
"""Exact by definition, as are the two below (international yard and pound agreement, 1959)."""
M_PER_YD = 0.9144
G_PER_OZ = 28.349523125

_FEW = 10
"""Under so many, metres, yards and grams are told to a tenth, else whole."""
_EIGHTHS = ("", "⅛", "¼", "⅜", "½", "⅝", "¾", "⅞")
_EXACT = 1e-6
"""A count that is nearer to its tenth than this was measured so."""
_FUZZ = 1e-9
"""So that a half that is one bit short in binary is still rounded up."""


class Site(Protocol):
    """What figures need of the settings, or of what pages know of them."""

    @property
    def language(self) -> str:
        """As in the settings, like en-GB."""

    @property
    def terms(self) -> str:
        """The trade's terms: uk or us."""

    @property
    def units(self) -> str:
        """The system that comes first: metric or imperial."""


def rounded(value: float, digits: int = 0) -> float:
    """A number rounded half up, away from zero."""
    scale: int = 10**digits
    whole = int(abs(value) * scale + 0.5 + _FUZZ) / scale
    return -whole if value < 0 and whole else whole


def decimal(value: float, digits: int = 0, point: str = ".", group: str = "") -> str:
    """A number with at most so many digits after the point, without idle zeros."""
    text = f"{rounded(value, digits):,.{digits}f}"
    if digits:
        text = text.rstrip("0").rstrip(".")
    if (point, group) == (".", ","):
        return text
    return text.translate({ord(","): group, ord("."): point})


def eighths(cm: float, group: str = "") -> str:
    """A length in inches to the nearest eighth, as a tape shows them: `15⅛`."""
    count = int(rounded(abs(cm) / CM_PER_IN * 8))
    whole, rest = divmod(count, 8)
    head = decimal(whole, group=group) if whole or not rest else ""
    return f"{'-' if cm < 0 and count else ''}{head}{_EIGHTHS[rest]}"


def rc(row: int) -> str:
    """What the row counter shows, on its three wheels: `RC 014`."""
    return f"RC {row:03d}"


def reading(row: int, highest: int) -> str:
    """What the row counter reads, as wide as it gets to be in a piece: `014`."""
    return f"{row:0{max(3, len(str(highest)))}d}"


def filling_told(grams: float, *, weighed: bool) -> float:
    """Filling to have at hand, never rounded down: to 1 g if it was weighed, else two figures."""
    step = 1 if weighed or grams < 100 else 10 ** (floor(log10(grams)) - 1)
    return up_to(grams, step)


def up_to(value: float, step: int) -> float:
    """The next multiple of a step: what is bought or cut is never rounded down."""
    return float(ceil(value / step - _FUZZ) * step)


def counted(number: int, one: str, many: str) -> str:
    """A count with its noun, both forms of it a message: `1 row`, `12 rows`."""
    return f"{number} {plural(one, many, number)}"


def listed(names: Iterable[str]) -> str:
    """Names as a sentence lists them: `the cover, the lining and the strap`."""
    *most, last = names
    return _("{most} and {last}", most=", ".join(most), last=last) if most else last


@dataclass(frozen=True, slots=True)
class Figures:
    """Tells figures in one site's language, its own system of units first.

    Attributes:
        imperial: whether inches, yards and ounces come before cm, m and g.
        language: as in the settings, like en-GB; plain `en` is British or American as the terms.
        terms: uk or us.
    """

    imperial: bool = False
    language: str = "en"
    terms: str = "uk"

    @classmethod
    def of(cls, site: Site) -> Self:
        """For a studio's settings, or for what its pages know of them."""
        return cls(site.units == "imperial", site.language, site.terms)

    def _both(self, metric: str, imperial: str) -> str:
        return f"{imperial} ({metric})" if self.imperial else f"{metric} ({imperial})"

    def number(self, value: float, digits: int = 0) -> str:
        """A number with the language's own marks, thousands grouped."""
        return decimal(value, digits, *signs_of(self.language, self.terms))

    def _told(self, value: float) -> str:
        return self.number(value, 1 if abs(value) < _FEW else 0)

    def inches(self, cm: float) -> str:
        """A length in inches to the eighth, without its unit."""
        return eighths(cm, signs_of(self.language, self.terms)[1])

    def in_cm(self, cm: float) -> str:
        """A length in cm alone, to the millimetre."""
        return f"{self.number(cm, 1)} cm"

    def in_inches(self, cm: float) -> str:
        """A length in inches alone, to the eighth."""
        return f"{self.inches(cm)} in"

    def in_metres(self, metres: float) -> str:
        """Yarn in m alone."""
        return f"{self._told(metres)} m"

    def in_yards(self, metres: float) -> str:
        """Yarn in yards alone."""
        return f"{self._told(metres / M_PER_YD)} yd"

    def in_grams(self, grams: float) -> str:
        """A mass in g alone."""
        return f"{self._told(grams)} g"

    def in_ounces(self, grams: float) -> str:
        """A mass in ounces alone, to a tenth."""
        return f"{self.number(grams / G_PER_OZ, 1)} oz"

    def measure(self, unit: str, value: float) -> Measure:
        """A length in cm, of yarn in m, or a mass in g, with its value."""
        tell = {"cm": self.length, "m": self.yarn, "g": self.mass}[unit]
        return Measure(unit, value, tell(value))

    def small(self, cm: float) -> str:
        """A few millimetres, as needles stand apart: `9 mm`, with inches where those come first."""
        metric = f"{self.number(cm * 10, 1)} mm"
        return f"{self.number(cm / CM_PER_IN, 2)} in ({metric})" if self.imperial else metric

    def closely(self, cm: float) -> str:
        """A small length to a hundredth, in the studio's own system alone."""
        if self.imperial:
            return f"{self.number(cm / CM_PER_IN, 2)} in"
        return f"{rounded(cm, 2):.2f} cm"

    def to_write(self, cm: float) -> str:
        """The least length to write in a pattern that is no shorter: in the studio's own unit."""
        if self.imperial:
            return f"{decimal(ceil(cm / CM_PER_IN * 100 - _FUZZ) / 100, 2)} in"
        return f"{decimal(ceil(cm * 10 - _FUZZ) / 10, 1)} cm"

    def roughly(self, cm: float, also_cm: float) -> Measure:
        """A length rounded to whole cm, and to whole inches as `also_cm`: each of the true one."""
        text = self._both(self.in_cm(cm), f"{self.number(also_cm / CM_PER_IN)} in")
        return Measure("cm", cm, text)

    def length(self, cm: float) -> str:
        """A measure: `38.1 cm (15 in)`."""
        return self._both(self.in_cm(cm), self.in_inches(cm))

    def own_length(self, cm: float) -> str:
        """A measure in the studio's own system alone: `38.1 cm` or `15 in`."""
        return self.in_inches(cm) if self.imperial else self.in_cm(cm)

    def dimension(self, cm: float) -> str:
        """A measure as a dimension line carries it: `38.1 cm · 15 in`."""
        both = (self.in_cm(cm), self.in_inches(cm))
        return " · ".join(reversed(both) if self.imperial else both)

    def sides(self, *cm: float) -> str:
        """Two or three measures together: `38 × 52 cm (15 × 20½ in)`."""
        return self._both(
            f"{' × '.join(self.number(side, 1) for side in cm)} cm",
            f"{' × '.join(map(self.inches, cm))} in",
        )

    def cut(self, cm: float) -> str:
        """A length to cut or to leave, never rounded down: whole cm and whole inches."""
        return self._both(
            f"{self.number(up_to(cm, 1))} cm", f"{self.number(up_to(cm / CM_PER_IN, 1))} in"
        )

    def yarn(self, metres: float) -> str:
        """A length of yarn: `64 m (70 yd)`."""
        return self._both(self.in_metres(metres), self.in_yards(metres))

    def mass(self, grams: float) -> str:
        """A mass: `240 g (8.5 oz)`."""
        return self._both(self.in_grams(grams), self.in_ounces(grams))

    def gauge(
        self,
        to_10cm: tuple[float, float],
        to_4in: tuple[float, float],
        *,
        rough: tuple[bool, bool] = (False, False),
    ) -> str:
        """Stitches and rows over 10 cm and over 4 in, each to a tenth: as measured, or about so.

        Args:
            to_10cm: the counts over 10 cm, unrounded.
            to_4in: those over 4 in, unrounded.
            rough: of each, whether it stands for another that isn't told.
        """

        def told(counts: tuple[float, float], over: str, *, rough: bool) -> str:
            stitches, rows = (self.number(count, 1) for count in counts)
            said = _("{stitches} stitches and {rows} rows to {length}",
                     stitches=stitches, rows=rows, length=over)  # fmt: skip
            exact = not rough and all(abs(rounded(one, 1) - one) < _EXACT for one in counts)
            return said if exact else _("about {amount}", amount=said)

        return self._both(
            told(to_10cm, "10 cm", rough=rough[0]), told(to_4in, "4 in", rough=rough[1])
        )

    def price(self, amount: float, currency: str) -> str:
        """A price with its currency."""
        return price_in(amount, currency, self.language, self.terms)

    def day(self, day: date) -> str:
        """A day in words."""
        return day_in(day, self.language, self.terms)

    def language_name(self) -> str:
        """The studio's language, in its own words: English (United Kingdom)."""
        locale = locale_of(self.language, self.terms)
        return str(locale.get_display_name(locale))

    def day_of_year(self, day: date) -> str:
        """A day in words, without its year."""
        from babel.dates import format_skeleton

        return str(format_skeleton("MMMMd", day, locale=locale_of(self.language, self.terms)))


METRIC = Figures()
"""Figures of a document that belongs to no studio."""
