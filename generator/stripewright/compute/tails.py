"""Tails: the lengths of yarn left at changes and edges, and cut for fringe."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from stripewright.compute.size import is_bag

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence

    from stripewright.compute.worked_piece import WorkedPiece
    from stripewright.pattern.edge import EdgeKind
    from stripewright.pattern.making import Tails

TIMES: Mapping[EdgeKind, float] = {
    "open": 3.0,
    "seamed": 3.0,
    "gathered": 2.0,
    "grafted": 4.0,
    "hemmed": 3.0,
}
"""A long tail in lengths of its edge: casting on or off 3, a mattress seam 3, a gathering thread
drawn through twice 2, grafting 4, sewing a hem down 3 (common practice, no source)."""

SPARE_CM = 15.0
"""To hold and weave in, beyond what sewing takes (common practice, no source)."""


class Tail(NamedTuple):
    """A length of one yarn in cm, how often it is left, and what for."""

    yarn: str
    length_cm: float
    times: int
    piece: str = ""
    """The key of the piece that it hangs from."""
    line: int | None = None
    """The stripe of that piece's plan, from 0; None where a fringe has a yarn of its own."""
    after: bool = False
    """Whether it hangs at that stripe's end, rather than where it begins."""


def edge_length(piece: WorkedPiece, edge: EdgeKind) -> float:
    """How far an end is sewn, in cm: two layers at once where a tube is closed, else all round."""
    closed_flat = piece.form == "tube" and edge in ("seamed", "grafted") and not piece.ring
    if piece.form == "panel" or closed_flat:
        return piece.flat_width_cm
    return 2 * piece.flat_width_cm


def long_tails(pieces: Sequence[WorkedPiece], tails: Tails) -> dict[str, float]:
    """The tails to leave, in cm: `inside`, `PIECE.first`, `PIECE.last`, and `PIECE.side`.

    The author's `tails.seam` stands for both ends. Two ends that are grafted together
    take the last tail alone. `PIECE.side` is there for side edges that are seamed or joined.
    Source: common practice, no source.
    """
    lengths = {"inside": tails.inside}
    for piece in pieces:
        for name, end in zip(("first", "last"), piece.ends, strict=True):
            if name == "first" and all(one.edge == "grafted" for one in piece.ends):
                continue
            sewn = TIMES[end.edge] * edge_length(piece, end.edge) + SPARE_CM
            lengths[f"{piece.key}.{name}"] = tails.seam or sewn
        if piece.sides != "open" and piece.form == "panel":
            lengths[f"{piece.key}.side"] = TIMES["seamed"] * piece.made_up_length_cm + SPARE_CM
    return lengths


def all_tails(pieces: Sequence[WorkedPiece], lengths: Mapping[str, float]) -> list[Tail]:
    """Every length in cm that is left or cut, by yarn.

    Two at each change inside a piece, one at each end, one a side seam, and the fringe.

    Args:
        pieces: each knitted `make` times.
        lengths: from `long_tails`, in cm.
    """
    left: list[Tail] = []
    for piece in pieces:
        first, last = piece.plan[0].yarn, piece.plan[-1].yarn
        begun = lengths.get(f"{piece.key}.first", lengths["inside"])
        left.append(Tail(first, begun, piece.make, piece.key, 0))
        left.append(Tail(last, lengths[f"{piece.key}.last"], piece.make, piece.key,
                         len(piece.plan) - 1, after=True))  # fmt: skip
        left += _changes(piece, lengths["inside"])
        if (side := lengths.get(f"{piece.key}.side")) is not None:
            left.append(Tail(first, side, side_seams(piece, pieces), piece.key, 0))
        left += _fringe(piece)
    return left


def _changes(piece: WorkedPiece, inside: float) -> Iterator[Tail]:
    """What hangs at the changes: tails where a yarn is cut or laid in, else the yarn carried up.

    What is carried is as long as the rows beside it are high.
    """
    per_row = piece.worked_length_cm / piece.worked_rows
    left: dict[str, int] = {}
    for number, line in enumerate(piece.plan):
        if line.carried:
            over = line.first - 1 - left[line.yarn]
            yield Tail(line.yarn, over * per_row, piece.make, piece.key, number)
        elif number and line.rows:
            yield Tail(line.yarn, inside, piece.make, piece.key, number)
        if number < len(piece.plan) - 1 and piece.is_cut(number):
            yield Tail(line.yarn, inside, piece.make, piece.key, number, after=True)
        left[line.yarn] = line.last


def side_seams(piece: WorkedPiece, pieces: Sequence[WorkedPiece]) -> int:
    """Side seams to sew in all of a piece: two of a bag, one of a tube, none of open sides.

    Of panels that are joined one from each to the next: the last of all has none.
    """
    if piece.form == "tube" or piece.sides == "open":
        return 0
    if piece.sides == "joined":
        last = next(one for one in reversed(pieces) if one.sides == "joined")
        return piece.make - (piece is last)
    bag = is_bag(piece.form, piece.sides, piece.folded, piece.visible_rows)
    return piece.make * (2 if bag else 1)


def _fringe(piece: WorkedPiece) -> Iterable[Tail]:
    if piece.fringe is None:
        return ()
    strands = piece.all_tassels * piece.fringe.strands
    lines = (0, len(piece.plan) - 1)
    return (
        Tail(
            yarn,
            piece.fringe.cut_cm,
            strands,
            piece.key,
            line if piece.plan[line].yarn == yarn else None,
            after=line > 0,
        )
        for yarn, line in zip(piece.fringe.yarns, lines, strict=True)
    )
