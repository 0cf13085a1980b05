"""Parts of one weight that should get the same rows: whether they do, and where they would."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stripewright.compute.rows import share

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stripewright.compute.rows import RowShare

MOST_TRIED = 100_000
"""Shares worked out in a search for a total: enough for any hundred parts, over in a moment."""


def unlike(parts: Sequence[RowShare], rows: Sequence[int]) -> tuple[str, int, int] | None:
    """The first parts of one weight, and one least, that get different rows; None when none do.

    Returns:
        The yarn of the second of the two, and the rows of both.
    """
    first: dict[tuple[float, int | None], int] = {}
    for part, count in zip(parts, rows, strict=True):
        before = first.setdefault((part.count, part.least), count)
        if before != count:
            return part.yarn, before, count
    return None


def alike_at(total: int, parts: Sequence[RowShare], leasts: Sequence[int]) -> tuple[int, ...]:
    """The nearest totals at which parts of one weight get the same rows: below, and above.

    One of them, or both, may not be there: below what the leasts come to, or too far to seek.

    Args:
        total: rows, which may do themselves.
        parts: with their shares.
        leasts: the fewest rows of each.
    """
    shares = [part.count for part in parts]
    far = MOST_TRIED // len(parts)

    def first(totals: range) -> tuple[int, ...]:
        does = (one for one in totals if unlike(parts, share(one, shares, leasts)) is None)
        return tuple(one for one in [next(does, None)] if one is not None)

    below = first(range(total, max(total - far, sum(leasts) - 1), -1))
    return below if below == (total,) else below + first(range(total + 1, total + far))
