"""The stripes of a piece as the author gives them: stated, shared out, or built.

A list of stripes holds runs (`deep 16`) and builders (`repeat`, `mirror`, ...). The numbers are
visible rows under `stripes:`, and shares under `parts:`; the grammar is the same.
"""

from __future__ import annotations

import itertools
from typing import TYPE_CHECKING, Annotated, Any, Literal, TypeVar

from pydantic import Discriminator, Field, PrivateAttr, Tag, model_validator

from stripewright.catalogue import say
from stripewright.pattern.amounts import ByYarn, is_by_yarn
from stripewright.pattern.base import (
    TABLE,
    AuthorModel,
    Key,
    Number,
    OneLine,
    Whole,
    Wrong,
)
from stripewright.pattern.run import MOST_ROWS, Run
from stripewright.pattern.tables import Table

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from stripewright.source.places import Path

MOST_STRIPES = 850
"""Of all pieces and sizes of a pattern: two a day for a year, and to spare."""

_Item = TypeVar("_Item", bound=AuthorModel)


class Repeat(AuthorModel):
    """`{repeat: 3, stripes: [deep 4, foam 2]}`: the same stripes again and again."""

    repeat: Whole = Field(ge=1, le=1000, examples=["3"])
    """How many times."""
    stripes: tuple[StripeItem, ...] = Field(min_length=1, examples=["[deep 4, foam 2]"])
    """What is repeated."""


class Mirror(AuthorModel):
    """`{mirror: [deep 8, foam 4, sand 6]}`: there and back, the last stripe being the middle."""

    mirror: tuple[StripeItem, ...] = Field(min_length=1, examples=["[deep 8, foam 4, sand 6]"])
    """The first half, with the middle stripe last."""
    middle: Literal["once", "twice"] = Field(default="once", examples=["twice"])
    """Whether the middle stripe is knitted once (5 stripes from 3) or twice, as one wide stripe."""


class Fibonacci(AuthorModel):
    """`{fibonacci: [deep, foam], stripes: 6}`: 1, 1, 2, 3, 5, 8 rows, the yarns taking turns."""

    fibonacci: tuple[Key, ...] = Field(min_length=1, examples=["[deep, foam]"])
    """The yarns, in turn."""
    stripes: Whole = Field(ge=1, le=18, examples=["6"])
    """How many stripes."""
    times: Whole = Field(default=1, ge=1, le=100, examples=["2"])
    """Each number times this."""
    order: Literal["growing", "shrinking"] = Field(default="growing", examples=["shrinking"])
    """Which end is thin."""


class Graded(AuthorModel):
    """`{graded: [deep, foam], first: 12, by: -2, stripes: 5}`: each wider or thinner by a step."""

    graded: tuple[Key, ...] = Field(min_length=1, examples=["[deep, foam]"])
    """The yarns, in turn."""
    first: Whole = Field(ge=1, le=MOST_ROWS, examples=["12"])
    """Rows of the first stripe."""
    by: Whole = Field(default=-1, ge=-1000, le=1000, examples=["-2"])
    """What each stripe has more than the one before; less, with a minus."""
    stripes: Whole = Field(ge=1, le=500, examples=["5"])
    """How many stripes; none may fall under one row."""

    @model_validator(mode="after")
    def _none_under_one_row(self) -> Graded:
        if self.first + self.by * (self.stripes - 1) < 1:
            fit = (self.first - 1) // -self.by + 1
            raise Wrong(
                say("the last of {stripes} stripes would have no row left", self.stripes),
                say("write stripes: {fit}, or begin wider", fit),
                ("stripes",),
            )
        return self


class Faded(AuthorModel):
    """`{faded: [deep, foam], band: 6, bands: 5}`: two colours trading rows, band by band.

    Each band has `band` rows; in the first most are of the first colour, in the last most of the
    second: the first yarn's rows fall evenly from band to band, the second's make up the rest.
    """

    faded: tuple[Key, Key] = Field(examples=["[deep, foam]"])
    """From which yarn to which."""
    band: Whole = Field(ge=2, le=1000, examples=["6"])
    """Rows of one band."""
    bands: Whole = Field(ge=1, le=500, examples=["5"])
    """How many bands."""


class Drawn(AuthorModel):
    """`{drawn: [deep, foam, sand], seed: harbour, stripes: 12, least: 2, most: 9}`: by lot.

    The same seed gives the same stripes on any machine; no yarn follows itself.
    """

    drawn: tuple[Key, ...] = Field(min_length=2, examples=["[deep, foam, sand]"])
    """The yarns to draw from."""
    seed: OneLine = Field(max_length=80, examples=["harbour"])
    """Any word or number; write another to draw again."""
    stripes: Whole = Field(ge=1, le=500, examples=["12"])
    """How many stripes."""
    least: Whole = Field(default=1, ge=1, le=1000, examples=["2"])
    """The thinnest stripe, in rows."""
    most: Whole = Field(default=8, ge=1, le=1000, examples=["9"])
    """The widest stripe, in rows."""

    @model_validator(mode="after")
    def _most_is_most(self) -> Drawn:
        if self.most < self.least:
            raise Wrong(
                say("most: {most} is under least: {least}", self.most, self.least),
                "write the larger number as most",
                ("most",) if "most" in self.model_fields_set else ("least",),
            )
        if len(set(self.drawn)) == 1:
            raise Wrong(
                "there is one yarn to draw from, and no yarn follows itself",
                "name another",
                ("drawn",),
            )
        return self


class Limit(AuthorModel):
    """A yarn, and the values that it is knitted for."""

    below: Number | None = Field(default=None, examples=["10"])
    """Values under this, and not under the limit before; left out of the last, all the rest."""
    yarn: Key = Field(examples=["ice"])
    """The yarn's key."""


class FromData(AuthorModel):
    """A row or more for each record of a table, in the yarn of its value.

    `{data: weather.csv, column: high, limits: [{below: 0, yarn: ice}, {yarn: deep}], each: 2}`
    """

    data: str = Field(pattern=TABLE, max_length=80, examples=["weather.csv"])
    """A table in content/data: values with commas between, names of columns in the first line."""
    column: OneLine = Field(max_length=80, examples=["high"])
    """The column of the values."""
    date: OneLine | None = Field(default=None, max_length=80, examples=["day"])
    """The column of the days, like 2026-03-12; left out, the one called date, if there is one."""
    limits: tuple[Limit, ...] = Field(
        default=(), max_length=26, examples=["[{below: 0, yarn: ice}, {yarn: deep}]"]
    )
    """Which yarn for which values, the lowest first."""
    bands: tuple[Key, ...] = Field(default=(), max_length=26, examples=["[ice, foam, deep]"])
    """Instead of limits: yarns for the lowest values to the highest, of as many records each."""
    each: Whole = Field(default=1, ge=1, le=100, examples=["2"])
    """Rows for each record."""
    gaps: Key | None = Field(default=None, examples=["skip"])
    """What stands for a missing value or day: skip (nothing), repeat (the yarn before), or a yarn
    of its own; left out, a gap is an error."""
    unit: OneLine | None = Field(default=None, max_length=12, examples=["°C"])
    """The unit of the values, for the legend."""

    _table: Table | None = PrivateAttr(default=None)

    @property
    def table(self) -> Table | None:
        """What was read; None until then."""
        return self._table

    def keep(self, table: Table) -> None:
        """Keep what was read: a frozen model's only change, before anything is made of it."""
        self._table = table

    @model_validator(mode="after")
    def _limits_or_bands(self) -> FromData:
        if bool(self.limits) == bool(self.bands):
            raise Wrong(
                "these stripes need limits, or bands, and not both",
                "write limits: [{below: 0, yarn: ice}, {yarn: deep}], or bands: [ice, deep]",
                ("bands",) if self.bands else (),
            )
        ends = [limit.below for limit in self.limits]
        for number, (one, two) in enumerate(itertools.pairwise(ends)):
            if one is None:
                raise Wrong(
                    "only the last limit takes all the rest",
                    "give this one its below, or put it last",
                    ("limits", number),
                )
            if two is not None and two <= one:
                raise Wrong(
                    say("{two:g} is not over {one:g}, the limit before", two, one),
                    "write the limits from the lowest to the highest",
                    ("limits", number + 1, "below"),
                )
        return self


BUILDERS = ("repeat", "mirror", "fibonacci", "graded", "faded", "drawn", "data")


def _which(value: Any) -> str:
    if isinstance(value, dict):
        for name in BUILDERS:
            if name in value:
                return f"<{name}>"
    if is_by_yarn(value):
        return "<byyarn>"
    if isinstance(value, dict | str):
        return "<run>"
    return next((f"<{name}>" for name in BUILDERS if hasattr(value, name)), "<run>")


StripeItem = Annotated[
    Annotated[Run, Tag("<run>")]
    | Annotated[ByYarn, Tag("<byyarn>")]
    | Annotated[Repeat, Tag("<repeat>")]
    | Annotated[Mirror, Tag("<mirror>")]
    | Annotated[Fibonacci, Tag("<fibonacci>")]
    | Annotated[Graded, Tag("<graded>")]
    | Annotated[Faded, Tag("<faded>")]
    | Annotated[Drawn, Tag("<drawn>")]
    | Annotated[FromData, Tag("<data>")],
    Discriminator(_which),
]
"""A stripe or a builder. The tags can't be keys, so they are told from keys in an error's path."""

Repeat.model_rebuild()
Mirror.model_rebuild()


def leaves(items: Sequence[StripeItem], path: Path) -> Iterator[tuple[StripeItem, Path]]:
    """Every item that holds no others, with its path; those inside `repeat` and `mirror` too."""
    for number, item in enumerate(items):
        at = (*path, number)
        if isinstance(item, Repeat):
            yield from leaves(item.stripes, (*at, "stripes"))
        elif isinstance(item, Mirror):
            yield from leaves(item.mirror, (*at, "mirror"))
        else:
            yield item, at


def of_kind(
    items: Sequence[StripeItem], path: Path, kind: type[_Item]
) -> Iterator[tuple[_Item, Path]]:
    """Every item of one kind (`Run`, `ByYarn`, `FromData`), with its path."""
    return ((item, at) for item, at in leaves(items, path) if isinstance(item, kind))


def yarns_named(items: Sequence[StripeItem], path: Path) -> Iterator[tuple[str, Path]]:
    """Every yarn key that stripes name, with the path it stands at."""
    for item, at in leaves(items, path):
        match item:
            case Run() | ByYarn():
                yield item.yarn, (*at, "yarn")
            case FromData():
                for place, limit in enumerate(item.limits):
                    yield limit.yarn, (*at, "limits", place, "yarn")
                for place, yarn in enumerate(item.bands):
                    yield yarn, (*at, "bands", place)
                if item.gaps not in (None, "skip", "repeat"):
                    yield item.gaps, (*at, "gaps")
            case Fibonacci() | Graded() | Faded() | Drawn():
                name = next(name for name in BUILDERS if hasattr(item, name))
                for place, yarn in enumerate(getattr(item, name)):
                    yield yarn, (*at, name, place)
