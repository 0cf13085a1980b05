"""A piece's plan as rows to tick off."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from stripewright.figures import rounded
from stripewright.paper.ink import letter_on
from stripewright.words.marks import marks

if TYPE_CHECKING:
    from stripewright.compute.worked import PlanLine, WorkedPattern, WorkedPiece
    from stripewright.figures import Figures


def reading(row: int, highest: int) -> str:
    """A row counter's reading, as wide as the counter shows it: `014`."""
    return f"{row:0{max(3, len(str(highest)))}d}"


def piece(part: WorkedPiece, worked: WorkedPattern, figures: Figures) -> dict[str, Any]:
    """A piece: what it is, and its stripes in the order they are knitted."""
    colours = {yarn.key: yarn for yarn in worked.yarns}
    plan = []
    for line in part.plan:
        yarn = colours[line.yarn]
        plan.append(
            {
                "letter": line.letter,
                "yarn": yarn.name,
                "colour": yarn.colour,
                "ink": letter_on(yarn.colour),
                "rows": line.rows,
                "span": _span(line, part.worked_rows),
                "reading": reading(line.last, part.worked_rows),
                "note": _note(line),
            }
        )
    return {
        "title": part.title if part.make == 1 else f"{part.title} (make {part.make})",
        "about": _about(part, figures),
        "marks": marks(part),
        "plan": plan,
        "rows": part.worked_rows,
    }


def _about(part: WorkedPiece, figures: Figures) -> str:
    form = "Tube" if part.form == "tube" else "Panel"
    wide, long = figures.length(part.flat_width_cm), figures.length(part.finished_length_cm)
    rows = f"{part.worked_rows} rows"
    if part.visible_rows != part.worked_rows:
        rows += f", of which {part.visible_rows} show"
    told = f"{form} of {part.stitches} stitches, {rows}; {wide} wide when flat, {long} long"
    asked = part.asked_length_cm
    off = 0.0 if asked is None else rounded(part.finished_length_cm - asked, 1)
    if not off:
        return told
    longer = "longer" if off > 0 else "shorter"
    return f"{told}, {figures.length(abs(off))} {longer} than asked for"


def _span(line: PlanLine, highest: int) -> str:
    if line.first == line.last:
        return reading(line.first, highest)
    return f"{reading(line.first, highest)}–{reading(line.last, highest)}"


def _note(line: PlanLine) -> str:
    """The rows of a stripe that finishing an edge takes."""
    rows = line.allowance_before + line.allowance_after
    return "" if not rows else "1 row" if rows == 1 else f"{rows} rows"
