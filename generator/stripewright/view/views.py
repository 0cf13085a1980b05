"""What may be shown. `PatternView.whole` is None for a paid pattern: there is nothing to leak.

Plain frozen data that can be pickled: strings, numbers, tuples. HTML strings (named `..._html`)
were made by `words` from the author's Markdown and are safe to show as they are; everything else
is text and is escaped by the templates.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping


@dataclass(frozen=True, slots=True)
class DrawingView:
    """A drawing for a page: inline SVG, and the file it also stands in."""

    name: str
    title: str
    description: str
    width: float
    height: float
    svg: str


@dataclass(frozen=True, slots=True)
class SizeView:
    """The finished size of a piece, in cm (whole cm of a paid one)."""

    title: str
    width_cm: float
    length_cm: float
    thickness_cm: float | None = None
    around: bool = False
    """Whether the width is a girth, measured around."""
    across: bool = False
    """Whether it is round, so that its width is all there is to tell of its outline."""
    note: str = ""


@dataclass(frozen=True, slots=True)
class GaugeView:
    """Gauge, unrounded; pages round it for reading."""

    stitches_10cm: float
    rows_10cm: float
    stitches_4in: float
    rows_4in: float
    swatches: int
    stated: bool
    stitches_spread_10cm: float | None = None
    rows_spread_10cm: float | None = None


@dataclass(frozen=True, slots=True)
class BallsView:
    """Balls to buy."""

    mass_g: float
    length_m: float
    balls: int
    cost: float | None
    currency: str | None
    leftover_g: float | None = None


@dataclass(frozen=True, slots=True)
class MaterialView:
    """A yarn to buy. Lengths and masses are None where they would tell a paid pattern's rows."""

    letter: str
    role: str
    name: str
    colour: str
    weight: int | None
    weight_name: str | None
    fibre: str | None
    balls: BallsView | None
    length_m: float | None = None
    length_low_m: float | None = None
    length_high_m: float | None = None
    mass_g: float | None = None
    estimated: bool = False


@dataclass(frozen=True, slots=True)
class SupplyView:
    """Anything else to have at hand: filling, waste yarn, a needle."""

    name: str
    mass_g: float | None = None
    length_m: float | None = None
    estimated: bool = False


@dataclass(frozen=True, slots=True)
class CautionView:
    """A caution."""

    key: str
    title: str
    text: str


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
    step: str | None


@dataclass(frozen=True, slots=True)
class PhotoView:
    """A picture: its published path from the site's root, its words and its size in pixels."""

    path: str
    alt: str
    width: int
    height: int


@dataclass(frozen=True, slots=True)
class PlanRow:
    """A stripe in the plan; `first` and `last` are worked rows, `last` is the RC reading."""

    letter: str
    yarn: str
    colour: str
    first: int
    last: int
    rows: int
    allowance: int


@dataclass(frozen=True, slots=True)
class PieceView:
    """A piece with its plan."""

    key: str
    title: str
    form: str
    make: int
    stitches: int
    worked_rows: int
    visible_rows: int
    flat_width_cm: float
    finished_length_cm: float
    off_cm: float | None
    """Finished length minus the length asked for."""
    plan: tuple[PlanRow, ...]
    marks: str
    """What is done in the middle of a stripe, as a sentence; may be empty."""
    drawing: DrawingView | None
    """None for the pieces of a further size, which are told in numbers."""


@dataclass(frozen=True, slots=True)
class StepView:
    """One thing to do."""

    number: int
    key: str
    title: str
    text: str
    letter: str | None
    first: int | None
    last: int | None
    chapters: tuple[ChapterView, ...] = ()


@dataclass(frozen=True, slots=True)
class GroupView:
    """The steps of a piece, or of making up."""

    key: str
    title: str
    steps: tuple[StepView, ...]
    chapters: tuple[ChapterView, ...] = ()
    """Parts of the video that show the group as a whole."""


@dataclass(frozen=True, slots=True)
class SizeChoiceView:
    """A further size of the pattern, worked whole."""

    key: str
    title: str
    needles: int
    bed: str
    gauge: GaugeView
    sizes: tuple[SizeView, ...]
    materials: tuple[MaterialView, ...]
    pieces: tuple[PieceView, ...]


@dataclass(frozen=True, slots=True)
class Whole:
    """What everyone may read of a free pattern, and a buyer of a paid one."""

    pieces: tuple[PieceView, ...]
    groups: tuple[GroupView, ...]
    body_html: str
    after_html: str
    """What the author wants below the steps; "" for nothing."""
    size_choices: tuple[SizeChoiceView, ...]
    chapters: tuple[ChapterView, ...]
    pdfs: Mapping[str, str]
    """Paper size ("A4", "Letter") -> path from the site's root."""


@dataclass(frozen=True, slots=True)
class PatternView:
    """A pattern as it may be shown."""

    slug: str
    title: str
    summary: str
    kind: str
    access: str
    level: str
    tags: tuple[str, ...]
    published: str | None
    """ISO date; None for a draft, which only the preview and `--drafts` show."""
    updated: str | None
    held: str
    """"" when published, "draft", or "held back until ..."."""
    version: str
    bed: str
    needles: int
    gauge: GaugeView
    sizes: tuple[SizeView, ...]
    materials: tuple[MaterialView, ...]
    supplies: tuple[SupplyView, ...]
    minutes_low: float
    minutes_high: float
    finished: DrawingView
    strip: DrawingView
    assembly: DrawingView | None
    schematics: tuple[DrawingView, ...]
    """For a paid pattern: of equal bands, without rows."""
    intro_html: str
    cautions: tuple[CautionView, ...]
    corrections: tuple[CorrectionView, ...]
    photos: tuple[PhotoView, ...]
    video_url: str | None
    video_title: str | None
    price: float | None
    currency: str | None
    shop: str | None
    sponsored: bool
    licence: str
    credit: str
    clashes: tuple[str, ...]
    """Neighbouring stripes that some readers can't tell apart, each as a sentence."""
    whole: Whole | None

    @property
    def free(self) -> bool:
        """Whether everyone may read all of it."""
        return self.access == "free"


@dataclass(frozen=True, slots=True)
class PostView:
    """A post, or a free-standing page (`published` None, no patterns)."""

    slug: str
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
    """A file of planning sheets: free ones have PDFs on the site, paid ones a shop."""

    slug: str
    title: str
    summary: str
    access: str
    published: str | None
    pages: int
    pdfs: Mapping[str, str]
    price: float | None = None
    currency: str | None = None
    shop: str | None = None
    sponsored: bool = False


@dataclass(frozen=True, slots=True)
class SiteView:
    """What every page knows of the site."""

    title: str
    maker: str
    summary: str
    address: str | None
    language: str
    currency: str
    units: str
    terms: str
    theme: str
    tokens: Mapping[str, str]
    disclosure: str
    links: tuple[tuple[str, str], ...]
    """Title and address."""
    menu: tuple[tuple[str, str], ...] = ()
    """Title and path from the root, of the free-standing pages that the menu shows."""
    empty: frozenset[str] = frozenset()
    """Kinds that have nothing to show yet, which the menu leaves out: posts, sheets."""
    disclosed: bool = False
    """Whether a shop of the settings is marked as sponsored."""
    preview: bool = False
    """Built for the preview: held-back items are marked, and the refresh script is there."""
