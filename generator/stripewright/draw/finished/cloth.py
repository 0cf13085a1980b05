"""Flat things: a panel or a tube laid flat, a scarf, a blanket."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stripewright.draw.canvas import box
from stripewright.draw.figures import unit
from stripewright.draw.finished.along import bands, stripes
from stripewright.draw.finished.part import CLOTH, Part

if TYPE_CHECKING:
    from stripewright.compute.worked import WorkedGauge, WorkedPiece


def flat(piece: WorkedPiece, gauge: WorkedGauge, per_cm: float, place: str) -> list[Part]:
    """A piece laid flat with its middle at (0, 0), knitted upward."""
    w, h = piece.flat_width_cm * per_cm, piece.finished_length_cm * per_cm

    def band(start: float, end: float) -> str:
        return box(-w / 2, h / 2 - end * h, w, (end - start) * h)

    soft = min(w, h) * 0.02
    outline = (
        f"M{unit(-w / 2)} {unit(-h / 2)}q{unit(w / 2)} {unit(-soft)} {unit(w)} 0"
        f"q{unit(soft)} {unit(h / 2)} 0 {unit(h)}q{unit(-w / 2)} {unit(soft)} {unit(-w)} 0"
        f"q{unit(-soft)} {unit(-h / 2)} 0 {unit(-h)}z"
    )
    return [
        Part(
            outline=outline,
            bands=bands(stripes(piece), band),
            light=(("y", CLOTH),),
            knit=(per_cm / gauge.stitches_per_cm, per_cm / gauge.rows_per_cm),
            place=place,
            under=(box(-w / 2 + 4, -h / 2 + 5, w, h),),
        )
    ]
