"""The sizes of a pattern, each by what it has otherwise."""

from __future__ import annotations

from typing import Any, Literal

from pydantic import Field, PrivateAttr

from stripewright.pattern.base import (
    AuthorModel,
    Key,
    OneLine,
    Whole,
)
from stripewright.pattern.pieces import Fill, Fit, Piece
from stripewright.pattern.quantity_types import GaugeText
from stripewright.pattern.yarns import Machine, Swatch


class Base(AuthorModel):
    """What the size is called that the pattern is written in."""

    title: OneLine = Field(max_length=80, examples=["Adult"])
    """Its name, beside those of the further sizes."""


class Size(AuthorModel):
    """The same pattern in another size: what is otherwise in it."""

    title: OneLine | None = Field(default=None, max_length=80, examples=["For 60 needles"])
    """What the size is called; left out, its key."""
    keep: Literal["size", "proportions", "rows"] = Field(default="size", examples=["proportions"])
    """Whether the finished length stays, length and width change together, or every stripe keeps
    its rows. A hat's size that says a `fit`, or nothing but another bed, keeps its proportions
    unless it says otherwise: its height follows the head."""
    fit: Fit | None = Field(default=None, examples=["{wearer: 10 years}"])
    """The head that this size is for; left out, none is told of it."""
    fill: Fill | None = Field(default=None, examples=["light"])
    """Another filling."""
    audience: Literal["anyone", "infant", "child", "pet"] | None = Field(
        default=None, examples=["child"]
    )
    """Whom this size is for; left out, whom the pattern is for."""
    pieces: dict[Key, dict[str, Any]] = Field(
        default={}, max_length=40, examples=["{hat: {rows: 78}}"]
    )
    """What is otherwise in its pieces, by their keys: the rest is the base's. A piece whose rows
    are said here is knitted as it is said; others change as `keep` says."""
    machine: Machine | None = Field(default=None, examples=["{bed: circular, needles: 60}"])
    """Another bed."""
    swatch: Swatch | None = Field(
        default=None, examples=["{stitches: 30, rows: 44, width: 20 cm, length: 20 cm}"]
    )
    """Another swatch."""
    gauge: GaugeText | None = None
    """Another gauge, typed in."""
    weight: Whole | None = Field(default=None, ge=0, le=7, examples=["3"])
    """The yarn weight class of all yarns in this size."""

    _whole: dict[str, Piece] = PrivateAttr(default_factory=dict)

    def keep_pieces(self, pieces: dict[str, Piece]) -> None:
        """Keep the whole pieces that `pieces` makes of the base's."""
        self._whole.update(pieces)

    @property
    def whole_pieces(self) -> dict[str, Piece]:
        """Its own pieces, each with all that it keeps of the base's."""
        return self._whole
