"""Tints: what one pen makes of a colour, pressed harder or lighter, with more or less paper in it.

Paper showing through mixes a colour with white, in the light that reaches the camera or, drawn on
a screen, in sRGB; a second layer multiplies. A row is as near to a colour as to its nearest tint.
"""

from __future__ import annotations

from dataclasses import dataclass
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

LESS, ANY_LINE = np.geomspace(0.62, 1.0, 40), 1.4
"""How much of a pen one pass may leave against two, and CIEDE2000 by which it misses its tints."""

PASSING, FAR = 0.55, 6.5
"""The share of the difference between two kinds that is no step between them yet; and CIEDE2000
between them from which on a pen's unevenness can't hide a step."""
STREWN, _SOME = 0.6, 3
"""Up to that share in the middle of at least so many such places, they are one pen's strokes."""
ABRUPT, _MANY = 0.7, 5
"""The same: from that share on, they are two yarns."""
STEADY = 0.5
"""CIEDE2000 by which the rows of any stripe scatter."""


def tints_of(light: Reals, shares: Reals = SHARES) -> Reals:
    """The tints of some colours.

    Args:
        light: colours × 3, linear sRGB.
        shares: how much of them there is.

    Returns:
        Colours × tints × 3, Lab: mixed in light, mixed in sRGB, layered, of each share.
    """
    share = shares[None, :, None]
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


def tint_of(one: Reals, other: Reals) -> bool:
    """Whether the lighter of two colours is less of the darker one's pen, however it was laid on.

    Args:
        one: linear sRGB, 1 is paper white.
        other: the same.
    """
    thin, thick = sorted((one, other), key=lambda light: -light.sum())
    tints = tints_of(thick[None], LESS)[0]
    return bool(differences(tints, lab_of(thin)).min() < ANY_LINE)


@dataclass(frozen=True, slots=True, eq=False)
class Kinds:
    """Rows that look like one colour, as two kinds of it."""

    of: Integers
    """0 or 1 for each row."""
    clear: float
    """How clearly they part, in the scatter of rows; 0 where they don't."""
    apart: float
    """CIEDE2000 between them."""
    steps: Reals
    """Where one kind follows the other: CIEDE2000 between the two rows, as a share of `apart`."""
    stripes: int
    """Runs of rows of one kind that follow each other."""

    @property
    def few(self) -> int:
        """Rows of the kind that has fewer."""
        return int(np.bincount(self.of).min())

    @property
    def gradual(self) -> bool:
        """Whether they pass into each other in a stripe: one pen, pressed harder and lighter."""
        return len(self.steps) > 0 and self.apart > FAR and bool((self.steps < PASSING).all())

    @property
    def strewn(self) -> bool:
        """Whether rows of one kind pass into the other's as strokes do, mostly by less than all."""
        return len(self.steps) >= _SOME and float(np.median(self.steps)) < STREWN

    @property
    def abrupt(self) -> bool:
        """Whether they part where they meet by as much as they part at all, as two yarns do."""
        return len(self.steps) >= _MANY and float(np.median(self.steps)) > ABRUPT


def kinds_in(light: Reals, rows: Integers) -> Kinds:
    """Whether rows that look like one colour are two kinds of it, stripe by stripe.

    Measured by what changes from row to row: strokes scatter along one pen's tints, two yarns part
    across them.

    Args:
        light: rows × 3, linear sRGB.
        rows: their places in the sheet.
    """
    lab = lab_of(light)
    beside = np.diff(rows) == 1
    steps = np.diff(lab, axis=0)[beside]
    if len(steps) > 4:  # without the widest: they may lead from one kind to the other
        steps = steps[np.argsort((steps**2).sum(axis=1))[: -max(len(steps) // 6, 1)]]
    scatter = steps.T @ steps / max(2 * len(steps), 1) + STEADY**2 * np.eye(3)
    even = lab @ np.linalg.inv(np.linalg.cholesky(scatter)).T
    _, _, axes = np.linalg.svd(even - even.mean(axis=0), full_matrices=False)
    two, clear = _parted(even @ axes[0])
    stripes = 1 + int((~beside | (two[1:] != two[:-1])).sum())
    if two.min() == two.max() or not _in_stripes(two, rows):
        return Kinds(two, 0.0, 0.0, np.zeros(0), stripes)
    one, other = (np.median(lab[two == n], axis=0) for n in (0, 1))
    apart = float(differences(one, other))
    meet = np.flatnonzero(beside & (two[1:] != two[:-1]))
    passed = np.atleast_1d(differences(lab[meet], lab[meet + 1])) / max(apart, 1e-6)
    return Kinds(two, clear, apart, passed, stripes)


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
