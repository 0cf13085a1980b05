"""What is told of patterns, posts, sheets and the site. Whatever is here may be shown.

Plain frozen data that can be pickled. HTML strings (named `..._html`) were made by `words` from
the author's Markdown and are safe to show as they are; everything else is text and is escaped by
the templates.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from stripewright.catalogue import _
from stripewright.times import clock

if TYPE_CHECKING:
    from collections.abc import Mapping

    from stripewright.draw.draw import Drawings
    from stripewright.view.colourways import ColourwayView
    from stripewright.view.numbers import Numbers
    from stripewright.view.runs import ShownSteps
    from stripewright.words.written import CautionText, StepGroup


@dataclass(frozen=True, slots=True)
class OfferView:
    """What something costs, and where it is sold."""

    amount: float
    currency: str
    price: str
    """The price in words: £6.50."""
    shop: str
    sponsored: bool


@dataclass(frozen=True, slots=True)
class CorrectionView:
    """A dated correction; `text` is empty where it would tell a paid pattern's rows."""

    date: str
    text: str


@dataclass(frozen=True, slots=True)
class ChapterView:
    """A part of the video."""

    at_s: int
    title: str

    @property
    def time(self) -> str:
        """When it begins, like 1:02:03."""
        return clock(self.at_s)


@dataclass(frozen=True, slots=True)
class VideoView:
    """A film of how it is made."""

    url: str
    title: str
    chapters: tuple[ChapterView, ...]
    beside: Mapping[str, tuple[ChapterView, ...]]
    """The chapters that show a step, or a group of steps, by its key."""


@dataclass(frozen=True, slots=True)
class PhotoView:
    """A picture: its file's name, its published path from the site's root, and its size in px."""

    file: str
    path: str
    """Of a JPEG, or of the picture itself where it can be seen through: what any browser reads."""
    alt: str
    width: int
    height: int
    main: bool = False
    webp: tuple[tuple[str, int], ...] = ()
    """Path and width in px of the same as WebP, from narrow to wide."""
    colour: str = ""
    """All of it as one colour."""


@dataclass(frozen=True, slots=True)
class SizeChoiceView:
    """A further size of the pattern, worked whole."""

    key: str
    title: str
    numbers: Numbers
    groups: tuple[StepGroup, ...] = ()
    shown_steps: ShownSteps = field(default_factory=dict)
    cautions: tuple[CautionText, ...] = ()
    drawings: Drawings | None = None
    intro_html: str = ""
    body_html: str = ""
    after_html: str = ""
    video: VideoView | None = None
    """The film, with its chapters beside this size's steps."""
    pdfs: Mapping[str, str] = field(default_factory=dict)
    """Where each size has its own: paper size -> path from the site's root."""
    colourways: tuple[ColourwayView, ...] = ()
    """Each with this size's pictures, yarn and cost."""


@dataclass(frozen=True, slots=True)
class PatternView:
    """A pattern as it is told. Of a paid one's public twin there are no plans and no steps."""

    slug: str
    title: str
    summary: str
    kind: str
    level: str
    tags: tuple[str, ...]
    published: str | None
    """ISO date; None for a draft, which only the preview and `--drafts` show."""
    updated: str | None
    held: str
    """"" when published, "draft", or "held back until ..."."""
    version: str
    licence: str
    credit: str
    offer: OfferView | None
    """None of a free pattern."""
    simplified: bool
    """Whether rows and readings are left out, because they are to be bought."""
    equal_bands: bool
    """Whether stripes are drawn with one height instead of their true ones."""
    numbers: Numbers
    cautions: tuple[CautionText, ...] = ()
    corrections: tuple[CorrectionView, ...] = ()
    photos: tuple[PhotoView, ...] = ()
    video: VideoView | None = None
    groups: tuple[StepGroup, ...] = ()
    shown_steps: ShownSteps = field(default_factory=dict)
    size_choices: tuple[SizeChoiceView, ...] = ()
    intro_html: str = ""
    body_html: str = ""
    after_html: str = ""
    """What the author wants below the steps; "" for nothing."""
    pdfs: Mapping[str, str] = field(default_factory=dict)
    """Paper size ("A4", "Letter") -> path from the site's root; of the written size alone where
    each has its own."""
    drawings: Drawings | None = None
    """None where its own page is not made of it."""
    colourways: tuple[ColourwayView, ...] = ()
    base_title: str = ""
    """What its own size is called beside the further ones; "" where nothing is said."""
    only: str = ""
    """The name of the one size that is told; "" where all are."""

    @property
    def main_photo(self) -> PhotoView | None:
        """The photo that is its main picture; None where the drawing is."""
        return next((photo for photo in self.photos if photo.main), None)

    def of_size(self, key: str) -> PatternView:
        """One size as a whole pattern, by its key; the written one as `base`. Raises KeyError."""
        if key == "base":
            return replace(self, size_choices=(), only=self.base_title or _("As written"))
        found = {choice.key: choice for choice in self.size_choices}[key]
        return replace(
            self, numbers=found.numbers, groups=found.groups, shown_steps=found.shown_steps,
            cautions=found.cautions, drawings=found.drawings, intro_html=found.intro_html,
            body_html=found.body_html, after_html=found.after_html, pdfs=found.pdfs,
            size_choices=(), colourways=found.colourways, only=found.title,
        )  # fmt: skip

    @property
    def listed(self) -> PatternView:
        """What of it lists show."""
        numbers = replace(self.numbers, materials=(), supplies=(), pieces=(), clashes=())
        return replace(self, numbers=numbers, cautions=(), photos=(), video=None, groups=(),
                       shown_steps={}, size_choices=(), colourways=(), intro_html="",
                       body_html="", after_html="", pdfs={}, drawings=None)  # fmt: skip


@dataclass(frozen=True, slots=True)
class PostView:
    """A post, or a free-standing page (`published` None, no patterns)."""

    slug: str
    path: str
    """Its page, from the site's root."""
    title: str
    summary: str
    published: str | None
    updated: str | None
    held: str
    tags: tuple[str, ...]
    html: str
    patterns: tuple[str, ...] = ()
    menu: bool = False


@dataclass(frozen=True, slots=True)
class SheetView:
    """A file of planning sheets: free ones have PDFs on the site, paid ones an offer."""

    slug: str
    title: str
    summary: str
    pages: int
    pdfs: Mapping[str, str]
    offer: OfferView | None = None


@dataclass(frozen=True, slots=True)
class SiteView:
    """What every page knows of the site."""

    title: str
    maker: str
    summary: str
    address: str | None
    language: str
    units: str
    terms: str
    tokens: Mapping[str, str]
    disclosure: str
    links: tuple[tuple[str, str], ...]
    """Title and address."""
    menu: tuple[tuple[str, str], ...] = ()
    """Title and path from the root, of the free-standing pages that the menu shows."""
    lists: tuple[tuple[str, str], ...] = ()
    """Title and path from the root, of the lists that the menu shows: none that is empty yet."""
    disclosed: bool = False
    """Whether a shop of the settings is marked as sponsored."""
    preview: bool = False
    """Built for the preview: held-back items are marked, and the refresh script is there."""
