"""The pattern: one file's front matter as one frozen model."""

from __future__ import annotations

from typing import Any, Literal

from pydantic import Field, model_validator

from stripewright.pattern.base import Written
from stripewright.pattern.pieces import Fill, Fit, Piece
from stripewright.pattern.quantities import (
    Centimetres,
    Clock,
    Day,
    GaugeText,
    Price,
    Share,
)
from stripewright.pattern.yarns import Machine, Swatch, Yarn

KEY = r"^[a-z][a-z0-9_]*$"
"""Keys of yarns and pieces: they are also names in the body's template."""

SLUG = r"^[a-z0-9]+(-[a-z0-9]+)*$"
"""Slugs stand in addresses and file names on any system."""

Level = Literal["basic", "easy", "intermediate", "complex"]
"""The four project levels of the Craft Yarn Council."""

ThingKind = Literal["cushion", "draught excluder", "hat", "cowl", "scarf", "wrist warmers",
                    "blanket", "bag", "bunting", "toy", "other"]  # fmt: skip


class Tails(Written):
    """Lengths of yarn left hanging."""

    inside: Centimetres = Field(default=14.0, ge=5, le=60)
    """At a colour change inside the piece."""
    seam: Centimetres | None = Field(default=None, gt=0, le=1000)
    """To sew an end; left out, it is worked out from the seam and its technique."""


class Waste(Written):
    """Waste yarn before and after each piece."""

    rows: int = Field(default=5, ge=0, le=50)
    """Rows knitted with it at each end."""


class Pace(Written):
    """How fast the author knits and makes up."""

    rows_per_minute: float = Field(default=8.0, gt=0, le=200)
    """Rows cranked in a minute, with looking and clearing."""
    change_minutes: float = Field(default=2.0, ge=0, le=60)
    """Minutes a colour change."""
    setup_minutes: float = Field(default=10.0, ge=0, le=240)
    """Minutes to cast on and take off a piece."""
    making_up_minutes: float = Field(default=45.0, ge=0, le=6000)
    """Minutes to make up the whole."""


class Chapter(Written):
    """A part of the video."""

    at: Clock
    """Where it begins, like 2:30."""
    title: str = Field(min_length=1, max_length=120)
    """What it shows."""
    step: str | None = None
    """The step it belongs to: a piece's key, `making up`, or a technique's name."""


class Video(Written):
    """A film of how it is made."""

    url: str = Field(pattern=r"^https://")
    """Its address."""
    title: str | None = Field(default=None, max_length=120)
    """What it is called."""
    chapters: tuple[Chapter, ...] = ()
    """Its parts."""


class Correction(Written):
    """Something that was wrong and is mended."""

    date: Day
    """When it was mended."""
    text: str = Field(min_length=1, max_length=1000)
    """What changed, for someone who has begun."""


class Photo(Written):
    """A picture in content/photos."""

    file: str = Field(pattern=r"^[A-Za-z0-9][A-Za-z0-9._-]*$")
    """The file's name."""
    alt: str = Field(min_length=1, max_length=300)
    """What it shows, in words."""


class MakingUp(Written):
    """One step of making up, written `seam_end cover`, or in full."""

    do: str = Field(pattern=KEY)
    """A technique's name."""
    pieces: tuple[str, ...] = ()
    """The pieces it is done to."""
    note: str | None = Field(default=None, max_length=500)
    """What the technique's own words don't say."""

    @model_validator(mode="before")
    @classmethod
    def _from_text(cls, value: Any) -> Any:
        if isinstance(value, str) and value.split():
            do, *pieces = value.split()
            return {"do": do, "pieces": pieces}
        return value


class Size(Written):
    """The same pattern worked for another bed, gauge or yarn."""

    title: str | None = Field(default=None, max_length=80)
    """What the size is called; left out, its key."""
    keep: Literal["size", "proportions"] = "size"
    """Whether the finished length stays, or length and width change together."""
    machine: Machine | None = None
    """Another bed."""
    swatch: Swatch | None = None
    """Another swatch."""
    gauge: GaugeText | None = None
    """Another gauge, typed in."""
    weight: int | None = Field(default=None, ge=0, le=7)
    """The yarn weight class of all yarns in this size."""


class Pattern(Written):
    """A pattern's front matter."""

    title: str = Field(min_length=1, max_length=120)
    """The pattern's name."""
    summary: str = Field(min_length=1, max_length=300)
    """One sentence for cards and lists."""
    slug: str | None = Field(default=None, pattern=SLUG, max_length=80)
    """Its address; left out, the file's name."""
    kind: ThingKind = "other"
    """What it is."""
    access: Literal["free", "paid"] = "free"
    """Whether everyone may read all of it, or buyers only."""
    price: Price | None = None
    """A paid pattern's price."""
    shop: str | None = Field(default=None, pattern=r"^https://")
    """Where a paid pattern is sold."""
    published: Day | None = None
    """The day it appears: a day ahead is held back, none at all is a draft."""
    updated: Day | None = None
    """The day of the last change that a reader should know of."""
    version: str = Field(default="1", max_length=20, coerce_numbers_to_str=True)
    """Printed on sheets and packs."""
    level: Level = "easy"
    """basic, easy, intermediate or complex."""
    tags: tuple[str, ...] = Field(default=(), max_length=20)
    """Words to find it by."""
    machine: Machine
    """The bed it is written for."""
    swatch: Swatch | tuple[Swatch, ...] | None = None
    """One swatch, or a list of several."""
    gauge: GaugeText | None = None
    """Gauge typed in, when there is no swatch."""
    yarns: dict[str, Yarn] = Field(min_length=1, max_length=26)
    """The yarns by key, in the order of their letters."""
    pieces: dict[str, Piece] = Field(min_length=1, max_length=40)
    """The pieces by key, in the order they are knitted."""
    fill: Fill | None = None
    """Filling."""
    fit: Fit | None = None
    """What a hat is fitted to."""
    tails: Tails = Tails()
    """Lengths of yarn left hanging."""
    waste: Waste = Waste()
    """Waste yarn."""
    margin: Share = Field(default=0.1, ge=0, le=1)
    """Yarn bought beyond what is worked out."""
    pace: Pace | None = None
    """The pace of this pattern; left out, the studio's."""
    making_up: tuple[MakingUp, ...] | None = None
    """Making up, step by step; left out, it is worked out from the pieces."""
    techniques: dict[str, str] = {}
    """This pattern's own words for a technique, by its name."""
    sizes: dict[str, Size] = {}
    """Further sizes."""
    audience: Literal["anyone", "infant", "child", "pet"] = "anyone"
    """Whom the finished thing is for; it decides cautions."""
    cords: bool = False
    """Whether it has cords or ties."""
    small_parts: bool = False
    """Whether it has buttons, beads or other small parts."""
    steam: bool = False
    """Whether it is pressed or steamed."""
    cautions: tuple[str, ...] = ()
    """Further cautions, added to those that follow from the facts."""
    video: Video | None = None
    """A film of how it is made."""
    photos: tuple[Photo, ...] = ()
    """Pictures of the finished thing."""
    corrections: tuple[Correction, ...] = ()
    """What was wrong and is mended."""
    licence: str | None = Field(default=None, max_length=500)
    """What a reader may do with it; left out, the studio's."""
    credit: str | None = Field(default=None, max_length=200)
    """Who designed it, when not the studio's maker."""

    @property
    def swatches(self) -> tuple[Swatch, ...]:
        """The swatches, however they were written."""
        if self.swatch is None:
            return ()
        return (self.swatch,) if isinstance(self.swatch, Swatch) else self.swatch

    @model_validator(mode="after")
    def _paid_has_a_price(self) -> Pattern:
        if self.access == "paid" and (self.price is None or self.shop is None):
            raise ValueError("a paid pattern needs its price and shop, like price: 6.50 and "
                             "shop: https://shop.example.org/item")  # fmt: skip
        if self.access == "free" and (self.price is not None or self.shop is not None):
            raise ValueError("a free pattern has no price and no shop; write access: paid to sell it")
        if (self.swatch is None) == (self.gauge is None):
            raise ValueError("give one of swatch and gauge, like gauge: 14 sts x 21 rows / 10 cm")
        return self
