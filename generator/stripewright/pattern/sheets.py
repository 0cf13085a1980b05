"""Planning sheets, as written."""

from __future__ import annotations

from typing import Literal

from pydantic import Field, model_validator

from stripewright.catalogue import say
from stripewright.pattern.base import AuthorModel, Https, OneLine, Slug, Whole, Wrong
from stripewright.pattern.beside import Change
from stripewright.pattern.pattern import check_price
from stripewright.pattern.quantity_types import Day, GaugeText, Price
from stripewright.pattern.yarns import Machine, Swatch

_MOST_ROWS = 10_000
"""Rows of all sheets of a file together."""


class SheetOf(AuthorModel):
    """One blank planning sheet."""

    title: OneLine = Field(max_length=120, examples=["Bolster, 40 needles"])
    """What the sheet is for."""
    form: Literal["tube", "panel", "filled", "hat", "blanket"] = Field(examples=["tube"])
    """The form to plan."""
    machine: Machine = Field(examples=["{bed: circular, needles: 40}"])
    """The bed."""
    gauge: GaugeText | None = None
    """The gauge."""
    swatch: Swatch | None = Field(
        default=None, examples=["{stitches: 40, rows: 60, width: 30 cm, length: 29 cm}"]
    )
    """A swatch, instead of the gauge."""
    rows: Whole = Field(ge=1, le=5000, examples=["78"])
    """Visible rows to plan."""
    needles: Whole | None = Field(default=None, ge=2, le=1000, examples=["30"])
    """Needles in work; left out, the whole bed."""
    panels: Whole = Field(default=1, ge=1, le=40, examples=["4"])
    """Panels of a blanket."""

    @model_validator(mode="after")
    def _one_gauge(self) -> SheetOf:
        if self.swatch is not None and self.gauge is not None:
            raise Wrong("swatch and gauge both say the gauge", "keep the swatch", ("gauge",))
        if self.swatch is None and self.gauge is None:
            raise Wrong("the sheet has no gauge", "write gauge: 14 sts x 21 rows / 10 cm", ())
        if self.needles is not None and self.needles > self.machine.in_work:
            beyond = say(
                "{needles} needles are more than the bed's {in_work}",
                self.needles,
                self.machine.in_work,
            )
            raise Wrong(
                beyond, say("write needles: {in_work} or fewer", self.machine.in_work), ("needles",)
            )
        if self.machine.bed == "flat" and self.form in ("tube", "filled", "hat"):
            raise Wrong(
                "a single flat bed can't knit a tube in the round",
                "write form: panel or form: blanket",
                ("form",),
            )
        return self


class Sheets(AuthorModel):
    """A file of planning sheets: one sheet, or a book of several."""

    title: OneLine = Field(max_length=120, examples=["First rows"])
    """The title."""
    summary: OneLine = Field(max_length=300, examples=["What it is about, in one sentence."])
    """One sentence for lists."""
    slug: Slug | None = Field(default=None, examples=["first-rows"])
    """Its address; left out, the file's name."""
    access: Literal["free", "paid"] = Field(default="free", examples=["paid"])
    """Free sheets are offered on the site; paid ones go into packs only."""
    price: Price | None = None
    """A paid book's price."""
    shop: Https | None = Field(default=None, examples=["https://shop.example.org/book"])
    """Where a paid book is sold."""
    published: Day | None = None
    """The day they appear."""
    updated: Day | None = None
    """The day of their version, for changes.txt."""
    version: OneLine = Field(default="1", max_length=20, examples=["1.2"])
    """What buyers tell a newer pack from an older one by."""
    changes: tuple[Change, ...] = Field(
        default=(), max_length=100, examples=["[{version: 1.2, text: The hat has ten more rows.}]"]
    )
    """What each version brought, for buyers: it stands in their pack's changes.txt."""
    sheets: tuple[SheetOf, ...] = Field(
        min_length=1,
        max_length=200,
        examples=[
            (
                "[{title: Hat, form: hat, machine: {bed: circular, needles: 40}, "
                "gauge: 14 sts x 21 rows / 10 cm, rows: 90}]"
            )
        ],
    )
    """The sheets, one each."""

    @model_validator(mode="after")
    def _paid_has_a_price(self) -> Sheets:
        check_price(self.access, self.price, self.shop, say("book of sheets"))
        return self

    @model_validator(mode="after")
    def _fits_a_book(self) -> Sheets:
        if (rows := sum(sheet.rows for sheet in self.sheets)) > _MOST_ROWS:
            raise Wrong(
                say(
                    "the sheets have {rows:,} rows together; {most_rows:,} is the most",
                    rows,
                    _MOST_ROWS,
                ),
                "part them into several files",
                at=("sheets",),
            )
        return self
