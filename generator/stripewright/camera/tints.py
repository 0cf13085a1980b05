"""Tints: what one pen makes of a colour, pressed harder or lighter, with more or less paper in it.

Paper showing through mixes a colour with white, in the light that reaches the camera or, drawn on
a screen, in sRGB; a second layer multiplies. A row is as near to a colour as to its nearest tint.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from stripewright.camera.colours import differences, lab_of, linear_of, srgb_of

if TYPE_CHECKING:
    from stripewright.camera.arrays import Integers, Reals

SHARES = np.array([0.45, 0.55, 0.65, 0.74, 0.83, 0.91, 1.0, 1.1, 1.2, 1.35, 1.5])
"""How much of a colour there is, against what was measured: 1 as much."""
USUAL, DEARER, MOST = 1.5, 1.6, 12.0
"""A tint costs nothing up to so many times the pen's noise, then so much CIEDE2000 for each time
more, and at the most so much."""

THICKER, ON_LINE, UNEVEN = 1.3, 0.85, 0.05
"""How many times as thick one pen's layer may be in one stripe as in another; CIEDE2000 by which it
may miss the line of its tints; and by how much light may be misjudged between them, a logarithm."""

NEAR_LINE, WIDE = 1.3, 5.5
"""The same for two colours that are no further apart than the latter: the hand shakes as much."""

PASSING, FAR = 0.55, 6.5
"""The share of the difference between two kinds that is no step between them yet; and CIEDE2000
between them from which on a pen's unevenness can't hide a step."""
STEADY = 0.5
"""CIEDE2000 by which the rows of any stripe scatter."""


def tints_of(light: Reals) -> Reals:
    """The tints of some colours.

    Args:
        light: colours × 3, linear sRGB.

    Returns:
        Colours × tints × 3, Lab: mixed in light, mixed in sRGB, layered, of each of `SHARES`.
    """
    share = SHARES[None, :, None]
    one = np.clip(light, 1e-3, 1)[:, None, :]
    mixed = np.clip(1 - share * (1 - one), 1e-3, 1)
    drawn = linear_of(np.clip(1 - share * (1 - srgb_of(one)), 0.01, 1))
    return lab_of(np.concatenate([mixed, drawn, one**share], axis=1))


def tint_distance(light: Reals, centres: Reals, noise: float) -> Reals:
    """How far colours are from the nearest tint of each centre, in CIEDE2000.

    Args:
        light: colours × 3, linear sRGB.
        centres: centres × 3, linear sRGB.
        noise: standard deviation of `amount` that one pen makes from row to row.

    Returns:
        Colours × centres; what a tint costs is added.
    """
    times = np.abs(np.log(SHARES)) / noise
    cost = np.tile(np.clip(DEARER * (times - USUAL), 0, MOST), 3)
    lab = lab_of(light)
    out = np.empty((len(lab), len(centres)))
    for n, own in enumerate(tints_of(centres)):
        out[:, n] = (differences(lab[:, None], own[None]) + cost).min(axis=1)
    return out


def amount(light: Reals) -> Reals:
    """How much a colour takes from white, as a logarithm: what more or less of one pen changes."""
    taken = np.clip(1 - np.clip(light, 0, 1), 1e-3, None)
    return np.asarray(np.log(np.linalg.norm(taken, axis=-1)))


def one_pen(one: Reals, other: Reals) -> bool:
    """Whether the darker of two colours is the lighter one's pen, laid a little thicker.

    A layer multiplies (Beer and Lambert: optical densities lie on one line through the paper's
    white), wax covers (light mixes with the paper's). Another yarn leaves both lines, or lies much
    further along them.

    Args:
        one: linear sRGB, 1 is paper white.
        other: the same.
    """
    thin, thick = (
        np.clip(light, 2e-3, 1) for light in sorted((one, other), key=lambda x: -x.sum())
    )
    line = ON_LINE if float(differences(lab_of(one), lab_of(other))) > WIDE else NEAR_LINE
    lit = np.clip(thick * np.exp(np.linspace(-UNEVEN, UNEVEN, 5))[:, None], 2e-3, 1)
    density, more = -np.log(thin), -np.log(lit)
    layers = (more @ density) / max(float(density @ density), 1e-9)
    cover = ((1 - lit) @ (1 - thin)) / max(float((1 - thin) @ (1 - thin)), 1e-9)
    layered = differences(lab_of(np.exp(-layers[:, None] * density)), lab_of(lit))
    covered = differences(lab_of(1 - cover[:, None] * (1 - thin)), lab_of(lit))
    return bool(
        ((layers <= THICKER) & (layered <= line)).any()
        or ((cover <= THICKER) & (covered <= line)).any()
    )


def kinds_in(light: Reals, rows: Integers) -> tuple[Integers, float, float]:
    """Whether rows that look like one colour are two kinds of it, stripe by stripe.

    Measured by what changes from row to row: strokes scatter along one pen's tints, two yarns part
    across them.

    Args:
        light: rows × 3, linear sRGB.
        rows: their places in the sheet.

    Returns:
        0 or 1 for each; how clearly they part, in the scatter of rows; and CIEDE2000 between them.
    """
    lab = lab_of(light)
    steps = np.diff(lab, axis=0)[np.diff(rows) == 1]
    if len(steps) > 4:  # without the widest: they may lead from one kind to the other
        steps = steps[np.argsort((steps**2).sum(axis=1))[: -max(len(steps) // 6, 1)]]
    scatter = steps.T @ steps / max(2 * len(steps), 1) + STEADY**2 * np.eye(3)
    even = lab @ np.linalg.inv(np.linalg.cholesky(scatter)).T
    _, _, axes = np.linalg.svd(even - even.mean(axis=0), full_matrices=False)
    along = even @ axes[0]
    two, clear = _parted(along)
    if two.min() == two.max() or not _in_stripes(two, rows):
        return two, 0.0, 0.0
    one, other = (np.median(lab[two == n], axis=0) for n in (0, 1))
    return two, clear, float(differences(one, other))


def gradual(light: Reals, rows: Integers, two: Integers) -> bool:
    """Whether two kinds pass into each other in a stripe: one pen, pressed harder and lighter.

    Two yarns part by a step as large as the difference between them.

    Args:
        light: rows × 3, linear sRGB.
        rows: their places in the sheet.
        two: 0 or 1 for each, from `kinds_in`.
    """
    lab = lab_of(light)
    apart = float(differences(*(np.median(lab[two == n], axis=0) for n in (0, 1))))
    meet = np.flatnonzero((np.diff(rows) == 1) & (two[1:] != two[:-1]))
    steps = differences(lab[meet], lab[meet + 1])
    return len(meet) > 0 and apart > FAR and bool((steps < PASSING * apart).all())


def reach_of(light: Reals) -> float:
    """CIEDE2000 between the lightest and the darkest tenth of some rows, linear sRGB."""
    lab = lab_of(light)
    lab = lab[np.argsort(lab[:, 0])]
    tenth = len(lab) // 10
    return float(differences(lab[tenth], lab[-1 - tenth]))


def _parted(along: Reals) -> tuple[Integers, float]:
    """Numbers parted in two where the means lie furthest apart over twice the larger scatter."""
    rank = np.sort(along)
    best, cut = 0.0, float(rank[-1])
    for n in range(1, len(rank)):
        low, high = rank[:n], rank[n:]
        apart = float(high.mean() - low.mean())
        score = apart / (2 * max(float(low.std()), float(high.std()), 1.0))
        if score > best:
            best, cut = score, float((high[0] + low[-1]) / 2)
    return (along > cut).astype(np.int64), best


def _in_stripes(two: Integers, rows: Integers) -> bool:
    """Whether kinds change more rarely from row to row than by chance."""
    beside = np.diff(rows) == 1
    if not beside.any():
        return True
    share = float(two.mean())
    changes = float((two[1:] != two[:-1])[beside].mean())
    return changes < 0.6 * 2 * share * (1 - share)
