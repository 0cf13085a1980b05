"""The pattern: one file's front matter as one frozen model."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Any, Literal

from pydantic import Discriminator, Field, StringConstraints, Tag, model_validator

from stripewright.catalogue import say
from stripewright.pattern.base import (
    AuthorModel,
    Https,
    Key,
    OneLine,
    Slug,
    Wrong,
    Yes,
)
from stripewright.pattern.beside import (
    Change,
    Correction,
    Photo,
    Video,
)
from stripewright.pattern.colourways import Colourway
from stripewright.pattern.making import MakingUp, Pace, Tails, Waste
from stripewright.pattern.pieces import Fill, Fit, Piece
from stripewright.pattern.quantity_types import Day, GaugeText, Price, Share
from stripewright.pattern.sizes import Base, Size
from stripewright.pattern.yarns import Machine, Swatch, Yarn

if TYPE_CHECKING:
    from stripewright.pattern.quantities import Money

Level = Literal["basic", "easy", "intermediate", "complex"]
"""The four project levels of the Craft Yarn Council."""

ThingKind = Literal["cushion", "draught excluder", "hat", "cowl", "scarf", "wrist warmers",
                    "blanket", "bag", "bunting", "toy", "other"]  # fmt: skip


Tagged = Annotated[OneLine, Field(max_length=40)]
"""A tag."""
Caution = Annotated[OneLine, Field(max_length=300)]
"""A caution, one sentence or two."""
Notion = Annotated[OneLine, Field(max_length=120)]
"""Something to have at hand."""
TechniqueWords = Annotated[str, StringConstraints(min_length=1, max_length=5000)]
"""A technique's text."""


def _one_or_more(value: Any) -> str:
    return "<several>" if isinstance(value, list | tuple) else "<one>"


OneOrMoreSwatches = Annotated[
    Annotated[Swatch, Tag("<one>")]
    | Annotated[tuple[Swatch, ...], Tag("<several>"), Field(min_length=1, max_length=20)],
    Discriminator(_one_or_more),
]
"""A swatch, or a list of them."""


def check_price(access: str, price: Money | None, shop: str | None, what: str) -> None:
    """Whether what is sold has a price and a shop, and what is free has neither.

    Raises:
        Wrong: with the key to look at.
    """
    written = {"price": (price, "6.50"), "shop": (shop, "https://shop.example.org/item")}
    for key, (value, example) in written.items():
        if access == "paid" and value is None:
            hint = say("add it, like {key}: {example}", key, example)
            raise Wrong(say("a paid {what} needs its {key}", what, key), hint, ("access",))
        if access == "free" and value is not None:
            raise Wrong(
                say("a free {what} has no {key}", what, key),
                "write access: paid to sell it",
                (key,),
            )


class Pattern(AuthorModel):
    """A pattern's front matter."""

    title: OneLine = Field(max_length=120, examples=["Breakwater bolster"])
    """The pattern's name."""
    summary: OneLine = Field(
        max_length=300, examples=["A long stuffed cushion in three sea colours."]
    )
    """One sentence for cards and lists."""
    slug: Slug | None = Field(default=None, examples=["breakwater-bolster"])
    """Its address; left out, the file's name."""
    formerly: tuple[Slug, ...] = Field(default=(), max_length=20, examples=["[breakwater-cushion]"])
    """Addresses that it had before: they go on leading here."""
    kind: ThingKind = Field(default="other", examples=["cushion"])
    """What it is."""
    access: Literal["free", "paid"] = Field(default="free", examples=["paid"])
    """Whether everyone may read all of it, or buyers only. Public of a paid pattern are the text
    above its first heading, the number and order of the stripes and their colours, sizes to whole
    cm and balls to buy, rounded up; never rows, counter readings or yarn used."""
    reveal: Literal["heights"] | None = Field(default=None, examples=["heights"])
    """What a paid pattern's drawings show everyone. Left out, all stripes of a piece have one
    height there. heights: the true ones, in the drawings alone, while rows, readings and amounts
    stay back. A drawing can be measured: each stripe's share of its piece, and, by the size and
    the tension that are told beside it, its number of rows, exactly or nearly so."""
    price: Price | None = None
    """A paid pattern's price."""
    shop: Https | None = Field(default=None, examples=["https://shop.example.org/bolster"])
    """Where a paid pattern is sold."""
    published: Day | None = None
    """The day it appears: a day ahead is held back, none at all is a draft."""
    updated: Day | None = None
    """The day of the last change that a reader should know of."""
    version: OneLine = Field(default="1", max_length=20, examples=["1.2"])
    """Printed on sheets and packs."""
    units: Literal["metric", "imperial"] | None = Field(default=None, examples=["imperial"])
    """Which units come first in this pattern; left out, the studio's."""
    terms: Literal["uk", "us"] | None = Field(default=None, examples=["us"])
    """uk (tension, cast off, colour) or us (gauge, bind off, color) in this pattern; left out, the
    studio's."""
    level: Level = Field(default="easy", examples=["basic"])
    """basic, easy, intermediate or complex."""
    tags: tuple[Tagged, ...] = Field(default=(), max_length=20, examples=["[cushion, sea]"])
    """Words to find it by."""
    machine: Machine = Field(examples=["{bed: circular, needles: 40}"])
    """The bed it is written for."""
    swatch: OneOrMoreSwatches | None = Field(
        default=None,
        examples=["{stitches: 40, rows: 60, width: 30 cm, length: 29 cm, mass: 62 g}"],
    )
    """One swatch, or a list of several."""
    gauge: GaugeText | None = None
    """Gauge typed in, when there is no swatch."""
    yarns: dict[Key, Yarn] = Field(
        min_length=1, max_length=26, examples=['{deep: {name: Deep water, colour: "#1f3d5c"}}']
    )
    """The yarns by key, in the order of their letters."""
    pieces: dict[Key, Piece] = Field(
        min_length=1, max_length=40, examples=["{cover: {form: tube, stripes: [deep 16, foam 9]}}"]
    )
    """The pieces by key, in the order they are knitted."""
    join: tuple[Key, ...] = Field(
        default=(), max_length=400, examples=["[one, two, one, two, one]"]
    )
    """Panels with `sides: joined` in the order they lie side by side; left out, as they are listed,
    each as often as it is made."""
    fill: Fill | None = Field(default=None, examples=["medium"])
    """Filling."""
    fit: Fit | None = Field(default=None, examples=["{head: 56 cm, ease: -10 %}"])
    """What a hat is fitted to."""
    tails: Tails = Field(default=Tails(), examples=["{inside: 14 cm}"])
    """Lengths of yarn left hanging."""
    waste: Waste = Field(default=Waste(), examples=["{rows: 8}"])
    """Waste yarn."""
    jogs: Literal["leave", "soften"] = Field(default="leave", examples=["soften"])
    """Whether the step where a round ends and the next colour begins is softened at each change."""
    notions: tuple[Notion, ...] = Field(
        default=(), max_length=30, examples=["[two 25 mm buttons, 3 m of cord]"]
    )
    """What else is needed besides yarn, filling and the usual tools, a text each."""
    margin: Share = Field(default=0.1, ge=0, le=1, examples=["10 %"])
    """Yarn bought beyond what is worked out."""
    pace: Pace | None = Field(default=None, examples=["{rows_per_minute: 12}"])
    """The pace of this pattern; left out, the studio's."""
    making_up: tuple[MakingUp, ...] | None = Field(
        default=None, max_length=100, examples=["[seam_end cover, fill cover]"]
    )
    """Making up, step by step; left out, it is worked out from the pieces."""
    techniques: dict[Key, TechniqueWords] = Field(
        default={}, max_length=100, examples=["{seam_end: Sew the end with a long tail.}"]
    )
    """This pattern's own words for a technique, by its name."""
    sizes: dict[Key, Size] = Field(
        default={}, max_length=20, examples=["{wide: {machine: {bed: circular, needles: 60}}}"]
    )
    """Further sizes."""
    base: Base | None = Field(default=None, examples=["{title: Adult}"])
    """The name of the size that is written here, where there are further ones."""
    pdf: Literal["together", "apart"] = Field(default="together", examples=["apart"])
    """Whether all sizes stand in one PDF, or each has its own, whole in itself."""
    colourways: dict[Key, Colourway] = Field(
        default={},
        max_length=12,
        examples=['{heather: {yarns: {deep: {name: Heather, colour: "#7b5f8c"}}}}'],
    )
    """The same pattern in other colours: each is drawn, and its yarn and cost worked out."""
    audience: Literal["anyone", "infant", "child", "pet"] = Field(
        default="anyone", examples=["child"]
    )
    """Whom the finished thing is for; it decides cautions."""
    cords: Yes = Field(default=False, examples=["yes"])
    """Whether it has cords or ties."""
    small_parts: Yes = Field(default=False, examples=["yes"])
    """Whether it has buttons, beads or other small parts."""
    steam: Yes = Field(default=False, examples=["yes"])
    """Whether it is pressed or steamed."""
    cautions: tuple[Caution, ...] = Field(
        default=(), max_length=20, examples=["[Keep the crank clear of sleeves.]"]
    )
    """Further cautions, added to those that follow from the facts."""
    video: Video | None = Field(
        default=None, examples=["{url: 'https://video.example.org/bolster'}"]
    )
    """A film of how it is made."""
    photos: tuple[Photo, ...] = Field(
        default=(), max_length=40, examples=["[{file: bolster.jpg, alt: The bolster.}]"]
    )
    """Pictures of the finished thing."""
    corrections: tuple[Correction, ...] = Field(
        default=(),
        max_length=100,
        examples=["[{date: 2026-09-20, text: The third change is at RC 41.}]"],
    )
    """What was wrong and is mended."""
    changes: tuple[Change, ...] = Field(
        default=(), max_length=100, examples=["[{version: 1.2, text: The slit is longer.}]"]
    )
    """What each version brought, for buyers: it stands in their pack's changes.txt."""
    licence: str | None = Field(
        default=None, max_length=500, examples=["You may sell what you knit from it."]
    )
    """What a reader may do with it; left out, the studio's."""
    credit: OneLine | None = Field(default=None, max_length=200, examples=["Ines Calder"])
    """Who designed it, when not the studio's maker."""

    @property
    def swatches(self) -> tuple[Swatch, ...]:
        """The swatches, however they were written."""
        if self.swatch is None:
            return ()
        return (self.swatch,) if isinstance(self.swatch, Swatch) else self.swatch

    @model_validator(mode="after")
    def _paid_has_a_price(self) -> Pattern:
        check_price(self.access, self.price, self.shop, say("pattern"))
        return self

    @model_validator(mode="after")
    def _one_gauge(self) -> Pattern:
        if self.swatch is None and self.gauge is None:
            raise Wrong(
                "there is neither a swatch nor a gauge",
                "add one, like gauge: 14 sts x 21 rows / 10 cm",
            )
        if self.swatch is not None and self.gauge is not None:
            raise Wrong("swatch and gauge both say the gauge", "keep the swatch", ("gauge",))
        return self
