"""Labels beside what they name, moved apart so that none overlaps."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence


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
