"""Stripes given by the yarn that is there for them: `deep 23 g`, `foam 12 m`, `deep rest`.

How many rows that yarn knits needs a gauge, so it is worked out in `compute.by_yarn`.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Annotated, Any, ClassVar

from pydantic import BeforeValidator, Field, WithJsonSchema, model_validator

from stripewright.catalogue import _, say
from stripewright.pattern.base import AuthorModel, Key, Wrong, shown
from stripewright.pattern.quantities import CM, GRAM, length_cm, mass_g, tidy

_FROM_A_METRE = 80.0
"""cm: yarn is told in metres, yards or feet; what is shorter is the height of a stripe."""
_SMALL = frozenset(unit for unit, cm in CM.items() if cm < _FROM_A_METRE and cm != CM["ft"])
_TAKES = ("rest", "all")
_UNITS = "|".join(
    re.escape(unit) for unit in sorted([*GRAM, *CM], key=lambda unit: (-len(unit), unit))
)
_STRIPE = re.compile(
    rf"\s*(?P<yarn>[^\s]+)\s+(?P<amount>rest|all|[-−]?[0-9.,¼½¾⅓⅔⅛⅜⅝⅞][^A-Za-z\"″”']*(?:{_UNITS})\.?)\s*",
    re.IGNORECASE,
)
_TURNED = re.compile(
    rf"\s*(?P<amount>[0-9.,¼½¾⅓⅔⅛⅜⅝⅞][^A-Za-z]*(?:{_UNITS})\.?)\s+(?:of\s+)?(?P<yarn>[a-z]\w*)\s*"
)


@dataclass(frozen=True, slots=True)
class YarnAmount:
    """What there is of a yarn for a stripe: grams, or metres, or `rest` or `all`."""

    text: str
    """As it was written."""
    mass_g: float | None = None
    length_m: float | None = None

    @property
    def takes(self) -> str:
        """`rest`, `all`, or empty for an amount."""
        return self.text if self.text in _TAKES else ""


def yarn_amount(value: Any) -> YarnAmount:
    """What there is of a yarn, from `23 g`, `0.8 oz`, `12 m`, `13 yd`, `rest` or `all`."""
    if isinstance(value, YarnAmount):
        return value
    text = tidy(value)
    if text.lower() in _TAKES:
        return YarnAmount(text.lower())
    unit = re.sub(r"^[^A-Za-z\"″”']*|\.$", "", text).lower()
    if unit in _SMALL:
        raise Wrong(
            say("{number} may be yarn, or how high the stripe is", shown(value)),
            _("write its rows, like 16, or the yarn in metres or yards, like 0.2 m"),
        )
    if text.startswith("-"):
        raise Wrong(
            say("{number} is less than nothing", shown(value)), "write it like 23 g or 12 m"
        )
    try:
        mass = mass_g(value) if unit in GRAM else None
        length = length_cm(value) / 100 if unit in CM else None
    except Wrong as fault:
        raise Wrong(fault.message, "write it like 23 g or 12 m") from None
    if mass is None and length is None:
        raise Wrong(
            say("{number} is no amount of yarn", shown(value)),
            "write its mass or length, like 23 g or 12 m, or rest, or all",
        )
    if not (mass or length):
        raise Wrong(
            say("{number} of yarn knits no row", shown(value)), "write what there is, like 23 g"
        )
    return YarnAmount(text, mass, length)


Amount = Annotated[
    YarnAmount,
    BeforeValidator(yarn_amount),
    WithJsonSchema(
        {
            "type": "string",
            "pattern": r"^\s*(rest|all|[0-9.,].*[A-Za-z]\.?)\s*$",
            "examples": ["23 g"],
        }
    ),
]


class ByYarn(AuthorModel):
    """A stripe of as many whole rows as some yarn knits, written `deep 23 g` or `foam 12 m`.

    Its tails, and what its ends take up, are counted in, and the amount is for all pieces that are
    made alike. `deep rest` takes the rows that the piece's `length` or `rows` leaves (several share
    them evenly); `deep all` knits all that the stash has left of a yarn that is `from` it.
    """

    text_form: ClassVar[dict[str, Any] | None] = {
        "type": "string",
        "pattern": r"^\s*\S+\s+(rest|all|[0-9.,].*[A-Za-z]\.?)\s*$",
        "examples": ["deep 23 g"],
    }

    yarn: Key = Field(examples=["deep"])
    """The yarn's key."""
    amount: Amount = Field(examples=["23 g"])
    """What there is of it for this stripe (g, kg, oz, lb, or m, yd, ft), `rest`, or `all`."""

    @model_validator(mode="before")
    @classmethod
    def _from_text(cls, value: Any) -> Any:
        match = _STRIPE.fullmatch(value) if isinstance(value, str) else None
        return match.groupdict() if match else value

    @property
    def told(self) -> str:
        """As it was written: `deep 23 g`."""
        return f"{self.yarn} {self.amount.text}"


def is_by_yarn(value: Any) -> bool:
    """Whether what was written is a stripe by its yarn, right or wrong."""
    if isinstance(value, ByYarn):
        return True
    if isinstance(value, dict):
        return "amount" in value
    return isinstance(value, str) and _STRIPE.fullmatch(value) is not None


def turned_round(value: str) -> str:
    """`23 g deep` or `23 g of deep` as it would be right, or empty."""
    match = _TURNED.fullmatch(value)
    return f"{match['yarn']} {match['amount']}" if match else ""
