"""Yarns, swatches and gauge, as written."""

from __future__ import annotations

from typing import Literal

from pydantic import Field, model_validator

from stripewright.pattern.base import Written
from stripewright.pattern.quantities import Ball, Centimetres, Colour, GaugeText, Grams, Price


class BallOnSale(Written):
    """A size of ball that the yarn is sold in."""

    ball: Ball
    """Mass and length, as on the band."""
    price: Price | None = None
    """The price of one."""


class Yarn(Written):
    """A yarn of the pattern; its key is what stripes name it by."""

    name: str = Field(min_length=1, max_length=80)
    """What the yarn or colour is called on the page."""
    colour: Colour
    """Six hex digits in quotes."""
    role: str | None = Field(default=None, pattern=r"^(MC|CC[1-9][0-9]?)$")
    """MC (main colour) or CC1, CC2, ... (contrast colours); left out, the first yarn is MC and the rest count up."""
    weight: int | None = Field(default=None, ge=0, le=7)
    """Yarn weight class, 0 (lace) to 7 (jumbo), of the Craft Yarn Council's Standard Yarn Weight System."""
    fibre: str | None = Field(default=None, max_length=80)
    """What it is made of."""
    ball: Ball | None = None
    """The one size it is sold in."""
    price: Price | None = None
    """The price of that ball."""
    balls: tuple[BallOnSale, ...] = ()
    """Several sizes it is sold in, instead of `ball` and `price`."""
    strands: int = Field(default=1, ge=1, le=6)
    """Strands held together."""

    @model_validator(mode="after")
    def _one_way_of_balls(self) -> Yarn:
        if self.balls and (self.ball or self.price):
            raise ValueError("give either ball and price, or balls; not both")
        if self.price and not self.ball:
            raise ValueError("a price needs its ball beside it, like ball: 100 g / 120 m")
        return self

    @property
    def on_sale(self) -> tuple[BallOnSale, ...]:
        """Every size it is sold in; empty when the author gave none."""
        return self.balls or ((BallOnSale(ball=self.ball, price=self.price),) if self.ball else ())


class Unravelled(Written):
    """Yarn measured by pulling out stitches of the swatch."""

    stitches: int = Field(ge=1, le=100_000)
    """How many stitches were pulled out."""
    length: Centimetres = Field(gt=0)
    """The yarn they gave, straightened and not stretched."""


class Swatch(Written):
    """A test piece: counted stitches and rows, measured and weighed after washing and resting."""

    stitches: int = Field(ge=1, le=10_000)
    """Stitches counted across."""
    rows: int = Field(ge=1, le=10_000)
    """Rows counted along."""
    width: Centimetres = Field(gt=0)
    """What those stitches measure."""
    length: Centimetres = Field(gt=0)
    """What those rows measure."""
    mass: Grams | None = Field(default=None, gt=0)
    """What those stitches and rows weigh, cast-on and tails left out."""
    unravelled: Unravelled | None = None
    """A length of yarn measured from the swatch."""


class Machine(Written):
    """How the needles stand, and how many there are."""

    bed: Literal["circular", "flat"]
    """circular (knits a tube in the round, or a panel back and forth) or flat."""
    needles: int = Field(ge=4, le=1000)
    """Needles on the bed."""
    pitch: Centimetres | None = Field(default=None, gt=0)
    """Distance from needle to needle, where it is known."""


class Gauge(Written):
    """Gauge typed in directly, when there is no swatch to show."""

    gauge: GaugeText
    """Stitches and rows over a length."""
