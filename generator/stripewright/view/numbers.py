"""The numbers of a worked pattern as they are told: each figure once, as value and text.

Pages, paper, terminal and preview print these and phrase none of them again.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stripewright.catalogue import _, n_
from stripewright.compute.colour import WHO
from stripewright.figures import Figures, listed, rounded
from stripewright.phrases import Measure, Phrase, phrase
from stripewright.times import time_span
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
    """What happens along each piece, by its key."""


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


def materials_of(
    worked: WorkedPattern, settings: Settings
) -> tuple[tuple[MaterialView, ...], str | None]:
    """The yarns of a pattern, and what they cost in all."""
    figures = Figures.of(settings)
    names = {yarn.key: yarn.name for yarn in worked.yarns}
    materials = tuple(material(yarn, names, settings, figures) for yarn in worked.yarns)
    return materials, cost_of(worked.yarns, settings, figures)


def numbers(worked: WorkedPattern, settings: Settings, events: Events | None = None) -> Numbers:
    """A worked pattern's numbers, in the studio's language and order of units.

    Args:
        worked: the pattern, or one of its further sizes.
        settings: the studio's.
        events: what happens along its pieces, in words.
    """
    figures, machine = Figures.of(settings), worked.pattern.machine
    apart = _apart(machine.pitch, figures) if machine.pitch else ""
    yarns = {yarn.key: yarn for yarn in worked.yarns}
    materials, cost = materials_of(worked, settings)
    tensions = [one.setting for one in worked.pattern.swatches if one.setting]
    time, fit = worked.time.total, worked.fit
    return Numbers(
        bed=machine.bed,
        needles=machine.needles,
        machine=_bed(machine.bed, machine.needles),
        pitch=apart,
        gauge=", ".join([gauge(worked.gauge, figures), *tensions[:1]]),
        swatches=_swatches(worked.gauge, figures),
        fits=_fits(fit, figures) if fit else None,
        time=time_span(time.low, time.high),
        minutes=time.high,
        sizes=tuple(_size(size, figures) for size in worked.finished),
        materials=materials,
        cost=cost,
        supplies=tuple(supply(one, figures) for one in supplies(worked)),
        pieces=() if worked.nominal else _pieces(worked, figures, events or {}),
        clashes=tuple(dict.fromkeys(_clash(clash, yarns) for clash in worked.clashes)),
    )


def _pieces(worked: WorkedPattern, figures: Figures, events: Events) -> tuple[PieceView, ...]:
    yarns = {yarn.key: yarn for yarn in worked.yarns}
    return tuple(
        piece_view(
            piece,
            yarns,
            figures,
            events.get(piece.key, ()),
            [one for one in worked.amounts if one.piece == piece.key],
        )
        for piece in worked.pieces
    )


def gauge(worked: WorkedGauge, figures: Figures) -> str:
    """Stitches and rows, over 10 cm and over 4 in."""
    if worked.rough_10cm and worked.rough_4in:
        metric, imperial = worked.rough_10cm, worked.rough_4in
        return figures.gauge(metric[:2], imperial[:2], rough=(not metric[2], not imperial[2]))
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
    return _(
        "from {swatches} swatches, give or take {stitches} stitches and {rows} rows to {length}",
        swatches=gauge.swatches,
        stitches=stitches,
        rows=rows,
        length=over,
    )


def _bed(bed: str, needles: int) -> str:
    if bed == "circular":
        return n_("Circular bed, {number} needle", "Circular bed, {number} needles", needles)
    return n_("Flat bed, {number} needle", "Flat bed, {number} needles", needles)


def _apart(pitch_cm: float, figures: Figures) -> str:
    told = figures.small(pitch_cm)
    return _("needles {distance} apart", distance=told)


def _fits(fit: WorkedFit, figures: Figures) -> Phrase:
    head = figures.measure("cm", fit.head_cm)
    if fit.wearer:
        return phrase(_("a head of {head}, {wearer}"), head=head, wearer=_(fit.wearer))
    return phrase(_("a head of {head}"), head=head)


def _size(size: FinishedSize, figures: Figures) -> SizeView:
    inches = size.inches

    def told(cm: float, also_cm: float | None) -> Measure:
        if inches is None or also_cm is None:
            return figures.measure("cm", cm)
        return figures.roughly(cm, also_cm)

    other = inches or size
    width = told(size.width_cm, other.width_cm)
    length = told(size.length_cm, other.length_cm)
    high: Measure | Phrase = length
    if size.low_length_cm is not None and rounded(size.low_length_cm) < rounded(size.length_cm):
        low = told(size.low_length_cm, other.low_length_cm)
        high = phrase(_("{low} to {high}"), low=low, high=length)
    if size.across:
        text = short = phrase(_("{width} across"), width=width)
    elif size.around:
        text = phrase(_("{width} around, {length} high"), width=width, length=high)
        short = phrase(_("{width} around × {length}"), width=width, length=length)
    else:
        text = phrase(_("{width} wide, {length} long"), width=width, length=high)
        short = phrase("{width} × {length}", width=width, length=length)
    if size.thickness_cm:
        thick = told(size.thickness_cm, other.thickness_cm)
        text = phrase(_("{size}, {thickness} thick"), size=text, thickness=thick)
    if inches:
        text, short = (phrase(_("about {amount}"), amount=one) for one in (text, short))
    longest = max(size.width_cm, size.length_cm)
    return SizeView(size.title, text, short, size.note, longest)


def _clash(clash: Clash, yarns: Mapping[str, WorkedYarn]) -> str:
    first, second = yarns[clash.first], yarns[clash.second]
    return _(
        "{one} and {other} lie side by side and look alike to {who}: go by the letters.",
        one=f"{first.letter} ({first.name})",
        other=f"{second.letter} ({second.name})",
        who=listed(_(WHO[seer]) for seer in clash.seen_by),
    )
