"""What saving a painted picture does to its rows: they carry a little of their neighbours."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from stripewright.camera.colours import differences, lab_of, linear_of, srgb_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stripewright.camera.arrays import Integers, Reals
    from stripewright.camera.joined import RowSeen

COARSE_PX = 10.0
"""Pixels to a row under which resampling reaches from a row into the middle of the next."""
MOST_SHARE = 0.1
"""How much of a neighbour a row may have, or lack: what a sharp resampler leaves two pixels off."""
EVEN = 0.6
"""CIEDE2000 between the parts of a row up to which it was filled on a screen."""
MISSED, ALIKE = 0.8, 7.0
"""CIEDE2000 by which a row may miss what its neighbours explain; and between the two colours."""


def filled(rows: Sequence[RowSeen]) -> bool:
    """Whether rows are as even as a paint program makes them."""
    spread = [
        float(np.nanmedian(differences(lab_of(row.parts.reshape(-1, 3)), lab_of(row.light))))
        for row in rows
    ]
    return float(np.median(spread)) < EVEN if spread else True


def evened(row: RowSeen) -> Reals:
    """A row's colour without the waves that a JPEG's coarse colours make beside a sharp edge."""
    if np.isnan(row.parts).any():
        return row.light
    halves = np.median(row.parts, axis=1)
    apart = float(differences(*lab_of(halves)))
    return linear_of(srgb_of(halves).mean(axis=0)) if MISSED < apart < ALIKE else row.light


def rejoined(light: Reals, labels: Integers, rows: Integers) -> Integers:
    """Groups that are others' rows beside another colour, put back.

    A resampler works on sRGB as it stands: what it adds is a share of the step to the row beside.

    Args:
        light: all rows × 3, linear sRGB, in the order of the sheet.
        labels: the group of each coloured row.
        rows: which of all rows these are.

    Returns:
        The groups, not renumbered.
    """
    shown = srgb_of(light)
    out = labels.copy()
    middles = {g: np.median(light[rows[labels == g]], axis=0) for g in sorted(set(labels.tolist()))}
    sizes = {g: int((labels == g).sum()) for g in middles}
    for group in sorted(middles, key=lambda g: (sizes[g], -g)):
        own = rows[labels == group]
        near = [
            (float(differences(lab_of(middles[group]), lab_of(light_))), other)
            for other, light_ in middles.items()
            if other != group and sizes[other] > sizes[group]
        ]
        for apart, other in sorted(near):
            if apart > ALIKE:
                break
            target = srgb_of(middles[other])
            if all(_explained(shown, row, target) for row in own.tolist()):
                out[labels == group] = other
                break
    return out


def strays(light: Reals, labels: Integers) -> Integers:
    """Rows of colours that are near another and only seen beside others, never between their own.

    Args:
        light: rows × 3, linear sRGB, in the order of the sheet.
        labels: the group of each.

    Returns:
        Their places.
    """
    inner = (labels[1:-1] == labels[:-2]) & (labels[1:-1] == labels[2:])
    firm = set(labels[1:-1][inner].tolist())
    middles = {g: np.median(light[labels == g], axis=0) for g in sorted(set(labels.tolist()))}
    found = [
        g for g in middles if g not in firm and any(
            float(differences(lab_of(middles[g]), lab_of(middles[other]))) < ALIKE
            for other in middles if other != g)
    ]  # fmt: skip
    return np.flatnonzero(np.isin(labels, found))


def _explained(shown: Reals, row: int, target: Reals) -> bool:
    """Whether a row is the target's colour with a little more or less of the rows beside."""
    steps = [shown[n] - target for n in (row - 1, row + 1) if 0 <= n < len(shown)]
    step = np.stack(steps, axis=1)
    shares, *_ = np.linalg.lstsq(step, shown[row] - target, rcond=None)
    made = target + step @ np.clip(shares, -MOST_SHARE, MOST_SHARE)
    return bool(_apart(made, shown[row]) < MISSED)


def _apart(one: Reals, other: Reals) -> float:
    return float(
        differences(lab_of(linear_of(np.clip(one, 0, 1))), lab_of(linear_of(np.clip(other, 0, 1))))
    )
