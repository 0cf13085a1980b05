"""Colourways, as written: one pattern in several palettes."""

from __future__ import annotations

from pydantic import Field, model_validator

from stripewright.pattern.base import AuthorModel, Key, OneLine, Wrong
from stripewright.pattern.quantity_types import Ball, Colour, Price
from stripewright.pattern.yarns import BallOnSale


class ColourwayYarn(AuthorModel):
    """What a yarn is in a colourway; what is left out stays as the pattern has it."""

    name: OneLine | None = Field(default=None, max_length=80, examples=["Heather"])
    """What the yarn or colour is called."""
    colour: Colour
    """Six hex digits, in quotes."""
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

    @model_validator(mode="after")
    def _one_way_of_balls(self) -> ColourwayYarn:
        if self.balls and (self.ball or self.price):
            beside = "ball" if self.ball else "price"
            raise Wrong(
                "balls and ball both say how the yarn is sold", "keep one of them", (beside,)
            )
        return self


class Colourway(AuthorModel):
    """The same pattern in other colours."""

    title: OneLine | None = Field(default=None, max_length=80, examples=["Heather and rain"])
    """What the colourway is called; left out, its key."""
    yarns: dict[Key, ColourwayYarn] = Field(
        min_length=1, max_length=26, examples=['{deep: {name: Heather, colour: "#7b5f8c"}}']
    )
    """What its yarns are, by the keys of the pattern's own; those left out stay."""
