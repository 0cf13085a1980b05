"""Stripes that repeat: which lines of a plan are one block knitted several times over."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stripewright.compute.event import WorkedRepeat

if TYPE_CHECKING:
    from collections.abc import Collection, Sequence

    from stripewright.compute.worked_piece import PlanLine

LEAST_TIMES = 3
"""Twice is told as quickly as it is written out."""


def repeats_of(plan: Sequence[PlanLine], stops: Collection[int] = ()) -> tuple[WorkedRepeat, ...]:
    """The blocks of a plan that repeat at least `LEAST_TIMES`, first to last, none overlapping.

    From the cast-on end on, the block is taken that covers most stripes, and among those the
    shortest. A stripe with an allowance, or with something else to do in it, is like no other.

    Args:
        plan: the stripes as they are knitted.
        stops: readings at which something else happens than a change.
    """
    marks = [_mark(number, line, stops) for number, line in enumerate(plan)]
    found: list[WorkedRepeat] = []
    at = 0
    while at < len(marks):
        best = _best(marks, at)
        if best is None:
            at += 1
        else:
            found.append(best)
            at += best.stripes * best.times
    return tuple(found)


def _mark(number: int, line: PlanLine, stops: Collection[int]) -> tuple[object, ...]:
    """What two stripes must have alike; a stripe that isn't plain has its own number."""
    busy = any(line.first <= stop + 1 <= line.last for stop in stops)
    made = line.grafted or line.grafted_before
    if busy or made or line.allowance_before or line.allowance_after:
        return (number,)
    return line.yarn, line.rows, line.carried


def _best(marks: Sequence[tuple[object, ...]], at: int) -> WorkedRepeat | None:
    """The block from a place on that covers most; None where nothing repeats often enough."""
    best: WorkedRepeat | None = None
    for stripes in range(2, (len(marks) - at) // LEAST_TIMES + 1):
        same = at
        while same + stripes < len(marks) and marks[same] == marks[same + stripes]:
            same += 1
        times = (same - at) // stripes + 1
        covered = stripes * times
        if times >= LEAST_TIMES and (best is None or covered > best.stripes * best.times):
            best = WorkedRepeat(at, stripes, times)
    return best
