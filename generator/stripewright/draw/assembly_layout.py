"""Where everything in an assembly stands, as plain data: pieces, step numbers, arrows."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stripewright.draw.badges import (
    BADGE,
    BADGE_FONT,
    BADGES_WIDTH,
    LINE,
    NEAR,
    Arrow,
    Badge,
    Placed,
    badges,
    meeting,
)
from stripewright.draw.measure import wrapped
from stripewright.draw.scale import Scale, of_rows
from stripewright.words.making_up import sewn_to

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stripewright.compute.worked import WorkedPattern, WorkedPiece
    from stripewright.words.written import PatternText, Step

_TALLEST = 250.0
_GAP = 30.0
"""Between pieces."""
_LEAST = 80.0
"""Width of a piece's column, for its name."""
COPIES = 8
"""Of panels joined, so many are drawn at most."""
_LONG = 3.2
"""A piece longer than this against the shortest is shown with a break."""
FLAT = 60.0
"""A row of pieces lower than this has no room for numbers on the pieces."""
BREAK = 7.0
"""Height of that break."""


@dataclass(frozen=True, slots=True)
class AssemblyLayout:
    """An assembly, placed; `foot` is y under the pieces and their names."""

    placed: tuple[Placed, ...]
    scale: Scale
    arrows: tuple[Arrow, ...]
    badges: tuple[Badge, ...]
    foot: float


def assembly_layout(worked: WorkedPattern, steps: Sequence[Step]) -> AssemblyLayout:
    """Place an assembly."""
    placed, scale, foot = _place(worked)
    by_key = {one.piece.key: one for one in placed}
    ways = {
        one.piece.key: (one, by_key[to])
        for one in placed
        if (to := one.piece.lining_of or sewn_to(one.piece, worked)) in by_key
    }
    arrows = {key: _arrow(*way) for key, way in ways.items()}
    met = {key: meeting(*way, arrows[key]) for key, way in ways.items()}
    numbers = badges(steps, by_key, met)
    drawn = tuple(arrow for arrow in arrows.values() if arrow)
    return AssemblyLayout(tuple(placed), scale, drawn, numbers, foot)


def steps_of_making_up(written: PatternText | None) -> tuple[Step, ...]:
    """The steps of making up."""
    groups = written.groups if written else ()
    return tuple(step for group in groups if group.key == "making-up" for step in group.steps)


@dataclass(frozen=True, slots=True)
class _Column:
    """A piece's column: copies drawn, the width they take, the width of the column."""

    piece: WorkedPiece
    copies: int
    width: float
    column: float


def _columns(worked: WorkedPattern, per_cm: float) -> list[_Column]:
    columns = []
    for piece in worked.pieces:
        copies = min(piece.make, COPIES) if piece.sides == "joined" else 1
        width = copies * piece.flat_width_cm * per_cm + (copies - 1) * NEAR
        columns.append(_Column(piece, copies, width, max(width, _LEAST)))
    return columns


def _most_rows(worked: WorkedPattern) -> int:
    """Rows of a piece that are drawn at most."""
    return max(round(_LONG * min(piece.worked_rows for piece in worked.pieces)), 8)


def _per_cm(worked: WorkedPattern) -> float:
    """Units to the cm at which the pieces fit: all in one row, unless they would be too small."""
    most = _most_rows(worked)
    tallest = max(min(piece.worked_rows, most) for piece in worked.pieces)
    high = _TALLEST / tallest * worked.gauge.rows_per_cm
    room = BADGES_WIDTH - 2 * BADGE
    for column in _columns(worked, high):
        between = (column.copies - 1) * NEAR
        high = min(high, (room - between) / (column.copies * column.piece.flat_width_cm))
    columns = _columns(worked, high)
    gaps = _GAP * (len(columns) - 1)
    if sum(column.column for column in columns) + gaps <= room:
        return high
    share = (room - gaps) / sum(column.width for column in columns)
    return high * min(max(share, 0.4), 1.0)


def _place(worked: WorkedPattern) -> tuple[list[Placed], Scale, float]:
    """The pieces in rows from left to right, their scale, and y under them."""
    scale = of_rows(_per_cm(worked) / worked.gauge.rows_per_cm, worked.gauge)
    rows: list[list[_Column]] = [[]]
    taken = 0.0
    for column in _columns(worked, scale.per_cm):
        if rows[-1] and taken + column.column > BADGES_WIDTH - 2 * BADGE + 4:
            rows.append([])
            taken = 0.0
        rows[-1].append(column)
        taken += column.column + _GAP
    placed: list[Placed] = []
    # Over pieces that are flat the numbers of their steps may have to stand in rows.
    flat = max(_height(column.piece, scale, _most_rows(worked)) for column in rows[0]) < FLAT
    top = 22.0 + (2 * BADGE + 2 if flat else 0)
    for row in rows:
        new = _place_row(row, scale, _most_rows(worked), top)
        placed += new
        top = new[0].foot + 22 + LINE * max(len(one.name) for one in new) + 18
    return placed, scale, top - 18


def _place_row(row: list[_Column], scale: Scale, most: int, top: float) -> list[Placed]:
    """One row of pieces, their cast-on edges on one line."""
    x = (BADGES_WIDTH - sum(column.column for column in row) - _GAP * (len(row) - 1)) / 2
    foot = round(top + max(_height(column.piece, scale, most) for column in row), 2)
    placed = []
    for column in row:
        piece = column.piece
        each = piece.flat_width_cm * scale.per_cm
        left, height = x + (column.column - column.width) / 2, _height(piece, scale, most)
        title = piece.title if piece.make == 1 else f"{piece.title} × {piece.make}"
        name = tuple(wrapped(title, min(column.column + _GAP - 6, BADGES_WIDTH - 8), BADGE_FONT))
        lefts = tuple(round(left + n * (each + NEAR), 2) for n in range(column.copies))
        shown = _shown(piece, scale, most, foot)
        middle, head = round(x + column.column / 2, 2), round(foot - height, 2)
        placed.append(Placed(piece, lefts, head, each, height, middle, name, shown))
        x += column.column + _GAP
    return placed


def _height(piece: WorkedPiece, scale: Scale, most: int) -> float:
    if piece.worked_rows <= most:
        return piece.worked_rows * scale.per_row
    return most // 2 * 2 * scale.per_row + BREAK


def _shown(
    piece: WorkedPiece, scale: Scale, most: int, foot: float
) -> tuple[tuple[int, int, float], ...]:
    rows = piece.worked_rows
    if rows <= most:
        return ((0, rows, foot),)
    half = most // 2
    upper = round(foot - half * scale.per_row - BREAK, 2)
    return ((0, half, foot), (rows - half, rows, upper))


def _arrow(start: Placed, end: Placed) -> Arrow | None:
    """Between the near sides of two pieces, at a height where both are; none between rows."""
    if start.foot != end.foot:
        return None
    y = round(max(start.top, end.top) + min(start.height, end.height) * 0.5, 2)
    if start.lefts[0] >= end.right:
        return Arrow(start.lefts[0] + 10, y, end.right - 12, y)
    return Arrow(start.right - 10, y, end.lefts[0] + 12, y)
