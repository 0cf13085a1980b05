"""The stripes of a piece as the author gives them: stated, shared out, or built.

A list of stripes holds runs (`deep 16`) and builders (`repeat`, `mirror`, ...). The numbers are
visible rows under `stripes:`, and shares under `parts:`; the grammar is the same.
"""

from __future__ import annotations

import re
from typing import Annotated, Any, Literal

from pydantic import Discriminator, Field, Tag, field_validator, model_validator

from stripewright.pattern.base import Written

MOST_ROWS = 20_000
"""No machine piece is longer; beyond it a number is a slip of the finger."""

_RUN = re.compile(r"\s*(?P<yarn>[^\s]+)\s+(?P<count>\d+(?:\.\d+)?)(?:\s+least\s+(?P<least>\d+))?\s*")


class Run(Written):
    """One stripe, written `deep 16`, or `deep 2 least 4` for a share that may not fall under 4 rows."""

    yarn: str
    """The yarn's key."""
    count: float = Field(gt=0, le=MOST_ROWS)
    """Visible rows, or a share under `parts`."""
    least: int | None = Field(default=None, ge=1, le=MOST_ROWS)
    """The fewest rows that this part may get."""

    @model_validator(mode="before")
    @classmethod
    def _from_text(cls, value: Any) -> Any:
        if not isinstance(value, str):
            return value
        match = _RUN.fullmatch(value)
        if match is None:
            raise ValueError(f"“{value}” is not a stripe; write the yarn and its rows, like deep 16")
        return {key: part for key, part in match.groupdict().items() if part is not None}


class Repeat(Written):
    """`{repeat: 3, stripes: [deep 4, foam 2]}`: the same stripes again and again."""

    repeat: int = Field(ge=1, le=1000)
    """How many times."""
    stripes: tuple[StripeItem, ...] = Field(min_length=1)
    """What is repeated."""


class Mirror(Written):
    """`{mirror: [deep 8, foam 4, sand 6]}`: there and back, the last stripe being the middle."""

    mirror: tuple[StripeItem, ...] = Field(min_length=1)
    """The first half, with the middle stripe last."""
    middle: Literal["once", "twice"] = "once"
    """Whether the middle stripe is knitted once (5 stripes from 3) or twice (merging into a double one)."""


class Fibonacci(Written):
    """`{fibonacci: [deep, foam], stripes: 6}`: 1, 1, 2, 3, 5, 8 rows, the yarns taking turns."""

    fibonacci: tuple[str, ...] = Field(min_length=1)
    """The yarns, in turn."""
    stripes: int = Field(ge=1, le=18)
    """How many stripes."""
    times: int = Field(default=1, ge=1, le=100)
    """Each number times this."""
    order: Literal["growing", "shrinking"] = "growing"
    """Which end is thin."""


class Graded(Written):
    """`{graded: [deep, foam], first: 12, by: -2, stripes: 5}`: each stripe thinner or thicker by a step."""

    graded: tuple[str, ...] = Field(min_length=1)
    """The yarns, in turn."""
    first: int = Field(ge=1, le=MOST_ROWS)
    """Rows of the first stripe."""
    by: int = Field(default=-1, ge=-1000, le=1000)
    """What each stripe has more than the one before."""
    stripes: int = Field(ge=1, le=500)
    """How many stripes; none may fall under one row."""


class Faded(Written):
    """`{faded: [deep, foam], band: 6, bands: 5}`: two colours trading rows, band by band.

    Each band has `band` rows; in the first most are of the first colour, in the last most of the
    second: the first yarn's rows fall evenly from band to band, the second's make up the rest.
    """

    faded: tuple[str, str]
    """From which yarn to which."""
    band: int = Field(ge=2, le=1000)
    """Rows of one band."""
    bands: int = Field(ge=1, le=500)
    """How many bands."""


class Drawn(Written):
    """`{drawn: [deep, foam, sand], seed: harbour, stripes: 12, least: 2, most: 9}`: by lot.

    The same seed gives the same stripes on any machine; no yarn follows itself.
    """

    drawn: tuple[str, ...] = Field(min_length=2)
    """The yarns to draw from."""
    seed: str = Field(min_length=1, coerce_numbers_to_str=True)
    """Any word or number; write another to draw again."""
    stripes: int = Field(ge=1, le=500)
    """How many stripes."""
    least: int = Field(default=1, ge=1, le=1000)
    """The thinnest stripe, in rows."""
    most: int = Field(default=8, ge=1, le=1000)
    """The widest stripe, in rows."""

    @field_validator("most")
    @classmethod
    def _most_is_most(cls, most: int, info: Any) -> int:
        if most < info.data.get("least", 1):
            raise ValueError("most is under least; write the larger number as most")
        return most


BUILDERS = ("repeat", "mirror", "fibonacci", "graded", "faded", "drawn")


def _which(value: Any) -> str:
    if isinstance(value, dict):
        for name in BUILDERS:
            if name in value:
                return name
        return "run"
    return next((name for name in BUILDERS if hasattr(value, name)), "run")


StripeItem = Annotated[
    Annotated[Run, Tag("run")]
    | Annotated[Repeat, Tag("repeat")]
    | Annotated[Mirror, Tag("mirror")]
    | Annotated[Fibonacci, Tag("fibonacci")]
    | Annotated[Graded, Tag("graded")]
    | Annotated[Faded, Tag("faded")]
    | Annotated[Drawn, Tag("drawn")],
    Discriminator(_which),
]

Repeat.model_rebuild()
Mirror.model_rebuild()
