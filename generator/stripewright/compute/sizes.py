"""Further sizes: the same pattern for another bed, gauge or yarn."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stripewright.compute.bench import decider, ends_of, whole
from stripewright.compute.gauge import gauge_of
from stripewright.compute.size import flat_width
from stripewright.pattern.stripes import Run

if TYPE_CHECKING:
    from collections.abc import Mapping
    from typing import Any

    from stripewright.compute.notes import Notes
    from stripewright.compute.worked import WorkedGauge, WorkedPattern, WorkedPiece
    from stripewright.pattern.pattern import Pattern, Size
    from stripewright.pattern.pieces import Piece

TAKEN = (
    "machine",
    "needles",
    "sides",
    "fold",
    "filled",
    "openings",
    "fringe",
    "width",
    "carry",
    "attach",
)
"""What a piece may take from the one it is like, beside its ends."""


def resized(base: WorkedPattern, key: str, size: Size, notes: Notes) -> Pattern:
    """The pattern as it would be written for another size.

    Each piece's visible rows become shares of its new length. Keeping the size, that is the base's
    finished length, and a panel's needles are those that come nearest to its width. Keeping the
    proportions, a panel keeps its needles (or the whole bed) and the length changes with the
    width. A tube takes the whole bed either way.

    Args:
        base: the worked pattern.
        key: of the size, in `sizes:`.
        size: what is otherwise.
        notes: where a width is noted that the bed can't keep.

    Returns:
        A pattern without sizes of its own.
    """
    pattern = base.pattern
    gauge, update = _gauge(base, size)
    update |= {"machine": size.machine or pattern.machine, "sizes": {}}
    if size.weight is not None:
        yarns = pattern.yarns.items()
        update["yarns"] = {
            name: yarn.model_copy(update={"weight": size.weight}) for name, yarn in yarns
        }
    if update["machine"].bed == "flat" and any(piece.form == "tube" for piece in base.pieces):
        notes.warning(
            ("sizes", key),
            "a flat bed with one row of needles knits no tube",
            "write a circular bed, unless yours is flat and has two rows of needles",
        )
    pieces = {}
    for piece in base.pieces:
        written = _whole_piece(pattern.pieces, piece.key)
        bed = (written.machine or update["machine"]).in_work
        ratio = gauge.stitches_per_cm / base.gauge.stitches_per_cm
        stitches = _stitches(piece, written, size.keep, ratio, bed)
        if stitches > bed:
            notes.warning(
                ("sizes", key),
                f"{piece.key} would need {stitches} needles to keep its width, "
                f"and the bed has {bed}",
                "write keep: proportions, or a larger bed",
            )
            stitches = bed
        width = flat_width(piece.form, stitches, gauge)
        grows = width / piece.flat_width_cm if size.keep == "proportions" else 1.0
        pieces[piece.key] = _rewritten(piece, written, stitches, grows, gauge)
    update["pieces"] = pieces
    return pattern.model_copy(update=update)


def _whole_piece(pieces: Mapping[str, Piece], key: str) -> Piece:
    """A piece with all that it takes from another, so that it can stand alone."""
    taken = {name: getattr(decider(pieces, key, name), name) for name in TAKEN}
    return pieces[key].model_copy(update=taken | {"ends": ends_of(pieces, key)})


def _gauge(base: WorkedPattern, size: Size) -> tuple[WorkedGauge, dict[str, Any]]:
    if size.swatch is not None:
        return gauge_of((size.swatch,), None), {"swatch": size.swatch, "gauge": None}
    if size.gauge is not None:
        return gauge_of((), size.gauge), {"swatch": None, "gauge": size.gauge}
    return base.gauge, {}


def _stitches(piece: WorkedPiece, written: Piece, keep: str, ratio: float, bed: int) -> int:
    if piece.form == "tube":
        return bed
    if keep == "proportions":
        return min(written.needles or bed, bed)
    return max(whole(piece.stitches * ratio), 2)


def _rewritten(
    piece: WorkedPiece, written: Piece, stitches: int, grows: float, gauge: WorkedGauge
) -> Piece:
    length = piece.finished_length_cm
    if piece.lining_of is not None:  # its rows are those that are knitted
        length *= (piece.visible_rows + sum(end.rows for end in piece.ends)) / piece.visible_rows
    rows = max(whole(length * grows * gauge.rows_per_cm), 1)
    scale = rows / piece.visible_rows
    runs = tuple(Run(yarn=line.yarn, count=line.visible) for line in piece.plan)
    gaps = tuple(
        gap.model_copy(
            update={"after": whole(gap.after * scale), "rows": max(1, whole(gap.rows * scale))}
        )
        for gap in written.openings
    )
    fold = written.fold
    update = {
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
