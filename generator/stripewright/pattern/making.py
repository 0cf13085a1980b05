"""How a pattern is made, beside its pieces: tails, waste yarn, pace, and what making up is."""

from __future__ import annotations

from typing import Any, ClassVar, Literal

from pydantic import Field, model_validator

from stripewright.pattern.base import (
    AuthorModel,
    Key,
    Number,
    Whole,
)
from stripewright.pattern.quantity_types import Centimetres


class Tails(AuthorModel):
    """Lengths of yarn left hanging."""

    inside: Centimetres = Field(default=14.0, ge=5, le=60, examples=["14 cm"])
    """At a colour change inside the piece."""
    seam: Centimetres | None = Field(default=None, gt=0, le=1000, examples=["90 cm"])
    """To sew an end; left out, it is worked out from the seam and its technique."""
    knot: Literal["at once", "later"] = Field(default="later", examples=["at once"])
    """When the two tails of a change are knotted: at the machine, or in making up."""


class Waste(AuthorModel):
    """Waste yarn before and after each piece."""

    rows: Whole = Field(default=5, ge=0, le=50, examples=["8"])
    """Rows knitted with it at each end."""


class Pace(AuthorModel):
    """How fast the author knits and makes up."""

    rows_per_minute: Number = Field(default=8.0, gt=0, le=200, examples=["12"])
    """Rows cranked in a minute, with looking and clearing."""
    change_minutes: Number = Field(default=2.0, ge=0, le=60, examples=["1.5"])
    """Minutes a colour change."""
    setup_minutes: Number = Field(default=10.0, ge=0, le=240, examples=["15"])
    """Minutes to cast on and take off a piece."""
    tail_minutes: Number = Field(default=1.0, ge=0, le=60, examples=["0.5"])
    """Minutes to knot or weave in a tail."""
    seam_cm_per_minute: Number = Field(default=3.0, gt=0, le=200, examples=["4"])
    """Centimetres sewn, grafted, gathered or cast off in a minute."""
    tassel_minutes: Number = Field(default=0.5, ge=0, le=60, examples=["1"])
    """Minutes to knot a tassel of fringe."""
    attach_minutes: Number = Field(default=10.0, ge=0, le=240, examples=["15"])
    """Minutes to sew one piece onto another."""
    fill_minutes: Number = Field(default=10.0, ge=0, le=240, examples=["15"])
    """Minutes to work 100 g of filling in."""
    finishing_minutes: Number = Field(default=15.0, ge=0, le=1000, examples=["20"])
    """Minutes for what is done once: laying out, turning, washing."""
    making_up_minutes: Number | None = Field(default=None, ge=0, le=6000, examples=["60"])
    """Minutes to make up the whole, when known; left out, they are worked out from tails, the
    lengths sewn, fringe, filling and what is sewn on."""


class MakingUp(AuthorModel):
    """One step of making up, written `seam_end cover`, or in full."""

    text_form: ClassVar[dict[str, Any] | None] = {
        "type": "string",
        "pattern": r"^\s*[a-z][a-z0-9_]*(\s+[a-z][a-z0-9_]*)*\s*$",
        "examples": ["seam_end cover"],
    }

    do: Key = Field(examples=["seam_end"])
    """A technique's name."""
    pieces: tuple[Key, ...] = Field(default=(), max_length=40, examples=["[cover]"])
    """The pieces it is done to."""
    note: str | None = Field(default=None, max_length=500, examples=["Leave a hand's width open."])
    """What the technique's own words don't say."""

    @model_validator(mode="before")
    @classmethod
    def _from_text(cls, value: Any) -> Any:
        if isinstance(value, str) and value.split():
            do, *pieces = value.split()
            return {"do": do, "pieces": pieces}
        return value
