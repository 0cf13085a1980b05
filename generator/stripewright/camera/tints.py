"""Tints: what one pen makes of a colour, pressed harder or lighter, with more or less paper in it.

Paper showing through mixes a colour with white, in the light that reaches the camera or, drawn on
a screen, in sRGB; a second layer multiplies. A row is as near to a colour as to its nearest tint.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from stripewright.camera.colours import difference, lab_of, linear_of, srgb_of

if TYPE_CHECKING:
    from stripewright.camera.arrays import Reals, Whole

SHARES = np.array([0.45, 0.55, 0.65, 0.74, 0.83, 0.91, 1.0, 1.1, 1.2, 1.35, 1.5])
"""How much of a colour there is, against what was measured: 1 as much."""
USUAL, DEARER, MOST = 1.5, 1.6, 12.0
"""A tint costs nothing up to so many times the pen's noise, then so much CIEDE2000 for each time
more, and at the most so much."""


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
        out[:, n] = (difference(lab[:, None], own[None]) + cost).min(axis=1)
    return out


def amount(light: Reals) -> Reals:
    """How much a colour takes from white, as a logarithm: what more or less of one pen changes."""
    taken = np.clip(1 - np.clip(light, 0, 1), 1e-3, None)
    return np.asarray(np.log(np.linalg.norm(taken, axis=-1)))


def shades_in(amounts: Reals, noise: float) -> tuple[Whole, float]:
    """Whether rows of one pen are one shade or two, by how much of it they have.

    Args:
        amounts: of the rows, logarithms.
        noise: standard deviation that strokes alone make.

    Returns:
        0 or 1 for each, lighter first; and how clearly they part: the distance between the two
        means over twice the larger spread.
    """
    rank = np.sort(amounts)
    best, cut = 0.0, rank[0]
    for n in range(1, len(rank)):
        low, high = rank[:n], rank[n:]
        apart = float(high.mean() - low.mean())
        score = apart / (2 * max(float(low.std()), float(high.std()), noise))
        gap = float(high[0] - low[-1])
        score *= min(1.0, gap / max(0.25 * apart, 1e-9))
        if score > best:
            best, cut = score, (high[0] + low[-1]) / 2
    return (amounts > cut).astype(np.int64), best
