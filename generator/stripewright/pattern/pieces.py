"""The pieces that a pattern is made of, as written."""

from __future__ import annotations

from typing import Any, Literal

from pydantic import Field, model_validator

from stripewright.pattern.base import Written
from stripewright.pattern.quantities import Centimetres, Share
from stripewright.pattern.stripes import MOST_ROWS, StripeItem

EdgeKind = Literal["open", "seamed", "gathered", "grafted", "hemmed"]


class Edge(Written):
    """An end of a piece and how it is finished, written `seamed`, or `{edge: seamed, rows: 2}`."""

    edge: EdgeKind
    """open (cast on or bound off and left), seamed, gathered, grafted or hemmed."""
    rows: int | None = Field(default=None, ge=0, le=200)
    """Allowance rows, when the author knows better than common practice."""

    @model_validator(mode="before")
    @classmethod
    def _from_text(cls, value: Any) -> Any:
        return {"edge": value} if isinstance(value, str) else value


class Opening(Written):
    """A gap left in a seam or knitted as a slit: a thumb hole, a place to turn and fill."""

    what: str = Field(min_length=1, max_length=60)
    """What it is for."""
    after: int = Field(ge=0, le=MOST_ROWS)
    """Visible rows below it."""
    rows: int = Field(ge=1, le=MOST_ROWS)
    """Visible rows it is high."""
    side: Literal["left", "right", "both"] = "right"
    """Which side edge."""


class Fringe(Written):
    """Strands knotted into the ends of a scarf."""

    length: Centimetres = Field(gt=0, le=100)
    """Finished length of a strand."""
    strands: int = Field(default=2, ge=1, le=20)
    """Strands a tassel, counted before folding."""
    every: int = Field(default=2, ge=1, le=50)
    """Stitches from tassel to tassel."""
    yarn: str | None = None
    """Its yarn; left out, the yarn of the stripe at that end."""


class Piece(Written):
    """One piece, knitted in one go. Its key in `pieces:` is its name."""

    title: str | None = Field(default=None, max_length=80)
    """What it is called on the page; left out, the key."""
    form: Literal["tube", "panel"]
    """tube (two layers when laid flat) or panel."""
    make: int = Field(default=1, ge=1, le=200)
    """How many are knitted alike."""
    needles: int | None = Field(default=None, ge=2, le=1000)
    """Needles in work; left out, the whole bed."""
    ends: tuple[Edge, Edge] = (Edge(edge="open"), Edge(edge="open"))
    """How the cast-on end and the last end are finished."""
    sides: Literal["open", "seamed", "joined"] = "open"
    """A panel's side edges: left open, seamed to each other, or joined to the next panel."""
    like: str | None = None
    """Another piece whose form and rows it takes."""
    yarn: str | None = None
    """One yarn for the whole piece, instead of stripes."""
    stripes: tuple[StripeItem, ...] | None = Field(default=None, min_length=1)
    """Stripes with their visible rows; allowances are added."""
    parts: tuple[StripeItem, ...] | None = Field(default=None, min_length=1)
    """Stripes with their shares of `length` or `rows`."""
    length: Centimetres | None = Field(default=None, gt=0)
    """Finished length to reach."""
    rows: int | None = Field(default=None, ge=1, le=MOST_ROWS)
    """Visible rows to reach."""
    width: Centimetres | None = Field(default=None, gt=0)
    """Width wished for, laid flat: the page says which needle count or how many panels reach it."""
    least: int = Field(default=1, ge=1, le=MOST_ROWS)
    """The fewest rows of any shared-out stripe."""
    filled: bool | None = None
    """Whether it holds filling; left out, a closed tube of a pattern with `fill` does."""
    fold: int | Literal["half"] | None = None
    """Visible rows after which it is folded, or half: a double-layer hat, a hem, a bag."""
    openings: tuple[Opening, ...] = ()
    """Gaps in a side or seam."""
    fringe: Fringe | None = None
    """Fringe at both ends."""

    @model_validator(mode="after")
    def _rows_come_one_way(self) -> Piece:
        ways = [name for name in ("stripes", "parts") if getattr(self, name) is not None]
        if self.like is None and self.yarn is None and not ways:
            raise ValueError("a piece needs its rows: stripes, parts, a plain yarn, or like another piece")
        if len(ways) == 2:
            raise ValueError("give stripes or parts, not both")
        if self.yarn is not None and ways:
            raise ValueError("a piece with stripes or parts has no yarn of its own")
        needs = self.parts is not None or (self.yarn is not None and self.like is None)
        if needs and (self.length is None) == (self.rows is None):
            raise ValueError("give one of length and rows to share out, like length: 38 cm")
        if self.stripes is not None and (self.length is not None or self.rows is not None):
            raise ValueError("stripes state the rows; write parts to share out a length or rows")
        return self


class Fill(Written):
    """Filling, written `medium`, or with what is known of it."""

    firmness: Literal["light", "medium", "firm"] = "medium"
    """How firmly it is filled."""
    material: str | None = Field(default=None, max_length=80)
    """What it is filled with."""
    mass: str | float | None = None
    """The author's weighed filling, like 420 g; it wins over the estimate."""
    density: float | None = Field(default=None, gt=0, le=500)
    """Filling in kg per cubic metre (the same as g per litre), when known."""

    @model_validator(mode="before")
    @classmethod
    def _from_text(cls, value: Any) -> Any:
        return {"firmness": value} if isinstance(value, str) else value


class Fit(Written):
    """What a hat is fitted to."""

    head: Centimetres | None = Field(default=None, gt=20, lt=80)
    """Head circumference."""
    wearer: str | None = None
    """A wearer of the table of head sizes, instead of a measure."""
    ease: Share = -0.1
    """Finished girth against the head: -10 % is a tenth smaller."""
