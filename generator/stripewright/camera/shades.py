"""Groups of rows that look alike: one pen laid unevenly, two shades of it, or two yarns."""

from __future__ import annotations

from collections import Counter
from itertools import combinations, pairwise
from typing import TYPE_CHECKING

import numpy as np

from stripewright.camera.colours import differences, lab_of
from stripewright.camera.tints import kinds_in, one_pen, reach_of, tint_distance, tint_of

if TYPE_CHECKING:
    from stripewright.camera.arrays import Integers, Reals
    from stripewright.camera.tints import Kinds

TWO_KINDS, MAYBE_TWO, FEWER = 3.2, 1.75, 5.0
"""How clearly one group's rows must part to be two colours, and to be doubtful; the last, over the
number of rows, is added: few rows part by chance. An even spread parts by 1.73."""
LAYERED, NEAR_LAYERS, ABRUPTLY, SPREAD = 3.5, 4.5, 2.0, 1.55
"""CIEDE2000 between rows of one pen to be two layers or two yarns, and where they meet abruptly;
how clearly they must part then; and under which clearness no rows are more than one spread."""
_FEW, _SOME, _FEW_STRIPES = 2, 10, 3
"""Rows up to which a shade may be no more than a faint stroke, and up to which one pen's rows part
by chance; stripes up to which light that was misjudged by a little parts them, too."""
CLEARLY, KIND, OTHER_PEN, NO_PEN = 5.0, 2.8, 6.0, 9.0
"""CIEDE2000 between them, at least, for either; from which on two kinds off the line of one pen's
tints are doubtful however they are spread; and from which on such on that line are."""
APART_ANYWAY = 4.5
"""How clearly rows part that are not of one pen, however near its tints they are."""
_WIDEST = 8.0
"""How far the rows of a shade beside other shades reach before they may be two more."""
MANY_OFF, ONE_OFF, ANY_TINT = 2.7, 4.5, 1e6
"""CIEDE2000 from the nearest tint of their middle by which a tenth of one pen's rows never is, and
by which no row is; and a pen's noise that lets a tint cost nothing."""

ALIKE, NEARER, NEARLY_ALL = 3.0, 0.5, 0.95
"""CIEDE2000 within which rows are a box of the key's, at the most that share of the way to the next
box, and nearly all of them."""
NO_FAINT = 11.0
"""CIEDE2000 from the others from which on a few rows that are no tint of theirs are a yarn's."""


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
        if len(own) < 2 or _one_of_key(light[own], key, noise):
            continue
        kinds = kinds_in(light[own], own)
        if not kinds.apart:
            continue
        fewer = kinds.of == int(np.bincount(kinds.of).argmin())
        rare = own[fewer] if kinds.few <= _FEW else own
        one, other = (np.median(light[own[kinds.of == n]], axis=0) for n in (0, 1))
        if one_pen(one, other):
            if _two_layers(kinds):
                doubtful += rare.tolist()  # two layers, or two yarns: who knows
        elif kinds.clear >= TWO_KINDS + FEWER / len(own) and kinds.apart >= CLEARLY:
            new = int(out.max()) + 1
            out[own[kinds.of == 0]] = new
            siblings[new] = group
            waiting += [group, new]
            if len(rare) < len(own) and kinds.apart < NO_FAINT:
                doubtful += rare.tolist()  # as likely faint as a yarn
        elif kinds.few > 1 and _may_be_two(kinds):
            doubtful += own.tolist()
    doubtful += _too_wide(light, out, siblings) + _off_line(light, out, key, noise)
    doubtful += _passes(light, out, key)
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


def _off_line(light: Reals, labels: Integers, key: Reals, noise: float) -> list[int]:
    """The rows of groups of which many are no tint of one pen, and single rows that are none."""
    found: list[int] = []
    for group in sorted(set(labels.tolist())):
        own = np.flatnonzero(labels == group)
        off = tint_distance(light[own], np.median(light[own], axis=0)[None], ANY_TINT)[:, 0]
        many = float(np.percentile(off, 90)) > MANY_OFF
        if many and not _one_of_key(light[own], key, noise):
            found += own.tolist()
        found += own[off > ONE_OFF].tolist()
    return found


def _passes(light: Reals, labels: Integers, key: Reals) -> list[int]:
    """The rows of colours that may be one pass of another's pen, where that one has two.

    A stripe is coloured in one go: rows of two passes and of one rarely meet, those of two yarns
    do. Where the key has both, they are two.
    """
    groups = sorted(set(labels.tolist()))
    middle = {group: np.median(light[labels == group], axis=0) for group in groups}
    often = _meetings(labels)
    found: list[int] = []
    for a, b in combinations(groups, 2):
        if (
            (a, b) not in often
            and tint_of(middle[a], middle[b])
            and not _both(middle[a], middle[b], key)
        ):
            found += np.flatnonzero(labels == min(b, a, key=labels.tolist().count)).tolist()
    return found


def _meetings(labels: Integers) -> set[tuple[int, int]]:
    """Groups that follow each other more than once."""
    pairs = Counter((min(two), max(two)) for two in pairwise(labels.tolist()))
    return {pair for pair, count in pairs.items() if count > 1}


def _both(one: Reals, other: Reals, key: Reals) -> bool:
    """Whether two boxes of the key have one of two colours each."""
    if len(key) < 2:
        return False
    lab = lab_of(np.stack([one, other]))
    apart = differences(lab[:, None], lab_of(key)[None])
    near = apart.argmin(axis=1)
    return bool(near[0] != near[1] and apart.min(axis=1).max() < float(differences(*lab)) / 2)


def _two_layers(kinds: Kinds) -> bool:
    """Whether rows of one pen part clearly enough for two layers of it, or two yarns."""
    clear, apart = kinds.clear - 2 * FEWER / len(kinds.of), kinds.apart
    if kinds.few == 1:
        return clear >= TWO_KINDS and apart >= CLEARLY
    if kinds.abrupt and apart >= NEAR_LAYERS:
        return clear >= ABRUPTLY
    if kinds.strewn:
        return apart >= NO_PEN
    return apart >= NO_PEN or clear >= (TWO_KINDS if apart >= LAYERED else APART_ANYWAY)


def _may_be_two(kinds: Kinds) -> bool:
    """Whether rows off the line of one pen's tints part enough to be doubtful."""
    enough = kinds.apart >= OTHER_PEN or kinds.clear >= MAYBE_TWO + FEWER / len(kinds.of)
    least = KIND if kinds.stripes > _FEW_STRIPES else LAYERED
    by_chance = 2 * FEWER / len(kinds.of) if kinds.few <= _SOME else 0.0
    clear = kinds.clear - by_chance >= SPREAD
    return clear and kinds.apart >= least and enough and not kinds.gradual


def _one_of_key(light: Reals, key: Reals, noise: float) -> bool:
    """Whether only one of the key's colours can be these rows'; not where it has but one."""
    if len(key) < 2:
        return False
    apart = tint_distance(light, key, max(noise, 0.3))
    first, second = np.argsort(np.median(apart, axis=0))[:2]
    near, next_one = apart[:, first], apart[:, second]
    return bool(np.median(near) < ALIKE and (near < NEARER * next_one).mean() > NEARLY_ALL)


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
