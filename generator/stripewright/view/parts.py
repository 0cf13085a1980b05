"""The parts of a pattern view that come straight from the worked numbers."""

from __future__ import annotations

from typing import TYPE_CHECKING

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

if TYPE_CHECKING:
    from collections.abc import Mapping

    from stripewright.compute.worked import (
        BallCount,
        WorkedFilling,
        WorkedGauge,
        WorkedPattern,
        WorkedPiece,
        WorkedYarn,
    )
    from stripewright.draw.drawing import Drawing

WEIGHTS = ("lace", "super fine", "fine", "light", "medium", "bulky", "super bulky", "jumbo")
"""Names of the yarn weight classes 0 to 7: Craft Yarn Council, Standard Yarn Weight System."""

FIRMNESS = {"light": "lightly filled", "medium": "medium firm", "firm": "firmly filled"}


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


def size_views(worked: WorkedPattern, *, whole_cm: bool) -> tuple[SizeView, ...]:
    """Finished sizes of the pieces that show; a lining is inside and has none of its own.

    Args:
        worked: the pattern.
        whole_cm: round to whole cm, so that a size doesn't tell the rows; else to whole mm.
    """
    digits = 0 if whole_cm else 1
    shown = [piece for piece in worked.pieces if piece.lining_of is None]
    flat = worked.pattern.kind == "scarf"
    return tuple(_size(piece, digits, flat=flat) for piece in shown or worked.pieces)


def _size(piece: WorkedPiece, digits: int, *, flat: bool) -> SizeView:
    """A piece made up. What is worn flat has a width, other tubes a girth."""
    title = f"{piece.title}, each of {piece.make}" if piece.make > 1 else piece.title
    if piece.solid:
        solid = piece.solid
        thickness = round(solid.thickness_cm, digits)
        note = "filled" if solid.kind == "cushion" else "filled, round"
        return SizeView(title, round(solid.width_cm, digits), round(solid.length_cm, digits),
                        thickness, note=note)  # fmt: skip
    if piece.ring:
        around_cm, high_cm = piece.made_up_length_cm, piece.flat_width_cm
        return SizeView(title, round(around_cm, digits), round(high_cm, digits),
                        around=True, note="a ring of two layers")  # fmt: skip
    around = not flat and piece.form == "tube" and piece.girth_cm is not None
    width = piece.girth_cm if around and piece.girth_cm is not None else piece.made_up_width_cm
    return SizeView(
        title,
        round(width, digits),
        round(piece.made_up_length_cm, digits),
        around=around,
        note="folded" if piece.fold is not None else "",
    )


def material_views(worked: WorkedPattern, *, told: bool) -> tuple[MaterialView, ...]:
    """The yarns to buy.

    Args:
        worked: the pattern.
        told: whether lengths and masses may be told; they follow from the rows.
    """
    return tuple(_material(yarn, told=told) for yarn in worked.yarns)


def _material(yarn: WorkedYarn, *, told: bool) -> MaterialView:
    return MaterialView(
        letter=yarn.letter,
        role=yarn.role,
        name=yarn.name,
        colour=yarn.colour,
        weight=yarn.weight,
        weight_name=None if yarn.weight is None else WEIGHTS[yarn.weight],
        fibre=yarn.fibre,
        balls=_balls(yarn.balls, told=told) if yarn.balls else None,
        length_m=round(yarn.length_m.value, 1) if told else None,
        length_low_m=round(yarn.length_m.low, 1) if told else None,
        length_high_m=round(yarn.length_m.high, 1) if told else None,
        mass_g=round(yarn.mass_g.value, 1) if told and yarn.mass_g else None,
        estimated=yarn.length_m.estimated,
    )


def _balls(count: BallCount, *, told: bool) -> BallsView:
    leftover = round(count.leftover_g, 1) if told else None
    return BallsView(
        count.mass_g, count.length_m, count.balls, count.cost, count.currency, leftover
    )


def supply_views(worked: WorkedPattern, *, told: bool) -> tuple[SupplyView, ...]:
    """What to have at hand besides yarn."""
    supplies = []
    if worked.filling:
        supplies.append(_filling(worked.filling, told=told))
    if worked.waste_m > 0:
        amount = "" if not told else f"about {_up_to(worked.waste_m, 5):.0f} m"
        supplies.append(SupplyView("Waste yarn in a colour that stands out", amount))
    if _is_sewn(worked):
        supplies.append(SupplyView("Blunt yarn needle, or a crochet hook for the seams"))
    supplies.append(SupplyView("Scissors and a tape measure"))
    return tuple(supplies)


def _is_sewn(worked: WorkedPattern) -> bool:
    ends = {end.edge for piece in worked.pieces for end in piece.ends}
    sides = {piece.sides for piece in worked.pieces}
    return bool(ends - {"open"} or sides - {"open"})


def _filling(filling: WorkedFilling, *, told: bool) -> SupplyView:
    name = f"Filling: {filling.material}" if filling.material else "Filling"
    step = 1 if told and filling.weighed else 10
    return SupplyView(
        f"{name}, {FIRMNESS[filling.firmness]}",
        mass_g=float(_up_to(filling.mass_g.value, step)),
        estimated=not filling.weighed,
    )


def _up_to(value: float, step: int) -> int:
    """The next multiple of `step`: what is bought is never rounded down."""
    return -(-round(value * 1000) // (step * 1000)) * step


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
        flat_width_cm=round(piece.flat_width_cm, 1),
        finished_length_cm=round(piece.finished_length_cm, 1),
        off_cm=None if asked is None else round(piece.finished_length_cm - asked, 1),
        plan=plan,
        drawing=schematic,
    )
