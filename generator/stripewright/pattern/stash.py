"""content/stash.yaml: the yarns that there are, and what a pattern's yarns take from them."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING, Annotated, Any

from pydantic import BeforeValidator, Field, PrivateAttr, WithJsonSchema, model_validator

from stripewright.catalogue import say
from stripewright.pattern.base import AuthorModel, Key, OneLine, Whole, Wrong, shown
from stripewright.pattern.quantities import GRAM, mass_g, number, tidy
from stripewright.pattern.quantity_types import Ball, Colour, Price
from stripewright.problems import Problem, did_you_mean, error, has_errors
from stripewright.studio import STASH

if TYPE_CHECKING:
    from stripewright.pattern.pattern import Pattern
    from stripewright.pattern.yarns import Yarn
    from stripewright.source.document import Document

_TAKEN = ("name", "colour", "weight", "fibre", "ball", "price")
"""What a pattern's yarn takes of the stash's, and all of the stash that is ever published."""

_BALLS = re.compile(r"(?P<balls>[0-9.,/ ½¼¾⅓⅔⅛⅜⅝⅞]+?)\s*balls?(?:\s*(?:and|,|\+)\s*(?P<mass>.+))?")
_EXAMPLE = say("write it like 340 g, or 2 1/2 balls, or 2 balls and 30 g")


@dataclass(frozen=True, slots=True)
class Left:
    """What is left of a yarn: balls, and grams beside them."""

    balls: float
    mass_g: float
    text: str


def left_over(value: Any) -> Left:
    """What is left, from `340 g`, `12 oz`, `2 1/2 balls` or `2 balls and 30 g`."""
    if isinstance(value, Left):
        return value
    text = tidy(value)
    match = _BALLS.fullmatch(text)
    try:
        balls = number(match["balls"]) if match else 0.0
        beside = match["mass"] if match else text
        mass = mass_g(beside) if beside and _ends_in_mass(beside) else None
    except ValueError:
        raise Wrong(say("{number} doesn't say what is left", shown(value)), _EXAMPLE) from None
    if mass is None and (match is None or beside):
        raise Wrong(say("{number} doesn't say what is left", shown(value)), _EXAMPLE)
    return Left(balls, mass or 0.0, text)


def _ends_in_mass(text: str) -> bool:
    unit = re.search(r"([A-Za-z]+)\.?$", text)
    return unit is not None and unit[1].lower() in GRAM


LeftOver = Annotated[
    Left,
    BeforeValidator(left_over),
    WithJsonSchema(
        {
            "type": "string",
            "pattern": r"^\s*[0-9.,½¼¾⅓⅔⅛⅜⅝⅞].*[A-Za-z]\.?\s*$",
            "examples": ["340 g"],
        }
    ),
]


class StashYarn(AuthorModel):
    """A yarn that there is; patterns' yarns point to it by its key: `from: stash.deep`.

    Its place and what is left of it never reach the site, nor anything of a yarn that no published
    pattern points to.
    """

    name: OneLine = Field(max_length=80, examples=["Deep water"])
    """What the yarn or colour is called."""
    colour: Colour
    """Six hex digits, in quotes because YAML takes what follows a bare # for a comment."""
    left: LeftOver = Field(examples=["340 g"])
    """What is left of it: a mass, or balls and a part (340 g, 2 1/2 balls, 2 balls and 30 g)."""
    ball: Ball | None = None
    """Mass and length of a whole ball, as on its band."""
    price: Price | None = None
    """The price of one ball."""
    weight: Whole | None = Field(default=None, ge=0, le=7, examples=["5"])
    """Weight class of the Craft Yarn Council, 0 (lace) to 7 (jumbo)."""
    fibre: OneLine | None = Field(default=None, max_length=80, examples=["wool"])
    """What it is made of."""
    where: OneLine | None = Field(default=None, max_length=120, examples=["top shelf, left box"])
    """Where it is; for its owner only."""
    note: OneLine | None = Field(default=None, max_length=300, examples=["from the grey jumper"])
    """Anything else worth knowing; for its owner only."""

    @model_validator(mode="after")
    def _balls_have_a_mass(self) -> StashYarn:
        if self.left.balls and self.ball is None:
            raise Wrong(
                say("{text} has no ball to go by", shown(self.left.text)),
                "add ball: 100 g / 120 m, or write what is left in grams",
                ("left",),
            )
        if self.price and self.ball is None:
            raise Wrong(
                "the price has no ball beside it", "add it, like ball: 100 g / 120 m", ("price",)
            )
        return self

    @property
    def left_g(self) -> float:
        """What is left, in g."""
        return self.left.mass_g + self.left.balls * (self.ball.mass_g if self.ball else 0.0)


class Stash(AuthorModel):
    """The yarns that there are."""

    yarns: dict[Key, StashYarn] = Field(
        max_length=2000,
        examples=['{deep: {name: Deep water, colour: "#1f3d5c", left: 340 g}}'],
    )
    """The yarns by key."""

    _broken: bool = PrivateAttr(default=False)

    @property
    def broken(self) -> bool:
        """Whether it has mistakes, so that it stands in for what was meant."""
        return self._broken

    def as_spare(self) -> Stash:
        """The same, known to stand in for one with mistakes."""
        self._broken = True
        return self

    def left_of(self, pattern: Pattern) -> dict[str, float]:
        """What is left in g of each of a pattern's yarns that come from here, by its key there."""
        return {
            key: self.yarns[yarn.source].left_g
            for key, yarn in pattern.yarns.items()
            if yarn.source in self.yarns
        }


def taken_from(
    pattern: Pattern, document: Document, stash: Stash | None
) -> tuple[Pattern | None, list[Problem]]:
    """A pattern whose yarns have what they take from the stash; what they say themselves stays.

    Args:
        pattern: as written.
        document: where, for the places of yarns that aren't in the stash.
        stash: None where the studio has none.

    Returns:
        The pattern, or None when a yarn points to nothing.
    """
    if not any(yarn.source for yarn in pattern.yarns.values()):
        return pattern, []
    known = stash.yarns if stash else {}
    problems: list[Problem] = []
    yarns = {}
    for key, yarn in pattern.yarns.items():
        yarns[key] = yarn
        if yarn.source in known:
            yarns[key] = _filled(yarn, known[yarn.source])
        elif yarn.source is not None and not (stash and stash.broken):
            problems.append(_missing(yarn.source, document, key, stash))
        elif yarn.source is not None:
            yarns[key] = _filled(yarn, StashYarn.model_validate(_STAND_IN))
    if has_errors(problems):
        return None, problems
    return pattern.model_copy(update={"yarns": yarns}), problems


_STAND_IN = {"name": "Yarn", "colour": "#808080", "left": "0 g"}
"""Of a stash with mistakes, which are told where they stand; nothing comes of the pattern then."""


def _missing(source: str, document: Document, key: str, stash: Stash | None) -> Problem:
    place = document.place("yarns", key, "from")
    if stash is None:
        return error(
            place,
            say("there is no stash to take stash.{source} from", source),
            say("list your yarns in {stash}, or write the yarn here", STASH),
        )
    names = [f"stash.{name}" for name in stash.yarns]
    return error(
        place,
        say("the stash has no yarn called {source}", source),
        did_you_mean(f"stash.{source}", names, say("add it to {stash}", STASH)),
    )


def _filled(yarn: Yarn, there: StashYarn) -> Yarn:
    """A pattern's yarn with what it doesn't say itself; a price goes with its ball."""
    own = yarn.model_fields_set
    sold = {"ball", "balls"} & own
    update = {
        name: getattr(there, name)
        for name in _TAKEN
        if name not in own and not (sold and name in ("ball", "price"))
    }
    return yarn.model_copy(update=update)
