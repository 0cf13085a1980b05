"""What a paid pattern may show of itself: the order of its colours, its size, what to buy.

`equal_bands` makes a second worked pattern that drawings and facts can be made from without a
thought for secrets: nothing in it depends on how the rows are split. Two patterns of one colour
order, of the same size in whole cm and the same balls, give equal results.

Kept as they are: slug; title, summary, dates, tags, level, machine, price, shop, photos, licence,
credit, cautions; yarns with their colours and ball bands; the pieces' keys, titles, forms, number,
needles, kinds of ends and sides, what is filled and what lines what; the order of colours; head
and ease of a fit.

Kept roughly: gauge, to half a stitch and half a row over 10 cm; sizes, to whole cm; yarn, as the
balls it fills (without a ball band, to 50 m); filling and waste yarn, from the rough sizes;
time, from the nominal rows, to quarter hours.

Kept by kind only: folds (half way), openings (the middle third), fringe (a tassel every 2 cm).

Gone: rows of stripes, allowances, lengths and masses used, leftovers, tails, clashes, swatches,
techniques, making-up steps, chapters of the video, the words of corrections (their days stay).
"""

from __future__ import annotations

from dataclasses import replace
from math import ceil
from typing import TYPE_CHECKING, Any

from stripewright.compute.bench import whole
from stripewright.compute.filling import filling, solid
from stripewright.compute.time import work_time
from stripewright.compute.worked import (
    Figure,
    PlanLine,
    WorkedEnd,
    WorkedFringe,
    WorkedGauge,
    WorkedOpening,
    WorkedPiece,
    WorkedTime,
)
from stripewright.compute.yarn import munden_loop
from stripewright.pattern.pattern import Pace, Tails, Waste
from stripewright.pattern.pieces import Edge, Fill, Piece
from stripewright.pattern.quantities import StatedGauge
from stripewright.pattern.stripes import Run

if TYPE_CHECKING:
    from stripewright.compute.worked import (
        BallCount,
        WorkedFit,
        WorkedPattern,
        WorkedYarn,
    )
    from stripewright.pattern.pattern import Pattern

QUARTER = 15.0
"""Minutes."""

ROUGH_M = 50.0
"""Yarn without a ball band is told to this, rounded up."""


def equal_bands(worked: WorkedPattern) -> WorkedPattern:
    """The public twin of a worked pattern (see the module's own words); never an error."""
    gauge = WorkedGauge(
        _halves(worked.gauge.stitches_10cm), _halves(worked.gauge.rows_10cm), stated=True
    )
    pieces = tuple(_piece(piece, gauge) for piece in worked.pieces)
    pattern = _pattern(worked.pattern, pieces, gauge)
    loop = munden_loop(gauge.stitches_per_cm, gauge.rows_per_cm)
    stitches = sum(2 * pattern.waste.rows * piece.stitches * piece.make for piece in pieces)
    time = work_time(pieces, pattern.waste.rows, worked.pace or Pace())
    return replace(
        worked,
        pattern=pattern,
        gauge=gauge,
        pieces=pieces,
        yarns=tuple(_yarn(yarn) for yarn in worked.yarns),
        time=WorkedTime(_quarters(time.knitting), _quarters(time.making_up), _quarters(time.total)),
        loop_cm=_flat(loop, estimated=True),
        loop_source="gauge",
        waste_m=float(ceil(stitches * loop / 100)),
        filling=filling(pattern.fill or Fill(), pieces),
        fit=_fit(worked.fit),
        clashes=(),
        sizes=tuple(replace(size, worked=equal_bands(size.worked)) for size in worked.sizes),
        tails_cm={},
        nominal=True,
    )


def _halves(count_10cm: float) -> float:
    """A gauge to half a stitch over 10 cm, in stitches per cm."""
    return max(whole(count_10cm * 2), 1) / 20


def _cm(length: float) -> float:
    return float(max(whole(length), 1))


def _piece(piece: WorkedPiece, gauge: WorkedGauge) -> WorkedPiece:
    length, width = _cm(piece.finished_length_cm), _cm(piece.flat_width_cm)
    up_width, up_length = _cm(piece.made_up_width_cm), _cm(length / (1 + (piece.fold is not None)))
    band = max(whole(length * gauge.rows_per_cm / len(piece.plan)), 1)
    plan = tuple(
        PlanLine(line.letter, line.yarn, number * band + 1, (number + 1) * band)
        for number, line in enumerate(piece.plan)
    )
    rows = plan[-1].last
    first, last = piece.ends
    shape = None
    if piece.solid is not None:
        shape = solid(up_width, up_length, (first.edge, last.edge))
    return replace(
        piece,
        ends=(WorkedEnd(first.edge, 0), WorkedEnd(last.edge, 0)),
        plan=plan,
        flat_width_cm=width,
        girth_cm=None if piece.girth_cm is None else _cm(piece.girth_cm),
        finished_length_cm=length,
        worked_length_cm=length,
        asked_length_cm=None,
        fold=None if piece.fold is None else max(rows // 2, 1),
        openings=tuple(
            WorkedOpening(gap.what, gap.side, rows // 3 + 1, max(2 * rows // 3, rows // 3 + 1))
            for gap in piece.openings
        ),
        fringe=_fringe(piece.fringe, width),
        solid=shape,
        least_stitches=None,
        panels_to_width=None,
        made_up_width_cm=up_width,
        made_up_length_cm=up_length,
    )


def _fringe(fringe: WorkedFringe | None, width: float) -> WorkedFringe | None:
    if fringe is None:
        return None
    finished = _cm(fringe.finished_cm)
    return WorkedFringe(whole(width / 2) + 1, 2, 2 * finished, finished, fringe.yarns)


def _yarn(yarn: WorkedYarn) -> WorkedYarn:
    balls = None if yarn.balls is None else _bought(yarn.balls)
    if balls is None:
        length = _flat(ceil(yarn.length_m.high / ROUGH_M) * ROUGH_M, estimated=True)
        mass = None
    else:
        length = _flat(balls.balls * balls.length_m, estimated=yarn.length_m.estimated)
        mass = _flat(balls.balls * balls.mass_g, estimated=yarn.length_m.estimated)
    return replace(
        yarn,
        rows=0,
        length_m=length,
        mass_g=mass,
        balls=balls,
        choices=tuple(map(_bought, yarn.choices)),
    )


def _flat(value: float, *, estimated: bool) -> Figure:
    return Figure(value, value, value, estimated)


def _bought(count: BallCount) -> BallCount:
    return replace(count, leftover_g=0.0)


def _quarters(minutes: Figure) -> Figure:
    value, low, high = (
        max(whole(one / QUARTER), 1) * QUARTER for one in (minutes.value, minutes.low, minutes.high)
    )
    return Figure(value, low, high, estimated=True)


def _fit(fit: WorkedFit | None) -> WorkedFit | None:
    return None if fit is None else replace(fit, girth_cm=_cm(fit.girth_cm))


def _pattern(pattern: Pattern, pieces: tuple[WorkedPiece, ...], gauge: WorkedGauge) -> Pattern:
    """The front matter without its private parts; it is not validated again."""
    video = pattern.video
    told = StatedGauge(gauge.stitches_10cm, gauge.rows_10cm, 10.0)
    return pattern.model_copy(
        update={
            "swatch": None,
            "gauge": told,
            "pieces": {piece.key: _written(piece) for piece in pieces},
            "tails": Tails(),
            "waste": Waste(),
            "making_up": None,
            "techniques": {},
            "sizes": {},
            "video": None if video is None else video.model_copy(update={"chapters": ()}),
            "corrections": tuple(
                one.model_copy(update={"text": ""}) for one in pattern.corrections
            ),
        }
    )


def _written(piece: WorkedPiece) -> Piece:
    first, last = piece.ends
    runs = (  # what was worked needs no validating again, and there may be hundreds
        Run.model_construct(yarn=line.yarn, count=float(line.rows), least=None)
        for line in piece.plan
    )
    fields: dict[str, Any] = {
        "title": piece.title,
        "form": piece.form,
        "make": piece.make,
        "needles": piece.stitches,
        "ends": (Edge(edge=first.edge), Edge(edge=last.edge)),
        "sides": piece.sides,
        "stripes": tuple(runs),
        "filled": piece.filled,
    }
    return Piece.model_construct(**fields)
