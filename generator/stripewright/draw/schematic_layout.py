"""Where everything in a schematic stands, as plain data. Nothing here writes SVG.

The drawing is made for a narrow phone: 340 units across, so that its texts stay over 11 px at
320 px. Height is free: a piece with many or thin stripes is drawn taller, at one scale both ways,
until every stripe has its line of text; a piece that would grow too wide is shown with a break.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

from stripewright.catalogue import _
from stripewright.draw.groups import Item, items, spread
from stripewright.draw.measure import ems
from stripewright.draw.scale import Scale, fitting, of_rows
from stripewright.figures import METRIC, counted, rc

if TYPE_CHECKING:
    from stripewright.compute.worked import WorkedPattern
    from stripewright.compute.worked_piece import WorkedPiece
    from stripewright.figures import Figures

WIDTH = 340.0
FONT = 13.0
_LINE = 16.0
"""Height that a label takes."""
CHIP = 12.0
"""Side of the colour patch before a label."""
LETTER, WORDS = 16.0, 31.0
"""Where a label's letter and its words begin, from the left of its patch."""
NARROWEST = 24.0
"""However wide its labels are, a piece is drawn."""
LEADER = 20.0
"""Between the piece and its labels."""
PIECE_HEIGHT = 460.0
"""A piece is no taller than this, unless its stripes need it."""
LEAST_ROW = 1.25
"""Units to a row at least: one pixel at 320 px."""
LEAST_STRIPE = 3.0
"""Units to the thinnest stripe, where the whole stays under TALL."""
TALL = 1600.0
_TALLEST = 6000.0
FAN = 1.2
"""How much taller than the piece its labels may stand, fanned out by leaders."""
WIDEST_FAN = 1.5
"""The same, before a piece is broken to make it taller."""


class Label(NamedTuple):
    """A stripe's label: from the middle of the stripe to the line it stands on."""

    item: Item
    start: float
    y: float


class CounterReading(NamedTuple):
    """What the row counter reads at a change: from the change to the line it stands on."""

    start: float
    y: float
    words: str


@dataclass(frozen=True, slots=True)
class SchematicLayout:
    """A schematic, placed.

    Attributes:
        piece: what is drawn.
        scale: its scale, with y of the cast-on edge.
        head: y of its last edge.
        sole: y of its first edge: under the first row, or under one that grafting makes before it.
        left: x of its left edge.
        right: x of its right edge.
        broken: whether its width is shown with a break.
        readings_end: x of the right end of the readings.
        labels: the stripes' labels, from the top.
        readings: the row counter's readings, from the top; none where numbers may not be told.
        length: upper and lower end of the finished length.
        length_words: its words.
        widths: lines of words over the piece, the last one on the dimension line.
        foot_words: words at the cast-on edge.
        fringe: length of the fringe.
        foot: y under everything but the key.
    """

    piece: WorkedPiece
    scale: Scale
    head: float
    sole: float
    left: float
    right: float
    broken: bool
    readings_end: float
    labels: tuple[Label, ...]
    readings: tuple[CounterReading, ...]
    length: tuple[float, float]
    length_words: str
    widths: tuple[str, ...]
    foot_words: str
    fringe: float
    foot: float


def schematic_layout(
    worked: WorkedPattern, piece: WorkedPiece, figures: Figures = METRIC
) -> SchematicLayout:
    """Place a schematic. A public twin (`worked.nominal`) tells no rows and no readings."""
    told = items(piece.plan, numbers=not worked.nominal)
    readings_end = 30.0 if worked.nominal else 30 + ems(rc(piece.worked_rows)) * FONT
    left = round(readings_end + 18, 2)
    most = max(WIDTH - 2 - left - LEADER - _room(told), NARROWEST)
    scale = of_rows(_per_row(worked, piece, len(told), most), worked.gauge)
    width = piece.flat_width_cm * scale.per_cm
    widths = _width_words(piece, figures)
    length_words = figures.dimension(piece.finished_length_cm)
    before = piece.ends[0].grafted
    tall = (piece.made_rows + before) * scale.per_row
    fringe = piece.fringe.finished_cm * scale.per_cm if piece.fringe else 0.0
    column = max(tall + 2 * fringe, len(told) * _LINE + 6, ems(length_words) * FONT + 10)
    top = 22.0 + 17 * len(widths)
    head = round(top + (column - tall) / 2, 2)
    scale = scale.at(round(head + piece.made_rows * scale.per_row, 2))
    return SchematicLayout(
        piece=piece,
        scale=scale,
        head=head,
        sole=scale.y(-before),
        left=left,
        right=round(left + min(width, most), 2),
        broken=width > most + 0.5,
        readings_end=readings_end,
        labels=_labels(told, scale, top, top + column),
        readings=() if worked.nominal else _readings(told, scale, top, top + column + _LINE / 2),
        length=_length(piece, scale),
        length_words=length_words,
        widths=widths,
        foot_words=_(
            "cast on {stitches}, knit upwards",
            stitches=counted(piece.stitches, "stitch", "stitches"),
        ),
        fringe=fringe,
        foot=top + column + 8,
    )


def _room(told: list[Item]) -> float:
    """How wide the labels are."""
    return max(
        (WORDS if item.letter else LETTER) + ems(item.words, bold=True) * FONT for item in told
    )


def _per_row(worked: WorkedPattern, piece: WorkedPiece, labels: int, width: float) -> float:
    """Units to the row: as the piece fits, or as its thinnest stripe and its labels need."""
    rows = piece.made_rows
    natural = fitting(piece, worked.gauge, width, PIECE_HEIGHT)
    widest = fitting(piece, worked.gauge, width, _TALLEST)
    thin = min(
        LEAST_STRIPE / min(max(line.rows, 1) for line in piece.plan), TALL / rows, 2 * widest
    )
    lines = labels * _LINE / rows
    labelled = min(lines / FAN, widest) if lines / WIDEST_FAN <= widest else lines
    return max(min(max(natural, LEAST_ROW, thin), _TALLEST / rows), labelled)


def _labels(told: list[Item], scale: Scale, low: float, high: float) -> tuple[Label, ...]:
    wanted = [scale.y((item.start + item.end) / 2) for item in reversed(told)]
    placed = spread(wanted, _LINE, low, high)
    rows = zip(reversed(told), wanted, placed, strict=True)
    return tuple(Label(item, start, y) for item, start, y in rows)


def _readings(
    told: list[Item], scale: Scale, low: float, high: float
) -> tuple[CounterReading, ...]:
    knitted = [item.knitted for item in reversed(told) if item.knitted > item.start]
    wanted = [scale.y(row) for row in knitted]
    placed = spread(wanted, _LINE, low - _LINE / 2, high)
    rows = zip(knitted, wanted, placed, strict=True)
    return tuple(CounterReading(start, y, rc(row)) for row, start, y in rows)


def _length(piece: WorkedPiece, scale: Scale) -> tuple[float, float]:
    """Upper and lower end of what shows once the piece is made up."""
    after = piece.plan[-1].allowance_after
    return scale.y(piece.made_rows - after), scale.y(piece.hidden_first)


def _width_words(piece: WorkedPiece, figures: Figures) -> tuple[str, ...]:
    flat = figures.dimension(piece.flat_width_cm)
    if piece.form == "panel" or piece.girth_cm is None:
        return (flat,)
    return (_("{length} around", length=figures.dimension(piece.girth_cm)), flat)
