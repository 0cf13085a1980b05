"""Further sizes and colourways: the pattern as it would be written for another bed or yarn."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stripewright.catalogue import say
from stripewright.compute.gauge import gauge_of
from stripewright.compute.piece_context import decider, edges_of, sides_of, whole
from stripewright.compute.size import flat_width
from stripewright.compute.tables import head_sizes
from stripewright.pattern.run import Run
from stripewright.pattern.sized import ROWS

if TYPE_CHECKING:
    from collections.abc import Mapping
    from typing import Any

    from stripewright.compute.notes import Notes
    from stripewright.compute.worked import WorkedGauge, WorkedPattern
    from stripewright.compute.worked_piece import WorkedPiece
    from stripewright.pattern.colourways import Colourway
    from stripewright.pattern.pattern import Pattern
    from stripewright.pattern.pieces import Brim, Fill, Piece
    from stripewright.pattern.sizes import Size
    from stripewright.pattern.yarns import Machine
    from stripewright.source.places import Path

_TAKEN = ("machine", "needles", "filled", "openings", "fringe", "width", "carry", "attach", "brim")
"""What a piece may take from the one it is like, beside its ends, its sides and its fold."""


def resized(base: WorkedPattern, key: str, size: Size, notes: Notes) -> Pattern:
    """The pattern as it would be written for another size.

    Each piece's visible rows become shares of its new length. Keeping the size, that is the base's
    finished length, and a panel's needles are those that come nearest to its width. Keeping the
    proportions, a panel keeps its needles (or the whole bed) and the length changes with the
    width. Keeping the rows, every stripe keeps its own and a panel its needles. A tube takes the
    whole bed any way. What is counted in rows or lengths of the base goes with it: openings, folds,
    where a piece is sewn on, a tail that the author measured, a filling that was weighed.

    Args:
        base: the worked pattern.
        key: of the size, in `sizes:`.
        size: what is otherwise.
        notes: where a width is noted that the bed can't keep.

    Returns:
        A pattern without sizes of its own, in the same colourways.
    """
    pattern = base.pattern
    gauge, update = _gauge(base, size)
    machine = size.machine or pattern.machine
    change = _Change(base, key, size, gauge, machine, keep_of(pattern, size), notes)
    pieces, wider = _pieces(change)
    update |= {"machine": machine, "base": None, "sizes": {}}
    update |= {"fit": size.fit, "audience": size.audience or pattern.audience}
    update |= {"pieces": pieces, "fill": size.fill or _fill(base)}
    if size.weight is not None:
        update["yarns"] = {
            name: yarn.model_copy(update={"weight": size.weight})
            for name, yarn in pattern.yarns.items()
        }
    if pattern.tails.seam is not None:
        seam = pattern.tails.seam * wider
        update["tails"] = pattern.tails.model_copy(update={"seam": seam})
    return pattern.model_copy(update=update)


@dataclass(frozen=True, slots=True)
class _Change:
    """What a size changes, for all of its pieces."""

    base: WorkedPattern
    key: str
    size: Size
    gauge: WorkedGauge
    machine: Machine
    keep: str
    notes: Notes

    @property
    def path(self) -> Path:
        """Where its machine stands in the front matter."""
        return ("sizes", self.key, "machine")


def _pieces(change: _Change) -> tuple[dict[str, Piece], float]:
    """Every piece as it would be written, and how many times as wide the widest gets (or 1)."""
    base, size = change.base, change.size
    if change.machine.bed == "flat" and any(piece.form == "tube" for piece in base.pieces):
        change.notes.warning(
            change.path,
            "a flat bed with one row of needles knits no tube",
            "write a circular bed, unless yours is flat and has two rows of needles",
        )
    heads, merged = _heads(base, size), {**base.pattern.pieces, **size.whole_pieces}
    pieces: dict[str, Piece] = {}
    scales: dict[str, float] = {}
    widest = 1.0
    for piece in base.pieces:
        written = _whole_piece(merged, piece.key)
        stitches = _needles(change, piece, written)
        wider = flat_width(piece.form, stitches, change.gauge) / piece.flat_width_cm
        widest = max(widest, wider)
        grows = (heads or wider) if change.keep == "proportions" else 1.0
        if ROWS & size.pieces.get(piece.key, {}).keys():
            pieces[piece.key], scales[piece.key] = merged[piece.key], grows
            continue
        rows = _rows(piece, grows, change.gauge, change.keep)
        scales[piece.key] = rows / _rows(piece, 1.0, base.gauge, "rows")
        rewritten = _rewritten(piece, written, stitches, grows, rows)
        kept = size.pieces.get(piece.key, {}).keys() & {"openings", "fold", "width", "brim"}
        said = {name: getattr(written, name) for name in sorted(kept)}
        pieces[piece.key] = rewritten.model_copy(update=said)
    return {key: _sewn_on(piece, scales) for key, piece in pieces.items()}, widest


def _needles(change: _Change, piece: WorkedPiece, written: Piece) -> int:
    """The needles of a piece in its new size, as many as its bed has at most."""
    bed = (written.machine or change.machine).in_work
    ratio = change.gauge.stitches_per_cm / change.base.gauge.stitches_per_cm
    stitches = _stitches(piece, written, change.keep, ratio, bed)
    if "needles" in change.size.pieces.get(piece.key, {}) and written.needles is not None:
        stitches = written.needles
    if stitches > bed:
        change.notes.warning(
            change.path,
            say(
                "{key} would need {stitches} needles to keep its width, and the bed has {bed}",
                piece.key,
                stitches,
                bed,
            ),
            "write keep: proportions, or a larger bed",
        )
    return min(stitches, bed)


def keep_of(pattern: Pattern, size: Size) -> str:
    """What a size keeps: as it says, or a hat's proportions where only head or bed change."""
    said = size.model_fields_set
    if "keep" in said or pattern.kind != "hat":
        return size.keep
    if size.fit is not None or not said & {"swatch", "gauge"}:
        return "proportions"
    return size.keep


def _heads(base: WorkedPattern, size: Size) -> float | None:
    """By how much the head of a hat's size is larger than the base's, if both are known."""
    if base.pattern.kind != "hat" or size.fit is None or base.fit is None:
        return None
    table = head_sizes().get(size.fit.wearer or "")
    head = size.fit.head if table is None else table.head_cm
    return None if head is None else head / base.fit.head_cm


def _whole_piece(pieces: Mapping[str, Piece], key: str) -> Piece:
    """A piece with all that it takes from another, so that it can stand alone."""
    taken = {name: getattr(decider(pieces, key, name), name) for name in _TAKEN}
    sides, fold = sides_of(pieces, key)  # a lining's are its cover's
    return pieces[key].model_copy(
        update=taken | {"ends": edges_of(pieces, key), "sides": sides, "fold": fold}
    )


def _gauge(base: WorkedPattern, size: Size) -> tuple[WorkedGauge, dict[str, Any]]:
    if size.swatch is not None:
        return gauge_of((size.swatch,), None), {"swatch": size.swatch, "gauge": None}
    if size.gauge is not None:
        return gauge_of((), size.gauge), {"swatch": None, "gauge": size.gauge}
    return base.gauge, {}


def _stitches(piece: WorkedPiece, written: Piece, keep: str, ratio: float, bed: int) -> int:
    if piece.form == "tube":
        return bed
    if keep != "size":
        return min(written.needles or bed, bed)
    return max(whole(piece.stitches * ratio), 2)


def _rows(piece: WorkedPiece, grows: float, gauge: WorkedGauge, keep: str) -> int:
    """Visible rows of a piece; of a lining those that are knitted."""
    rows = piece.visible_rows
    length = piece.finished_length_cm
    if piece.lining_of is not None:
        knitted = rows + sum(end.rows for end in piece.ends)
        length *= knitted / rows
        rows = knitted
    return rows if keep == "rows" else max(whole(length * grows * gauge.rows_per_cm), 1)


def _sewn_on(piece: Piece, scales: Mapping[str, float]) -> Piece:
    attach = piece.attach
    if attach is None or attach.at is None or attach.to not in scales:
        return piece
    at = whole(attach.at * scales[attach.to])
    return piece.model_copy(update={"attach": attach.model_copy(update={"at": at})})


def _fill(base: WorkedPattern) -> Fill | None:
    """A filling that was weighed fills another size as densely."""
    fill, held = base.pattern.fill, base.filling
    if fill is None or fill.mass is None or held is None:
        return fill
    density = 1000 * fill.mass / held.volume_cm3
    return fill.model_copy(update={"mass": None, "density": density})


def _brim(brim: Brim, scale: float) -> Brim:
    said = {name: rows and max(1, whole(rows * scale)) for name, rows in brim}
    return brim.model_copy(update=said)


def _rewritten(piece: WorkedPiece, written: Piece, stitches: int, grows: float, rows: int) -> Piece:
    scale = rows / piece.visible_rows
    runs = tuple(Run(yarn=line.yarn, count=line.visible) for line in piece.plan)
    gaps = tuple(
        gap.model_copy(
            update={"after": whole(gap.after * scale), "rows": max(1, whole(gap.rows * scale))}
        )
        for gap in written.openings
    )
    fold, brim = written.fold, written.brim
    update: dict[str, object] = {
        "brim": None if brim is None else _brim(brim, scale),
        "needles": stitches,
        "openings": gaps,
        "fold": max(1, whole(fold * scale)) if isinstance(fold, int) else fold,
        "width": None if written.width is None else written.width * grows,
    }
    if piece.lining_of is None:
        update |= {"parts": runs, "rows": rows, "least": 1, "repeats": "exact"}
        update |= {"like": None, "stripes": None, "length": None, "yarn": None}
    elif written.length is not None or written.rows is not None:
        update |= {"rows": rows, "length": None}
    return written.model_copy(update=update)


def recoloured(pattern: Pattern, colourway: Colourway) -> Pattern:
    """The pattern as it would be written in a colourway's yarns: rows and sizes stay.

    A yarn that the colourway doesn't name stays, and so does what it doesn't say of one that it
    names; but another ball has no price until it says one.
    """
    yarns = dict(pattern.yarns)
    for key, given in colourway.yarns.items():
        update: dict[str, Any] = {
            name: getattr(given, name) for name in given.model_fields_set if name != "weight"
        }
        if {"ball", "balls"} & update.keys():
            update = {"ball": None, "balls": (), "price": None} | update
        yarns[key] = yarns[key].model_copy(update=update)
    return pattern.model_copy(update={"yarns": yarns, "sizes": {}, "colourways": {}})
