"""A brim: a double layer at the edge of a tube, a turn up outside, or both.

Doubled, an edge is knitted twice as long, folded inside at its turning row, and sewn down there.
Turned up, the lower rows are folded to the outside: they show their other face, upside down, and
cover as many rows behind them. Of one layer that is the wrong side; of a double layer it is the
right side of the layer that lay inside. Source: geometry; the terms are common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import groupby
from typing import TYPE_CHECKING, Literal, NamedTuple

from stripewright.catalogue import say
from stripewright.pattern.base import Finding
from stripewright.pattern.edge import Edge

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stripewright.compute.notes import Notes
    from stripewright.compute.worked_piece import PlanLine, WorkedPiece
    from stripewright.pattern.pieces import Brim
    from stripewright.source.places import Path

_FREE = ("open", "hemmed")
"""Edges that nothing closes, so that they can be turned up."""


def brim_end(edges: tuple[Edge, Edge]) -> Literal[0, 1] | None:
    """Which end is the brim, where the piece isn't folded: the free one, of two the cast-on end."""
    first, last = (edge.edge in _FREE for edge in edges)
    return 0 if first else 1 if last else None


def with_doubled(edges: tuple[Edge, Edge], brim: Brim | None) -> tuple[Edge, Edge]:
    """The ends, that of a doubled brim hemmed: its rows are knitted beyond those that show."""
    at = None if brim is None or brim.doubled is None else brim_end(edges)
    if at is None or brim is None:
        return edges
    hem = Edge(edge="hemmed", rows=brim.doubled)
    return (hem, edges[1]) if at == 0 else (edges[0], hem)


class BrimBand(NamedTuple):
    """Rows of one yarn as they show on a brim that is turned up."""

    letter: str
    yarn: str
    rows: int


@dataclass(frozen=True, slots=True)
class WorkedBrim:
    """A brim that is turned up outside."""

    rows: int
    """Turned up; as many are covered by them."""
    end: str
    """first or last: at which end of what shows it is."""
    turn: int
    """What the counter reads where it is turned up: the lower edge as worn."""
    outer: int
    """Rows of the outer layer before it is turned up."""
    layers: int
    """1: its wrong side shows; 2: the right side of the layer that lay inside."""
    bands: tuple[BrimBand, ...]
    """What it shows, from its upper edge down."""

    @property
    def worn_rows(self) -> int:
        """Rows that it is high with the brim turned up."""
        return self.outer - self.rows


class _Turned(NamedTuple):
    """What there is to turn up, in worked rows."""

    end: Literal["first", "last"]
    outer: int
    """Rows of the outer layer."""
    inner: int
    """Rows of the layer inside; 0 where there is but one."""
    edge: int
    """The counter's reading at the lower edge, before it is turned up."""


def check_brim(
    piece: WorkedPiece, brim: Brim, edges: tuple[Edge, Edge], key: str, notes: Notes
) -> bool:
    """Whether a piece can have the brim that is written; what is wrong with it is noted.

    Args:
        piece: the piece, worked without it.
        brim: as written.
        edges: the ends as written, before any is doubled.
        key: the piece's.
        notes: where problems go.
    """
    path = ("pieces", key, "brim")
    wrong = _what_is_wrong(piece, brim, edges, path)
    if wrong is not None:
        notes.error(wrong.path, wrong.message, wrong.hint)
        return False
    return _fits(_turned(piece), brim, path, notes)


def _what_is_wrong(
    piece: WorkedPiece, brim: Brim, edges: tuple[Edge, Edge], path: Path
) -> Finding | None:
    """Why a piece can have no such brim, whatever its rows are."""
    if piece.form == "panel" and piece.sides != "seamed":
        return Finding(
            path,
            "a brim goes all round, and this panel's sides are open",
            "write form: tube, or sides: seamed",
        )
    if piece.form == "panel" and piece.fold is not None:
        return Finding(path, "a panel that is folded has no brim to turn", "leave fold or brim out")
    if piece.fold is not None and brim.doubled is not None:
        return Finding(
            (*path, "doubled"),
            "fold says already that it is a double layer",
            "leave doubled out, or fold",
        )
    at = brim_end(edges)
    if piece.fold is None and at is None:
        return Finding(
            path,
            say(
                "both ends are closed ({edge}, {edge2}), so there is no edge for a brim",
                edges[0].edge,
                edges[1].edge,
            ),
            "write ends: [open, gathered], or fold: half for a double layer",
        )
    said = None if at is None else edges[at].rows
    if brim.doubled is not None and said not in (None, brim.doubled):
        return Finding(
            (*path, "doubled"),
            say("ends say {said} rows for this edge already", said),
            "say the rows of a doubled brim here alone",
        )
    return None


def _fits(found: _Turned, brim: Brim, path: tuple[str, ...], notes: Notes) -> bool:
    """Whether there are rows enough to double, and to turn up."""
    doubled, up = brim.doubled or 0, brim.turned_up or 0
    if doubled >= found.outer:
        notes.error(
            (*path, "doubled"),
            say("{doubled} rows are doubled of {outer} that show", doubled, found.outer),
            say("write fewer, up to {outer}", found.outer - 1)
            if found.outer > 1
            else "leave brim out",
        )
        return False
    if 2 * up >= found.outer:
        most = (found.outer - 1) // 2
        notes.error(
            (*path, "turned_up"),
            say("turned up, {up} rows cover {up} more, and {outer} show in all", up, found.outer),
            say("write {most} or fewer", most) if most else "leave it out",
        )
        return False
    if found.inner and up > found.inner:
        notes.error(
            (*path, "turned_up"),
            say("{up} rows are turned up, and the layer inside has {inner}", up, found.inner),
            say("write {inner} or fewer", found.inner),
        )
        return False
    return True


def _turned(piece: WorkedPiece) -> _Turned:
    first, last = piece.ends
    shown = piece.visible_rows
    if piece.fold is not None and piece.folded is not None:
        if piece.inside == "first":
            return _Turned("first", shown - piece.folded, piece.folded, piece.fold)
        return _Turned("last", piece.folded, shown - piece.folded, piece.fold)
    if first.edge in _FREE:
        inner = first.rows if first.edge == "hemmed" else 0
        return _Turned("first", shown, inner, first.rows)
    inner = last.rows if last.edge == "hemmed" else 0
    return _Turned("last", shown, inner, piece.worked_rows - last.rows)


def turned_up(piece: WorkedPiece, rows: int) -> WorkedPiece:
    """The piece with so many of its rows turned up, which there must be: `check_brim`."""
    found = _turned(piece)
    turn = found.edge + (rows if found.end == "first" else -rows)
    # From the edge on: into the layer that lay inside, or, of one layer, towards the turn.
    rising = (found.inner > 0) == (found.end == "last")
    numbers = [found.edge + 1 + n if rising else found.edge - n for n in range(rows)]
    bands = tuple(
        BrimBand(letter, yarn, len(list(same)))
        for (letter, yarn), same in groupby(_of(piece.plan, number) for number in numbers)
    )
    brim = WorkedBrim(
        rows=rows,
        end=found.end,
        turn=turn,
        outer=found.outer,
        layers=2 if found.inner else 1,
        bands=bands,
    )
    per_cm = piece.visible_rows / piece.finished_length_cm
    return replace(piece, brim=brim, made_up_length_cm=piece.made_up_length_cm - rows / per_cm)


NOMINAL = 6
"""A public twin's brim is this part of its outer layer, whatever is turned up of the true one."""


def nominal_brim(piece: WorkedPiece) -> WorkedPiece:
    """A public twin's piece with a brim turned up, by its kind alone."""
    found = _turned(piece)
    return turned_up(piece, max(found.outer // NOMINAL, 1)) if found.outer > 2 else piece


def _of(plan: Sequence[PlanLine], row: int) -> tuple[str, str]:
    line = next(line for line in plan if line.last >= row or line is plan[-1])
    return line.letter, line.yarn
