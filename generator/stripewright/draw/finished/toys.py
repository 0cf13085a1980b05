"""A toy put together: its pieces sewn to the body where the author says."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stripewright.draw.finished.stuffed import solid_size, stuffed, stuffed_size

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stripewright.compute.worked import WorkedGauge
    from stripewright.compute.worked_piece import WorkedPiece
    from stripewright.draw.finished.part import TubePart

NEAR_END = 0.15
"""What sits this near to an end of the body, as a share of its length, goes on beyond it."""
SUNK = 0.8
"""How much of a piece stands out from the body that it is sewn to."""


def assembled(
    gauge: WorkedGauge,
    body: WorkedPiece,
    pieces: Sequence[WorkedPiece],
    frame: tuple[float, float],
    room: tuple[float, float],
) -> list[TubePart]:
    """The body lying along x, what sits at its ends beyond them, all else standing on its back.

    Several alike are spread over the place where they sit. Pieces that are sewn to a part, rather
    than to the body, sit where the part does.

    Args:
        gauge: of the pattern.
        body: what others are attached to.
        pieces: all filled pieces, the body among them.
        frame: width and height of the picture.
        room: what the toy may take of it.
    """
    spots = _spots(body, pieces)
    boxes = [_box(*spot) for spot in spots]
    left, right = min(one[0] for one in boxes), max(one[1] for one in boxes)
    top, foot = min(one[2] for one in boxes), max(one[3] for one in boxes)
    per_cm = min(room[0] / (right - left), room[1] / (foot - top))
    parts: list[TubePart] = []
    for piece, x, y, turn in reversed(spots):
        at_x = frame[0] / 2 + (x - (left + right) / 2) * per_cm
        at_y = frame[1] / 2 + (y - (top + foot) / 2) * per_cm
        place = f"translate({at_x:.2f} {at_y:.2f})" + (f"rotate({turn:g})" if turn else "")
        parts += stuffed(piece, gauge, per_cm, place)
    return parts


def _spots(
    body: WorkedPiece, pieces: Sequence[WorkedPiece]
) -> list[tuple[WorkedPiece, float, float, float]]:
    """Each piece with its middle from the body's, in cm, and how far it is turned, in degrees."""
    long, thick = stuffed_size(body)
    spots = [(body, 0.0, 0.0, 0.0)]
    for piece in pieces:
        if piece is body or piece.attachment is None:
            continue
        own, across = stuffed_size(piece)
        share = _share(body, piece)
        for number in range(piece.make):
            aside = (number - (piece.make - 1) / 2) * across
            if not NEAR_END < share < 1 - NEAR_END:
                way = 1 if share > 0.5 else -1
                spots.append((piece, way * (long / 2 + own * (SUNK - 0.5)), aside, 0.0))
            else:
                x = (share - 0.5) * solid_size(body)[1] + aside
                spots.append((piece, x, -(thick / 2 + own * (SUNK - 0.5)), -90.0))
    return spots


def _share(body: WorkedPiece, piece: WorkedPiece) -> float:
    """Where a piece sits along the body: 0 at the cast-on end, 1 at the last, as is usual."""
    row = None if piece.attachment is None else piece.attachment.row
    if row is None:
        return 1.0
    return min(max((row - body.hidden_first) / body.visible_rows, 0.0), 1.0)


def _box(piece: WorkedPiece, x: float, y: float, turn: float) -> tuple[float, float, float, float]:
    """Left, right, top and foot of a piece in its place, in cm."""
    long, across = stuffed_size(piece)
    wide, high = (across, long) if turn else (long, across)
    return x - wide / 2, x + wide / 2, y - high / 2, y + high / 2
