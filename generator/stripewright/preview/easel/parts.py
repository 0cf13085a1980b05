"""Every stripe of a piece as it is knitted, with the place of what it was written by.

A stripe of `mirror: [...]` is written once and knitted twice: what is done to one of the two is
done to what is written, and so to both.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stripewright.compute.rows import build_stripes, share
from stripewright.pattern.amounts import ByYarn
from stripewright.pattern.run import Run
from stripewright.pattern.stripes import Mirror, Repeat, of_kind

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from stripewright.compute.worked_piece import WorkedPiece
    from stripewright.pattern.pieces import Piece
    from stripewright.pattern.stripes import StripeItem

    At = tuple[int | str, ...]


@dataclass(frozen=True, slots=True)
class StripePart:
    """A stripe: its yarn, its count as written (rows, or a share), its least rows, its place.

    `at` leads from the list of stripes to what is written; `slot` counts the stripes that one
    written series makes.
    """

    yarn: str
    count: float
    least: int | None
    at: At
    slot: int = 0


def stripe_parts(items: Sequence[StripeItem], at: At = ()) -> Iterator[StripePart]:
    """Build stripes out in full, in the order they are knitted, as `compute.rows.build` does."""
    for number, item in enumerate(items):
        here = (*at, number)
        match item:
            case Run():
                yield StripePart(item.yarn, item.count, item.least, here)
            case ByYarn():
                yield StripePart(item.yarn, 1, None, here)
            case Repeat():
                yield from list(stripe_parts(item.stripes, (*here, "stripes"))) * item.repeat
            case Mirror():
                half = list(stripe_parts(item.mirror, (*here, "mirror")))
                back = half if item.middle == "twice" else half[:-1]
                yield from half + back[::-1]
            case _:
                for slot, one in enumerate(build_stripes([item])):
                    yield StripePart(one.yarn, one.count, one.least, here, slot)


@dataclass(frozen=True, slots=True)
class ShownPiece:
    """A stripe with its visible rows."""

    yarn: str
    rows: int
    at: At
    slot: int


def shown_parts(piece: Piece, worked: WorkedPiece) -> list[ShownPiece]:
    """The stripes of a piece with their visible rows; of one that takes them from elsewhere, plain.

    Args:
        piece: as written.
        worked: the same, worked out.
    """
    if piece.stripes is not None and any(of_kind(piece.stripes, (), ByYarn)):
        counts = [rows for line in worked.plan for rows in line.written or (line.visible,)]
        written = zip(stripe_parts(piece.stripes), counts, strict=True)
        return [ShownPiece(p.yarn, n, p.at, p.slot) for p, n in written]
    if piece.stripes is not None:
        return [ShownPiece(p.yarn, int(p.count), p.at, p.slot) for p in stripe_parts(piece.stripes)]
    if piece.parts is None:
        return [ShownPiece(line.yarn, line.visible, (), n) for n, line in enumerate(worked.plan)]
    parts = list(stripe_parts(piece.parts))
    leasts = [part.least or piece.least for part in parts]
    rows = share(worked.visible_rows, [part.count for part in parts], leasts)
    return [ShownPiece(p.yarn, count, p.at, p.slot) for p, count in zip(parts, rows, strict=True)]
