"""Rows that show less than a colour of their own: nearly white, faint, or mixed with others."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from stripewright.camera.colours import differences, lab_of
from stripewright.camera.groups import LEFT_WHITE, MAYBE_WHITE, WHITE
from stripewright.camera.tints import tint_distance
from stripewright.catalogue import say

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stripewright.camera.arrays import Reals
    from stripewright.camera.groups import Groups
    from stripewright.camera.joined import Joined, RowSeen


_FEW = 2
"""A colour of no more rows may be a mixture of its neighbours."""
MIXED = 4.5
"""CIEDE2000 from a mixture of two colours."""
SLIVER, PART, WHOLE = 0.4, 0.55, 0.7
"""The share of a row that carries its colour up to which it is no more than a sliver, up to which
a sliver may be of the stripe beside, and from which on a row is whole."""
SECOND = 9.0
"""CIEDE2000 from white, and from the row's own tints, of a second colour in a row."""
PAPER_LIGHT, BLED = 88.0, 14.0
"""Lightness from which on what is seen is paper, and CIEDE2000 by which a JPEG's coarse colours may
have bled into it from both sides."""
COVERED = 0.3
"""The share of a row's middle that a stroke from outside covers only if it was meant to."""
_REACHES, _BLURRED = 0.4, 8.0
"""How much of a colour, against paper, the strongest pixels of a sliver have at the least (less is
a neighbour's blurred edge), and CIEDE2000 by which blur and a JPEG's colours may have moved it."""
ANY_TINT = 9.0
"""A pen so uneven that none of its tints costs anything."""
HAND = 2.5
"""How many times a pen's usual noise a whole row may be fainter."""
OTHER_COLOUR = say("a part of this row has another colour: compare it with the sheet")
MIXTURE = say(
    "this row may be a mixture of others, or one of them, faint: compare it with the sheet"
)
NEARLY_WHITE = say("most of this row is white: colour all of it, or none")

_SHARES = np.linspace(0.1, 1.0, 37)[:, None]


def completed(sheet: Joined) -> tuple[Joined, dict[int, str]]:
    """Take rows that a stripe's last stroke only reached into for rows of that stripe.

    What is seen of such a row is the stroke's edge, blurred into paper: a colour of no yarn. Where
    a sheet has rows left white, such a row may be one of them, and is doubtful.

    Returns:
        The sheet; and visible row (from 1) -> what is doubtful.
    """
    doubts: dict[int, str] = {}
    rows = list(sheet.rows)
    for at, row in enumerate(sheet.rows):
        if row is None or row.inked.mean() >= PART or _is_white(row):
            continue
        if _two_colours(row):  # not a stroke's edge on paper
            doubts[at + 1] = OTHER_COLOUR
            continue
        side = _side(row)
        beside = at + side
        within = 0 <= beside < len(rows)
        if side and not within and row.inked.mean() >= COVERED and not _some_white(sheet):
            continue  # the stripe goes on in the edge's rows
        other = sheet.rows[beside] if side and within else None
        if other is None or other.inked.mean() < WHOLE or not _continues(row, other):
            if row.inked.mean() < SLIVER and (side or row.inked.mean() < SLIVER / 2):
                doubts[at + 1] = NEARLY_WHITE
                rows[at] = replace(row, light=np.ones(3)) if side else row
            continue
        rows[at] = other
        if _some_white(sheet):
            doubts[at + 1] = NEARLY_WHITE
    return replace(sheet, rows=tuple(rows)), doubts


def _some_white(sheet: Joined) -> bool:
    """Whether a sheet has rows left white, or its key says that white is a colour."""
    return bool(sheet.white) or any(x and _is_white(x, MAYBE_WHITE) for x in sheet.rows)


def _is_white(row: RowSeen, most: float = LEFT_WHITE) -> bool:
    return bool(differences(lab_of(row.light), np.array([100.0, 0, 0])) <= most)


def _two_colours(row: RowSeen) -> bool:
    """Whether a row has, beside its own colour, another one that is neither paper nor its tint."""
    paper = BLED if lab_of(row.rest)[0] > PAPER_LIGHT else SECOND
    if np.isnan(row.rest[0]) or _is_white(replace(row, light=row.rest), paper):
        return False
    tints = lab_of(_SHARES * row.light + 1 - _SHARES)
    return bool(differences(tints, lab_of(row.rest)).min() > SECOND)


def _side(row: RowSeen) -> int:
    """On which side of a row its colour stands: 1 above, −1 below, 0 for both."""
    above, below = (~np.isnan(row.parts[half, :, 0]) for half in (0, 1))
    if above.mean() > 0.7 and below.mean() < 0.3:
        return 1
    return -1 if below.mean() > 0.7 and above.mean() < 0.3 else 0


def _continues(row: RowSeen, other: RowSeen) -> bool:
    """Whether a row's colour is another's, blurred into paper."""
    mixed = lab_of(_SHARES * other.light + 1 - _SHARES)
    apart = differences(mixed, lab_of(row.light))
    return bool(apart.min() < _BLURRED and _SHARES[int(apart.argmin()), 0] >= _REACHES)


def mixtures(
    seen: Sequence[tuple[int, int, RowSeen]], groups: Groups, known: set[int], pen: float
) -> list[tuple[int, int, str]]:
    """Rows of a rare colour that is a mixture of the colours beside it, or a faint other one.

    Args:
        seen: sheet, place and look of each row.
        groups: of these rows.
        known: the groups that the key has, too.
        pen: from `groups.pen_of`.

    Returns:
        Sheet, visible row (from 1), and what is doubtful.
    """
    out: list[tuple[int, int, str]] = []
    of = groups.of
    for sheet in sorted({n for n, _, _ in seen}):
        own = [i for i, (n, _, _) in enumerate(seen) if n == sheet]
        for at, i in enumerate(own):
            g = int(of[i])
            in_key = g in known and bool(seen[i][2].inked.min() > WHOLE)
            if g == WHITE or int((of == g).sum()) > _FEW or in_key:
                continue
            before = next((int(of[j]) for j in reversed(own[:at]) if of[j] != g), WHITE)
            after = next((int(of[j]) for j in own[at + 1 :] if of[j] != g), WHITE)
            ends = [np.ones(3) if x == WHITE else groups.light[x] for x in (before, after)]
            others = np.array([x for h, x in enumerate(groups.light) if h != g]).reshape(-1, 3)
            if _faint(groups.light[g], others, seen[i][2], pen) or _is_mixed(groups.light[g], ends):
                out.append((sheet, seen[i][1] + 1, MIXTURE))
    return out


def _faint(light: Reals, others: Reals, row: RowSeen, pen: float) -> bool:
    """Whether a colour may be less of another: of a row coloured all over, no less than by hand."""
    whole = bool(row.inked.min() > WHOLE)
    if whole and not pen:
        return False  # filled on a screen: it is the colour that it shows
    noise = HAND * pen if whole else ANY_TINT
    return bool((tint_distance(light[None], others, noise) < MIXED).any())


def _is_mixed(light: Reals, ends: Sequence[Reals]) -> bool:
    one, other = ends
    mixed = lab_of(_SHARES[:-4] * one + (1 - _SHARES[:-4]) * other)
    return bool(differences(mixed, lab_of(light)).min() < MIXED)
