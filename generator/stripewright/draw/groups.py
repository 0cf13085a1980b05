"""Stripes as they are labelled: each on its own, or repeats told once when there are very many."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from stripewright.catalogue import _
from stripewright.compute.event import WorkedRepeat
from stripewright.compute.repeats import repeats_of
from stripewright.figures import counted

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stripewright.compute.worked_piece import PlanLine

MANY = 240
"""Up to so many stripes, each has its own line."""


class Item(NamedTuple):
    """What one line of labels tells: rows after which it begins and ends, and its words.

    `letter` is empty for a repeat of what stands below it. `knitted` is the last row of it that is
    knitted: grafting may make another.
    """

    start: int
    end: int
    letter: str
    words: str
    knitted: int


def items(plan: Sequence[PlanLine], *, numbers: bool) -> list[Item]:
    """The labels of a plan, from the cast-on edge.

    Args:
        plan: the stripes.
        numbers: whether rows may be told.
    """
    if len(plan) <= MANY:
        return [_item(line, numbers=numbers) for line in plan]
    found: list[Item] = []
    blocks = {block.first: block for block in repeats_of(plan)}
    at = 0
    while at < len(plan):
        block = blocks.get(at, WorkedRepeat(at, 1, 1))
        end = at + block.stripes
        found += [_item(line, numbers=numbers) for line in plan[at:end]]
        at = end + block.stripes * (block.times - 1)
        if at > end:
            found.append(_more(plan[end:at], block.times - 1))
    return found


def _more(lines: Sequence[PlanLine], times: int) -> Item:
    last = lines[-1]
    return Item(
        lines[0].first - 1,
        last.last + last.grafted,
        "",
        _("× {times} more", times=times),
        last.last,
    )


def _item(line: PlanLine, *, numbers: bool) -> Item:
    hidden = line.allowance_before + line.allowance_after
    words = counted(line.visible, "row", "rows")
    if hidden:
        words = _("{rows}+{hidden} rows", rows=line.visible, hidden=hidden)
    elif grafted := line.grafted_before + line.grafted:
        words = (
            _("{rows}, {grafted} grafted", rows=words, grafted=grafted)
            if line.rows
            else _("{rows}, grafted", rows=words)
        )
    end = line.last + line.grafted
    return Item(
        line.first - 1 - line.grafted_before, end, line.letter, words if numbers else "", line.last
    )


def spread(wanted: Sequence[float], height: float, low: float, high: float) -> list[float]:
    """Centres of labels, in the order wanted, `height` apart at least, between `low` and `high`.

    The labels stay as near to where they are wanted as they can, in the least-squares sense (pool
    adjacent violators: labels that touch form a block at the mean of what its labels want).

    Args:
        wanted: where each label would stand, rising.
        height: of a label.
        low: upper end of the column (y grows downward).
        high: its lower end; where the labels need more than there is, they run past it.
    """
    blocks: list[list[float]] = []  # [sum of wanted offsets, labels in it]
    for index, place in enumerate(wanted):
        blocks.append([place - index * height, 1])
        while len(blocks) > 1 and blocks[-2][0] / blocks[-2][1] > blocks[-1][0] / blocks[-1][1]:
            total, count = blocks.pop()
            blocks[-1][0] += total
            blocks[-1][1] += count
    offsets = [total / count for total, count in blocks for _ in range(int(count))]
    last = len(wanted) - 1
    least, most = low + height / 2, high - height / 2 - last * height
    most = max(most, least)
    return [min(max(offset, least), most) + index * height for index, offset in enumerate(offsets)]
