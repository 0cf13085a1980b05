"""The numbers of a worked pattern as they are told: each figure once, as value and text.

Pages, paper, terminal and preview print these and phrase none of them again.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stripewright.compute.colour import WHO
from stripewright.figures import (
    Figures,
    Measure,
    Phrase,
    counted,
    listed,
    reading,
    rounded,
    time_span,
)
from stripewright.words.marks import marks
from stripewright.words.supplies import WEIGHTS, supplies

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from stripewright.compute.worked import (
        BallCount,
        Clash,
        FinishedSize,
        PlanLine,
        WorkedGauge,
        WorkedPattern,
        WorkedPiece,
        WorkedYarn,
    )
    from stripewright.pattern.settings import Settings
    from stripewright.words.supplies import Supply


@dataclass(frozen=True, slots=True)
class SizeView:
    """A piece made up."""

    title: str
    text: Phrase
    """38.1 cm (15 in) wide, 52 cm (20½ in) long."""
    short: Phrase
    """38.1 cm (15 in) × 52 cm (20½ in)."""
    note: str
    longest_cm: float


@dataclass(frozen=True, slots=True)
class BuyView:
    """Balls of one size to buy."""

    balls: int
    count: str
    """3 balls."""
    ball: Measure
    """Mass of one."""
    cost: str | None
    leftover: Measure | None
    """None when nothing is left, or it isn't told."""
    text: Phrase
    """3 balls of 100 g (3.5 oz), 120 m (131 yd) each, £13.50 in all."""


@dataclass(frozen=True, slots=True)
class MaterialView:
    """A yarn: how much it takes, where that is told, and what to buy."""

    letter: str
    role: str
    name: str
    colour: str
    weight: int | None
    weight_class: str
    """5 (bulky); "" when it isn't known."""
    fibre: str
    about: str
    """"about " before an estimate, else ""."""
    length: Measure | None
    mass: Measure | None
    uses: Phrase | None
    """about 340 m (372 yd), 180 g (6.3 oz)."""
    buy: BuyView | None


@dataclass(frozen=True, slots=True)
class SupplyView:
    """Anything else to have at hand: filling, waste yarn, a needle."""

    name: str
    mass: Measure | None
    amount: Phrase | None
    """about 240 g (8.5 oz)."""


@dataclass(frozen=True, slots=True)
class PlanRow:
    """A stripe in the plan; `first` and `last` are worked rows, both included."""

    letter: str
    yarn: str
    colour: str
    first: int
    last: int
    rows: int
    reading: str
    """What the counter reads when it is done, as wide as the counter shows it: 014."""
    edge: str
    """1 row: what finishing an edge takes of it."""


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
    width: Measure
    """Laid flat."""
    length: Measure
    off: Phrase | None
    """0.4 cm (⅛ in) longer than asked for."""
    plan: tuple[PlanRow, ...]
    marks: str
    """What is done in the middle of a stripe, as a sentence; may be empty."""


@dataclass(frozen=True, slots=True)
class Numbers:
    """A pattern's numbers, of one size. A public twin has no pieces: its rows stand for nothing."""

    bed: str
    needles: int
    machine: str
    """Circular bed, 40 needles."""
    gauge: str
    swatches: str
    """from 3 swatches; "" for one."""
    fits: Phrase | None
    """a head of 56 cm (22 in)."""
    time: str
    minutes: float
    """At most."""
    sizes: tuple[SizeView, ...]
    materials: tuple[MaterialView, ...]
    supplies: tuple[SupplyView, ...]
    pieces: tuple[PieceView, ...]
    clashes: tuple[str, ...]
    """Neighbouring stripes that some readers can't tell apart, each as a sentence."""
    cost: str | None = None
    """What all yarns to buy cost together; None without all prices, or in several currencies."""


def numbers(worked: WorkedPattern, settings: Settings) -> Numbers:
    """A worked pattern's numbers, in the studio's language and order of units."""
    figures, machine = Figures.of(settings), worked.pattern.machine
    yarns = {yarn.key: yarn for yarn in worked.yarns}
    time, fit = worked.time.total, worked.fit
    return Numbers(
        bed=machine.bed,
        needles=machine.needles,
        machine=f"{machine.bed.capitalize()} bed, {machine.needles} needles",
        gauge=gauge(worked.gauge, figures),
        swatches=f"from {worked.gauge.swatches} swatches" if worked.gauge.swatches > 1 else "",
        fits=Phrase("a head of ", figures.measure("cm", fit.head_cm)) if fit else None,
        time=time_span(time.low, time.high),
        minutes=time.high,
        sizes=tuple(_size(size, figures) for size in worked.finished),
        materials=tuple(_material(yarn, settings, figures) for yarn in worked.yarns),
        supplies=tuple(_supply(one, figures) for one in supplies(worked)),
        pieces=()
        if worked.nominal
        else tuple(_piece(piece, yarns, figures) for piece in worked.pieces),
        clashes=tuple(dict.fromkeys(_clash(clash, yarns) for clash in worked.clashes)),
        cost=_cost(worked.yarns, settings, figures),
    )


def gauge(worked: WorkedGauge, figures: Figures) -> str:
    """Stitches and rows, over 10 cm and over 4 in."""
    return figures.gauge(
        (worked.stitches_10cm, worked.rows_10cm), (worked.stitches_4in, worked.rows_4in)
    )


def _size(size: FinishedSize, figures: Figures) -> SizeView:
    width, length = (figures.measure("cm", cm) for cm in (size.width_cm, size.length_cm))
    parts: tuple[str | Measure, ...] = (width, " wide, ", length, " long")
    short: tuple[str | Measure, ...] = (width, " × ", length)
    if size.across:
        parts = short = (width, " across")
    elif size.around:
        parts, short = (width, " around, ", length, " high"), (width, " around × ", length)
    if size.thickness_cm:
        parts = (*parts, ", ", figures.measure("cm", size.thickness_cm), " thick")
    longest = max(size.width_cm, size.length_cm)
    return SizeView(size.title, Phrase(*parts), Phrase(*short), size.note, longest)


def _material(yarn: WorkedYarn, settings: Settings, figures: Figures) -> MaterialView:
    length = figures.measure("m", yarn.length_m.value) if yarn.length_m else None
    mass = figures.measure("g", yarn.mass_g.value) if yarn.mass_g else None
    about = "about " if yarn.length_m and yarn.length_m.estimated else ""
    uses = Phrase(about, length, *((", ", mass) if mass else ())) if length else None
    kind = "" if yarn.weight is None else f"{yarn.weight} ({WEIGHTS[yarn.weight]})"
    buy = _buy(yarn.balls, settings, figures) if yarn.balls else None
    return MaterialView(yarn.letter, yarn.role, yarn.name, yarn.colour, yarn.weight, kind,
                        yarn.fibre or "", about, length, mass, uses, buy)  # fmt: skip


def _buy(count: BallCount, settings: Settings, figures: Figures) -> BuyView:
    many = counted(count.balls, "ball")
    ball, each = figures.measure("g", count.mass_g), figures.measure("m", count.length_m)
    cost = None
    if count.cost is not None:
        cost = figures.price(count.cost, count.currency or settings.currency)
    text = Phrase(f"{many} of ", ball, ", ", each, f" each, {cost} in all" if cost else " each")
    leftover = figures.measure("g", count.leftover_g) if count.leftover_g else None
    return BuyView(count.balls, many, ball, cost, leftover, text)


def _cost(yarns: Sequence[WorkedYarn], settings: Settings, figures: Figures) -> str | None:
    counts = [yarn.balls for yarn in yarns]
    costs = [one.cost for one in counts if one is not None and one.cost is not None]
    currencies = {one.currency or settings.currency for one in counts if one is not None}
    if len(costs) < len(counts) or len(currencies) != 1:
        return None
    return figures.price(sum(costs), currencies.pop())


def _supply(one: Supply, figures: Figures) -> SupplyView:
    mass = figures.measure("g", one.mass_g) if one.mass_g else None
    amount = mass or (figures.measure("m", one.length_m) if one.length_m else None)
    about = "about " if one.estimated else ""
    return SupplyView(one.name, mass, Phrase(about, amount) if amount else None)


def _piece(piece: WorkedPiece, yarns: Mapping[str, WorkedYarn], figures: Figures) -> PieceView:
    asked = piece.asked_length_cm
    off = 0.0 if asked is None else rounded(piece.finished_length_cm - asked, 1)
    longer = f" {'longer' if off > 0 else 'shorter'} than asked for"
    return PieceView(
        key=piece.key,
        title=piece.title,
        form=piece.form,
        make=piece.make,
        stitches=piece.stitches,
        worked_rows=piece.worked_rows,
        visible_rows=piece.visible_rows,
        width=figures.measure("cm", piece.flat_width_cm),
        length=figures.measure("cm", piece.finished_length_cm),
        off=Phrase(figures.measure("cm", abs(off)), longer) if off else None,
        plan=tuple(_plan_row(line, yarns[line.yarn], piece.worked_rows) for line in piece.plan),
        marks=marks(piece),
    )


def _plan_row(line: PlanLine, yarn: WorkedYarn, highest: int) -> PlanRow:
    edge = line.allowance_before + line.allowance_after
    return PlanRow(line.letter, yarn.name, yarn.colour, line.first, line.last, line.rows,
                   reading(line.last, highest), counted(edge, "row") if edge else "")  # fmt: skip


def _clash(clash: Clash, yarns: Mapping[str, WorkedYarn]) -> str:
    first, second = yarns[clash.first], yarns[clash.second]
    return (
        f"{first.letter} ({first.name}) and {second.letter} ({second.name}) lie side by side "
        f"and look alike to {listed(WHO[seer] for seer in clash.seen_by)}: go by the letters."
    )
