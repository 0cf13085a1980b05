"""Groups of rows that look alike: one pen laid unevenly, two shades of it, or two yarns."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from stripewright.camera.tints import gradual, kinds_in, one_pen, reach_of, tint_distance

if TYPE_CHECKING:
    from stripewright.camera.arrays import Integers, Reals

TWO_KINDS, MAYBE_TWO, FEWER = 3.2, 1.75, 5.0
"""How clearly one group's rows must part to be two colours, and to be doubtful; the last, over the
number of rows, is added: few rows part by chance. An even spread parts by 1.73."""
LAYERS, LAYERED, SPREAD = 2.6, 3.5, 1.55
"""How clearly rows of one pen part, and CIEDE2000 between them, to be two layers or two yarns; and
under which clearness no rows are more than one spread."""
_FEW = 2
"""Rows up to which a shade may be no more than a faint stroke."""
CLEARLY, KIND, OTHER_PEN, NO_PEN = 5.0, 2.8, 6.0, 9.0
"""CIEDE2000 between them, at least, for either; from which on two kinds off the line of one pen's
tints are doubtful however they are spread; and from which on such on that line are."""
APART_ANYWAY = 4.5
"""How clearly rows part that are not of one pen, however near its tints they are."""
_WIDEST = 8.0
"""How far the rows of a shade beside other shades reach before they may be two more."""

ALIKE, NEVER = 3.0, 11.0
"""CIEDE2000 within which rows are a box of the key's, and beyond which they are not another's."""


def shades_of(
    light: Reals, labels: Integers, key: Reals, noise: float
) -> tuple[Integers, dict[int, int], Integers]:
    """Groups of one pen parted into shades, where they part clearly.

    Returns:
        The groups; which group each lighter shade was parted from; rows that may be two shades.
    """
    out = labels.copy()
    siblings: dict[int, int] = {}
    doubtful: list[int] = []
    waiting = sorted(set(labels.tolist()))
    while waiting:
        group = waiting.pop(0)
        own = np.flatnonzero(out == group)
        if len(own) < 2:
            continue
        if len(key) > 1 and _one_of_key(light[own], key, noise):
            continue
        two, clear, apart = kinds_in(light[own], own)
        few = two == int(np.bincount(two).argmin())
        rare = own[few] if few.sum() <= _FEW else own
        sure = TWO_KINDS + FEWER / len(own)
        if apart and one_pen(*(np.median(light[own[two == n]], axis=0) for n in (0, 1))):
            if _two_layers(clear - 2 * FEWER / len(own), apart, int(few.sum())):
                doubtful += rare.tolist()  # two layers, or two yarns: who knows
        elif clear >= sure and apart >= CLEARLY:
            new = int(out.max()) + 1
            out[own[two == 0]] = new
            siblings[new] = group
            waiting += [group, new]
            doubtful += rare.tolist() if len(rare) < len(own) else []  # as likely faint as a yarn
        elif few.sum() > 1 and _may_be_two(clear, apart, len(own)):
            doubtful += [] if gradual(light[own], own, two) else own.tolist()
    doubtful += _too_wide(light, out, siblings)
    numbers = renumbered(out)
    place = {int(old): int(new) for old, new in zip(out, numbers, strict=True)}
    return numbers, {place[a]: place[b] for a, b in siblings.items()}, np.array(doubtful, np.int64)


def _too_wide(light: Reals, labels: Integers, siblings: dict[int, int]) -> list[int]:
    """The rows of shades that reach so far that each may be two."""
    found: list[int] = []
    for group in sorted({*siblings, *siblings.values()}):
        own = np.flatnonzero(labels == group)
        found += own.tolist() if reach_of(light[own]) > _WIDEST else []
    return found


def _two_layers(clear: float, apart: float, few: int) -> bool:
    """Whether rows of one pen part clearly enough for two layers of it, or two yarns."""
    return (
        (clear >= LAYERS and apart >= LAYERED and few > 1)
        or (clear >= TWO_KINDS and apart >= CLEARLY)
        or (clear >= APART_ANYWAY and apart >= KIND)
        or (apart >= NO_PEN and few > 1)
    )


def _may_be_two(clear: float, apart: float, rows: int) -> bool:
    """Whether rows off the line of one pen's tints part enough to be doubtful."""
    enough = apart >= OTHER_PEN or clear >= MAYBE_TWO + FEWER / rows
    return clear >= SPREAD and apart >= KIND and enough


def _one_of_key(light: Reals, key: Reals, noise: float) -> bool:
    """Whether only one of the key's colours can be these rows'."""
    apart = np.median(tint_distance(light, key, max(noise, 0.3)), axis=0)
    return bool(apart.min() < ALIKE and np.sort(apart)[1] > NEVER)


def kin(a: int, b: int, siblings: dict[int, int]) -> bool:
    """Whether two groups are shades of one pen, parted by how much of it there is."""
    return _root(a, siblings) == _root(b, siblings)


def _root(group: int, siblings: dict[int, int]) -> int:
    while group in siblings:
        group = siblings[group]
    return group


def renumbered(labels: Integers) -> Integers:
    """The same groups, numbered in the order of first appearance."""
    names: dict[int, int] = {}
    return np.array([names.setdefault(int(n), len(names)) for n in labels], np.int64)
