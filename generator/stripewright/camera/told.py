"""Sheets put together -> pieces with their stripes, letters for the colours, doubts by row."""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import groupby
from typing import TYPE_CHECKING, Any

import numpy as np

from stripewright.camera.colours import differences, hex_of, lab_of
from stripewright.camera.groups import MOST_ALIKE, NOISE, WHITE, Groups, apart_of, grouped, pen_of
from stripewright.camera.mixed import OTHER_COLOUR, completed, mixtures
from stripewright.camera.ringing import COARSE_PX, evened, filled
from stripewright.catalogue import say

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stripewright.camera.arrays import Reals
    from stripewright.camera.joined import Joined, RowSeen
    from stripewright.camera.page import PageRead
    from stripewright.paper.sheet_subject import Subject


UNKNOWN = "?"
"""The letter of a row whose colour isn't known: left white, or not in any picture."""
LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
FORM_WORDS = {"tube": "Tube", "panel": "Panel", "filled": "Filled tube", "hat": "Hat",
              "blanket": "Blanket"}  # fmt: skip
OTHER_PARTS = 0.25
"""The share of a row's parts that may look like another colour."""
BLANK, BLANK_PARTS = 0.12, 3
"""A segment of which less than this carries the colour is blank; so many make a row doubtful."""
KEY_NOISE = 0.15
"""How much more or less of a colour a box of the key may have than the rows."""
OF_KEY = 16.0
"""CIEDE2000 up to which rows may be the colour of a box of the key."""
UNUSED, AS_NEAR = 6.0, 3.0
"""CIEDE2000 up to which a box of the key that no row has may yet be some rows' colour, and how many
times further than their own box it may be."""
LEFT_WHITE = say(
    "this row was left white: colour it, or say in the key that white is one of the colours"
)

_Told = tuple[int, int, str]
"""Piece, visible row, what is doubtful."""


@dataclass(frozen=True, slots=True, eq=False)
class PieceRead:
    """A piece as it was coloured."""

    title: str
    subject: Subject | None
    """None for a plain bar."""
    letters: tuple[str, ...]
    """Of each visible row, from the cast-on end; `?` where it isn't known."""
    sure: tuple[float, ...]
    """Of each row, 0 to 1: how much nearer its own colour is than the next one."""
    paper: str = ""
    parts: int = 1
    pages: tuple[PageRead, ...] = field(default=(), repr=False)
    """As the pictures show them."""

    @property
    def stripes(self) -> tuple[tuple[str, int], ...]:
        """Letter and rows of each stripe, in the order they are knitted."""
        return tuple((letter, len(list(run))) for letter, run in groupby(self.letters))

    def facts(self) -> dict[str, Any]:
        """The sheet, as JSON tells it. Gauge to 10 cm."""
        subject = self.subject
        if subject is None:
            return {"form": "bar", "title": self.title, "rows": len(self.letters)}
        return {
            "form": subject.form,
            "title": _title(subject),
            "rows": subject.rows,
            "visible": subject.visible,
            "edges": [{"edge": end.edge, "rows": end.rows} for end in subject.ends],
            "bed": subject.bed,
            "needles": subject.needles,
            "stitches": subject.stitches,
            "gauge": {
                "stitches": round(subject.gauge.stitches_10cm, 3),
                "rows": round(subject.gauge.rows_10cm, 3),
            },
            "panels": subject.panels,
            "paper": self.paper,
            "parts": self.parts,
        }


def _title(subject: Subject) -> str:
    return FORM_WORDS[subject.form] if subject.title == subject.form else subject.title


def pieces_of(
    sheets: Sequence[Joined],
) -> tuple[tuple[PieceRead, ...], dict[str, str], list[_Told]]:
    """Letters for every row of every sheet, alike colours alike.

    Returns:
        The pieces; each letter's colour as `#rrggbb`; the doubts.
    """
    done = [completed(sheet) for sheet in sheets]
    sheets = [sheet for sheet, _ in done]
    seen = [(n, at, row) for n, sheet in enumerate(sheets)
            for at, row in enumerate(sheet.rows) if row is not None]  # fmt: skip
    key, clashes = _one_key(sheets)
    white = next((sheet.white for sheet in sheets if sheet.white), None)
    bars = all(sheet.subject is None for sheet in sheets)
    exact = all(sheet.exact for sheet in sheets) and (bars or filled([row for _, _, row in seen]))
    coarse = any(sheet.row_px < COARSE_PX for sheet in sheets)
    sharp = exact and not coarse and not bars
    light = np.array([evened(row) if sharp else row.light for *_, row in seen]).reshape(-1, 3)
    pen = 0.0 if exact else pen_of(light)
    boxes = np.array(list(key.values())).reshape(-1, 3)
    groups = grouped(light, boxes, pen, coarse=coarse, paper=not bars)
    tints = apart_of(groups.light, boxes, max(pen, KEY_NOISE) if pen else 0.0)
    names, of_key = _letters(groups, key, white, tints)
    known = set(np.flatnonzero((tints < UNUSED).any(axis=1)).tolist())
    doubts = _of_groups(seen, groups, of_key)
    doubts += _uneven(seen, groups, pen)
    doubts += mixtures(seen, groups, known, pen)
    doubts += [(n, row, text) for n, (_, own) in enumerate(done) for row, text in own.items()]
    letters = [[UNKNOWN] * len(sheet.rows) for sheet in sheets]
    sure = [[0.0] * len(sheet.rows) for sheet in sheets]
    for (n, at, _), group, nearer in zip(seen, groups.of.tolist(), groups.sure, strict=True):
        letters[n][at], sure[n][at] = names.get(group, UNKNOWN), float(nearer)
        if letters[n][at] == UNKNOWN:
            doubts.append((n, at + 1, LEFT_WHITE))
    for n, sheet in enumerate(sheets):
        doubts += [(n, row, text) for row, text in {**clashes.get(n, {}), **sheet.faults}.items()]
    colours = {names[g]: hex_of(groups.light[g]) for g in sorted(names) if g != WHITE}
    if WHITE in names and names[WHITE] in {x for own in letters for x in own}:
        colours[names[WHITE]] = "#ffffff"
    return _pieces(sheets, letters, sure, doubts, dict(sorted(colours.items())))


def _of_groups(
    seen: Sequence[tuple[int, int, RowSeen]], groups: Groups, of_key: dict[int, str]
) -> list[_Told]:
    """Rows that are doubtful by themselves, then those whose letter is."""
    rows = [(n, at + 1) for n, at, _ in seen]
    doubts = [(*rows[i], text) for i, text in sorted(groups.doubts.items()) if text]
    of = [(*row, int(groups.of[i])) for i, row in enumerate(rows)]
    return doubts + [(n, row, of_key[group]) for n, row, group in of if group in of_key]


def _one_key(
    sheets: Sequence[Joined],
) -> tuple[dict[str, Reals], dict[int, dict[int, str]]]:
    """One key for all sheets; rows of a sheet whose key says otherwise are doubtful."""
    key: dict[str, Reals] = {}
    clashes: dict[int, dict[int, str]] = {}
    for n, sheet in enumerate(sheets):
        for letter, light in sheet.key.items():
            known = key.setdefault(letter, light)
            if float(differences(lab_of(known), lab_of(light))) > MOST_ALIKE:
                why = say(
                    "box {letter} of this sheet's key has another colour than on a "
                    "sheet before: read them one by one",
                    letter,
                )
                clashes[n] = dict.fromkeys(range(1, len(sheet.rows) + 1), why)
    return dict(sorted(key.items())), clashes


def _letters(
    groups: Groups, key: dict[str, Reals], white: str | None, tints: Reals
) -> tuple[dict[int, str], dict[int, str]]:
    """A letter for each group: the key's, or the next free one in the order of appearance.

    Args:
        groups: of the rows.
        key: colour of each box.
        white: the letter that white has.
        tints: groups × boxes, how far each is from the other's tints.

    Returns:
        Group -> letter; group -> what is doubtful about its letter.
    """
    names, doubts = _of_key(groups, key, tints) if len(groups.light) and key else ({}, {})
    if WHITE in groups.of and white:
        names[WHITE] = white
    last = max([LETTERS.index(x) for x in {*key, *names.values()}], default=-1)
    free = [x for x in LETTERS[last + 1 :] if x not in names.values()]
    seen = (int(group) for group in dict.fromkeys(groups.of.tolist()))
    order = [group for group in seen if group not in names and group != WHITE]
    names |= dict(zip(order, free, strict=False))
    for g in order[len(free) :]:
        doubts[g] = say("there are more colours than letters: is the picture in even light?")
    return names, doubts


def _of_key(
    groups: Groups, key: dict[str, Reals], tints: Reals
) -> tuple[dict[int, str], dict[int, str]]:
    """The letters of the key by group, the nearest pairs first, and what is doubtful of them."""
    names: dict[int, str] = {}
    doubts: dict[int, str] = {}
    boxes = np.array(list(key.values())).reshape(-1, 3)
    plain = differences(lab_of(groups.light)[:, None], lab_of(boxes)[None])
    pairs = sorted(
        (float(tints[g, n] + 0.1 * plain[g, n]), letter, g)
        for n, letter in enumerate(key)
        for g in range(len(groups.light))
    )
    for apart, letter, g in pairs:
        if apart < OF_KEY and letter not in names.values() and g not in names:
            names[g] = letter
            rivals = (d for d, other, h in pairs if (h == g) != (other == letter))
            if apart > 0.7 * min(rivals, default=99.0) and apart > 3:
                doubts[g] = say(
                    "it isn't sure that this row is {letter} of the key: compare them", letter
                )
    return names, doubts | _unused(list(key), names, tints)


def _unused(key: list[str], names: dict[int, str], apart: Reals) -> dict[int, str]:
    """Groups whose rows may be of a box of the key that no row has; groups × boxes apart."""
    out: dict[int, str] = {}
    for at, box in enumerate(key):
        if box in names.values():
            continue
        group = int(apart[:, at].argmin())
        own = float(apart[group, key.index(names[group])]) if group in names else UNUSED
        if apart[group, at] < min(UNUSED, AS_NEAR * own + NOISE):
            out[group] = say("box {x} of the key has nearly this row's colour: compare them", box)
    return out


def _uneven(seen: Sequence[tuple[int, int, RowSeen]], groups: Groups, pen: float) -> list[_Told]:
    """Rows whose parts don't agree: half coloured, or another colour reaching into them."""
    out: list[_Told] = []
    if not len(groups.light):  # a blank sheet: no other colour to reach anywhere
        return out
    centres = np.concatenate([groups.light, [[1.0, 1.0, 1.0]]])
    for i, (n, at, row) in enumerate(seen):
        own = int(groups.of[i]) if groups.of[i] != WHITE else len(centres) - 1
        parts = row.parts.reshape(-1, 3)
        parts = parts[~np.isnan(parts[:, 0])]
        if not len(parts):
            continue
        apart = apart_of(parts, centres, 4 * pen)
        mine, others = apart[:, own], np.delete(apart, own, axis=1)
        strange = (others.min(axis=1) < 0.7 * mine) & (mine > 4)
        if strange.mean() > OTHER_PARTS:
            out.append((n, at + 1, OTHER_COLOUR))
        elif own != len(centres) - 1 and (row.inked < BLANK).sum() >= BLANK_PARTS:
            out.append((n, at + 1, say("this row is coloured only in part: colour all of it")))
    return out


def _pieces(
    sheets: Sequence[Joined],
    letters: list[list[str]],
    sure: list[list[float]],
    doubts: list[_Told],
    colours: dict[str, str],
) -> tuple[tuple[PieceRead, ...], dict[str, str], list[_Told]]:
    """Panels that are alike become one piece; each piece has a title of its own."""
    pieces: list[PieceRead] = []
    place: dict[int, int] = {}
    number = 0
    while number < len(sheets):
        count = sheets[number].subject.panels if sheets[number].subject else 1  # type: ignore[union-attr]
        own = range(number, number + max(count, 1))
        alike = all(letters[n] == letters[number] for n in own)
        for n in own:
            if alike and n > number:
                place[n] = place[number]
                continue
            sheet = sheets[n]
            title = _title(sheet.subject) if sheet.subject else sheet.title
            title += say(", panel {panel}", sheet.panel + 1) if count > 1 and not alike else ""
            taken = [piece.title for piece in pieces]
            copies = sum(t == title or t.startswith(f"{title} (") for t in taken)
            title = f"{title} ({copies + 1})" if copies else title
            place[n] = len(pieces)
            pieces.append(PieceRead(title, sheet.subject, tuple(letters[n]), tuple(sure[n]),
                                    sheet.paper, sheet.parts, sheet.pages))  # fmt: skip
        number += max(count, 1)
    moved = {(place[n], row, text) for n, row, text in doubts}
    first: dict[tuple[int, int], str] = {}
    for piece, row, text in sorted(moved):
        first.setdefault((piece, row), text)
    return tuple(pieces), colours, [(p, r, t) for (p, r), t in first.items()]
