"""Where everything in a schematic stands, as plain data. Nothing here writes SVG.

The drawing is made for a narrow phone: 340 units across, so that its texts stay over 11 px at
320 px. Height is free: a piece with many or thin stripes is drawn taller, at one scale both ways,
until every stripe has its line of text; a piece that would grow too wide is shown with a break.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stripewright.draw.figures import counted, reading, size
from stripewright.draw.labels import spread
from stripewright.draw.measure import ems
from stripewright.draw.scale import Scale, fitting, of_rows

if TYPE_CHECKING:
    from stripewright.compute.worked import PlanLine, WorkedPattern, WorkedPiece

WIDTH = 340.0
FONT = 13.0
LINE = 16.0
"""Height that a label takes."""
PIECE_HEIGHT = 460.0
"""A piece is no taller than this, unless its stripes need it."""
LEAST_ROW = 1.25
"""Units to a row at least: one pixel at 320 px."""
LEAST_STRIPE = 3.0
"""Units to the thinnest stripe, where the whole stays under TALL."""
TALL = 1600.0
TALLEST = 6000.0
FAN = 1.5
"""How much taller than the piece its labels may stand, fanned out by leaders."""
GAP = 8.0
"""Width of the break in a piece that is wider than its room."""


@dataclass(frozen=True, slots=True)
class Label:
    """A stripe's label: from the middle of the stripe to the line it stands on."""

    start: float
    y: float
    letter: str
    words: str


@dataclass(frozen=True, slots=True)
class Reading:
    """What the row counter reads at a change: from the change to the line it stands on."""

    start: float
    y: float
    words: str


@dataclass(frozen=True, slots=True)
class Columns:
    """x of what stands side by side."""

    readings: float
    """Right end of the readings."""
    left: float
    """Left edge of the piece."""
    right: float
    """Its right edge."""
    labels: float
    """Left end of the labels."""


@dataclass(frozen=True, slots=True)
class SchematicLayout:
    """A schematic, placed."""

    piece: WorkedPiece
    scale: Scale
    columns: Columns
    broken: bool
    head: float
    """y of the piece's top edge."""
    labels: tuple[Label, ...]
    readings: tuple[Reading, ...]
    length: tuple[float, float, str] | None
    """Upper and lower end of the finished length, and its words."""
    widths: tuple[str, ...]
    """Words over the piece, the last one on the dimension line."""
    foot_words: str
    fringe: float
    """Length of the fringe."""
    foot: float
    """y under everything but the key."""


def laid_out(worked: WorkedPattern, piece: WorkedPiece, *, numbers: bool) -> SchematicLayout:
    """Place a schematic.

    Args:
        worked: the pattern.
        piece: the piece to draw.
        numbers: whether rows, readings and sizes may be told.
    """
    words = [_label_words(line, numbers=numbers) for line in piece.plan]
    room = max(ems(text, bold=True) for text in words) * FONT
    readings = 28 + ems(reading(piece.worked_rows)) * FONT if numbers else 0.0
    left = readings + 16 if numbers else 24.0
    most = WIDTH - 4 - left - 54 - room
    per_row = _per_row(worked, piece, most)
    scale = of_rows(per_row, worked.gauge)
    width = piece.flat_width_cm * scale.per_cm
    broken = width > most + 0.5
    columns = Columns(readings, left, left + min(width, most), left + min(width, most) + 20)
    length_words = size(piece.finished_length_cm) if numbers else ""
    tall = piece.worked_rows * scale.per_row
    fringe = piece.fringe.finished_cm * scale.per_cm if piece.fringe else 0.0
    column = max(tall + 2 * fringe, len(piece.plan) * LINE + 6, ems(length_words) * FONT + 10)
    widths = _width_words(piece) if numbers else ()
    top = 14 + 17 * len(widths) + (8 if widths else 0)
    head = round(top + (column - tall) / 2, 2)
    scale = scale.at(round(head + tall, 2))
    placed = _labels(piece, scale, words, top, top + column)
    counts = _readings(piece, scale, top, top + column + 8) if numbers else ()
    return SchematicLayout(
        piece=piece,
        scale=scale,
        columns=columns,
        broken=broken,
        head=head,
        labels=placed,
        readings=counts,
        length=_length(piece, scale, length_words) if numbers else None,
        widths=widths,
        foot_words=f"cast on {counted(piece.stitches, 'stitch', 'stitches')}, knit upwards"
        if numbers
        else "cast on here, knit upwards",
        fringe=fringe,
        foot=top + column + 8,
    )


def _label_words(line: PlanLine, *, numbers: bool) -> str:
    if not numbers:
        return ""
    hidden = line.allowance_before + line.allowance_after
    if hidden:
        return f"{line.visible}+{hidden} rows"
    return counted(line.rows, "row")


def _per_row(worked: WorkedPattern, piece: WorkedPiece, width: float) -> float:
    rows = piece.worked_rows
    natural = fitting(piece, worked.gauge, width, PIECE_HEIGHT)
    thinnest = min(line.rows for line in piece.plan)
    thin = min(LEAST_STRIPE / thinnest, TALL / rows)
    labelled = len(piece.plan) * LINE / FAN / rows
    return min(max(natural, LEAST_ROW, thin, labelled), max(TALLEST / rows, labelled))


def _labels(
    piece: WorkedPiece, scale: Scale, words: list[str], low: float, high: float
) -> tuple[Label, ...]:
    lines = piece.plan[::-1]
    wanted = [scale.y((line.first - 1 + line.last) / 2) for line in lines]
    placed = spread(wanted, LINE, low, high)
    return tuple(
        Label(start, y, line.letter, text)
        for start, y, line, text in zip(wanted, placed, lines, words[::-1], strict=True)
    )


def _readings(piece: WorkedPiece, scale: Scale, low: float, high: float) -> tuple[Reading, ...]:
    lines = piece.plan[::-1]
    wanted = [scale.y(line.last) for line in lines]
    placed = spread(wanted, LINE, low - LINE / 2, high)
    return tuple(
        Reading(start, y, reading(line.last))
        for start, y, line in zip(wanted, placed, lines, strict=True)
    )


def _length(piece: WorkedPiece, scale: Scale, words: str) -> tuple[float, float, str]:
    before = piece.plan[0].allowance_before
    after = piece.plan[-1].allowance_after
    return scale.y(piece.worked_rows - after), scale.y(before), words


def _width_words(piece: WorkedPiece) -> tuple[str, ...]:
    if piece.girth_cm is None:
        return (size(piece.flat_width_cm),)
    return (f"{size(piece.girth_cm)} around", size(piece.flat_width_cm))
