"""Rows grouped into colours by CIEDE2000, and which rows stay doubtful."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np

from stripewright.camera.colours import differences, lab_of
from stripewright.camera.linkage import cut_at, gap_in, linkage, parted
from stripewright.camera.ringing import rejoined, strays
from stripewright.camera.shades import NO_PEN, kin, renumbered, shades_of
from stripewright.camera.tints import amount, tint_distance
from stripewright.catalogue import say

if TYPE_CHECKING:
    from stripewright.camera.arrays import Integers, Mask, Reals

WHITE = -1
"""The group of rows left white."""
LEFT_WHITE, MAYBE_WHITE = 1.6, 3.6
"""CIEDE2000 from white: up to the first a row was left white, up to the second it may have been."""
LEAST_APART, MOST_ALIKE = 3.0, 11.0
"""CIEDE2000: rows nearer are one colour anyway; rows further apart never are."""
CLEAR_GAP = 1.8
"""How many times further apart colours must be than the rows of one colour, to be sure."""
WIDE_GAP = 2.4
"""A gap so wide is the one to part at, whatever wider ones there are further up."""
NOISE = 1.2
"""CIEDE2000 that measuring alone makes between two rows of one colour."""
ON_SCREEN = 0.4
"""Of these, what a picture painted on a screen needs."""
FLAT = 4.0
"""CIEDE2000 by which few rows filled on a screen miss their colour: a JPEG's, between others."""
TORN = 0.1
"""The share of such rows from which on all of their colour are doubtful."""
MOST_DISTINCT = 160
"""Colours that are compared each with each: more rows are represented by others like them."""
PEN_NOISE = 0.05
"""Standard deviation of `amount` from row to row that any pen has."""
UNSURE, STEP = 0.6, 0.25
"""How near its own colour, against the next, a row is doubtful; and the share of the difference
between both by which a row beside it, of the same colour and sure, makes it sure, too."""

BETWEEN = say("this row lies between two colours: compare it with the sheet")
MAYBE_WHITE_TEXT = say("this row is nearly white: is it coloured, or left white?")
SHADES = say("this may be one colour or two shades of it: compare it with the sheet, or colour the "
             "key and photograph it again")  # fmt: skip


@dataclass(slots=True)
class Groups:
    """Rows by colour. Numbers count from 0; `WHITE` is a row left white."""

    of: Integers
    """The group of each row."""
    light: Reals
    """Groups × 3: each one's colour in linear sRGB."""
    sure: Reals
    """Of each row, 0 to 1: how much nearer its own colour is than the next."""
    doubts: dict[int, str] = field(default_factory=dict)
    """Row (as it was given, from 0) -> what is doubtful."""

    def doubt(self, rows: Integers, text: str) -> None:
        """Doubt rows that aren't doubtful yet."""
        for row in rows.tolist():
            self.doubts.setdefault(int(row), text)


def apart_of(light: Reals, centres: Reals, pen: float) -> Reals:
    """How far rows are from colours: for a pen without noise as they are, else from their tints."""
    if not pen:
        return differences(lab_of(light)[:, None], lab_of(centres)[None])
    return tint_distance(light, centres, pen)


def pen_of(light: Reals) -> float:
    """How much more or less of its colour a pen leaves from row to row: a standard deviation.

    Args:
        light: rows × 3, linear sRGB, in the order of the sheet.

    Returns:
        Of `amount`, from rows that follow each other in tints of one colour.
    """
    taken = amount(light)
    steps = [
        abs(float(taken[n] - taken[n + 1]))
        for n in range(len(light) - 1)
        if tint_distance(light[n : n + 1], light[n + 1 : n + 2], 1.0)[0, 0] < LEAST_APART
    ]
    return max(PEN_NOISE, 1.05 * float(np.median(steps))) if steps else 2 * PEN_NOISE


def grouped(
    light: Reals, key: Reals, pen: float, *, coarse: bool = False, paper: bool = True
) -> Groups:
    """Group rows by their colours.

    Args:
        light: rows × 3, linear sRGB, 1 is paper white, in the order of the sheet.
        key: the key's colours × 3; empty when no box is coloured.
        pen: from `pen_of`; 0 for a picture painted on a screen, where small differences mean
            something.
        coarse: whether that picture has so few pixels that rows reach into each other.
        paper: whether rows may be left white; on a plain bar white is a colour like others.
    """
    share = 1.0 if pen else ON_SCREEN
    white = differences(lab_of(light), np.array([100.0, 0, 0]))
    coloured = np.flatnonzero((white > LEFT_WHITE * share) | (not paper))
    out = Groups(np.full(len(light), WHITE, np.int64), np.zeros((0, 3)), np.ones(len(light)))
    if paper:
        out.doubt(coloured[white[coloured] <= MAYBE_WHITE * share], MAYBE_WHITE_TEXT)
    if not len(coloured):
        return out
    own = light[coloured]
    labels, unclear = _clusters(own, pen)
    if len(key):
        labels = _by_key(own, labels, key, unclear, pen)
    siblings: dict[int, int] = {}
    if coarse and not pen:
        labels = renumbered(rejoined(light, labels, coloured))
        out.doubt(coloured[strays(own, labels)], BETWEEN)
    if pen:
        labels, siblings, shades = shades_of(own, labels, key, pen)
        out.doubt(coloured[shades], SHADES)
    out.of[coloured] = labels
    out.light = np.stack([np.median(own[labels == n], axis=0) for n in range(labels.max() + 1)])
    out.doubt(coloured[sorted(unclear)] if unclear else coloured[:0], BETWEEN)
    if not pen:
        out.doubt(coloured[_torn(out, own, labels)], BETWEEN)
    _near(out, own, coloured, siblings, pen)
    _margins(out, own, coloured, siblings, pen)
    return out


def _torn(groups: Groups, light: Reals, labels: Integers) -> Mask:
    """Rows of a painted picture that are off their group's colour, or whose group many are."""
    off = differences(lab_of(light), lab_of(groups.light[labels]))
    torn = [n for n in range(len(groups.light)) if (off[labels == n] > FLAT).mean() > TORN]
    return (off > 2 * FLAT) | np.isin(labels, torn)


def _clusters(light: Reals, pen: float) -> tuple[Integers, set[int]]:
    """Rows by average linkage, cut where the gap between merges is the widest.

    Returns:
        Each row's group, in the order in which groups first appear; and the rows whose group
        would be another one at a cut that is nearly as good.
    """
    share = 1.0 if pen else ON_SCREEN
    leader, of = _distinct(light)
    between = apart_of(light[leader], light[leader], pen)
    between = np.minimum(between, between.T)
    merges = linkage(between, np.bincount(of))
    least = LEAST_APART * share
    heights = np.array([height for height, _, _ in merges])
    cut, gap = gap_in(heights, least, MOST_ALIKE, NOISE * share, WIDE_GAP)
    labels = cut_at(merges, len(leader), cut)
    unclear: set[int] = set()
    if gap < CLEAR_GAP:
        for other in (cut * gap * 0.98, cut / gap * 1.02):
            if least < other < MOST_ALIKE:
                moved = parted(labels, cut_at(merges, len(leader), other))
                unclear |= {n for n, own in enumerate(of.tolist()) if own in moved}
    return renumbered(labels[of]), unclear


def _distinct(light: Reals) -> tuple[Integers, Integers]:
    """Rows that represent others like them, and for each row which one represents it."""
    lab = lab_of(light)
    radius = 0.8
    while True:
        leaders: list[int] = []
        of = np.zeros(len(lab), np.int64)
        for n in range(len(lab)):
            if leaders:
                apart = differences(lab[n], lab[leaders])
                of[n] = int(apart.argmin())
                if apart.min() <= radius:
                    continue
            of[n] = len(leaders)
            leaders.append(n)
        if len(leaders) <= MOST_DISTINCT:
            return np.array(leaders), of
        radius *= 1.3


def _by_key(light: Reals, labels: Integers, key: Reals, unclear: set[int], pen: float) -> Integers:
    """Where a gap is unclear, or one group holds two of the key's colours, the key decides."""
    apart = apart_of(light, key, pen)
    order = np.argsort(apart, axis=1)
    rows = np.arange(len(light))
    first = apart[rows, order[:, 0]]
    second = apart[rows, order[:, 1]] if len(key) > 1 else np.full(len(light), 99.0)
    told = (first < 0.55 * second) & (first < MOST_ALIKE / 2 + 2)
    out = labels.copy()
    for group in sorted(set(labels.tolist())):
        own = np.flatnonzero(labels == group)
        if told[own].all():
            for name in sorted(set(order[own, 0].tolist()))[1:]:
                out[own[order[own, 0] == name]] = out.max() + 1
    one = {group: set(order[out == group, 0].tolist()) for group in sorted(set(out.tolist()))
           if told[out == group].all()}  # fmt: skip
    for group, other in [(a, b) for a in one for b in one if a < b]:
        if one[group] == one[other]:  # the same colour of the key twice, and both surely
            out[out == other] = group
    unclear -= {int(n) for n in np.flatnonzero(told)}
    return renumbered(out)


def _near(
    out: Groups, light: Reals, coloured: Integers, siblings: dict[int, int], pen: float
) -> None:
    """Doubt groups that are nearer to each other than their own rows' spread allows."""
    labels = out.of[coloured]
    rows = apart_of(light, out.light, pen)
    spread = [float(np.percentile(rows[labels == n, n], 90)) for n in range(len(out.light))]
    between = apart_of(out.light, out.light, pen)
    share = 1.0 if pen else ON_SCREEN
    for a in range(len(out.light)):
        for b in range(a + 1, len(out.light)):
            apart = float(min(between[a, b], between[b, a]))
            if kin(a, b, siblings):
                continue
            if apart < max(LEAST_APART * 1.3 * share, 1.3 * (spread[a] + spread[b])):
                plain = float(differences(lab_of(out.light[a]), lab_of(out.light[b])))
                if plain > 2 * NO_PEN:
                    continue  # tints of them may meet, the colours don't
                out.doubt(coloured[(labels == a) | (labels == b)],
                          say("two colours here are near each other (CIEDE2000 {plain:.1f}): "
                              "compare this row with the sheet", plain))  # fmt: skip


def _margins(
    out: Groups, light: Reals, coloured: Integers, siblings: dict[int, int], pen: float
) -> None:
    """How much nearer each row is to its own colour than to the next."""
    apart = apart_of(light, out.light, pen)
    own = out.of[coloured]
    lab, centres = lab_of(light), lab_of(out.light)
    plain = differences(lab[:, None], centres[None])
    same = np.array([[kin(a, b, siblings) for b in range(len(centres))] for a in own.tolist()])
    rows = np.arange(len(own))
    away = np.where(same, plain / np.maximum(plain[rows, own], 1e-6)[:, None],
                    apart / np.maximum(apart[rows, own], 1e-6)[:, None])  # fmt: skip
    away[rows, own] = np.inf
    floor = 2 * MOST_ALIKE / np.maximum(apart[rows, own], 1e-6)
    share = 1 / np.maximum(np.minimum(away.min(axis=1), floor), 1e-6)
    near = share > UNSURE
    between = near & ((apart[rows, own] > NOISE) | (same.sum(axis=1) > 1))
    next_one = away.argmin(axis=1)
    gap = differences(centres[own], centres[next_one]) if len(centres) > 1 else floor
    for n, row in enumerate(coloured.tolist()):
        out.sure[row] = float(np.clip(1 - share[n], 0, 1))
        beside = [m for m in (n - 1, n + 1) if 0 <= m < len(rows) and own[m] == own[n]
                  and abs(int(coloured[m]) - row) == 1 and not near[m]]  # fmt: skip
        passing = any(float(differences(lab[n], lab[m])) < STEP * gap[n] for m in beside)
        if between[n] and not passing:
            out.doubts.setdefault(row, BETWEEN)
