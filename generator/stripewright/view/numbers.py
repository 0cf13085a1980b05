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
    listed,
    rounded,
    time_span,
)
from stripewright.view.materials import MaterialView, SupplyView, cost_of, material, supply
from stripewright.view.pieces import PieceView, piece_view
from stripewright.words.supplies import supplies

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from stripewright.compute.worked import (
        Clash,
        FinishedSize,
        WorkedFit,
        WorkedGauge,
        WorkedPattern,
        WorkedYarn,
    )
    from stripewright.pattern.settings import Settings
    from stripewright.words.written import ToldEvent

    Events = Mapping[str, Sequence[ToldEvent]]
    """What happens along each piece; of a further size, by SIZE.PIECE."""


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
class Numbers:
    """A pattern's numbers, of one size. A public twin has no pieces: its rows stand for nothing."""

    bed: str
    needles: int
    machine: str
    """Circular bed, 40 needles."""
    pitch: str
    """needles 9 mm apart; "" when it isn't known."""
    gauge: str
    swatches: str
    """from 3 swatches, give or take 0.2 stitches and 0.3 rows; "" for one."""
    fits: Phrase | None
    """a head of 56 cm (22 in)."""
    time: str
    minutes: float
    """At most."""
    sizes: tuple[SizeView, ...]
    materials: tuple[MaterialView, ...]
    cost: str | None
    """Of all balls; None when one has no price, or prices are in several currencies."""
    supplies: tuple[SupplyView, ...]
    pieces: tuple[PieceView, ...]
    clashes: tuple[str, ...]
    """Neighbouring stripes that some readers can't tell apart, each as a sentence."""


def numbers(
    worked: WorkedPattern, settings: Settings, events: Events | None = None, size: str = ""
) -> Numbers:
    """A worked pattern's numbers, in the studio's language and order of units.

    Args:
        worked: the pattern, or one of its further sizes.
        settings: the studio's.
        events: what happens along its pieces, in words.
        size: the key of a further size.
    """
    figures, machine = Figures.of(settings), worked.pattern.machine
    apart = f"needles {figures.number(machine.pitch * 10, 1)} mm apart" if machine.pitch else ""
    yarns = {yarn.key: yarn for yarn in worked.yarns}
    names = {yarn.key: yarn.name for yarn in worked.yarns}
    tensions = [one.setting for one in worked.pattern.swatches if one.setting]
    time, fit, told = worked.time.total, worked.fit, events or {}
    return Numbers(
        bed=machine.bed,
        needles=machine.needles,
        machine=f"{machine.bed.capitalize()} bed, {machine.needles} needles",
        pitch=apart,
        gauge=", ".join([gauge(worked.gauge, figures), *tensions[:1]]),
        swatches=_swatches(worked.gauge, figures),
        fits=_fits(fit, figures) if fit else None,
        time=time_span(time.low, time.high),
        minutes=time.high,
        sizes=tuple(_size(size, figures) for size in worked.finished),
        materials=tuple(material(yarn, names, settings, figures) for yarn in worked.yarns),
        cost=cost_of(worked.yarns, settings, figures),
        supplies=tuple(supply(one, figures) for one in supplies(worked)),
        pieces=()
        if worked.nominal
        else tuple(
            piece_view(
                piece,
                yarns,
                figures,
                told.get(f"{size}.{piece.key}".strip("."), ()),
                [one for one in worked.amounts if one.piece == piece.key],
            )
            for piece in worked.pieces
        ),
        clashes=tuple(dict.fromkeys(_clash(clash, yarns) for clash in worked.clashes)),
    )


def gauge(worked: WorkedGauge, figures: Figures) -> str:
    """Stitches and rows, over 10 cm and over 4 in."""
    return figures.gauge(
        (worked.stitches_10cm, worked.rows_10cm), (worked.stitches_4in, worked.rows_4in)
    )


def _swatches(gauge: WorkedGauge, figures: Figures) -> str:
    """How many swatches the gauge is of, and by how much they differ: the standard deviation."""
    if gauge.swatches < 2:
        return ""
    over, length = ("4 in", 10.16) if figures.imperial else ("10 cm", 10.0)
    spreads = (gauge.stitches_spread or 0.0, gauge.rows_spread or 0.0)
    stitches, rows = (figures.number(spread * length, 1) for spread in spreads)
    spread = f"give or take {stitches} stitches and {rows} rows to {over}"
    return f"from {gauge.swatches} swatches, {spread}"


def _fits(fit: WorkedFit, figures: Figures) -> Phrase:
    head = figures.measure("cm", fit.head_cm)
    return Phrase("a head of ", head, f", {fit.wearer}" if fit.wearer else "")


def _size(size: FinishedSize, figures: Figures) -> SizeView:
    width, length = (figures.measure("cm", cm) for cm in (size.width_cm, size.length_cm))
    told: tuple[str | Measure, ...] = (length,)
    if size.low_length_cm is not None and rounded(size.low_length_cm) < rounded(size.length_cm):
        told = (figures.measure("cm", size.low_length_cm), " to ", length)
    parts: tuple[str | Measure, ...] = (width, " wide, ", *told, " long")
    short: tuple[str | Measure, ...] = (width, " × ", length)
    if size.across:
        parts = short = (width, " across")
    elif size.around:
        parts, short = (width, " around, ", length, " high"), (width, " around × ", length)
    if size.thickness_cm:
        parts = (*parts, ", ", figures.measure("cm", size.thickness_cm), " thick")
    longest = max(size.width_cm, size.length_cm)
    return SizeView(size.title, Phrase(*parts), Phrase(*short), size.note, longest)


def _clash(clash: Clash, yarns: Mapping[str, WorkedYarn]) -> str:
    first, second = yarns[clash.first], yarns[clash.second]
    return (
        f"{first.letter} ({first.name}) and {second.letter} ({second.name}) lie side by side "
        f"and look alike to {listed(WHO[seer] for seer in clash.seen_by)}: go by the letters."
    )
