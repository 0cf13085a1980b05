"""Yarn: the length in one stitch, and what each yarn of a pattern comes to."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from math import fsum, pi, sqrt
from typing import TYPE_CHECKING

from stripewright.catalogue import _
from stripewright.compute.balls import ball_choices, best, needed
from stripewright.compute.marl import shown_colours
from stripewright.compute.worked import Figure, WorkedYarn
from stripewright.pattern.yarns import Swatch

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from stripewright.compute.notes import Notes
    from stripewright.compute.tails import Tail
    from stripewright.compute.worked import BallCount, WorkedGauge
    from stripewright.compute.worked_piece import WorkedPiece
    from stripewright.pattern.pattern import Pattern
    from stripewright.pattern.yarns import Yarn

MUNDEN_KS = 21.6
"""Loops a cm² × (loop length in cm)², plain knitting in wool, wet relaxed."""

YARN_DENSITY = 0.5
"""Bulk density of a soft knitting yarn in g/cm³ (common practice, no source)."""

MEASURED, FROM_BAND, FROM_GAUGE = 0.03, 0.15, 0.2
"""How far the yarn in a stitch may stand from the figure, either way: weighed or unravelled, from
the ball band, from the gauge alone (common practice, no source)."""

DOUBTFUL = 0.15
"""How far a weighed and an unravelled swatch may differ before the author is asked."""


@dataclass(frozen=True, slots=True)
class Loop:
    """One stitch: its yarn in cm (all strands as one), its mass in g if weighed, and by what.

    `source` is one of swatch, unravelled, band, gauge.
    """

    length_cm: Figure
    mass_g: float | None
    source: str


def munden_loop(stitches_per_cm: float, rows_per_cm: float) -> float:
    """Yarn in one stitch in cm, from the gauge alone: ℓ = √(Ks / (stitches/cm × rows/cm)).

    Source: D. L. Munden, "The geometry and dimensional properties of plain-knit fabrics", Journal
    of the Textile Institute 50 (1959), T448–T471; Ks = 21.6 wet relaxed (from memory).
    """
    return sqrt(MUNDEN_KS / (stitches_per_cm * rows_per_cm))


def peirce_loop(stitches_per_cm: float, rows_per_cm: float, tex: float) -> float:
    """Yarn in one stitch in cm, from the gauge and the yarn's thickness: ℓ = 2c + w + 5.94 d.

    c and w are the spacings of rows and stitches, d the yarn's diameter, taken from its tex
    (g per km) at a bulk density of `YARN_DENSITY`.

    Source: F. T. Peirce, "Geometrical principles applicable to the design of functional fabrics",
    Textile Research Journal 17 (1947), 123–147 (from memory).
    """
    diameter = sqrt(4 * tex * 1e-5 / (pi * YARN_DENSITY))
    return 2 / rows_per_cm + 1 / stitches_per_cm + 5.94 * diameter


def metres_per_gram(yarn: Yarn) -> float | None:
    """How far a gram of one strand goes, by its first ball; None when no ball is given."""
    return next((sold.ball.metres_per_gram for sold in yarn.on_sale), None)


def loop_of(gauge: WorkedGauge, swatches: Sequence[Swatch], yarns: Iterable[Yarn]) -> Loop:
    """Yarn in one stitch, by the best of what is known.

    In this order: the weighed swatch with the ball's metres to the gram; yarn measured as it was
    unravelled; the ball band (Peirce); the gauge alone (Munden). The last two are estimates. The
    swatch is taken to be knitted in the first yarn that has a ball.

    Args:
        gauge: of the pattern.
        swatches: those that are weighed or unravelled count, each alike.
        yarns: in their written order.

    Returns:
        Length in cm with its range, and mass in g where a swatch was weighed.
    """
    masses = [s.mass / (s.stitches * s.rows) for s in swatches if s.mass is not None]
    lengths = [s.unravelled.length / s.unravelled.stitches for s in swatches if s.unravelled]
    reach = next(
        (mpg / yarn.strands for yarn in yarns if (mpg := metres_per_gram(yarn)) is not None), None
    )
    mass = fsum(masses) / len(masses) if masses else None
    if mass is not None and reach is not None:
        return Loop(_figure(mass * reach * 100, MEASURED, estimated=False), mass, "swatch")
    if lengths:
        length = fsum(lengths) / len(lengths)
        return Loop(_figure(length, MEASURED, estimated=False), mass, "unravelled")
    across, along = gauge.stitches_per_cm, gauge.rows_per_cm
    if reach is not None:
        length = peirce_loop(across, along, 1000 / reach)
        return Loop(_figure(length, FROM_BAND, estimated=True), None, "band")
    length = munden_loop(across, along)
    return Loop(_figure(length, FROM_GAUGE, estimated=True), mass, "gauge")


def check_unravelled(pattern: Pattern, loop: Loop, notes: Notes) -> None:
    """Warn where yarn that was unravelled contradicts the weighed swatch, which is used.

    Args:
        pattern: for its swatches.
        loop: the yarn in one stitch, from `loop_of`.
        notes: where the warning goes.
    """
    if loop.source != "swatch":
        return
    several = not isinstance(pattern.swatch, Swatch)
    for index, swatch in enumerate(pattern.swatches):
        if swatch.unravelled is None:
            continue
        weighed = loop.length_cm.value
        pulled = swatch.unravelled.length / swatch.unravelled.stitches
        if abs(pulled - weighed) <= DOUBTFUL * weighed:
            continue
        notes.warning(
            ("swatch", index, "unravelled") if several else ("swatch", "unravelled"),
            _(
                "by what was unravelled a stitch takes {pulled} of yarn, "
                "by the swatch's mass {weighed}, which is used",
                pulled=notes.figures.closely(pulled),
                weighed=notes.figures.closely(weighed),
            ),
            _("weigh and measure again, check the ball's metres, or leave one of the two out"),
        )


def _figure(value: float, spread: float, *, estimated: bool) -> Figure:
    return Figure(value, value * (1 - spread), value * (1 + spread), estimated)


def waste_metres(pattern: Pattern, pieces: Iterable[WorkedPiece], loop: Loop) -> float:
    """Waste yarn in m: its rows before and after each piece, at the pattern's own loop length.

    Source: common practice, no source.
    """
    stitches = sum(2 * pattern.waste.rows * piece.stitches * piece.make for piece in pieces)
    return stitches * loop.length_cm.value / 100


def roles_of(yarns: Mapping[str, Yarn]) -> dict[str, str]:
    """Each yarn's role: the author's own, else MC for the first and CC1, CC2, ... in order."""
    taken = {yarn.role for yarn in yarns.values() if yarn.role}
    free = (role for role in ("MC", *(f"CC{n}" for n in range(1, 100))) if role not in taken)
    return {key: yarn.role or next(free) for key, yarn in yarns.items()}


@dataclass(frozen=True, slots=True)
class Use:
    """What is knitted in one yarn, and what hangs of it, over all pieces."""

    rows: int = 0
    stitches: int = 0
    hanging_cm: float = 0.0


def uses_of(
    yarns: Mapping[str, Yarn], pieces: Iterable[WorkedPiece], tails: Iterable[Tail]
) -> dict[str, Use]:
    """Rows, stitches and hanging lengths (cm) of each yarn, every piece counted `make` times.

    What is knitted in a marl counts for each of its yarns, and for the marl itself.
    """
    rows, stitches = Counter[str](), Counter[str]()
    for piece in pieces:
        for line in piece.plan:
            for key in {line.yarn, *yarns[line.yarn].marl}:
                rows[key] += line.rows * piece.make
                stitches[key] += line.rows * piece.make * piece.stitches
    hanging = dict.fromkeys(yarns, 0.0)
    for tail in tails:
        for key in {tail.yarn, *yarns[tail.yarn].marl}:
            hanging[key] += tail.length_cm * tail.times
    return {key: Use(rows[key], stitches[key], cm) for key, cm in hanging.items()}


def work_yarns(
    pattern: Pattern, uses: Mapping[str, Use], letters: Mapping[str, str], loop: Loop, currency: str
) -> tuple[WorkedYarn, ...]:
    """What each yarn comes to: knitting, tails, joins and fringe, and the balls to buy.

    Args:
        pattern: for the yarns, the margin and the tails.
        uses: of each yarn.
        letters: by yarn key.
        loop: the yarn in one stitch.
        currency: for prices that name none.

    Returns:
        One entry a yarn, in their written order; lengths in m, masses in g, of all strands.
    """
    roles = roles_of(pattern.yarns)
    colours = shown_colours(pattern.yarns)
    worked = []
    for key, yarn in pattern.yarns.items():
        length, sold = bought(pattern, yarn, uses[key], loop, currency)
        worked.append(
            WorkedYarn(
                key=key,
                letter=letters[key],
                role=roles[key],
                name=yarn.name,
                colour=colours[key],
                weight=yarn.weight,
                fibre=yarn.fibre,
                rows=uses[key].rows,
                length_m=length,
                mass_g=None if yarn.marl else _mass(yarn, length, loop),
                balls=best(sold),
                choices=sold,
                strands=yarn.strands,
                marl=yarn.marl,
            )
        )
    return tuple(worked)


def bought(
    pattern: Pattern, yarn: Yarn, use: Use, loop: Loop, currency: str
) -> tuple[Figure, tuple[BallCount, ...]]:
    """Yarn in m with the joins of the buy that is best, and the buys of that to choose from.

    Args:
        pattern: for its margin and tails.
        yarn: how it is sold, and its strands.
        use: what is knitted in it.
        loop: the yarn in one stitch.
        currency: for prices that name none.
    """
    inside, on_sale = pattern.tails.inside, yarn.on_sale
    lengths = [_length(yarn, use, inside, loop, sold.ball.length_m) for sold in on_sale]
    counts = tuple(
        count
        for sold, length in zip(on_sale, lengths, strict=True)
        for count in ball_choices((sold,), needed(length, pattern.margin), length.value, currency)
    )
    found = best(counts)
    if found is None:
        return _length(yarn, use, inside, loop, None), ()
    length = lengths[counts.index(found)]
    return length, ball_choices(on_sale, needed(length, pattern.margin), length.value, currency)


def _length(yarn: Yarn, use: Use, inside_cm: float, loop: Loop, ball_m: float | None) -> Figure:
    """Yarn in m: stitches × loop, what hangs, and two tails for each new ball that is joined in."""
    per = loop.length_cm
    value, low, high = (
        yarn.strands * (use.stitches * one + use.hanging_cm) / 100
        for one in (per.value, per.low, per.high)
    )
    if ball_m is not None:
        joins = int(value / ball_m)
        value, low, high = (one + joins * 2 * inside_cm / 100 for one in (value, low, high))
    return Figure(value, low, high, per.estimated)


def metres_of(yarn: Yarn, loop: Loop) -> float | None:
    """How far a gram of a yarn goes, in m of all its strands, by what its mass is told by.

    That is its ball, else what a stitch of the swatch weighs, which has all strands in it; None
    when neither is known.
    """
    reach = metres_per_gram(yarn)
    if reach is None and loop.mass_g is not None:
        reach = yarn.strands * loop.length_cm.value / 100 / loop.mass_g
    return reach


def _mass(yarn: Yarn, length: Figure, loop: Loop) -> Figure | None:
    """Mass in g: by the ball's metres to the gram, else by what a stitch of the swatch weighs."""
    reach = metres_of(yarn, loop)
    if reach is None:
        return None
    mass = length.value / reach
    if metres_per_gram(yarn) is not None:
        return Figure(mass, length.low / reach, length.high / reach, length.estimated)
    return Figure(mass, mass * (1 - MEASURED), mass * (1 + MEASURED))
