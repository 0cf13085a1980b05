"""Yarns, swatches and gauge, as written."""

from __future__ import annotations

import re
from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field, StringConstraints, WithJsonSchema, model_validator

from stripewright.catalogue import _, say
from stripewright.pattern.base import ROLE, AuthorModel, Key, OneLine, Whole, Wrong, shown
from stripewright.pattern.quantity_types import Ball, Centimetres, Colour, Grams, Price

Role = Annotated[str, StringConstraints(pattern=ROLE)]

_STASH_KEY = re.compile(r"stash\.([a-z][a-z0-9_]{0,39})")


def _stash_key(value: Any) -> str:
    """The key of a yarn of the stash, from `stash.deep`."""
    match = _STASH_KEY.fullmatch(value.strip()) if isinstance(value, str) else None
    if match is None:
        bare = isinstance(value, str) and _STASH_KEY.fullmatch(f"stash.{value.strip()}")
        right = f"stash.{value.strip()}" if bare and isinstance(value, str) else "stash.deep"
        raise Wrong(
            say("{number} is no yarn of the stash", shown(value)),
            say("write it like {right}", right),
        )
    return match[1]


StashKey = Annotated[
    str,
    BeforeValidator(_stash_key),
    WithJsonSchema(
        {"type": "string", "pattern": rf"^\s*{_STASH_KEY.pattern}\s*$", "examples": ["stash.deep"]}
    ),
]
"""How a pattern's yarn points to one of the stash: `from: stash.deep`."""


class BallOnSale(AuthorModel):
    """A size of ball that the yarn is sold in."""

    ball: Ball
    """Mass and length, as on the band."""
    price: Price | None = None
    """The price of one."""


class Yarn(AuthorModel):
    """A yarn of the pattern; its key is what stripes name it by."""

    name: OneLine = Field(default="", max_length=80, examples=["Deep water"])
    """What the yarn or colour is called on the page; it must be there, or come from the stash."""
    source: StashKey | None = Field(default=None, alias="from", examples=["stash.deep"])
    """A yarn of content/stash.yaml: what isn't said here of name, colour, weight class, fibre,
    ball and price is taken from there."""
    colour: Colour | None = None
    """Six hex digits, in quotes because YAML takes what follows a bare # for a comment; only a
    `marl` has none of its own."""
    marl: tuple[Key, ...] = Field(default=(), max_length=4, examples=["[deep, foam]"])
    """Yarns of this pattern that are held together: each keeps its own balls, and the marl is drawn
    as all of them."""
    role: Role | None = Field(default=None, examples=["MC"])
    """MC (main colour) or CC1, CC2, ... (contrast colours); left out, the first yarn is MC."""
    weight: Whole | None = Field(default=None, ge=0, le=7, examples=["5"])
    """Weight class of the Craft Yarn Council, 0 (lace) to 7 (jumbo)."""
    fibre: OneLine | None = Field(default=None, max_length=80, examples=["wool"])
    """What it is made of."""
    ball: Ball | None = None
    """The one size it is sold in, mass and length as on the band."""
    price: Price | None = None
    """The price of that ball."""
    balls: tuple[BallOnSale, ...] = Field(
        default=(), max_length=20, examples=["[{ball: 50 g / 60 m, price: 2.50}]"]
    )
    """Several sizes it is sold in, instead of `ball` and `price`."""
    strands: Whole = Field(default=1, ge=1, le=6, examples=["2"])
    """Strands held together."""

    @model_validator(mode="after")
    def _a_colour_or_a_marl(self) -> Yarn:
        if not self.name and self.source is None:
            raise Wrong("this yarn has no name", "add name: Deep water")
        if not self.marl:
            if self.colour is None and self.source is None:
                raise Wrong(_("this yarn has no colour"), 'add colour: "#1f3d5c"')
            return self
        if len(set(self.marl)) < 2:
            raise Wrong("a marl is of two yarns or more", "write marl: [deep, foam]", ("marl",))
        for name in ("colour", "ball", "price", "balls", "strands", "source"):
            if name in self.model_fields_set:
                key = "from" if name == "source" else name
                raise Wrong(
                    say("a marl is knitted from other yarns, and has no {key} of its own", key),
                    say("leave {key} out: the yarns named in marl have theirs", key),
                    (key,),
                )
        return self

    @model_validator(mode="after")
    def _one_way_of_balls(self) -> Yarn:
        if self.balls and (self.ball or self.price):
            beside = "ball" if self.ball else "price"
            raise Wrong(
                "balls and ball both say how the yarn is sold", "keep one of them", (beside,)
            )
        if self.price and not self.ball and self.source is None:
            raise Wrong(
                "the price has no ball beside it", "add it, like ball: 100 g / 120 m", ("price",)
            )
        return self

    @property
    def on_sale(self) -> tuple[BallOnSale, ...]:
        """Every size it is sold in; empty when the author gave none."""
        return self.balls or ((BallOnSale(ball=self.ball, price=self.price),) if self.ball else ())


class Unravelled(AuthorModel):
    """Yarn measured by pulling out stitches of the swatch."""

    stitches: Whole = Field(ge=1, le=100_000, examples=["200"])
    """How many stitches were pulled out."""
    length: Centimetres = Field(gt=0, examples=["620 cm"])
    """The yarn they gave, straightened and not stretched."""


class Swatch(AuthorModel):
    """A test piece: counted stitches and rows, measured and weighed after washing and resting."""

    stitches: Whole = Field(ge=1, le=10_000, examples=["40"])
    """Stitches counted across."""
    rows: Whole = Field(ge=1, le=10_000, examples=["60"])
    """Rows counted along."""
    width: Centimetres = Field(gt=0, le=1000, examples=["30 cm"])
    """What those stitches measure."""
    length: Centimetres = Field(gt=0, le=1000, examples=["29 cm"])
    """What those rows measure."""
    mass: Grams | None = Field(default=None, gt=0, le=10_000, examples=["62 g"])
    """What those stitches and rows weigh, cast-on and tails left out."""
    unravelled: Unravelled | None = Field(
        default=None, examples=["{stitches: 200, length: 620 cm}"]
    )
    """Yarn measured from it, when it can't be weighed; `mass`, with a yarn's `ball`, wins."""
    setting: OneLine | None = Field(default=None, max_length=80, examples=["middle tension"])
    """What the machine was set to; it is printed wherever the gauge is."""


class Machine(AuthorModel):
    """How the needles stand, and how many there are."""

    bed: Literal["circular", "flat"] = Field(examples=["circular"])
    """circular (knits a tube in the round, or a panel back and forth) or flat."""
    needles: Whole = Field(ge=4, le=1000, examples=["40"])
    """Needles on the bed."""
    pitch: Centimetres | None = Field(default=None, gt=0, le=10, examples=["9 mm"])
    """Distance from needle to needle, where it is known."""
    every: Whole = Field(default=1, ge=1, le=10, examples=["2"])
    """Needles left out: 2 works every second needle, so that 46 needles knit a tube of 23."""
    counter_at: OneLine | None = Field(default=None, max_length=60, examples=["blue needle"])
    """The needle at which the row counter trips, by its mark or number; left out, the first."""
    hold: OneLine | None = Field(default=None, max_length=80, examples=["two small weights"])
    """What holds the work down while it is knitted, like weights or a hand; left out, nothing is
    said of it."""

    @property
    def in_work(self) -> int:
        """Needles that knit when none is put out of work but those left out."""
        return -(-self.needles // self.every)

    @model_validator(mode="after")
    def _evenly_round(self) -> Machine:
        if self.bed == "circular" and self.needles % self.every:
            right = next(n for n in range(self.every, 0, -1) if self.needles % n == 0)
            raise Wrong(
                say(
                    "every {every} doesn't go round {needles} needles evenly",
                    self.every,
                    self.needles,
                ),
                say("write every: {right}", right),
                ("every",),
            )
        return self
