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

    from stripewright.compute.worked import WorkedPattern
    from stripewright.compute.worked_piece import WorkedPiece
    from stripewright.words.written import PatternText, Step

_TALLEST = 250.0
_GAP = 30.0
"""Between pieces."""
_LEAST = 80.0
"""Width of a piece's column, for its name."""
COPIES = 40
"""Of panels joined, so many are drawn at most."""
_NAMED = 9
"""Panels that are joined are named one by one up to so many."""
_BETWEEN = 78.0
"""Together, the gaps between panels that are joined take no more."""
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
    """What stands side by side: a piece, or all panels that are joined, in their order."""

    laid: tuple[WorkedPiece, ...]
    """Each copy that is drawn, from left to right."""
    near: float
    """Between two of them."""
    width: float
    column: float
    """Room that it takes, with its name."""

    @property
    def pieces(self) -> tuple[WorkedPiece, ...]:
        """Each piece once."""
        return tuple({piece.key: piece for piece in self.laid}.values())

    @property
    def title(self) -> str:
        """One × 3; or one, two, one, where different panels lie side by side."""
        if len(self.pieces) > 1 and len(self.laid) <= _NAMED:
            return ", ".join(piece.title for piece in self.laid)
        return ", ".join(
            piece.title if piece.make == 1 else f"{piece.title} × {piece.make}"
            for piece in self.pieces
        )


def _columns(worked: WorkedPattern, per_cm: float) -> list[_Column]:
    columns = []
    order = worked.joined.order[:COPIES] if worked.joined else ()
    panels = tuple(worked.piece(key) for key in order)
    for piece in worked.pieces:
        laid = panels if piece in panels else (piece,)
        if piece in panels and piece is not next(one for one in worked.pieces if one in panels):
            continue
        near = min(NEAR, _BETWEEN / max(len(laid) - 1, 1))
        width = sum(one.flat_width_cm * per_cm for one in laid) + (len(laid) - 1) * near
        columns.append(_Column(laid, near, width, max(width, _LEAST)))
    return columns


def _most_rows(worked: WorkedPattern) -> int:
    """Rows of a piece that are drawn at most."""
    return max(round(_LONG * min(_rows(piece) for piece in worked.pieces)), 8)


def _rows(piece: WorkedPiece) -> int:
    """Rows of it that there are: those that are knitted, and those that grafting makes."""
    return piece.ends[0].grafted + piece.made_rows


def _per_cm(worked: WorkedPattern) -> float:
    """Units to the cm at which the pieces fit: all in one row, unless they would be too small."""
    most = _most_rows(worked)
    tallest = max(min(_rows(piece), most) for piece in worked.pieces)
    high = _TALLEST / tallest * worked.gauge.rows_per_cm
    room = BADGES_WIDTH - 2 * BADGE
    for column in _columns(worked, high):
        between = (len(column.laid) - 1) * column.near
        high = min(high, (room - between) / sum(piece.flat_width_cm for piece in column.laid))
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
    flat = max(_tall(column, scale, _most_rows(worked)) for column in rows[0]) < FLAT
    top = 22.0 + (2 * BADGE + 2 if flat else 0)
    for row in rows:
        new = _place_row(row, scale, _most_rows(worked), top)
        placed += new
        top = new[0].foot + 22 + LINE * max(len(one.name) for one in new) + 18
    return placed, scale, top - 18


def _place_row(row: list[_Column], scale: Scale, most: int, top: float) -> list[Placed]:
    """One row of pieces, their cast-on edges on one line."""
    x = (BADGES_WIDTH - sum(column.column for column in row) - _GAP * (len(row) - 1)) / 2
    foot = round(top + max(_tall(column, scale, most) for column in row), 2)
    placed = []
    for column in row:
        room = min(column.column + _GAP - 6, BADGES_WIDTH - 8)
        name = tuple(wrapped(column.title, room, BADGE_FONT))
        lefts: dict[str, list[float]] = {}
        left = x + (column.column - column.width) / 2
        for piece in column.laid:
            lefts.setdefault(piece.key, []).append(round(left, 2))
            left += piece.flat_width_cm * scale.per_cm + column.near
        for piece in column.pieces:
            each, height = piece.flat_width_cm * scale.per_cm, _height(piece, scale, most)
            shown = _shown(piece, scale, most, foot)
            middle, head = round(x + column.column / 2, 2), round(foot - height, 2)
            own = tuple(lefts[piece.key])
            placed.append(Placed(piece, own, head, each, height, middle, name, shown))
            name = ()  # told once for all that lies side by side
        x += column.column + _GAP
    return placed


def _tall(column: _Column, scale: Scale, most: int) -> float:
    return max(_height(piece, scale, most) for piece in column.pieces)


def _height(piece: WorkedPiece, scale: Scale, most: int) -> float:
    if _rows(piece) <= most:
        return _rows(piece) * scale.per_row
    return most // 2 * 2 * scale.per_row + BREAK


def _shown(
    piece: WorkedPiece, scale: Scale, most: int, foot: float
) -> tuple[tuple[int, int, float], ...]:
    """The parts drawn; a row that grafting makes before the first is row -1 to 0."""
    first, last = -piece.ends[0].grafted, piece.made_rows
    if last - first <= most:
        return ((first, last, foot),)
    half = most // 2
    upper = round(foot - half * scale.per_row - BREAK, 2)
    return ((first, first + half, foot), (last - half, last, upper))


def _arrow(start: Placed, end: Placed) -> Arrow | None:
    """Between the near sides of two pieces, at a height where both are; none between rows."""
    if start.foot != end.foot:
        return None
    y = round(max(start.top, end.top) + min(start.height, end.height) * 0.5, 2)
    if start.lefts[0] >= end.right:
        return Arrow(start.lefts[0] + 10, y, end.right - 12, y)
    return Arrow(start.right - 10, y, end.lefts[0] + 12, y)
