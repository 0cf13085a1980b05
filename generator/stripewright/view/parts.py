"""The parts of a pattern view that come straight from the worked numbers."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stripewright.figures import rounded
from stripewright.view.views import (
    BallsView,
    DrawingView,
    GaugeView,
    MaterialView,
    PieceView,
    PlanRow,
    SizeView,
    SupplyView,
)
from stripewright.words.marks import marks
from stripewright.words.supplies import WEIGHTS, supplies

if TYPE_CHECKING:
    from collections.abc import Mapping

    from stripewright.compute.worked import (
        BallCount,
        WorkedGauge,
        WorkedPattern,
        WorkedPiece,
        WorkedYarn,
    )
    from stripewright.draw.drawing import Drawing


def drawing_view(drawing: Drawing) -> DrawingView:
    """A drawing for a page."""
    return DrawingView(
        drawing.name, drawing.title, drawing.description, drawing.width, drawing.height, drawing.svg
    )


def gauge_view(gauge: WorkedGauge) -> GaugeView:
    """Gauge to 10 cm and to 4 in."""

    def to_10cm(per_cm: float | None) -> float | None:
        return None if per_cm is None else per_cm * 10

    return GaugeView(
        stitches_10cm=gauge.stitches_10cm,
        rows_10cm=gauge.rows_10cm,
        stitches_4in=gauge.stitches_4in,
        rows_4in=gauge.rows_4in,
        swatches=gauge.swatches,
        stated=gauge.stated,
        stitches_spread_10cm=to_10cm(gauge.stitches_spread),
        rows_spread_10cm=to_10cm(gauge.rows_spread),
    )


def size_views(worked: WorkedPattern) -> tuple[SizeView, ...]:
    """Finished sizes of the pieces that show."""
    return tuple(
        SizeView(
            size.title,
            size.width_cm,
            size.length_cm,
            size.thickness_cm,
            around=size.around,
            across=size.across,
            note=size.note,
        )
        for size in worked.finished
    )


def material_views(worked: WorkedPattern) -> tuple[MaterialView, ...]:
    """The yarns to buy."""
    return tuple(map(_material, worked.yarns))


def _material(yarn: WorkedYarn) -> MaterialView:
    length = yarn.length_m
    return MaterialView(
        letter=yarn.letter,
        role=yarn.role,
        name=yarn.name,
        colour=yarn.colour,
        weight=yarn.weight,
        weight_name=None if yarn.weight is None else WEIGHTS[yarn.weight],
        fibre=yarn.fibre,
        balls=_balls(yarn.balls) if yarn.balls else None,
        length_m=length.value if length else None,
        length_low_m=length.low if length else None,
        length_high_m=length.high if length else None,
        mass_g=yarn.mass_g.value if yarn.mass_g else None,
        estimated=length is not None and length.estimated,
    )


def _balls(count: BallCount) -> BallsView:
    return BallsView(
        count.mass_g, count.length_m, count.balls, count.cost, count.currency, count.leftover_g
    )


def supply_views(worked: WorkedPattern) -> tuple[SupplyView, ...]:
    """What to have at hand besides yarn."""
    return tuple(
        SupplyView(one.name, one.mass_g, one.length_m, estimated=one.estimated)
        for one in supplies(worked)
    )


def piece_views(
    worked: WorkedPattern, schematics: Mapping[str, DrawingView]
) -> tuple[PieceView, ...]:
    """Every piece with its plan. `schematics` holds drawings of this same pattern by piece."""
    yarns = {yarn.key: yarn for yarn in worked.yarns}
    return tuple(_piece(piece, yarns, schematics.get(piece.key)) for piece in worked.pieces)


def _piece(
    piece: WorkedPiece, yarns: Mapping[str, WorkedYarn], schematic: DrawingView | None
) -> PieceView:
    asked = piece.asked_length_cm
    plan = tuple(
        PlanRow(
            letter=line.letter,
            yarn=yarns[line.yarn].name,
            colour=yarns[line.yarn].colour,
            first=line.first,
            last=line.last,
            rows=line.rows,
            allowance=line.allowance_before + line.allowance_after,
        )
        for line in piece.plan
    )
    return PieceView(
        key=piece.key,
        title=piece.title,
        form=piece.form,
        make=piece.make,
        stitches=piece.stitches,
        worked_rows=piece.worked_rows,
        visible_rows=piece.visible_rows,
        flat_width_cm=piece.flat_width_cm,
        finished_length_cm=piece.finished_length_cm,
        off_cm=None if asked is None else rounded(piece.finished_length_cm - asked, 1),
        plan=plan,
        marks=marks(piece),
        drawing=schematic,
    )
