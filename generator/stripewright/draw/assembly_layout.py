"""Where everything in an assembly stands, as plain data: pieces, step numbers, arrows."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING

from stripewright.draw.measure import ems, wrapped
from stripewright.draw.scale import Scale, of_rows
from stripewright.words.making_up import HANDLES

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from stripewright.compute.worked import WorkedPattern, WorkedPiece
    from stripewright.words.written import Step, Written

WIDTH = 340.0
FONT = 13.0
LINE = 16.0
BADGE = 19.0
"""Height of a step's number on its plate."""
TALLEST = 250.0
GAP = 30.0
"""Between pieces."""
NEAR = 12.0
"""Between panels that are joined."""
LEAST = 80.0
"""Width of a piece's column, for its name."""
COPIES = 3
"""Of panels joined, so many are drawn."""
LONG = 3.2
"""A piece longer than this against the shortest is shown with a break."""
BREAK = 7.0
"""Height of that break."""

ENDS = {"seam_end": "first", "close_seam": "last", "gather": "first", "close_gathered": "last",
        "finish_edge": "first", "hem": "first", "graft": "both", "fringe": "both"}  # fmt: skip
"""Techniques done at ends, and at which unless the edges say otherwise."""

EDGE_OF = {"seam_end": "seamed", "close_seam": "seamed", "gather": "gathered",
           "close_gathered": "gathered", "finish_edge": "open", "hem": "hemmed"}  # fmt: skip

CLOSED_BY = {"seam_end": "close_seam", "gather": "close_gathered"}
"""What closes the other end, when it is told apart from the first."""

SPOTS = {"fill": "middle", "fold": "fold", "fold_layers": "fold", "tuck_layers": "fold",
         "seam_sides": "side", "join_panels": "side", "string": "top"}  # fmt: skip

Spot = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Placed:
    """A piece, placed.

    Attributes:
        piece: what is drawn.
        lefts: left edge of each copy drawn.
        top: y of its last edge.
        width: of one copy.
        height: of what is shown of it.
        middle: x of the middle of its column.
        name: its name in lines.
        shown: parts of its length that are drawn, from the foot: worked rows before and after
            each, and y of its lower edge. One part, unless it is shown with a break.
    """

    piece: WorkedPiece
    lefts: tuple[float, ...]
    top: float
    width: float
    height: float
    middle: float
    name: tuple[str, ...]
    shown: tuple[tuple[int, int, float], ...]

    @property
    def foot(self) -> float:
        """Where its cast-on edge lies."""
        return self.shown[0][2]

    @property
    def right(self) -> float:
        """Right edge of its last copy."""
        return self.lefts[-1] + self.width

    @property
    def centre(self) -> float:
        """The middle of its first copy."""
        return round(self.lefts[0] + self.width / 2, 2)

    @property
    def fold(self) -> float | None:
        """Where it is folded."""
        if not self.piece.fold or len(self.shown) > 1:
            return None
        return round(self.foot - self.height * self.piece.fold / self.piece.worked_rows, 2)


@dataclass(frozen=True, slots=True)
class Arrow:
    """From one piece to another: start and end."""

    x1: float
    y1: float
    x2: float
    y2: float


@dataclass(frozen=True, slots=True)
class Badge:
    """A step's number where it is done: the middle of its plate, and its width."""

    x: float
    y: float
    words: str
    width: float


@dataclass(frozen=True, slots=True)
class AssemblyLayout:
    """An assembly, placed; `foot` is y under the pieces and their names."""

    placed: tuple[Placed, ...]
    scale: Scale
    arrows: tuple[Arrow, ...]
    badges: tuple[Badge, ...]
    foot: float


def laid_out(worked: WorkedPattern, steps: Sequence[Step]) -> AssemblyLayout:
    """Place an assembly."""
    placed, scale, foot = _place(worked)
    by_key = {one.piece.key: one for one in placed}
    ways = {
        one.piece.key: (one, by_key[to])
        for one in placed
        if (to := _goes_to(one.piece, placed)) in by_key
    }
    arrows = {key: _arrow(*way) for key, way in ways.items()}
    met = {key: _meeting(*way, arrows[key]) for key, way in ways.items()}
    badges = _badges(steps, by_key, met)
    drawn = tuple(arrow for arrow in arrows.values() if arrow)
    return AssemblyLayout(tuple(placed), scale, drawn, badges, foot)


def _meeting(start: Placed, end: Placed, arrow: Arrow | None) -> list[Spot]:
    """Where the number stands of a step that brings a piece to another."""
    if arrow:
        return [(round((arrow.x1 + arrow.x2) / 2, 2), arrow.y1)]
    return _spot(start, "middle") + _spot(end, "middle")


def making_up(written: Written | None) -> tuple[Step, ...]:
    """The steps of making up."""
    groups = written.groups if written else ()
    return tuple(step for group in groups if group.key == "making-up" for step in group.steps)


def badge_width(number: str) -> float:
    """How wide a step's plate is."""
    return max(BADGE, ems(number, bold=True) * FONT + 8)


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
        columns.append(_Column(piece, copies, width, max(width, LEAST)))
    return columns


def _most_rows(worked: WorkedPattern) -> int:
    """Rows of a piece that are drawn at most."""
    return max(round(LONG * min(piece.worked_rows for piece in worked.pieces)), 8)


def _per_cm(worked: WorkedPattern) -> float:
    """Units to the cm at which the pieces fit: all in one row, unless they would be too small."""
    most = _most_rows(worked)
    tallest = max(min(piece.worked_rows, most) for piece in worked.pieces)
    high = TALLEST / tallest * worked.gauge.rows_per_cm
    room = WIDTH - 2 * BADGE
    for column in _columns(worked, high):
        between = (column.copies - 1) * NEAR
        high = min(high, (room - between) / (column.copies * column.piece.flat_width_cm))
    columns = _columns(worked, high)
    gaps = GAP * (len(columns) - 1)
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
        if rows[-1] and taken + column.column > WIDTH - 2 * BADGE + 4:
            rows.append([])
            taken = 0.0
        rows[-1].append(column)
        taken += column.column + GAP
    placed: list[Placed] = []
    top = 22.0
    for row in rows:
        new = _place_row(row, scale, _most_rows(worked), top)
        placed += new
        top = new[0].foot + 22 + LINE * max(len(one.name) for one in new) + 18
    return placed, scale, top - 18


def _place_row(row: list[_Column], scale: Scale, most: int, top: float) -> list[Placed]:
    """One row of pieces, their cast-on edges on one line."""
    x = (WIDTH - sum(column.column for column in row) - GAP * (len(row) - 1)) / 2
    foot = round(top + max(_height(column.piece, scale, most) for column in row), 2)
    placed = []
    for column in row:
        piece = column.piece
        each = piece.flat_width_cm * scale.per_cm
        left, height = x + (column.column - column.width) / 2, _height(piece, scale, most)
        title = piece.title if piece.make == 1 else f"{piece.title} × {piece.make}"
        name = tuple(wrapped(title, min(column.column + GAP - 6, WIDTH - 8), FONT))
        lefts = tuple(round(left + n * (each + NEAR), 2) for n in range(column.copies))
        shown = _shown(piece, scale, most, foot)
        middle, head = round(x + column.column / 2, 2), round(foot - height, 2)
        placed.append(Placed(piece, lefts, head, each, height, middle, name, shown))
        x += column.column + GAP
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


def _goes_to(piece: WorkedPiece, placed: Sequence[Placed]) -> str:
    """The key of the piece that this one is brought to, or nothing."""
    first = placed[0].piece.key
    if piece.lining_of:
        return piece.lining_of
    attached = any(word in piece.key.split("_") for word in HANDLES)
    return first if attached and piece.key != first else ""


def _arrow(start: Placed, end: Placed) -> Arrow | None:
    """Between the near sides of two pieces, at a height where both are; none between rows."""
    if start.foot != end.foot:
        return None
    y = round(max(start.top, end.top) + min(start.height, end.height) * 0.5, 2)
    if start.lefts[0] >= end.right:
        return Arrow(start.lefts[0] + 10, y, end.right - 12, y)
    return Arrow(start.right - 10, y, end.lefts[0] + 12, y)


def _badges(
    steps: Sequence[Step], placed: dict[str, Placed], met: dict[str, list[Spot]]
) -> tuple[Badge, ...]:
    """Each step's number where it is done; several at one place stand side by side."""
    at: dict[Spot, list[str]] = {}
    for step, spots in zip(steps, _all_spots(steps, placed, met), strict=True):
        for spot in spots:
            at.setdefault(spot, []).append(str(step.number))
    badges: list[Badge] = []
    for (x, y), numbers in at.items():
        total = sum(badge_width(number) + 2 for number in numbers) - 2
        left = min(max(x - total / 2, 1), WIDTH - total - 1)
        for number in numbers:
            width = badge_width(number)
            badges.append(_apart(Badge(round(left + width / 2, 2), y, number, width), badges))
            left = badges[-1].x + width / 2 + 2
    return tuple(badges)


def _apart(badge: Badge, others: Sequence[Badge]) -> Badge:
    """The badge, moved sideways, or else up, until it covers none of the others."""
    step = badge.width + 2
    for up in range(3):
        for aside in (0, 1, -1, 2, -2, 3, -3, 4, -4, 5, -5):
            x, y = round(badge.x + aside * step, 2), round(badge.y - up * (BADGE + 1), 2)
            moved = Badge(x, y, badge.words, badge.width)
            inside = x - badge.width / 2 >= 1 and x + badge.width / 2 <= WIDTH - 1
            if inside and not any(_covers(moved, other) for other in others):
                return moved
    return badge


def _covers(one: Badge, other: Badge) -> bool:
    reach = (one.width + other.width) / 2 + 1
    return abs(one.y - other.y) < BADGE and abs(one.x - other.x) < reach


def _all_spots(
    steps: Sequence[Step], placed: dict[str, Placed], met: dict[str, list[Spot]]
) -> Iterator[list[Spot]]:
    """Where each step is done; nowhere for those that are done to all of it."""
    done = Counter((step.piece, step.technique) for step in steps)
    seen: Counter[tuple[str | None, str]] = Counter()
    attached = iter([spots for key, spots in met.items() if not placed[key].piece.lining_of])
    lined = [spot for key, spots in met.items() if placed[key].piece.lining_of for spot in spots]
    for step in steps:
        do, key = step.technique or "", step.piece
        seen[key, do] += 1
        if do in {"line", "line_open"}:
            yield lined
        elif do == "attach":
            yield next(attached, [])
        elif (one := _meant(do, key, placed)) is None:
            yield []
        elif do in ENDS:
            both = done[key, do] == 1 and not done[key, CLOSED_BY.get(do)]
            ends = _which(one.piece, do, seen[key, do], both=both)
            yield [(one.centre, one.foot if end == "first" else one.top) for end in ends]
        else:
            yield _spot(one, SPOTS.get(do, ""))


def _meant(do: str, key: str | None, placed: dict[str, Placed]) -> Placed | None:
    """The piece that a step is done to, also where its words name several."""
    if key is not None:
        return placed.get(key)
    if do == "join_panels":
        return next((one for one in placed.values() if one.piece.sides == "joined"), None)
    return next(iter(placed.values())) if do == "string" else None


def _spot(one: Placed, where: str) -> list[Spot]:
    if where == "middle":
        return [(one.centre, round(one.top + one.height / 2, 2))]
    if where == "top":
        pointed = one.piece.ends[1].edge == "gathered" != one.piece.ends[0].edge
        return [(one.centre, one.foot if pointed else one.top)]
    if where == "side":
        right = one.lefts[0] + one.width + (NEAR / 2 if len(one.lefts) > 1 else 0)
        return [(round(right, 2), round(one.top + one.height * 0.62, 2))]
    if where == "fold" and one.fold:
        return [(one.centre, one.fold)]
    return []


def _which(piece: WorkedPiece, do: str, count: int, *, both: bool) -> tuple[str, ...]:
    """At which ends: where only one end has such an edge, that one; else first, then last."""
    usual = ENDS[do]
    if usual == "both":
        return ("first", "last")
    edges = [end.edge for end in piece.ends]
    alike = sum(edge == EDGE_OF[do] for edge in edges)
    if alike == 1:
        return ("first",) if edges[0] == EDGE_OF[do] else ("last",)
    if both and alike == 2 and usual == "first":
        return ("first", "last")
    return ("last" if count > 1 else usual,)
