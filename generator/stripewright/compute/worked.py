"""The worked pattern: every number that drawings, words, paper and pages show.

Plain frozen data, lengths in cm, masses in g, times in minutes. Nothing here computes beyond
adding up what it holds; the stages after this one only read it.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping

    from stripewright.compute.worked_piece import (
        WorkedAmount,
        WorkedPiece,
    )
    from stripewright.pattern.making import Pace
    from stripewright.pattern.pattern import Pattern


@dataclass(frozen=True, slots=True)
class Figure:
    """A number with its range. `estimated` figures are called estimates wherever they show."""

    value: float
    low: float
    high: float
    estimated: bool = False


RoughGauge = tuple[float, float, bool]
"""Stitches and rows over a length, to halves, and whether those are the true ones."""


@dataclass(frozen=True, slots=True)
class WorkedGauge:
    """Gauge, unrounded. Spreads are the standard deviation over several swatches, else None."""

    stitches_per_cm: float
    rows_per_cm: float
    swatches: int = 1
    """0 where it was typed in directly."""
    stitches_spread: float | None = None
    rows_spread: float | None = None
    rough_10cm: RoughGauge | None = None
    """Stitches and rows to 10 cm, where a paid pattern's page tells them roughly."""
    rough_4in: RoughGauge | None = None
    """Stitches and rows to 4 in, rounded from the true ones too."""

    @property
    def stitches_10cm(self) -> float:
        """Stitches to 10 cm."""
        return self.stitches_per_cm * 10

    @property
    def rows_10cm(self) -> float:
        """Rows to 10 cm."""
        return self.rows_per_cm * 10

    @property
    def stitches_4in(self) -> float:
        """Stitches to 4 in, which is 10.16 cm."""
        return self.stitches_per_cm * 10.16

    @property
    def rows_4in(self) -> float:
        """Rows to 4 in, which is 10.16 cm."""
        return self.rows_per_cm * 10.16


@dataclass(frozen=True, slots=True)
class BallCount:
    """How many balls of one size, what is left over, and what they cost."""

    mass_g: float
    length_m: float
    balls: int
    leftover_g: float
    cost: float | None = None
    currency: str | None = None


@dataclass(frozen=True, slots=True)
class WorkedYarn:
    """A yarn with what of it is used: knitting, tails, joins and fringe; margin apart."""

    key: str
    letter: str
    role: str
    """MC, CC1, CC2, ..."""
    name: str
    colour: str
    """#rrggbb."""
    weight: int | None
    fibre: str | None
    rows: int
    """Worked rows in it, over all pieces."""
    length_m: Figure | None
    """None in a public twin: it follows from the rows."""
    mass_g: Figure | None
    """None when neither swatch nor ball says what a metre weighs."""
    balls: BallCount | None
    """The buy that costs least (or, without prices, leaves least over)."""
    choices: tuple[BallCount, ...] = ()
    """Each size it is sold in, on its own."""
    strands: int = 1
    """Strands held together; lengths and masses are of all of them."""
    marl: tuple[str, ...] = ()
    """Keys of the yarns that it is made of, held together; what they come to stands at each of
    them, and this one has a length, and nothing to buy."""


@dataclass(frozen=True, slots=True)
class WorkedFilling:
    """Filling for all filled pieces."""

    firmness: str
    material: str | None
    volume_cm3: float
    mass_g: Figure
    weighed: bool
    """The author weighed it; then it is no estimate."""
    pieces: tuple[tuple[str, Figure], ...] = ()
    """What each filled piece takes, one of it: its key and grams, by its share of the volume."""


@dataclass(frozen=True, slots=True)
class WorkedJoin:
    """Panels joined side by side, made up."""

    order: tuple[str, ...]
    """Keys of the panels, a key for each one that is knitted, as they lie from left to right."""
    width_cm: float
    length_cm: float
    """That of the longest."""


@dataclass(frozen=True, slots=True)
class WorkedTime:
    """Minutes, each with its range."""

    knitting: Figure
    making_up: Figure
    total: Figure


@dataclass(frozen=True, slots=True)
class Clash:
    """Two neighbouring stripes that some readers can't tell apart."""

    piece: str
    first: str
    second: str
    """Yarn keys."""
    stripes: tuple[int, int]
    """1-based numbers of the two stripes in the plan."""
    seen_by: tuple[str, ...]
    """Of: normal, protan, deutan, tritan, grey."""
    difference: float
    """The smallest CIEDE2000 among them."""
    proposal: str | None
    """A colour for the second, with the smallest lightness change that would do."""


@dataclass(frozen=True, slots=True)
class WorkedFit:
    """A hat against a head."""

    head_cm: float
    ease: float
    girth_cm: float
    wanted_girth_cm: float
    wearer: str | None

    @property
    def actual_ease(self) -> float:
        """What the girth really is against the head: -0.1 is a tenth smaller."""
        return self.girth_cm / self.head_cm - 1


@dataclass(frozen=True, slots=True)
class FinishedSize:
    """A piece made up, as it is told: in cm."""

    title: str
    width_cm: float
    length_cm: float
    thickness_cm: float | None = None
    low_length_cm: float | None = None
    """The least length, where it is told as a range."""
    around: bool = False
    """Whether the width is a girth, measured around."""
    across: bool = False
    """Whether it is round, so that its width is all there is to tell of its outline."""
    note: str = ""
    inches: FinishedSize | None = None
    """Of a paid pattern's public twin: the same size rounded to whole inches, still in cm."""


@dataclass(frozen=True, slots=True)
class WorkedSize:
    """The same pattern for another bed, gauge or yarn."""

    key: str
    title: str
    worked: WorkedPattern


@dataclass(frozen=True, slots=True)
class WorkedColourway:
    """The same pattern in other yarns."""

    key: str
    title: str
    worked: WorkedPattern


@dataclass(frozen=True, slots=True)
class WorkedPattern:
    """A pattern with all its numbers."""

    slug: str
    pattern: Pattern
    gauge: WorkedGauge
    pieces: tuple[WorkedPiece, ...]
    yarns: tuple[WorkedYarn, ...]
    time: WorkedTime
    loop_cm: Figure
    """Yarn in one stitch."""
    waste_m: float | None
    """Waste yarn, over all pieces; None in a public twin, where it would tell the stitches."""
    finished: tuple[FinishedSize, ...]
    """The pieces that show, made up; a lining is inside and has none of its own."""
    joined: WorkedJoin | None = None
    """Panels that are joined to each other, two or more."""
    filling: WorkedFilling | None = None
    fit: WorkedFit | None = None
    clashes: tuple[Clash, ...] = ()
    cautions: tuple[str, ...] = ()
    """Keys of the cautions that follow from the facts; `words` has their texts."""
    sizes: tuple[WorkedSize, ...] = ()
    colourways: tuple[WorkedColourway, ...] = ()
    amounts: tuple[WorkedAmount, ...] = ()
    """Stripes given by their yarn, and what became of it; none in a public twin."""
    tails_cm: Mapping[str, float] = field(default_factory=dict)
    """By kind: `inside`, and `PIECE.first`, `PIECE.last`, `PIECE.side` for the long ones."""
    loop_source: str = "gauge"
    """What `loop_cm` comes from: swatch (weighed), unravelled, band (of the ball), gauge."""
    pace: Pace | None = None
    """The pace that the time was worked with."""
    nominal: bool = False
    """Made by `public.equal_bands`: its rows stand for the order of colours and nothing else."""

    def piece(self, key: str) -> WorkedPiece:
        """A piece by its key. Raises KeyError."""
        for piece in self.pieces:
            if piece.key == key:
                return piece
        raise KeyError(key)

    @property
    def size_keys(self) -> tuple[str, ...]:
        """The keys of its sizes, that of the written one first; none where there is but one."""
        return ("base", *(size.key for size in self.sizes)) if self.sizes else ()

    def size_title(self, key: str) -> str:
        """What a size is called, by its key; "" of the written one where nobody says."""
        base = self.pattern.base
        titles = {"base": base.title if base else ""} | {one.key: one.title for one in self.sizes}
        return titles[key]

    @property
    def printed(self) -> tuple[str, ...]:
        """What each of its PDFs is of: the keys of its sizes, or "" for all of them together."""
        return (self.size_keys if self.pattern.pdf == "apart" else ()) or ("",)

    def of_size(self, key: str) -> WorkedPattern:
        """One size alone, by its key; the one that is written out as `base`. Raises KeyError."""
        if key == "base":
            return replace(self, sizes=())
        for size in self.sizes:
            if size.key == key:
                return size.worked
        raise KeyError(key)

    def yarn(self, key: str) -> WorkedYarn:
        """A yarn by its key. Raises KeyError."""
        for yarn in self.yarns:
            if yarn.key == key:
                return yarn
        raise KeyError(key)
