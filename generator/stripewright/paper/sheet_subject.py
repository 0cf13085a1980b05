"""What a planning sheet is for: a piece with its gauge and rows, and no colours yet."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stripewright.catalogue import _
from stripewright.compute.gauge import gauge_of
from stripewright.compute.plan import worked_ends
from stripewright.compute.size import flat_width
from stripewright.pattern.edge import Edge, EdgeKind

if TYPE_CHECKING:
    from stripewright.compute.worked import WorkedGauge, WorkedPattern
    from stripewright.compute.worked_piece import WorkedEnd, WorkedPiece
    from stripewright.pattern.sheets import SheetOf

ENDS_OF_FORM: dict[str, tuple[EdgeKind, EdgeKind]] = {
    "tube": ("open", "open"),
    "panel": ("open", "open"),
    "filled": ("seamed", "seamed"),
    "hat": ("open", "gathered"),
    "blanket": ("open", "open"),
}
"""How the ends of each form are finished, from the cast-on end."""


@dataclass(frozen=True, slots=True)
class Subject:
    """A piece to plan. Widths are of the piece laid flat; rows count from the cast-on end."""

    title: str
    form: str
    """tube, panel, filled, hat or blanket."""
    bed: str
    needles: int
    stitches: int
    gauge: WorkedGauge
    visible: int
    """Rows that are knitted and show: one that grafting makes is not coloured in as knitted."""
    ends: tuple[WorkedEnd, WorkedEnd]
    panels: int = 1
    fold: int | None = None
    """Worked row after which it is folded."""
    turned: int | None = None
    """Worked row after which its brim is turned up outside."""

    @property
    def tube(self) -> bool:
        """Whether it is knitted in the round."""
        return self.form in ("tube", "filled", "hat")

    @property
    def rows(self) -> int:
        """Worked rows."""
        return self.ends[0].rows + self.visible + self.ends[1].rows

    @property
    def panel_width_cm(self) -> float:
        """One panel, or the tube laid flat."""
        return flat_width("tube" if self.tube else "panel", self.stitches, self.gauge)

    @property
    def width_cm(self) -> float:
        """All panels side by side."""
        return self.panel_width_cm * self.panels

    @property
    def length_cm(self) -> float:
        """All worked rows."""
        return self.rows / self.gauge.rows_per_cm

    def is_allowance(self, row: int) -> bool:
        """Whether a worked row (1-based) goes into finishing an end."""
        return row <= self.ends[0].rows or row > self.ends[0].rows + self.visible


def of_sheet(sheet: SheetOf) -> Subject:
    """A blank sheet as its file asks for it."""
    gauge = gauge_of((sheet.swatch,) if sheet.swatch else (), sheet.gauge)
    first, last = ENDS_OF_FORM[sheet.form]
    return Subject(
        title=sheet.title,
        form=sheet.form,
        bed=sheet.machine.bed,
        needles=sheet.machine.needles,
        stitches=sheet.needles or sheet.machine.in_work,
        gauge=gauge,
        visible=sheet.rows,
        ends=worked_ends((Edge(edge=first), Edge(edge=last)), gauge),
        panels=sheet.panels,
    )


def of_piece(worked: WorkedPattern, piece: WorkedPiece, size: str = "") -> Subject:
    """A pattern's piece without its stripes; `size` is the name of the one that it is of."""
    named = worked.pattern.title
    if size:
        named = _("{pattern}, {size}", pattern=named, size=size)
    gathered = piece.form == "tube" and "gathered" in {end.edge for end in piece.ends}
    form = "filled" if piece.filled else "hat" if gathered else piece.form
    machine = piece.machine
    return Subject(
        title=f"{named}: {piece.title}",
        form="blanket" if piece.sides == "joined" and piece.make > 1 else form,
        bed=machine.bed,
        needles=machine.needles,
        stitches=piece.stitches,
        gauge=worked.gauge,
        visible=piece.visible_rows - sum(end.grafted for end in piece.ends),
        ends=piece.ends,
        panels=piece.make if piece.sides == "joined" else 1,
        fold=piece.fold,
        turned=piece.brim.turn if piece.brim else None,
    )
