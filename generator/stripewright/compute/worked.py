"""The worked pattern: every number that drawings, words, paper and pages show.

Plain frozen data, lengths in cm, masses in g, times in minutes. Nothing here computes beyond
adding up what it holds; the stages after this one only read it.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping

    from stripewright.compute.brim import WorkedBrim
    from stripewright.compute.by_yarn import WorkedAmount
    from stripewright.compute.event import Event, WorkedRepeat
    from stripewright.compute.recorded import WorkedTable
    from stripewright.pattern.pattern import Pace, Pattern
    from stripewright.pattern.pieces import EdgeKind
    from stripewright.pattern.yarns import Machine


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
    stated: bool = False
    """Typed in directly, rather than counted on a swatch."""
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
class PlanLine:
    """One stripe as it is knitted.

    `first` and `last` are 1-based worked rows, both included; `last` is what the row counter
    reads when the stripe is done. `allowance_before` and `allowance_after` are the rows of this
    stripe, at its start and its end, that a seam, gathering or hem swallows.
    """

    letter: str
    yarn: str
    first: int
    last: int
    allowance_before: int = 0
    allowance_after: int = 0
    grafted: int = 0
    """Rows at its end that grafting makes: they show, and no machine knits them."""
    grafted_before: int = 0
    """The same at its start, where the cast-on end is grafted by itself."""
    written: tuple[int, ...] = ()
    """The rows of each stripe, where several of one yarn were written next to each other and are
    knitted as this one; else empty."""
    carried: bool = False
    """Whether its yarn was carried up from its last stripe, rather than laid in anew."""

    @property
    def rows(self) -> int:
        """Worked rows; 0 where grafting makes all of the stripe."""
        return self.last - self.first + 1

    @property
    def visible(self) -> int:
        """Rows that show once the piece is made up."""
        hidden = self.allowance_before + self.allowance_after
        return self.rows - hidden + self.grafted_before + self.grafted


@dataclass(frozen=True, slots=True)
class WorkedEnd:
    """An end of a piece, how it is finished, and the rows that finishing takes."""

    edge: EdgeKind
    rows: int
    grafted: int = 0
    """Rows that grafting makes here; of two ends grafted to each other the last one has it."""
    live: bool = True
    """Whether its stitches are live when it is finished: an ordinary cast-on leaves none."""


@dataclass(frozen=True, slots=True)
class WorkedOpening:
    """A gap in a side or seam; rows are 1-based worked rows, both included."""

    what: str
    side: str
    first: int
    last: int


@dataclass(frozen=True, slots=True)
class Solid:
    """A filled piece, made up: the outline it shrinks to, and what it holds.

    `kind` is "cushion" (two flat layers sewn at the ends, Robin's paper bag) or "round"
    (gathered ends: a cylinder with domes) or "ring" (grafted end to end: a torus, and both
    its sizes are those across).
    """

    kind: str
    width_cm: float
    length_cm: float
    thickness_cm: float
    volume_cm3: float
    low_length_cm: float | None = None
    """How long it is when its gathered ends lie flat; `length_cm` when they dome."""
    dome_cm: float = 0.0
    """How far each gathered end stands out in `length_cm`."""


@dataclass(frozen=True, slots=True)
class WorkedFringe:
    """Fringe at both ends: tassels an end, strands a tassel, the cut length of each strand."""

    tassels: int
    strands: int
    cut_cm: float
    finished_cm: float
    yarns: tuple[str, str]
    """Yarn keys at the cast-on end and at the last end."""
    every: int = 0
    """Stitches from tassel to tassel; 0 where it isn't told."""
    layers: int = 1
    """Layers that each tassel goes through: 2 at an open tube's end."""
    along: int = 0
    """Tassels an end on all copies together, where they lie along joined panels; else 0."""


@dataclass(frozen=True, slots=True)
class WorkedAttachment:
    """Where a piece is sewn on."""

    to: str
    """The key of the piece that it is sewn to."""
    row: int | None
    """Worked row of that piece after which it sits; None where the author says it in words."""


@dataclass(frozen=True, slots=True)
class WorkedPiece:
    """One piece with its plan and sizes."""

    key: str
    title: str
    form: str
    make: int
    machine: Machine
    """The bed that it is knitted on: its own, or the pattern's."""
    stitches: int
    ends: tuple[WorkedEnd, WorkedEnd]
    sides: str
    plan: tuple[PlanLine, ...]
    flat_width_cm: float
    """Laid flat: half the girth of a tube, the whole width of a panel."""
    girth_cm: float | None
    """Around a tube."""
    finished_length_cm: float
    """Visible rows, made up, before filling."""
    worked_length_cm: float
    """All worked rows, as it comes off the machine."""
    asked_length_cm: float | None
    """The length that the author asked for, when rows were shared out of one."""
    filled: bool
    lining_of: str | None
    """The key of the piece that this one lines."""
    fold: int | None
    """Worked row after which it is folded."""
    openings: tuple[WorkedOpening, ...] = ()
    fringe: WorkedFringe | None = None
    solid: Solid | None = None
    """Its shape once filled."""
    wished_width_cm: float | None = None
    """The width that the author wished for, laid flat."""
    least_stitches: int | None = None
    """Needles that reach the width the author wished for, if one was given."""
    panels_to_width: int | None = None
    """Panels of this piece that reach the width wished for, if one was given."""
    made_up_width_cm: float = 0.0
    """Sewn up: a tube as it lies flat, seamed or joined panels without what the seams take."""
    made_up_length_cm: float = 0.0
    """Sewn up: folded where it is folded, with its brim turned up, before filling."""
    attachment: WorkedAttachment | None = None
    """Where it is sewn on, when the author says it."""
    joins: tuple[tuple[str, int], ...] = ()
    """Pieces attached to this one: their keys, and the worked rows after which they sit."""
    repeats: tuple[WorkedRepeat, ...] = ()
    """Blocks of its plan that repeat."""
    events: tuple[Event, ...] = ()
    """All that happens along it, in order."""
    tables: tuple[WorkedTable, ...] = ()
    """What its stripes are made from, where they are made from data."""
    brim: WorkedBrim | None = None
    """A brim turned up outside; a doubled one is an end that is hemmed, or a fold."""

    @property
    def all_tassels(self) -> int:
        """Tassels at one end of all its copies."""
        return 0 if self.fringe is None else self.fringe.along or self.fringe.tassels * self.make

    @property
    def ring(self) -> bool:
        """Whether its two ends are grafted to each other: then its length lies around."""
        return self.form == "tube" and all(end.edge == "grafted" for end in self.ends)

    @property
    def inside(self) -> str:
        """Which part of a double layer goes inside: `first` or `last`, the shorter; else empty.

        Of two alike the first does. A bag is folded, too, and has no inside part.
        """
        if self.folded is None or (self.form == "panel" and self.sides == "seamed"):
            return ""
        return "first" if 2 * self.folded <= self.visible_rows else "last"

    @property
    def worked_rows(self) -> int:
        """Rows the machine knits, waste yarn left out."""
        return self.plan[-1].last

    @property
    def made_rows(self) -> int:
        """Rows that are knitted, and those that grafting makes on top of them at the last end."""
        return self.worked_rows + self.ends[1].grafted

    @property
    def visible_rows(self) -> int:
        """Rows that show once the piece is made up."""
        return sum(line.visible for line in self.plan)

    @property
    def hidden_first(self) -> int:
        """Worked rows before the first that shows: below 0 where grafting makes that one."""
        return self.ends[0].rows - self.ends[0].grafted

    @property
    def folded(self) -> int | None:
        """Visible rows after which it is folded."""
        return None if self.fold is None else self.fold - self.hidden_first

    @property
    def changes(self) -> tuple[int, ...]:
        """Row counter readings at which the yarn changes; the last stripe's end is not one.

        Nor is the end of the last but one where grafting makes all of the last.
        """
        return tuple(line.first - 1 for line in self.plan[1:] if line.rows)

    @property
    def under_hem(self) -> tuple[int, ...]:
        """Readings of the changes whose tails a hem comes to lie over."""
        first, last = (end.rows if end.edge == "hemmed" else 0 for end in self.ends)
        end = self.worked_rows
        return tuple(row for row in self.changes if row < 2 * first or row > end - 2 * last)

    def is_cut(self, number: int) -> bool:
        """Whether the yarn of a stripe (from 0) is cut after it, and doesn't wait to be carried up.

        That of the last stripe always is.
        """
        yarn = self.plan[number].yarn
        later = (line.carried for line in self.plan[number + 1 :] if line.yarn == yarn)
        return not next(later, False)

    @property
    def cut_tails(self) -> int:
        """Tails at the changes of one such piece, to be knotted or woven in; its ends apart."""
        changes = range(1, len(self.plan))
        laid_in = sum(line.rows > 0 and not line.carried for line in self.plan[1:])
        return laid_in + sum(self.is_cut(number - 1) for number in changes)

    @property
    def yarns(self) -> tuple[str, ...]:
        """Keys of its yarns, in order of first use."""
        return tuple(dict.fromkeys(line.yarn for line in self.plan))


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
    density_kg_m3: float
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
    source: str | None
    """Where the head size comes from, when it comes from a table."""

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
    keep: str
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
