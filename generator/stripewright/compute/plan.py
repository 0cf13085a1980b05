"""The plan: stripes with their allowances, numbered as the row counter counts them."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from stripewright.catalogue import say
from stripewright.compute.worked_piece import PlanLine, WorkedEnd, WorkedOpening

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from stripewright.compute.notes import Notes
    from stripewright.compute.rows import StripeRows
    from stripewright.compute.worked import WorkedGauge
    from stripewright.pattern.edge import Edge, EdgeKind
    from stripewright.pattern.pieces import Piece
    from stripewright.source.places import Path

SEAMED_ROWS = 1
"""A seam takes one row up (common practice, no source)."""

GATHERED_ROWS = 1
"""The row that the gathering thread runs through is drawn out of sight (common practice, no
source)."""

GRAFTED_ROWS = 1
"""Grafting makes a row, which is the last of its stripe (common practice, no source)."""

HEM_CM = 2.0
"""A hem is turned under by this much unless its rows are given (common practice, no source)."""

MOST_HEM_ROWS = 200
"""As many as an author may ask for."""


def allowance(edge: Edge, gauge: WorkedGauge) -> int:
    """Rows that finishing an end takes.

    Seamed 1 and gathered 1, filled or not; grafted 0, because grafting live stitches makes a row
    of its own; hemmed the rows folded under, `HEM_CM` of them, 2 to `MOST_HEM_ROWS`; open 0. The
    author's own number wins. Source: common practice, no source.
    """
    if edge.rows is not None:
        return edge.rows
    usual: Mapping[EdgeKind, int] = {
        "open": 0,
        "seamed": SEAMED_ROWS,
        "gathered": GATHERED_ROWS,
        "grafted": 0,
        "hemmed": min(max(2, round(HEM_CM * gauge.rows_per_cm)), MOST_HEM_ROWS),
    }
    return usual[edge.edge]


def worked_ends(
    edges: tuple[Edge, Edge], gauge: WorkedGauge, *, waste: bool = True
) -> tuple[WorkedEnd, WorkedEnd]:
    """Both ends of a piece with their allowance in rows: cast-on end, last end.

    An end that is grafted gets a row by it, unless the author gives its rows; two that are grafted
    to each other get one between them, at the last end. Without waste yarn the cast-on end has no
    live stitches; those of the last end hang on the tail.
    """
    first, last = edges
    both = first.edge == last.edge == "grafted"
    return (
        WorkedEnd(first.edge, allowance(first, gauge), 0 if both else _grafted(first), live=waste),
        WorkedEnd(last.edge, allowance(last, gauge), _grafted(last)),
    )


def _grafted(edge: Edge) -> int:
    return GRAFTED_ROWS if edge.edge == "grafted" and edge.rows is None else 0


def knittable(
    ends: tuple[WorkedEnd, WorkedEnd], stripes: Sequence[StripeRows]
) -> tuple[WorkedEnd, WorkedEnd]:
    """The ends, with nothing grafted where no row were left to begin with, or to knit at all."""
    first, last = ends
    if stripes[0].rows + first.rows <= first.grafted:
        first = replace(first, grafted=0)
    total = sum(stripe.rows for stripe in stripes) + first.rows + last.rows
    if total <= first.grafted + last.grafted:
        first, last = replace(first, grafted=0), replace(last, grafted=0)
    return first, last


def lay_out(
    stripes: Sequence[StripeRows], ends: tuple[WorkedEnd, WorkedEnd], letters: Mapping[str, str]
) -> tuple[PlanLine, ...]:
    """Number the stripes in worked rows; the first and the last take the allowances up.

    What grafting makes is knitted less: a last stripe of one row may have none left to knit.

    Args:
        stripes: at least one, of visible rows, no two neighbours in one yarn.
        ends: the allowances, and the rows that grafting makes.
        letters: each yarn's letter.

    Returns:
        One line a stripe. The worked rows are the visible rows plus both allowances, less what is
        grafted.
    """
    lines: list[PlanLine] = []
    row = 0
    for number, (yarn, rows, written, _) in enumerate(stripes):
        before = ends[0].rows if number == 0 else 0
        after = ends[1].rows if number == len(stripes) - 1 else 0
        begun = ends[0].grafted if number == 0 else 0
        made = ends[1].grafted if number == len(stripes) - 1 else 0
        last = row + before + rows + after - begun - made
        line = PlanLine(letters[yarn], yarn, row + 1, last, before, after, made, begun, written)
        lines.append(line)
        row = last
    return tuple(lines)


def carried(lines: Sequence[PlanLine], most: int, *, tube: bool) -> tuple[PlanLine, ...]:
    """The plan with the stripes marked whose yarn is carried up to them rather than cut.

    A yarn is carried over at most `most` rows of others. In a tube every round ends where it
    began; a panel's yarn waits at the side where it was left, so only over an even number of rows.
    Source: geometry.
    """
    if not most:
        return tuple(lines)
    left: dict[str, int] = {}
    marked = []
    for line in lines:
        over = line.first - 1 - left.get(line.yarn, -most - 2)
        waits = over <= most and (tube or over % 2 == 0)
        marked.append(replace(line, carried=waits))
        left[line.yarn] = line.last
    return tuple(marked)


def fold_row(
    at: int | str | None, before: int, visible: int, path: Path, notes: Notes
) -> int | None:
    """The worked row after which a piece is folded; notes a fold that lies outside it.

    Args:
        at: visible rows, or "half"; None for no fold.
        before: allowance rows at the cast-on end.
        visible: visible rows in all.
        path: of the piece in the front matter.
        notes: where problems go.
    """
    if at is None:
        return None
    fold = visible // 2 if isinstance(at, str) else at
    if not 0 < fold < visible:
        notes.error(
            (*path, "fold"),
            say(
                "a fold after row {fold} lies outside the piece's {visible} visible rows",
                fold,
                visible,
            ),
            say("write a row from 1 to {visible}, or half", visible - 1)
            if visible > 1
            else "leave fold out",
        )
    return before + fold


def worked_openings(
    piece: Piece, before: int, visible: int, path: Path, notes: Notes
) -> tuple[WorkedOpening, ...]:
    """The openings in worked rows; notes each that reaches beyond the piece."""
    worked: list[WorkedOpening] = []
    for index, gap in enumerate(piece.openings):
        top = gap.after + gap.rows
        if top > visible:
            notes.error(
                (*path, "openings", index),
                say(
                    "the opening “{what}” ends at visible row {top}, beyond the piece's {visible}",
                    gap.what,
                    top,
                    visible,
                ),
                say("after and rows may come to {visible} together", visible),
            )
        worked.append(WorkedOpening(gap.what, gap.side, before + gap.after + 1, before + top))
    return tuple(worked)
