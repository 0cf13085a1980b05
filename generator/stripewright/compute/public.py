"""What a paid pattern may show of itself: the order of its colours, its size, what to buy.

`equal_bands` makes a second worked pattern that drawings and facts can be made from without a
thought for secrets: nothing in it depends on how the rows are split. Two patterns of one colour
order, of the same size in whole cm and inches and the same balls, give equal results.

Kept as they are: slug; title, summary, dates, tags, level, machine, price, shop, photos, licence,
credit, cautions; yarns with their colours and ball bands; colourways with their colours; the
pieces' keys, titles, forms, number, needles, kinds of ends and sides, what is filled and what lines
what; titles and rough finished sizes of further sizes; the order of colours; head and ease of a
fit.

Kept roughly: gauge, to half a stitch and half a row over 10 cm and over 4 in; sizes, to whole cm
and, from the true ones too, to whole inches; balls to buy,
rounded up so that no count tells an amount closer than to a fifth, however small the balls and
however many sizes they come in; filling, from the rough sizes; time, from the nominal rows, to
quarter hours.

Drawings alone show each stripe's true share where `reveal: heights` says so (`compute.heights`).

Kept by kind only: folds (half way), brims that are turned up (a sixth), openings (the middle
third), fringe (a tassel every 2 cm),
what is attached to what. Events are those of the equal bands.

Gone: rows of stripes, repeats, the data that they are made from, what is carried up, allowances,
lengths and masses used, waste yarn, leftovers, tails, clashes, swatches, techniques, making-up
steps, chapters of the video, the words of corrections (their days stay), and
whatever else of the front matter `PUBLIC` doesn't name.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

from stripewright.compute.balls import best
from stripewright.compute.brim import nominal_brim
from stripewright.compute.events import events_of
from stripewright.compute.filling import filling, solid
from stripewright.compute.piece_context import whole
from stripewright.compute.rough import (
    ROUGH_G,
    half_counts,
    halves,
    quarters,
    rough_choices,
    sure_figure,
    whole_cm,
)
from stripewright.compute.size import finished_sizes
from stripewright.compute.time import work_time
from stripewright.compute.worked import WorkedGauge, WorkedTime
from stripewright.compute.worked_piece import (
    PlanLine,
    WorkedEnd,
    WorkedFringe,
    WorkedOpening,
    WorkedPiece,
)
from stripewright.compute.yarn import munden_loop
from stripewright.figures import CM_PER_IN, rounded, up_to
from stripewright.pattern.edge import Edge
from stripewright.pattern.making import Pace
from stripewright.pattern.pattern import Pattern
from stripewright.pattern.pieces import Fill, Piece
from stripewright.pattern.quantities import StatedGauge
from stripewright.pattern.run import Run

if TYPE_CHECKING:
    from collections.abc import Iterable

    from stripewright.compute.worked import (
        FinishedSize,
        WorkedColourway,
        WorkedFit,
        WorkedJoin,
        WorkedPattern,
        WorkedSize,
        WorkedYarn,
    )

PUBLIC = (
    "title", "summary", "slug", "kind", "units", "terms", "access", "price", "shop", "published",
    "reveal", "updated", "version", "level", "tags", "machine", "yarns", "join", "jogs", "notions",
    "fit", "audience", "base", "cords", "small_parts", "steam", "cautions", "photos", "licence",
    "credit",
)  # fmt: skip
"""What of the front matter everyone may read as it is; all else is told roughly, or gone."""


def equal_bands(worked: WorkedPattern) -> WorkedPattern:
    """The public twin of a worked pattern (see the module's own words); never an error."""
    gauge = WorkedGauge(
        halves(worked.gauge.stitches_10cm),
        halves(worked.gauge.rows_10cm),
        swatches=0,
        rough_10cm=half_counts(worked.gauge.stitches_10cm, worked.gauge.rows_10cm),
        rough_4in=half_counts(worked.gauge.stitches_4in, worked.gauge.rows_4in),
    )
    pieces = tuple(_piece(piece, gauge) for piece in worked.pieces)
    pattern = _pattern(worked.pattern, pieces, gauge)
    loop = munden_loop(gauge.stitches_per_cm, gauge.rows_per_cm)
    whole_cloth = _joined(worked.joined)
    stuffing = filling(pattern.fill or Fill(), pieces)
    time = work_time(pieces, pattern.waste.rows, stuffing, worked.pace or Pace())
    return replace(
        worked,
        pattern=pattern,
        gauge=gauge,
        pieces=pieces,
        yarns=tuple(_yarn(yarn) for yarn in worked.yarns),
        time=WorkedTime(quarters(time.knitting), quarters(time.making_up), quarters(time.total)),
        loop_cm=sure_figure(loop, estimated=True),
        loop_source="gauge",
        waste_m=None,
        finished=_sizes(worked, pattern, pieces, gauge),
        joined=whole_cloth,
        filling=stuffing,
        fit=_fit(worked.fit),
        clashes=(),
        sizes=tuple(map(_size, worked.sizes)),
        colourways=tuple(map(_colourway, worked.colourways)),
        tails_cm={},
        amounts=(),
        nominal=True,
    )


def _size(one: WorkedSize) -> WorkedSize:
    """Its name and its finished size alone: yarn and time would tell an amount once more."""
    return replace(one, worked=replace(_unbought(one.worked), filling=None))


def _colourway(one: WorkedColourway) -> WorkedColourway:
    """Its colours alone: balls of another size would tell an amount once more."""
    return replace(one, worked=_unbought(one.worked))


def _unbought(worked: WorkedPattern) -> WorkedPattern:
    """The twin of a size or a colourway, without what there is to buy."""
    twin = equal_bands(replace(worked, sizes=(), colourways=()))
    return replace(twin, yarns=tuple(replace(one, balls=None, choices=()) for one in twin.yarns))


def _piece(piece: WorkedPiece, gauge: WorkedGauge, unit: float = 1.0) -> WorkedPiece:
    brim = piece.brim
    shown = _shown_length(piece)
    if brim is not None:  # as it is worn: beside the whole it would tell how much is turned up
        shown = piece.made_up_length_cm * (1 + (piece.fold is not None))
    length, width = whole_cm(shown, unit), whole_cm(piece.flat_width_cm, unit)
    up_width = whole_cm(piece.made_up_width_cm, unit)
    up_length = whole_cm(length / (1 + (piece.fold is not None)), unit)
    plan = _equal_plan(piece, length, gauge)
    rows = plan[-1].last
    first, last = piece.ends
    place = piece.attachment
    nominal = replace(
        piece,
        ends=(WorkedEnd(first.edge, 0, live=first.live), WorkedEnd(last.edge, 0, live=last.live)),
        plan=plan,
        flat_width_cm=width,
        girth_cm=None if piece.girth_cm is None else whole_cm(piece.girth_cm, unit),
        finished_length_cm=length,
        worked_length_cm=length,
        asked_length_cm=None,
        fold=None if piece.fold is None else max(rows // 2, 1),
        openings=_middle_third(piece.openings, rows),
        fringe=_fringe(piece.fringe, width),
        solid=solid(up_width, up_length, (first.edge, last.edge)) if piece.solid else None,
        wished_width_cm=None,
        least_stitches=None,
        panels_to_width=None,
        made_up_width_cm=up_width,
        made_up_length_cm=up_length,
        attachment=None if place is None else replace(place, row=None),
        joins=(),
        repeats=(),
        tables=(),
        brim=None,
    )
    if brim is not None:
        nominal = replace(nominal_brim(nominal), made_up_length_cm=up_length)
    return replace(nominal, events=events_of(nominal))


def _equal_plan(piece: WorkedPiece, length: float, gauge: WorkedGauge) -> tuple[PlanLine, ...]:
    """The stripes of a piece, all of one height."""
    band = max(whole(length * gauge.rows_per_cm / len(piece.plan)), 1)
    return tuple(
        PlanLine(line.letter, line.yarn, number * band + 1, (number + 1) * band)
        for number, line in enumerate(piece.plan)
    )


def _middle_third(gaps: Iterable[WorkedOpening], rows: int) -> tuple[WorkedOpening, ...]:
    """Openings where none is: all in the middle third of a piece."""
    first = rows // 3 + 1
    return tuple(
        WorkedOpening(gap.what, gap.side, first, max(2 * rows // 3, first)) for gap in gaps
    )


def _shown_length(piece: WorkedPiece) -> float:
    """How long it is in cm; a lining as long as its cover shows, which tells no more than that."""
    if piece.lining_of is None:
        return piece.finished_length_cm
    taken = sum(end.rows for end in piece.ends)
    return piece.finished_length_cm * (1 + taken / piece.visible_rows)


def _fringe(fringe: WorkedFringe | None, width: float) -> WorkedFringe | None:
    if fringe is None:
        return None
    finished = whole_cm(fringe.finished_cm)
    tassels = whole(width / 2) + 1
    return WorkedFringe(tassels, 2, 2 * finished, finished, fringe.yarns, layers=fringe.layers)


def _sizes(
    worked: WorkedPattern, pattern: Pattern, pieces: tuple[WorkedPiece, ...], gauge: WorkedGauge
) -> tuple[FinishedSize, ...]:
    """The finished sizes to whole cm, each with the one that is rounded to whole inches."""
    inches = tuple(_piece(piece, gauge, CM_PER_IN) for piece in worked.pieces)
    told, also = (
        [
            _finished(size, unit)
            for size in finished_sizes(pattern.kind, made, _joined(worked.joined, unit))
        ]
        for made, unit in ((pieces, 1.0), (inches, CM_PER_IN))
    )
    return tuple(replace(one, inches=other) for one, other in zip(told, also, strict=True))


def _finished(size: FinishedSize, unit: float) -> FinishedSize:
    def told(length: float) -> float:
        return rounded(length / unit) * unit

    thickness = None if size.thickness_cm is None else told(size.thickness_cm)
    low = None if size.low_length_cm is None else told(size.low_length_cm)
    return replace(size, width_cm=told(size.width_cm), length_cm=told(size.length_cm),
                   thickness_cm=thickness, low_length_cm=low)  # fmt: skip


def _yarn(yarn: WorkedYarn) -> WorkedYarn:
    choices = rough_choices(yarn.choices)
    return replace(yarn, rows=0, length_m=None, mass_g=None, balls=best(choices), choices=choices)


def _joined(join: WorkedJoin | None, unit: float = 1.0) -> WorkedJoin | None:
    if join is None:
        return None
    return replace(
        join, width_cm=whole_cm(join.width_cm, unit), length_cm=whole_cm(join.length_cm, unit)
    )


def _fit(fit: WorkedFit | None) -> WorkedFit | None:
    return None if fit is None else replace(fit, girth_cm=whole_cm(fit.girth_cm))


def _pattern(pattern: Pattern, pieces: tuple[WorkedPiece, ...], gauge: WorkedGauge) -> Pattern:
    """The front matter with its public parts alone; it is not validated again."""
    video, fill = pattern.video, pattern.fill
    if fill is not None and fill.mass is not None:
        fill = fill.model_copy(update={"mass": up_to(fill.mass, ROUGH_G)})
    kept = {name: getattr(pattern, name) for name in PUBLIC}
    kept |= {
        "gauge": StatedGauge(gauge.stitches_10cm, gauge.rows_10cm, 10.0),
        "pieces": {piece.key: _written(piece) for piece in pieces},
        "fill": fill,
        "video": None if video is None else video.model_copy(update={"chapters": ()}),
        "corrections": tuple(one.model_copy(update={"text": ""}) for one in pattern.corrections),
    }
    return Pattern.model_construct(**kept)


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
