"""The pieces that a pattern is made of, as written."""

from __future__ import annotations

import re
from typing import Annotated, Any, ClassVar, Literal

from pydantic import BeforeValidator, Field, WithJsonSchema, model_validator

from stripewright.catalogue import say
from stripewright.pattern.amounts import ByYarn
from stripewright.pattern.base import AuthorModel, Key, Number, OneLine, Whole, Wrong, Yes, shown
from stripewright.pattern.edge import Edge
from stripewright.pattern.quantity_types import Centimetres, Grams, Share
from stripewright.pattern.run import MOST_ROWS
from stripewright.pattern.stripes import StripeItem, of_kind
from stripewright.pattern.yarns import Machine


def _fold(value: Any) -> Any:
    if value == "half" or (
        isinstance(value, int) and not isinstance(value, bool) and 0 < value <= MOST_ROWS
    ):
        return value
    raise Wrong(
        say("{number} is no place to fold", shown(value)),
        "write half, or a number of rows, like 40",
    )


Fold = Annotated[int | Literal["half"], BeforeValidator(_fold)]
"""Where a piece is folded."""


class Opening(AuthorModel):
    """A gap left in a seam or knitted as a slit: a thumb hole, a place to turn and fill."""

    what: OneLine = Field(max_length=60, examples=["thumb"])
    """What it is for; public, of a paid pattern too."""
    after: Whole = Field(ge=0, le=MOST_ROWS, examples=["24"])
    """Visible rows below it."""
    rows: Whole = Field(ge=1, le=MOST_ROWS, examples=["10"])
    """Visible rows it is high."""
    side: Literal["left", "right", "both"] = Field(default="right", examples=["left"])
    """Which side edge."""


class Fringe(AuthorModel):
    """Strands knotted into the ends of a scarf."""

    length: Centimetres = Field(gt=0, le=100, examples=["12 cm"])
    """Finished length of a strand."""
    strands: Whole = Field(default=2, ge=1, le=20, examples=["3"])
    """Strands a tassel, counted before folding."""
    every: Whole = Field(default=2, ge=1, le=50, examples=["4"])
    """Stitches from tassel to tassel."""
    yarn: Key | None = Field(default=None, examples=["deep"])
    """Its yarn; left out, the yarn of the stripe at that end."""


_ROWS = re.compile(r"\s*([0-9]{1,5})(?:\s*rows?)?\s*")


def _rows(value: Any) -> Any:
    if isinstance(value, int) and not isinstance(value, bool):
        return value
    if isinstance(value, str) and (match := _ROWS.fullmatch(value)):
        return int(match[1])
    raise Wrong(say("{number} is no number of rows", shown(value)), "write it like 30 rows")


Rows = Annotated[
    int,
    BeforeValidator(_rows),
    WithJsonSchema({"anyOf": [{"type": "integer"}, {"type": "string", "pattern": _ROWS.pattern}]}),
]
"""Rows, written `30` or `30 rows`."""


class Attach(AuthorModel):
    """Where a piece is sewn on, written `body`, or `{to: body, at: 30 rows}`."""

    text_form: ClassVar[dict[str, Any] | None] = {"type": "string", "examples": ["body"]}

    to: Key = Field(examples=["body"])
    """The piece that it is sewn to."""
    at: Rows | None = Field(default=None, ge=0, le=MOST_ROWS, examples=["30 rows"])
    """Visible rows of that piece below it; left out, the words of making up say where."""

    @model_validator(mode="before")
    @classmethod
    def _from_text(cls, value: Any) -> Any:
        return {"to": value} if isinstance(value, str) else value


class Brim(AuthorModel):
    """A hat's brim, or another tube's cuff: doubled, turned up outside, or both."""

    doubled: Rows | None = Field(default=None, ge=1, le=MOST_ROWS, examples=["16 rows"])
    """Rows of a double layer: the edge is knitted so much longer, in that stripe's yarn, folded
    inside and sewn down. For a layer inside with stripes of its own, write `fold`."""
    turned_up: Rows | None = Field(default=None, ge=1, le=MOST_ROWS, examples=["12 rows"])
    """Rows that are turned up outside. They show their other face and cover as many rows behind
    them, so the piece is worn so much shorter: of one layer the wrong side shows, of a double
    layer the right side of what lay inside."""

    @model_validator(mode="after")
    def _says_something(self) -> Brim:
        if self.doubled is None and self.turned_up is None:
            raise Wrong(
                "this brim says nothing", "write {turned_up: 12 rows}, or {doubled: 16 rows}"
            )
        return self


class Piece(AuthorModel):
    """One piece, knitted in one go. Its key in `pieces:` is its name."""

    title: OneLine | None = Field(default=None, max_length=80, examples=["Inner bag"])
    """What it is called on the page; left out, the key."""
    form: Literal["tube", "panel"] = Field(examples=["tube"])
    """tube (two layers when laid flat) or panel."""
    make: Whole = Field(default=1, ge=1, le=200, examples=["2"])
    """How many are knitted alike."""
    machine: Machine | None = Field(default=None, examples=["{bed: circular, needles: 46}"])
    """The bed that this piece is knitted on, when it isn't the pattern's."""
    needles: Whole | None = Field(default=None, ge=2, le=1000, examples=["30"])
    """Needles in work; left out, the whole bed."""
    ends: tuple[Edge, Edge] = Field(
        default=(Edge(edge="open"), Edge(edge="open")), examples=["[seamed, gathered]"]
    )
    """How the cast-on end and the last end are finished; left out, a lining is closed where
    its cover is, and in the same way."""
    sides: Literal["open", "seamed", "joined"] = Field(default="open", examples=["joined"])
    """A panel's side edges: left open, seamed to each other, or joined to the next panel."""
    like: Key | None = Field(default=None, examples=["cover"])
    """Another piece whose rows it takes; with a `yarn` of its own it is that piece's lining.
    A lining is knitted as many rows as its cover shows; what its ends take up comes off that, so
    that made up it is a little shorter and sits inside without strain."""
    yarn: Key | None = Field(default=None, examples=["foam"])
    """One yarn for the whole piece, instead of stripes."""
    stripes: tuple[StripeItem, ...] | None = Field(
        default=None, min_length=1, examples=["[deep 16, foam 9, deep 16]"]
    )
    """Stripes with their visible rows; allowances are added. `deep 23 g` and `foam 12 m` knit as
    many whole rows as that yarn does, and `deep rest` what `length` or `rows` leaves. Of a paid
    pattern their number and the order of their colours are public, their rows never."""
    parts: tuple[StripeItem, ...] | None = Field(
        default=None, min_length=1, examples=["[deep 2, foam 1, deep 2]"]
    )
    """Stripes with their shares of `length` or `rows`. Of a paid pattern their number and the
    order of their colours are public, their shares never."""
    length: Centimetres | None = Field(default=None, gt=0, le=10_000, examples=["38 cm"])
    """Finished length to reach."""
    rows: Whole | None = Field(default=None, ge=1, le=MOST_ROWS, examples=["78"])
    """Visible rows to reach; of a lining, rows to knit."""
    width: Centimetres | None = Field(default=None, gt=0, le=10_000, examples=["120 cm"])
    """Width wished for, laid flat: the page says which needle count or how many panels reach it."""
    least: Whole = Field(default=1, ge=1, le=MOST_ROWS, examples=["3"])
    """The fewest rows of any shared-out stripe."""
    repeats: Literal["exact", "whole"] = Field(default="exact", examples=["whole"])
    """exact fills `length` or `rows` to the row; whole gives parts of one weight the same rows, or
    knits the `stripes` as many whole times as come nearest to it."""
    carry: Whole = Field(default=0, ge=0, le=40, examples=["4"])
    """Rows over which a yarn that comes again is carried up, not cut; 0 cuts at every change."""
    filled: Yes | None = Field(default=None, examples=["yes"])
    """Whether it holds filling; left out, a closed tube of a pattern with `fill` does."""
    fold: Fold | None = Field(default=None, examples=["half"])
    """Visible rows after which it is folded, or half: a double-layer hat, a hem, a bag."""
    brim: Brim | None = Field(default=None, examples=["{turned_up: 12 rows}"])
    """A brim at its free edge (of two, the cast-on end), or at the fold of a double layer."""
    openings: tuple[Opening, ...] = Field(
        default=(), max_length=20, examples=["[{what: thumb, after: 24, rows: 10}]"]
    )
    """Gaps in a side or seam."""
    fringe: Fringe | None = Field(default=None, examples=["{length: 12 cm, every: 4}"])
    """Fringe at both ends."""
    attach: Attach | None = Field(default=None, examples=["{to: body, at: 30 rows}"])
    """The piece that this one is sewn to."""

    @model_validator(mode="after")
    def _rows_come_one_way(self) -> Piece:
        ways = [name for name in ("stripes", "parts") if getattr(self, name) is not None]
        if self.like is None and self.yarn is None and not ways:
            raise Wrong(
                "this piece has no rows",
                "give it stripes, parts, a yarn with a length, or like: another piece",
            )
        if len(ways) == 2:
            raise Wrong("stripes and parts both say the rows", "keep one of them", ("parts",))
        if self.yarn is not None and ways:
            raise Wrong(
                say("a piece with {ways} has no yarn of its own", ways[0]),
                "name the yarns in the stripes",
                ("yarn",),
            )
        needs = self.parts is not None or (self.yarn is not None and self.like is None)
        if needs and self.length is None and self.rows is None:
            what = (
                say("parts have no length or rows to share out")
                if self.parts
                else say("a plain piece has no length")
            )
            raise Wrong(what, "add it, like length: 38 cm or rows: 78", tuple(ways) or ("yarn",))
        if self.length is not None and self.rows is not None:
            raise Wrong("length and rows both say how long it is", "keep one of them", ("rows",))
        filled = self.length is not None or self.rows is not None
        rests = self._check_by_yarn(filled=filled)
        if self.stripes is not None and filled and self.repeats == "exact" and not rests:
            beside = "rows" if self.length is None else "length"
            raise Wrong(
                say("stripes state the rows, and {beside} does too", beside),
                "write parts to share out a length or rows, or add repeats: whole",
                (beside,),
            )
        return self

    def _check_by_yarn(self, *, filled: bool) -> bool:
        """Whether a stripe takes the rest; refuses stripes by their yarn where they can't be."""
        for item, path in of_kind(self.parts or (), ("parts",), ByYarn):
            raise Wrong(
                say("{told} is no share", item.told), "write stripes instead of parts", path
            )
        found = [*of_kind(self.stripes or (), ("stripes",), ByYarn)]
        rests = [(item, path) for item, path in found if item.amount.takes == "rest"]
        if rests and not filled:
            item, path = rests[0]
            raise Wrong(
                say("{told} has no length or rows to take the rest of", item.told),
                "add it, like length: 38 cm or rows: 78",
                path,
            )
        if found and self.repeats == "whole":
            raise Wrong(
                say("what {told} knits can't be repeated to fill a length", found[0][0].told),
                "leave repeats out, and let one stripe take the rest, like deep rest",
                ("repeats",),
            )
        if found and filled and not rests:
            beside = "rows" if self.length is None else "length"
            raise Wrong(
                say("stripes state the rows, and {beside} does too", beside),
                "let one stripe take the rest, like deep rest, or leave it out",
                (beside,),
            )
        return bool(rests)


class Fill(AuthorModel):
    """Filling, written `medium`, or with what is known of it."""

    text_form: ClassVar[dict[str, Any] | None] = {
        "enum": ["light", "medium", "firm"],
        "examples": ["medium"],
    }

    firmness: Literal["light", "medium", "firm"] = Field(default="medium", examples=["firm"])
    """How firmly it is filled."""
    material: OneLine | None = Field(default=None, max_length=80, examples=["wool fleece"])
    """What it is filled with; public, of a paid pattern too."""
    mass: Grams | None = Field(default=None, gt=0, le=100_000, examples=["420 g"])
    """The author's weighed filling; it wins over the estimate."""
    density: Number | None = Field(default=None, gt=0, le=500, examples=["25"])
    """Filling in kg per cubic metre (the same as g per litre), when known."""

    @model_validator(mode="before")
    @classmethod
    def _from_text(cls, value: Any) -> Any:
        return {"firmness": value} if isinstance(value, str) else value


class Fit(AuthorModel):
    """What a hat is fitted to."""

    head: Centimetres | None = Field(default=None, gt=20, lt=80, examples=["56 cm"])
    """Head circumference."""
    wearer: OneLine | None = Field(default=None, max_length=60, examples=["woman"])
    """A wearer of the table of head sizes, instead of a measure."""
    ease: Share = Field(default=-0.1, ge=-0.6, le=0.6, examples=["-10 %"])
    """Finished girth against the head: -10 % is a tenth smaller."""

    @model_validator(mode="after")
    def _one_head(self) -> Fit:
        if self.head is None and self.wearer is None:
            raise Wrong(
                "there is no head to fit", "add head: 56 cm, or wearer: with a wearer of the table"
            )
        if self.head is not None and self.wearer is not None:
            raise Wrong("head and wearer both say the size", "keep one of them", ("wearer",))
        return self
