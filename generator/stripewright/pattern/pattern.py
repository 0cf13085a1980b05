"""The pattern: one file's front matter as one frozen model."""

from __future__ import annotations

from typing import Annotated, Any, ClassVar, Literal

from pydantic import Discriminator, Field, PrivateAttr, StringConstraints, Tag, model_validator

from stripewright.catalogue import say
from stripewright.pattern.base import (
    KEY,
    PHOTO,
    SLUG,
    AuthorModel,
    Https,
    Key,
    Number,
    OneLine,
    Slug,
    Whole,
    Wrong,
    Yes,
)
from stripewright.pattern.colourways import Colourway
from stripewright.pattern.pieces import Fill, Fit, Piece
from stripewright.pattern.quantities import (
    Centimetres,
    Clock,
    Day,
    GaugeText,
    Money,
    Price,
    Share,
)
from stripewright.pattern.yarns import Machine, Swatch, Yarn

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


class Chapter(AuthorModel):
    """A part of the video."""

    at: Clock | None = Field(default=None, examples=["2:30"])
    """Where it begins, like 2:30; while it is left to fill in, the chapter isn't shown."""
    title: OneLine = Field(max_length=120, examples=["The cover"])
    """What it shows."""
    step: OneLine | None = Field(default=None, max_length=60, examples=["cover"])
    """The step it belongs to: a piece's key, `making up`, or a technique's name."""


def _list_or_words(value: Any) -> str:
    return "<words>" if isinstance(value, str) else "<list>"


Chapters = Annotated[
    Annotated[tuple[Chapter, ...], Tag("<list>"), Field(max_length=200)]
    | Annotated[Literal["from steps"], Tag("<words>")],
    Discriminator(_list_or_words),
]
"""The parts of a film, or that they are to be made from the steps."""


class Video(AuthorModel):
    """A film of how it is made."""

    url: Https = Field(examples=["https://video.example.org/bolster"])
    """Its address."""
    title: OneLine | None = Field(default=None, max_length=120, examples=["Making the bolster"])
    """What it is called."""
    chapters: Chapters = Field(
        default=(), examples=["[{at: 2:30, title: The cover, step: cover}]", "from steps"]
    )
    """Its parts; `from steps` lists them as the steps go, to paste here with their times left to
    fill in."""

    @property
    def parts(self) -> tuple[Chapter, ...]:
        """Its parts as they are listed; none while they are still to be made from the steps."""
        return () if isinstance(self.chapters, str) else self.chapters


class Correction(AuthorModel):
    """Something that was wrong and is mended."""

    date: Day
    """When it was mended."""
    text: str = Field(
        min_length=1, max_length=1000, examples=["The third change is at RC 41, not 14."]
    )
    """What changed, for someone who has begun."""


class Change(AuthorModel):
    """What is otherwise in a version, in the author's words."""

    version: OneLine = Field(max_length=20, examples=["1.2"])
    """The version that it is new in."""
    text: str = Field(
        min_length=1,
        max_length=1000,
        examples=["The slit is two rows longer; the yarn is the same."],
    )
    """What changed, for someone who has an older one."""


class Photo(AuthorModel):
    """A picture in content/photos."""

    file: Annotated[str, StringConstraints(pattern=PHOTO, max_length=120)] = Field(
        examples=["bolster.jpg"]
    )
    """The file's name."""
    alt: OneLine = Field(max_length=300, examples=["The bolster on a window seat."])
    """What it shows, in words."""
    main: Yes = Field(default=False, examples=["yes"])
    """Whether it is the pattern's main picture, on page, card, cover and where a link is shared."""


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
    fit: Fit | None = Field(default=None, examples=["{wearer: child 6 to 10 years}"])
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
        check_price(self.access, self.price, self.shop, "pattern")
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


__all__ = ["KEY", "SLUG", "Pattern"]
