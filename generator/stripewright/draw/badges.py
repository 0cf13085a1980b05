"""Where the steps' numbers stand in an assembly: at the end, side or fold they are done to."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from stripewright.draw.measure import ems
from stripewright.words.techniques import closing, technique

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from stripewright.compute.worked_piece import WorkedPiece
    from stripewright.words.techniques import Technique, Where
    from stripewright.words.written import Step

BADGES_WIDTH = 340.0
BADGE_FONT = 13.0
BADGE = 19.0
"""Height of a step's number on its plate."""
LINE = 16.0
"""From one line of a name to the next."""
NEAR = 12.0
"""Between panels that are joined."""

_Spot = tuple[float, float]
"""The middle of a number's plate."""


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
    def names(self) -> tuple[Badge, ...]:
        """Each line of its name below its foot: where its letters stand, and how wide they are."""
        half = [ems(words) * BADGE_FONT / 2 for words in self.name]
        return tuple(
            Badge(
                min(max(self.middle, wide + 1), BADGES_WIDTH - wide - 1),
                self.foot + 25 + at * LINE,
                words,
                wide * 2,
            )
            for at, (words, wide) in enumerate(zip(self.name, half, strict=True))
        )

    @property
    def fold(self) -> float | None:
        """Where it is folded."""
        return self._at(self.piece.fold) if self.piece.fold else None

    @property
    def brim(self) -> float | None:
        """Where its brim is turned up."""
        return self._at(self.piece.brim.turn) if self.piece.brim else None

    def _at(self, row: int) -> float | None:
        """The height of a row; None where it is drawn in two parts."""
        if len(self.shown) > 1:
            return None
        ((start, end, foot),) = self.shown
        return round(foot - self.height * (row - start) / (end - start), 2)


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


def badge_width(number: str) -> float:
    """How wide a step's plate is."""
    return max(BADGE, ems(number, bold=True) * BADGE_FONT + 8)


def meeting(start: Placed, end: Placed, arrow: Arrow | None) -> list[_Spot]:
    """Where the number stands of a step that brings a piece to another."""
    if arrow:
        return [(round((arrow.x1 + arrow.x2) / 2, 2), arrow.y1)]
    return _spot(start, "middle") + _spot(end, "middle")


def badges(
    steps: Sequence[Step], placed: dict[str, Placed], met: dict[str, list[_Spot]]
) -> tuple[Badge, ...]:
    """Each step's number where it is done, on no piece's name; those of a place side by side.

    Those of steps that are done to several pieces alike come last, where there is room left.
    """
    names = [
        replace(line, y=line.y - BADGE_FONT / 3) for one in placed.values() for line in one.names
    ]
    found = [*names]
    where = list(zip(steps, _all_spots(steps, placed, met), strict=True))
    for alike in (False, True):
        at: dict[_Spot, list[str]] = {}
        for step, spots in where:
            for spot in spots if bool(step.pieces) == alike else ():
                at.setdefault(spot, []).append(str(step.number))
        for spot, numbers in at.items():
            _set_beside(numbers, spot, found, must=not alike)
    return tuple(found[len(names) :])


def _set_beside(numbers: Sequence[str], spot: _Spot, found: list[Badge], *, must: bool) -> None:
    """Add the badges of one place, side by side; those that needn't show only where they fit."""
    x, y = spot
    total = sum(badge_width(number) + 2 for number in numbers) - 2
    left = min(max(x - total / 2, 1), BADGES_WIDTH - total - 1)
    for number in numbers:
        width = badge_width(number)
        badge = Badge(round(left + width / 2, 2), y, number, width)
        free = _apart(badge, found, rows=6 if must else 1)
        if free or must:
            found.append(free or badge)
            left = found[-1].x + width / 2 + 2


def _apart(badge: Badge, others: Sequence[Badge], *, rows: int) -> Badge | None:
    """The badge, moved sideways or up until it covers no other; None where there is no room.

    Args:
        badge: where it should stand.
        others: those that stand already.
        rows: in how many rows of badges it may stand; 1 is only beside them.
    """
    step = badge.width + 2
    for up in range(rows):
        for aside in (0, 1, -1, 2, -2, 3, -3, 4, -4, 5, -5):
            x, y = round(badge.x + aside * step, 2), round(badge.y - up * (BADGE + 1), 2)
            moved = Badge(x, y, badge.words, badge.width)
            inside = x - badge.width / 2 >= 1 and x + badge.width / 2 <= BADGES_WIDTH - 1
            if inside and not any(_covers(moved, one) for one in others):
                return moved
    return None


def _covers(one: Badge, other: Badge) -> bool:
    reach = (one.width + other.width) / 2 + 1
    return abs(one.y - other.y) < BADGE and abs(one.x - other.x) < reach


def _all_spots(
    steps: Sequence[Step], placed: dict[str, Placed], met: dict[str, list[_Spot]]
) -> Iterator[list[_Spot]]:
    """Where each step is done; nowhere for those that are done to all of it."""
    done = Counter((key, step.technique) for step in steps for key in _keys(step))
    seen: Counter[tuple[str | None, str | None]] = Counter()
    for step in steps:
        how = technique(step.technique)
        spots: list[_Spot] = []
        for key in _keys(step):
            if how.at == "meeting":
                spots += (
                    met.get(key, []) if key else [one for spots in met.values() for one in spots]
                )
                continue
            seen[key, step.technique] += 1
            closed = done[key, closing(how.edge)] if how.edge else 0
            both = done[key, step.technique] == 1 and not closed
            one = placed.get(key) if key else _meant(how, placed)
            spots += _of_piece(one, how, seen[key, step.technique], both=both) if one else []
        yield spots


def _keys(step: Step) -> tuple[str | None, ...]:
    """The pieces that a step is done to; what joins several is done between them, once."""
    keys = step.pieces or (step.piece,)
    return keys[:1] if technique(step.technique).once else keys


def _of_piece(one: Placed, how: Technique, count: int, *, both: bool) -> list[_Spot]:
    """Where on a piece a step is done that is the piece's `count`-th of its kind."""
    if how.at not in ("first", "last", "both"):
        return _spot(one, how.at)
    ends = _which(one.piece, how, count, both=both)
    return [(one.centre, one.foot if end == "first" else one.top) for end in ends]


def _meant(how: Technique, placed: dict[str, Placed]) -> Placed | None:
    """The piece that a step is shown on whose author named none."""
    if not how.once:
        return None
    joined = (one for one in placed.values() if how.at != "side" or one.piece.sides == "joined")
    return next(joined, None)


def _spot(one: Placed, where: Where | None) -> list[_Spot]:
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
    if where == "brim" and one.brim:
        return [(one.centre, one.brim)]
    return []


def _which(piece: WorkedPiece, how: Technique, count: int, *, both: bool) -> tuple[str, ...]:
    """At which ends: where only one end has such an edge, that one; else first, then last."""
    if how.at == "both":
        return ("first", "last")
    edges = [end.edge for end in piece.ends]
    alike = edges.count(how.edge) if how.edge else 0
    if alike == 1:
        return ("first",) if edges[0] == how.edge else ("last",)
    if both and alike == 2 and how.at == "first":
        return ("first", "last")
    return ("last" if count > 1 or how.at == "last" else "first",)
