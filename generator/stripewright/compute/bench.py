"""What every piece of a pattern is worked with, and each piece's visible stripes."""

from __future__ import annotations

from dataclasses import dataclass, field
from math import floor
from typing import TYPE_CHECKING

from stripewright.compute.notes import known_as
from stripewright.compute.rows import Part, Stripe, build, merged, share
from stripewright.pattern.stripes import MOST_ROWS

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from stripewright.compute.notes import Notes
    from stripewright.compute.worked import WorkedGauge
    from stripewright.pattern.pattern import Pattern
    from stripewright.pattern.pieces import Piece
    from stripewright.source.document import Path


def whole(value: float) -> int:
    """The nearest whole number, halves up."""
    return floor(value + 0.5)


@dataclass(frozen=True, slots=True)
class Bench:
    """What every piece of a pattern is worked with; `rows` remembers what was worked already."""

    pattern: Pattern
    gauge: WorkedGauge
    letters: Mapping[str, str]
    notes: Notes
    rows: dict[str, list[Stripe] | None] = field(default_factory=dict)

    def stripes(self, key: str) -> list[Stripe] | None:
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

    A plain piece like another (a lining) takes its needles only; a piece like another without a
    yarn of its own takes whatever it doesn't say itself.
    """
    piece = pieces[key]
    takes = piece.like is not None and (piece.yarn is None or name == "needles")
    if not takes or name in piece.model_fields_set:
        return piece
    return decider(pieces, str(piece.like), name)


def check_likes(bench: Bench) -> bool:
    """Whether every `like` leads to a piece with rows of its own; notes each that doesn't."""
    pieces = bench.pattern.pieces
    fine = True
    for key, piece in pieces.items():
        path = ("pieces", key, "like")
        trail = [key]
        following: str | None = piece.like
        if following is not None and following not in pieces:
            others = [name for name in pieces if name != key]
            bench.notes.error(path, f"no piece is called {following}", known_as(following, others))
            fine = False
        while following is not None and following in pieces and following not in trail:
            trail.append(following)
            following = pieces[following].like
        if following == key:
            bench.notes.error(
                path,
                " is like ".join([*trail, key]),
                "one of them needs rows of its own: stripes, parts, or a yarn with a length",
            )
            fine = False
        fine = fine and following not in trail
        if piece.like is not None and (piece.stripes or piece.parts):
            bench.notes.error(
                path,
                f"{key} is like {piece.like} and has stripes of its own",
                "leave one of them out",
            )
            fine = False
    return fine


def _visible(bench: Bench, key: str, piece: Piece) -> list[Stripe] | None:
    path: Path = ("pieces", key)
    if piece.stripes is not None:
        return _stated(bench, _built(bench, piece, "stripes", path), path)
    if piece.parts is not None:
        parts = _built(bench, piece, "parts", path)
        return None if parts is None else _shared(bench, piece, parts, path)
    if piece.like is None:
        parts = [Part(str(piece.yarn), 1, None, (*path, "yarn"))]
        return _shared(bench, piece, parts, path) if _known(bench, parts) else None
    model = bench.stripes(piece.like)
    if model is None:
        return None
    if piece.length is not None or piece.rows is not None:
        parts = [Part(yarn, rows, None, path) for yarn, rows in model]
        model = _shared(bench, piece, parts, path)
    if piece.yarn is None or model is None:
        return model
    if not _known(bench, [Part(piece.yarn, 1, None, (*path, "yarn"))]):
        return None
    return [Stripe(piece.yarn, sum(stripe.rows for stripe in model))]


def _built(bench: Bench, piece: Piece, name: str, path: Path) -> list[Part] | None:
    try:
        parts = build(getattr(piece, name), (*path, name))
    except ValueError as fault:
        bench.notes.error((*path, name), str(fault), "repeat less often")
        return None
    fine = _known(bench, parts)
    for part in {
        part.path: part for part in parts if part.count < 1 and name == "stripes"
    }.values():
        bench.notes.error(
            part.path,
            f"a stripe of {part.yarn} would have {part.count:g} rows",
            "no stripe may fall under one row; take fewer stripes or a smaller step",
        )
        fine = False
    return parts if fine else None


def _known(bench: Bench, parts: Sequence[Part]) -> bool:
    yarns = bench.pattern.yarns
    unknown = {(part.path, part.yarn): part for part in parts if part.yarn not in yarns}
    for path, yarn in unknown:
        bench.notes.error(path, f"no yarn is called {yarn}", known_as(yarn, yarns))
    return not unknown


def _stated(bench: Bench, parts: list[Part] | None, path: Path) -> list[Stripe] | None:
    if parts is None:
        return None
    odd = {part.path: part for part in parts if part.count != int(part.count)}
    for part in odd.values():
        below = int(part.count)
        bench.notes.error(
            part.path,
            f"{part.yarn} {part.count:g} is not whole rows",
            f"write {part.yarn} {max(below, 1)} or {part.yarn} {below + 1}; "
            "or parts, with a length to share out",
        )
    total = int(sum(part.count for part in parts))
    if total > MOST_ROWS:
        bench.notes.error(
            (*path, "stripes"),
            f"these stripes come to {total} rows",
            f"no piece has more than {MOST_ROWS}",
        )
    if odd or total > MOST_ROWS:
        return None
    return merged([Stripe(part.yarn, int(part.count)) for part in parts])


def _shared(bench: Bench, piece: Piece, parts: list[Part], path: Path) -> list[Stripe] | None:
    """The parts as rows of the piece's `length` or `rows`."""
    if piece.length is not None:
        name, total = "length", whole(piece.length * bench.gauge.rows_per_cm)
    else:
        name, total = "rows", piece.rows or 0
    if total > MOST_ROWS:
        bench.notes.error(
            (*path, name), f"this is {total} rows", f"no piece has more than {MOST_ROWS}"
        )
        return None
    leasts = [part.least or piece.least for part in parts]
    if sum(leasts) > total:
        right = (
            f"{sum(leasts) / bench.gauge.rows_per_cm:.1f} cm" if name == "length" else sum(leasts)
        )
        bench.notes.error(
            (*path, name),
            f"{total} rows are too few for {len(parts)} stripes "
            f"that need at least {sum(leasts)} together",
            f"write {name}: {right} or more, fewer stripes, or a smaller least",
        )
        return None
    if under := [part for part in parts if part.count <= 0]:
        bench.notes.error(
            under[0].path, f"a part of {under[0].yarn} would have no share", "take fewer stripes"
        )
        return None
    rows = share(total, [part.count for part in parts], leasts)
    return merged([Stripe(part.yarn, count) for part, count in zip(parts, rows, strict=True)])
