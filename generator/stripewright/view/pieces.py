"""Pieces as they are told: their sizes, and their stripes and events in the counter's order."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stripewright.catalogue import _
from stripewright.figures import Figures, counted, listed, rc, reading, rounded
from stripewright.phrases import Measure, Phrase, phrase
from stripewright.view.recorded import TableView, table_view
from stripewright.words.pieces import shows

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from stripewright.compute.event import WorkedRepeat
    from stripewright.compute.worked import WorkedYarn
    from stripewright.compute.worked_piece import PlanLine, WorkedAmount, WorkedPiece
    from stripewright.words.written import ToldEvent


_WEIGHED_G = 3.0
"""What is left over is told in metres below this: no kitchen scale tells it."""


@dataclass(frozen=True, slots=True)
class PlanRow:
    """A stripe in the plan; `first` and `last` are worked rows, both included."""

    letter: str
    yarn: str
    colour: str
    first: int
    last: int
    rows: int
    reading: str
    """What the counter reads when it is done, as wide as the counter shows it: 014."""
    edge: str
    """1 row: what finishing an edge takes of it."""
    what: str
    """Its yarn; stripes of it that merged into one; where to stop for what the rows below say."""
    given: Phrase | None = None
    """What yarn it is knitted from, where that was given, and what is left of it."""
    kind: str = "stripe"


@dataclass(frozen=True, slots=True)
class Again:
    """Stripes that are knitted once more: one time of a block that repeats, but the first."""

    number: int
    """2 is the second time."""
    rows: tuple[PlanRow, ...]


@dataclass(frozen=True, slots=True)
class EventRow:
    """What else happens along a piece: after the stripe that it happens in, which says so."""

    kind: str
    """slit, slit_end, gap, gap_end, hem, fold, turn_up, join, graft, fill_gap, repeat,
    repeat_end."""
    row: int
    reading: str
    title: str
    text: str
    until: int | None
    number: int
    times: int
    again: tuple[Again, ...] = ()
    """At the end of a block that repeats: all its times after the first, to be shown folded."""


@dataclass(frozen=True, slots=True)
class PieceView:
    """A piece with its plan."""

    key: str
    title: str
    form: str
    make: int
    stitches: int
    worked_rows: int
    visible_rows: int
    width: Measure
    """Laid flat."""
    length: Measure
    off: Phrase | None
    """0.4 cm (⅛ in) longer than asked for."""
    reach: Phrase | None
    """What the width wished for takes."""
    brim: Phrase | None
    """What shows of a brim that is turned up, and how high it is worn."""
    rows: tuple[PlanRow | EventRow, ...]
    """The stripes and what happens between and in them, in the order of the counter's readings;
    of stripes that repeat the first time, and the others at the repeat's end."""
    tables: tuple[TableView, ...] = ()
    """What its stripes are made from, where they are made from data."""

    @property
    def plan(self) -> tuple[PlanRow, ...]:
        """The stripes alone, each as often as it is knitted."""
        return tuple(one for row in self.rows for one in _stripes(row))

    @property
    def events(self) -> tuple[EventRow, ...]:
        """What happens besides the stripes."""
        return tuple(row for row in self.rows if isinstance(row, EventRow))


def _stripes(row: PlanRow | EventRow) -> Iterator[PlanRow]:
    if isinstance(row, PlanRow):
        yield row
        return
    for again in row.again:
        yield from again.rows


def piece_view(
    piece: WorkedPiece,
    yarns: Mapping[str, WorkedYarn],
    figures: Figures,
    events: Sequence[ToldEvent],
    amounts: Sequence[WorkedAmount] = (),
) -> PieceView:
    """A piece with all that happens along it, and what came of its amounts of yarn."""
    asked = piece.asked_length_cm
    off = 0.0 if asked is None else piece.finished_length_cm - asked
    longer = (
        _("{length} longer than asked for") if off > 0 else _("{length} shorter than asked for")
    )
    return PieceView(
        key=piece.key,
        title=piece.title,
        form=piece.form,
        make=piece.make,
        stitches=piece.stitches,
        worked_rows=piece.worked_rows,
        visible_rows=piece.visible_rows,
        width=figures.measure("cm", piece.flat_width_cm),
        length=figures.measure("cm", piece.finished_length_cm),
        off=phrase(longer, length=figures.measure("cm", abs(off))) if rounded(off, 1) else None,
        reach=_reach(piece, figures),
        brim=_brim(piece, yarns, figures),
        rows=tuple(_rows(piece, yarns, events, _given(amounts, figures))),
        tables=tuple(
            table_view(
                table, {yarn.letter: yarn for yarn in yarns.values()}, figures, piece.worked_rows
            )
            for table in piece.tables
        ),
    )


def _rows(
    piece: WorkedPiece,
    yarns: Mapping[str, WorkedYarn],
    events: Sequence[ToldEvent],
    given: Mapping[int, Phrase],
) -> Iterator[PlanRow | EventRow]:
    """The stripes and events in the order that they are begun in, repeats folded."""
    highest, waiting = piece.worked_rows, [*events]
    folded = {at: block for block in piece.repeats for at in range(*_repeated(block))}
    again: list[PlanRow] = []
    for number, line in enumerate(piece.plan):
        while waiting and waiting[0].row < line.first:
            yield _event(waiting.pop(0), highest, folded.get(number - 1), again)
        if number in folded:
            again.append(_plan_row(line, yarns[line.yarn], highest, "", given.get(number)))
            continue
        inside = dict.fromkeys(one.row for one in waiting if one.row < line.last)
        stops = listed(f"RC {reading(row, highest)}" for row in inside) if inside else ""
        if line.rows:  # else grafting makes all of it, and its event tells that
            yield _plan_row(line, yarns[line.yarn], highest, stops, given.get(number))
    for event in waiting:
        yield _event(event, highest, folded.get(len(piece.plan) - 1), again)


def _repeated(block: WorkedRepeat) -> tuple[int, int]:
    """Which lines of the plan a block's further times are, as a range."""
    return block.first + block.stripes, block.first + block.stripes * block.times


def _event(
    one: ToldEvent, highest: int, block: WorkedRepeat | None, again: list[PlanRow]
) -> EventRow:
    """An event; a repeat's end takes the stripes that waited for it, `again`, and empties it."""
    times: tuple[Again, ...] = ()
    if one.kind == "repeat_end" and block:
        size = block.stripes
        times = tuple(
            Again(number + 1, tuple(again[(number - 1) * size : number * size]))
            for number in range(1, block.times)
        )
        again.clear()
    return EventRow(one.kind, one.row, reading(one.row, highest), one.title, one.text,
                    one.until, one.number, one.times, times)  # fmt: skip


def _reach(piece: WorkedPiece, figures: Figures) -> Phrase | None:
    if piece.least_stitches is None or piece.wished_width_cm is None:
        return None
    wished = figures.measure("cm", piece.wished_width_cm)
    stitches = counted(piece.least_stitches, "stitch", "stitches")
    if piece.panels_to_width:
        panels = counted(piece.panels_to_width, "panel", "panels")
        return phrase(_("{width} wide takes at least {stitches}, or {panels} of {number}"),
                      width=wished, stitches=stitches, panels=panels,
                      number=str(piece.stitches))  # fmt: skip
    return phrase(_("{width} wide takes at least {stitches}"), width=wished, stitches=stitches)


def _brim(piece: WorkedPiece, yarns: Mapping[str, WorkedYarn], figures: Figures) -> Phrase | None:
    """`With its brim turned up at RC 012 it is worn 21 cm (8¼ in) high, and the brim shows ...`."""
    brim = piece.brim
    if brim is None:
        return None
    side = (
        _("the right side of the layer that lay inside")
        if brim.layers == 2
        else _("its wrong side")
    )
    told = _(
        "With its brim turned up at {reading}, it is worn {length} high; the brim shows {side}, "
        "from its upper edge down: {stripes}"
    )
    return phrase(
        told,
        reading=rc(brim.turn),
        length=figures.measure("cm", piece.made_up_length_cm),
        side=side,
        stripes=shows(piece, {key: yarn.name for key, yarn in yarns.items()}),
    )


def _given(amounts: Sequence[WorkedAmount], figures: Figures) -> dict[int, Phrase]:
    """What each stripe of the plan is knitted from: `from 23 g (0.8 oz), 0.6 g left over`.

    What the stash has left of a yarn is its owner's alone, so of all of it no figure is told.
    """
    told: dict[int, Phrase] = {}
    for one in amounts:
        before = (*told[one.line].parts, "; ") if one.line in told else ()
        if one.text == "all":
            told[one.line] = Phrase(*before, _("all there is of it, to the last whole row"))
            continue
        given, left = _amount(one, one.given_m, figures), _left(one, figures)
        says = (
            _("from {amount}, {left} left over") if left else _("from {amount}, nothing left over")
        )
        told[one.line] = Phrase(*before, *phrase(says, amount=given, left=left or "").parts)
    return told


def _amount(one: WorkedAmount, metres: float, figures: Figures) -> Measure:
    """So many metres of a yarn, told by their mass where the author weighs it."""
    if one.by_mass and one.metres_per_gram:
        return figures.measure("g", metres / one.metres_per_gram)
    return figures.measure("m", metres)


def _left(one: WorkedAmount, figures: Figures) -> Measure | None:
    left = _amount(one, one.left_m, figures)
    if left.unit == "g" and left.value < _WEIGHED_G:
        left = figures.measure("m", one.left_m)
    return left if rounded(left.value, 1) else None


def _plan_row(
    line: PlanLine, yarn: WorkedYarn, highest: int, stops: str, given: Phrase | None
) -> PlanRow:
    edge = line.allowance_before + line.allowance_after
    parts = [yarn.name]
    if line.written:  # 34 there and 34 back are one stripe at the machine
        parts.append(_("{numbers} rows in one", numbers=listed(map(str, line.written))))
    if stops:
        parts.append(_("stop at {readings}", readings=stops))
    return PlanRow(line.letter, yarn.name, yarn.colour, line.first, line.last, line.rows,
                   reading(line.last, highest), counted(edge, "row", "rows") if edge else "",
                   ", ".join(parts), given)  # fmt: skip
