"""Average linkage: things that are near each other merged step by step, and where to stop."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from stripewright.camera.arrays import Integers, Reals

Merge = tuple[float, int, int]
"""Height, and the two that are merged; the smaller number stands for both afterwards."""


def linkage(between: Reals, sizes: Integers) -> list[Merge]:
    """Merge the two nearest groups until one is left.

    Args:
        between: things × things, how far apart they are.
        sizes: how many each thing counts for in a mean.
    """
    apart = between.astype(np.float64).copy()
    count = len(apart)
    weight = sizes.astype(np.float64).copy()
    np.fill_diagonal(apart, np.inf)
    merges: list[Merge] = []
    for _ in range(count - 1):
        a, b = sorted(divmod(int(apart.argmin()), count))
        merges.append((float(apart[a, b]), a, b))
        mean = (apart[a] * weight[a] + apart[b] * weight[b]) / (weight[a] + weight[b])
        apart[a], apart[:, a] = mean, mean
        apart[a, a] = np.inf
        apart[b], apart[:, b] = np.inf, np.inf
        weight[a] += weight[b]
    return merges


def cut_at(merges: list[Merge], count: int, height: float) -> Integers:
    """The groups that merges up to a height make, numbered in order of first appearance."""
    parent = list(range(count))

    def root(n: int) -> int:
        while parent[n] != n:
            n = parent[n]
        return n

    for made, a, b in merges:
        if made <= height:
            parent[root(b)] = root(a)
    names: dict[int, int] = {}
    return np.array([names.setdefault(root(n), len(names)) for n in range(count)], np.int64)


def gap_in(
    heights: Reals, least: float, most: float, noise: float, wide: float
) -> tuple[float, float]:
    """Where to stop: in the first wide gap between two merges in a row, or in the widest.

    Args:
        heights: of the merges.
        least: what is nearer is one group in any case.
        most: what is further apart never is.
        noise: added to both sides of a gap before they are compared.
        wide: times further that make a gap wide.

    Returns:
        The height to stop at, and how many times further the next merge is than the last.
    """
    floor = least * 0.6
    ends = np.concatenate([[0.0], np.sort(heights), [max(most * 2.2, 30.0)]])
    best, cut = 0.0, most
    for low, high in pairwise(ends.tolist()):
        if high <= least or low >= most:
            continue
        gap = (high + noise) / (max(low, floor) + noise)
        if gap > best:
            best, cut = gap, float(np.sqrt(max(low, floor) * min(high, most * 1.5)))
        if best >= wide:
            break
    return cut, best


def parted(one: Integers, other: Integers) -> set[int]:
    """The things in groups that two ways of grouping don't have in common."""
    first = {frozenset(np.flatnonzero(one == n).tolist()) for n in set(one.tolist())}
    second = {frozenset(np.flatnonzero(other == n).tolist()) for n in set(other.tolist())}
    return {thing for group in first ^ second for thing in group}
