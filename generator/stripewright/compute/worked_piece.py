"""A worked piece: its stripes, its ends, and what is along it. Plain frozen data, lengths in cm."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from stripewright.compute.brim import WorkedBrim
    from stripewright.compute.event import Event, WorkedRepeat
    from stripewright.compute.recorded import WorkedTable
    from stripewright.pattern.edge import EdgeKind
    from stripewright.pattern.yarns import Machine


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


DEEP_HEM = 8
"""Rows from which on a hem counts as deep (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class WorkedEnd:
    """An end of a piece, how it is finished, and the rows that finishing takes."""

    edge: EdgeKind
    rows: int
    grafted: int = 0
    """Rows that grafting makes here; of two ends grafted to each other the last one has it."""
    live: bool = True
    """Whether its stitches are live when it is finished: an ordinary cast-on leaves none."""

    @property
    def deep(self) -> bool:
        """Whether it is a hem so deep that its turning row is marked, and tails lie under it."""
        return self.edge == "hemmed" and self.rows >= DEEP_HEM


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
        if not first and not last:
            return ()
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
class WorkedAmount:
    """A stripe given by its yarn: what there is, and what it takes, in m of all its strands."""

    piece: str
    line: int
    """Its stripe of the plan, from 0."""
    yarn: str
    text: str
    """As written: 23 g, 12 m, all."""
    rows: int
    """Visible rows."""
    given_m: float
    used_m: float
    """With its tails; of `all`, what the whole pattern takes of the yarn."""
    metres_per_gram: float | None
    by_mass: bool

    @property
    def left_m(self) -> float:
        """What is left of it, in m."""
        return max(self.given_m - self.used_m, 0.0)
