"""What every piece of a pattern is worked with, and each piece's visible stripes."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from functools import reduce
from math import floor
from typing import TYPE_CHECKING

from stripewright.catalogue import Said, say, say_n
from stripewright.compute.alike import alike_at, unlike
from stripewright.compute.brim import with_doubled
from stripewright.compute.rows import (
    RowShare,
    StripeRows,
    build_stripes,
    merged,
    share,
    stripe_count,
)
from stripewright.pattern.edge import Edge
from stripewright.pattern.run import MOST_ROWS
from stripewright.pattern.stripes import MOST_STRIPES

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from stripewright.compute.notes import Notes
    from stripewright.compute.worked import WorkedGauge
    from stripewright.pattern.pattern import Pattern
    from stripewright.pattern.pieces import Piece
    from stripewright.pattern.stripes import StripeItem
    from stripewright.source.places import Path


def whole(value: float) -> int:
    """The nearest whole number, halves up."""
    return floor(value + 0.5)


@dataclass(frozen=True, slots=True)
class PieceContext:
    """What every piece of a pattern is worked with; `rows` remembers what was worked already."""

    pattern: Pattern
    gauge: WorkedGauge
    letters: Mapping[str, str]
    notes: Notes
    rows: dict[str, list[StripeRows] | None] = field(default_factory=dict)
    stated: Mapping[str, Sequence[int]] = field(default_factory=dict)
    """Visible rows of every stripe as it was written, of pieces with stripes given by yarn."""

    def stripes(self, key: str) -> list[StripeRows] | None:
        """A piece's visible stripes, neighbours of one yarn made one; None after an error."""
        if key not in self.rows:
            self.rows[key] = None
            self.rows[key] = _visible(self, key, self.pattern.pieces[key])
        return self.rows[key]

    def source(self, key: str, name: str) -> Piece:
        """The piece that decides `name` for piece `key` (see `decider`)."""
        return decider(self.pattern.pieces, key, name)


def decider(pieces: Mapping[str, Piece], key: str, name: str) -> Piece:
    """The piece that decides `name` for piece `key`: itself, or one that it is like.

    A plain piece like another (a lining) takes its bed and needles only; a piece like another
    without a yarn of its own takes whatever it doesn't say itself.
    """
    piece = pieces[key]
    takes = piece.like is not None and (piece.yarn is None or name in ("machine", "needles"))
    if not takes or name in piece.model_fields_set:
        return piece
    return decider(pieces, str(piece.like), name)


def ends_of(pieces: Mapping[str, Piece], key: str) -> tuple[Edge, Edge]:
    """How both ends of a piece are finished.

    A lining that doesn't say is closed where its cover is, and open elsewhere.
    Source: common practice, no source.
    """
    return with_doubled(edges_of(pieces, key), decider(pieces, key, "brim").brim)


def edges_of(pieces: Mapping[str, Piece], key: str) -> tuple[Edge, Edge]:
    """The ends as they are written, before a brim is doubled."""
    piece = decider(pieces, key, "ends")
    if piece.like is None or piece.yarn is None or "ends" in piece.model_fields_set:
        return piece.ends
    first, last = (
        Edge(edge=end.edge if end.edge in ("seamed", "gathered", "grafted") else "open")
        for end in ends_of(pieces, piece.like)
    )
    return first, last


def sides_of(pieces: Mapping[str, Piece], key: str) -> tuple[str, int | str | None]:
    """What becomes of a piece's side edges, and where it is folded.

    The lining of a panel whose sides are sewn is folded and sewn like it, unless it says otherwise.
    Source: common practice, no source.
    """
    piece = decider(pieces, key, "sides")
    fold = decider(pieces, key, "fold").fold
    own = {"sides", "fold"} & piece.model_fields_set
    if own or piece.form == "tube" or piece.like is None or piece.yarn is None:
        return piece.sides, fold
    sides, folded = sides_of(pieces, piece.like)
    return (sides, folded) if sides == "seamed" else (piece.sides, fold)


def _visible(context: PieceContext, key: str, piece: Piece) -> list[StripeRows] | None:
    path: Path = ("pieces", key)
    if piece.stripes is not None:
        return _stated(context, key, piece, piece.stripes, path)
    if piece.parts is not None:
        parts = _built(context, piece.parts, (*path, "parts"))
        return None if parts is None else _shared(context, piece, parts, path)
    if piece.like is None:
        return _shared(context, piece, [RowShare(str(piece.yarn), 1, None)], path)
    model = context.stripes(piece.like)
    if model is not None and (piece.length is not None or piece.rows is not None):
        parts = [RowShare(stripe.yarn, stripe.rows, None) for stripe in model]
        model = _shared(context, piece, parts, path)
    if model is None or piece.yarn is None:
        return model
    return [StripeRows(piece.yarn, sum(stripe.rows for stripe in model))]


def _built(context: PieceContext, items: Sequence[StripeItem], path: Path) -> list[RowShare] | None:
    if (count := stripe_count(items)) > MOST_STRIPES:
        context.notes.error(
            path,
            say(
                "these come to {count} stripes, and no pattern has more than {most_stripes}",
                count,
                MOST_STRIPES,
            ),
            "repeat less often",
        )
        return None
    return build_stripes(items)


def _stated(
    context: PieceContext, key: str, piece: Piece, items: Sequence[StripeItem], at: Path
) -> list[StripeRows] | None:
    """The stripes as written; to fill a length as often as comes nearest to it, at least once."""
    path = (*at, "stripes")
    parts = _built(context, items, path)
    if parts is None:
        return None
    counts = context.stated.get(key)
    if counts is not None:
        parts = [replace(part, count=rows) for part, rows in zip(parts, counts, strict=True)]
    elif piece.length is not None or piece.rows is not None:
        once = sum(int(part.count) for part in parts)
        times = max(whole(target_rows(context, piece)[1] / once), 1)
        if times * len(parts) > MOST_STRIPES or times * once > MOST_ROWS:
            times = 1 + min(MOST_STRIPES // len(parts), MOST_ROWS // once)
        parts = parts * times
    stripes = merged([_rows_of(part, int(part.count)) for part in parts])
    total = sum(stripe.rows for stripe in stripes)
    if total > MOST_ROWS:
        context.notes.error(
            path,
            say("these stripes come to {total} rows", total),
            say("no piece has more than {most_rows}", MOST_ROWS),
        )
        return None
    return stripes


def _rows_of(part: RowShare, rows: int) -> StripeRows:
    return StripeRows(
        part.yarn, rows, records=() if part.record is None else ((part.record, rows),)
    )


def _needed(leasts: Sequence[int]) -> str:
    """What stripes need at the least: `18 stripes of at least 2 rows each, 36 in all`."""
    low, high = min(leasts), max(leasts)
    rows: Said = say_n("{number} row", "{number} rows", low)
    if low != high:
        rows = say("{low} to {high} rows", low, high)
    return say_n(
        "{number} stripe of at least {rows}, {total} in all",
        "{number} stripes of at least {rows} each, {total} in all",
        len(leasts),
        rows,
        sum(leasts),
    )


def target_rows(context: PieceContext, piece: Piece) -> tuple[str, int]:
    """The key that says how long a piece is, and the visible rows that it comes to."""
    if piece.rows is not None:
        return "rows", piece.rows
    return "length", whole((piece.length or 0) * context.gauge.rows_per_cm)


def _warn_of_unlike(
    context: PieceContext, path: Path, parts: list[RowShare], rows: list[int], leasts: list[int]
) -> None:
    """Warn of parts of one weight that get different rows, and tell where they would not."""
    found = unlike(parts, rows)
    if found is None:
        return
    yarn, one, other = found
    totals = alike_at(sum(rows), parts, leasts)
    told = [say("{rows} rows ({length})", total,
                context.notes.figures.own_length(total / context.gauge.rows_per_cm))
            for total in totals]  # fmt: skip
    right = reduce(lambda one, other: say("{one} or {other}", one, other), told) if told else ""
    context.notes.warning(
        path,
        say(
            "parts of one weight get different rows: {one} and {other} of {yarn}", one, other, yarn
        ),
        say("they are alike at {right}, or with repeats: whole", right)
        if right
        else "state their rows",
    )


def _shared(
    context: PieceContext, piece: Piece, parts: list[RowShare], path: Path
) -> list[StripeRows] | None:
    """The parts as rows of the piece's `length` or `rows`."""
    name, total = target_rows(context, piece)
    leasts = [part.least or piece.least for part in parts]
    need = sum(leasts)
    if total > MOST_ROWS:
        context.notes.error(
            (*path, name),
            say("this is {total} rows", total),
            say("no piece has more than {most_rows}", MOST_ROWS),
        )
    elif need > total:
        right = (
            context.notes.figures.to_write(need / context.gauge.rows_per_cm)
            if name == "length"
            else need
        )
        context.notes.error(
            (*path, name),
            say_n(
                "{number} row is too few for {needed}",
                "{number} rows are too few for {needed}",
                total,
                _needed(leasts),
            ),
            say(
                "write {name}: {right} or more, take fewer stripes, or a smaller least", name, right
            ),
        )
    else:
        if piece.repeats == "whole":
            found = alike_at(total, parts, leasts)
            total = min(found, key=lambda one: (abs(one - total), -one), default=total)
        rows = share(total, [part.count for part in parts], leasts)
        if piece.parts is not None and context.notes.size is None:
            _warn_of_unlike(context, (*path, "parts"), parts, rows, leasts)
        return merged([_rows_of(part, count) for part, count in zip(parts, rows, strict=True)])
    return None
