"""What happens along a piece, once and in order: every later stage tells this list."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from stripewright.catalogue import say
from stripewright.compute.event import ORDER, Event, EventKind
from stripewright.compute.repeats import repeats_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from stripewright.compute.notes import Notes
    from stripewright.compute.worked_piece import WorkedPiece


def events_of(piece: WorkedPiece) -> tuple[Event, ...]:
    """The events of a piece, by the counter's reading; at one reading in the order of `ORDER`.

    Its plan, ends, openings, fold, repeats, and what is attached to it are all told here.
    """
    found = [*_stripes(piece), *_openings(piece), *_ends(piece), *_repeats(piece)]
    found += (Event(row, "join", key) for key, row in piece.joins)
    if piece.fold is not None:
        found.append(Event(piece.fold, "fold", side=piece.inside))
    if brim := piece.brim:
        found.append(Event(brim.turn, "turn_up", side=brim.end, number=brim.rows))
    # By reading, and at one reading by kind; alike ones stay as they came.
    return tuple(sorted(found, key=lambda event: (event.row, ORDER.index(event.kind))))


def along(pieces: Iterable[WorkedPiece], notes: Notes) -> list[WorkedPiece]:
    """The pieces with all that happens along them: what is attached, what repeats, the events.

    An attachment beyond the piece that it goes to is noted.
    """
    found = {piece.key: piece for piece in pieces}
    joins: dict[str, list[tuple[str, int]]] = {key: [] for key in found}
    for piece in found.values():
        place = piece.attachment
        if place is None or place.to not in found:
            continue
        if place.row is not None:
            to = found[place.to]
            if place.row > to.visible_rows:
                notes.error(
                    ("pieces", piece.key, "attach"),
                    say(
                        "{key} is attached at row {row} of {key2}, which has {visible_rows} "
                        "visible rows",
                        piece.key,
                        place.row,
                        to.key,
                        to.visible_rows,
                    ),
                    say("write at: {visible_rows} rows or less", to.visible_rows),
                )
            row = max(to.hidden_first + place.row, 0)
            joins[to.key].append((piece.key, row))
            found[piece.key] = replace(piece, attachment=replace(place, row=row))
    return [_told(replace(piece, joins=tuple(joins[key]))) for key, piece in found.items()]


def _told(piece: WorkedPiece) -> WorkedPiece:
    """A piece with its repeats and events, from all else that it has."""
    once = events_of(replace(piece, repeats=()))
    stops = {
        event.row for event in once if event.kind not in ("begin", "change", "end", "fill_gap")
    }
    repeats = repeats_of(piece.plan, stops)
    if not repeats:
        return replace(piece, repeats=(), events=once)
    repeating = replace(piece, repeats=repeats)
    return replace(repeating, events=events_of(repeating))


def _stripes(piece: WorkedPiece) -> Iterator[Event]:
    for number, line in enumerate(piece.plan, 1):
        kind: EventKind = "begin" if number == 1 else "change"
        if line.rows or number == 1:
            yield Event(line.first - 1, kind, line.yarn, until=line.last, number=number)
    yield Event(piece.worked_rows, "end", piece.plan[-1].yarn)


def _openings(piece: WorkedPiece) -> Iterator[Event]:
    begins: EventKind = "slit" if piece.form == "tube" else "gap"
    ends: EventKind = "slit_end" if piece.form == "tube" else "gap_end"
    for number, gap in enumerate(piece.openings, 1):
        yield Event(gap.first - 1, begins, gap.what, gap.side, gap.last, number)
        yield Event(gap.last, ends, gap.what, gap.side, number=number)


def _ends(piece: WorkedPiece) -> Iterator[Event]:
    first, last = piece.ends
    if first.deep:  # nothing is done on the way where a hem is shallow
        yield Event(first.rows, "hem", side="first")
    if last.deep:
        yield Event(piece.worked_rows - last.rows, "hem", side="last")
    if first.grafted:
        yield Event(0, "graft", piece.plan[0].yarn, "first", number=1)
    if last.grafted:
        number = len(piece.plan)
        yield Event(piece.worked_rows, "graft", piece.plan[-1].yarn, "last", number=number)
    if piece.filled and piece.lining_of is None:
        yield Event(piece.worked_rows, "fill_gap", side="last")


def _repeats(piece: WorkedPiece) -> Iterator[Event]:
    for block in piece.repeats:
        first = piece.plan[block.first]
        last = piece.plan[block.first + block.stripes * block.times - 1]
        yield Event(
            first.first - 1, "repeat", until=last.last, number=block.stripes, times=block.times
        )
        yield Event(last.last, "repeat_end", number=block.stripes, times=block.times)
