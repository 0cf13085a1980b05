"""Overruns: how far a row's neighbours reach into it, by a stroke, a blur, or a page that bends."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from stripewright.camera.colours import differences, lab_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stripewright.camera.arrays import Mask, Reals


DEEPEST = 4
"""Of ten steps through a row's middle, those at one end that may be a neighbour's."""
_OTHER, _SHARE = 4.0, 0.12
"""CIEDE2000 from the row's own colour at which a step is looked into; and the share of another
colour in it that makes it that one's."""
EXPLAINED, _NEARER = 4.0, 0.4
"""CIEDE2000 by which a step may miss the line from one colour to the other, or the share of its
distance from the row's own, if that is more."""
PALEST, PALE = 9.0, 6.0
"""CIEDE2000 from white under which a row's middle may be paper with something beside it; from a
tint of its neighbour under which it is a gap between its strokes; and from its other neighbour
under which it is of that one's stripe, whatever it looks like otherwise."""
_FULL, _EDGE = 0.6, 2
"""The share of a step's pixels from which on a stroke fills it; and steps that its blur takes."""

_COVERS = np.linspace(0.05, 1.0, 39)[:, None]


def own_steps(pixels: Reals, rows: Sequence[int]) -> Mask:
    """Which steps of each row are its own.

    What reaches in from a neighbour lies on a line from the row's colour to the neighbour's, or is
    darker, both laid over each other. A gap between a row's own strokes is no overrun: there the
    paper shows.

    Args:
        pixels: rows × steps (from the upper one) × places × 3, linear sRGB, 1 is paper white.
        rows: their numbers, from the lowest row on.

    Returns:
        Rows × steps.
    """
    steps = np.median(pixels, axis=2)
    count = steps.shape[1]
    inner = {True: slice(DEEPEST, count - 1), False: slice(1, count - DEEPEST)}
    middle = np.median(steps[:, 3 : count - 3], axis=1)
    own = np.ones(steps.shape[:2], bool)
    for n, row in enumerate(rows):
        above = n + 1 if n + 1 < len(rows) and rows[n + 1] == row + 1 else None
        below = n - 1 if n and rows[n - 1] == row - 1 else None
        for upper, beside, other in ((True, above, below), (False, below, above)):
            if beside is None:
                continue
            there = steps[n, inner[upper]]
            colour = np.median(there, axis=0)
            sure = other is not None and _apart(colour, middle[other]) < PALE
            if not _even(there, colour) or not _its_own(colour, middle[beside], sure=sure):
                continue
            order = range(DEEPEST) if upper else range(count - 1, count - 1 - DEEPEST, -1)
            reached = [_reached(steps[n, step], colour, middle[beside]) for step in order]
            deep = max((at + 1 for at, one in enumerate(reached) if one), default=0)
            own[n, list(order)[:deep]] = False
    return own


def sharp_in(kept: Mask) -> Mask:
    """The pixels kept of rows without the blurred edges of strokes that end inside them.

    Args:
        kept: rows × steps × places: which pixels carry the row's colour.
    """
    out = kept.copy()
    full = kept.mean(axis=2) > _FULL
    for n, row in enumerate(full):
        if row.all() or not row.any():
            continue
        edges = np.flatnonzero(np.diff(np.concatenate([[False], row, [False]]).astype(int)))
        runs = list(zip(edges[::2].tolist(), edges[1::2].tolist(), strict=True))
        first, end = max(runs, key=lambda run: run[1] - run[0])
        blurred = min(_EDGE, (end - first - 1) // 2)
        first, end = first + blurred * (first > 0), end - blurred * (end < len(row))
        out[n, :first], out[n, end:] = False, False
    return out


def blurred_by(kept: Mask) -> Mask:
    """The pixels kept of rows (rows × steps × places), and those that their blur reaches."""
    out = kept.copy()
    for by in range(1, _EDGE + 1):
        out[:, by:] |= kept[:, :-by]
        out[:, :-by] |= kept[:, by:]
    return out


def _apart(one: Reals, other: Reals) -> float:
    return float(differences(lab_of(one), lab_of(other)))


def _even(steps: Reals, colour: Reals) -> bool:
    """Whether a row's steps have one colour, not a stroke's end that passes into paper."""
    return bool(differences(lab_of(steps), lab_of(colour)).max() < PALE)


def _its_own(colour: Reals, beside: Reals, *, sure: bool) -> bool:
    """Whether a row's colour is another one than its neighbour's, and not paper between strokes."""
    if _apart(colour, np.ones(3)) < PALEST or _apart(colour, beside) < PALE:
        return False
    tints = lab_of(1 - _COVERS * (1 - beside))
    return sure or float(differences(tints, lab_of(colour)).min()) > PALE


def _reached(step: Reals, colour: Reals, beside: Reals) -> bool:
    """Whether a step carries the neighbour's colour, or both laid over each other."""
    if _apart(step, colour) < _OTHER:
        return False
    if bool((step < colour * 1.02).all()):
        return True  # darker in every channel: ink over ink, however it mixes at its edge
    way = beside - colour
    share = float((step - colour) @ way) / max(float(way @ way), 1e-9)
    missed = _apart(step, colour + min(share, 1.0) * way)
    return share > _SHARE and missed < max(EXPLAINED, _NEARER * _apart(step, colour))
