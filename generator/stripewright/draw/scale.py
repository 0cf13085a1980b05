"""From rows and stitches to units of a drawing."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from stripewright.compute.worked import WorkedGauge
    from stripewright.compute.worked_piece import WorkedPiece


@dataclass(frozen=True, slots=True)
class Scale:
    """One scale for both directions: units to the cm. Rows count up from the cast-on edge.

    Attributes:
        per_cm: units to the cm.
        per_row: units to the row.
        foot: y of the cast-on edge.
    """

    per_cm: float
    per_row: float
    foot: float = 0.0

    def y(self, row: float) -> float:
        """Where `row` rows are done."""
        return self.foot - row * self.per_row

    def at(self, foot: float) -> Scale:
        """The same scale with the cast-on edge elsewhere."""
        return Scale(self.per_cm, self.per_row, foot)


def of_rows(per_row: float, gauge: WorkedGauge) -> Scale:
    """The scale at which a row is `per_row` units high, rounded so that rows fall exactly."""
    per_row = max(0.01, round(per_row, 2))
    return Scale(per_row * gauge.rows_per_cm, per_row)


def fitting(piece: WorkedPiece, gauge: WorkedGauge, width: float, height: float) -> float:
    """Units to the row at which a piece fits into `width` by `height`."""
    length_cm = piece.made_rows / gauge.rows_per_cm
    return min(width / piece.flat_width_cm, height / length_cm) / gauge.rows_per_cm
