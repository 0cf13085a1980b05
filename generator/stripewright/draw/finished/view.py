"""The finished view: what it looks like made up, on a frame of 4:3 for cards and share pictures."""

from __future__ import annotations

from math import cos, pi, radians, sin
from typing import TYPE_CHECKING

from stripewright.draw.along import main_piece
from stripewright.draw.canvas import Canvas, box
from stripewright.draw.finished.cloth import blanket, bunting, flat, flat_size, scarf, scarf_size
from stripewright.draw.finished.outside import outer
from stripewright.draw.finished.part import Cord, TubePart, set_parts
from stripewright.draw.finished.stuffed import stuffed, stuffed_size
from stripewright.draw.finished.toys import assembled
from stripewright.draw.finished.tubes import hat, hat_size, ring, strap, tube
from stripewright.draw.hatches import marls_of
from stripewright.draw.inks import mixed
from stripewright.draw.telling import finished_words

if TYPE_CHECKING:
    from stripewright.compute.worked import WorkedPattern
    from stripewright.compute.worked_piece import WorkedPiece
    from stripewright.draw.drawing import Drawing

WIDTH, HEIGHT = 400.0, 300.0
ROOM = (336.0, 236.0)
"""What a thing may take of the frame."""
_LONG = 3.6
"""A filled piece longer than this against its width lies slantwise."""


def finished(worked: WorkedPattern, *, prefix: str, hatched: bool = False) -> Drawing:
    """Draw the thing as it looks made up."""
    canvas = Canvas(f"{prefix}-finished", WIDTH, HEIGHT, hatched=hatched)
    canvas.marls = marls_of(worked)
    colours = {yarn.letter: yarn.colour for yarn in worked.yarns}
    ground = mixed("#f3efe8", worked.yarns[0].colour, 0.1)
    canvas.path(box(0, 0, WIDTH, HEIGHT), fill=ground, class_="ground")
    set_parts(canvas, _parts(worked), colours)
    return canvas.finish(*finished_words(worked, main_piece(worked)))


def _parts(worked: WorkedPattern) -> list[TubePart]:
    """The parts of the thing, by its kind and by the facts of its main piece."""
    piece, kind = main_piece(worked), worked.pattern.kind
    if kind == "toy":
        return _toy(worked)
    if piece.filled:
        return _lying(worked, piece)
    if kind == "bunting":
        flags = [one for one in worked.pieces if one.lining_of is None]
        return bunting(flags, worked.gauge, (WIDTH, HEIGHT), _cord(worked, piece))
    if kind == "blanket":
        return _fitted(worked, piece, 1.04)
    if kind == "scarf":
        return _scarf(worked, piece)
    hollow = piece.form == "tube" or piece.sides == "seamed"
    if hollow and kind == "hat":
        return _hat(worked, piece)
    if kind == "cowl" and "open" not in {end.edge for end in piece.ends}:
        return _ring(worked, piece)
    if hollow and kind == "cowl":
        return _cowl(worked, piece)
    if hollow and kind == "wrist warmers":
        return _pair(worked, piece)
    if hollow and kind == "bag":
        return _bag(worked, piece)
    return _fitted(worked, piece, 1.0)


def _at(x: float, y: float, turn: float = 0.0) -> str:
    return f"translate({x:g} {y:g})" + (f"rotate({turn:g})" if turn else "")


def _lying(worked: WorkedPattern, piece: WorkedPiece) -> list[TubePart]:
    length, width = stuffed_size(piece)
    turn = -7.0 if length < _LONG * width else -27.0
    c, s = cos(radians(-turn)), sin(radians(-turn))
    per_cm = min(ROOM[0] / (length * c + width * s), ROOM[1] / (length * s + width * c))
    return stuffed(piece, worked.gauge, per_cm, _at(WIDTH / 2, HEIGHT / 2 - 4, turn))


def _toy(worked: WorkedPattern) -> list[TubePart]:
    """Its filled pieces at one scale: put together where the author says how, else side by side."""
    pieces = [p for p in worked.pieces if p.filled and p.lining_of is None]
    if not pieces:
        return _fitted(worked, main_piece(worked), 1.0)
    body = next(
        (p for p in pieces if p.key in {q.attachment.to for q in pieces if q.attachment}), None
    )
    if body is not None:
        return assembled(worked.gauge, body, pieces, (WIDTH, HEIGHT), ROOM)
    if len(pieces) == 1:
        return _lying(worked, pieces[0])
    pieces = pieces[:4]
    sizes = [stuffed_size(piece) for piece in pieces]
    across = sum(length for length, _ in sizes) + 3.0 * (len(sizes) - 1)
    per_cm = min(ROOM[0] / across, ROOM[1] / max(width for _, width in sizes))
    x = (WIDTH - across * per_cm) / 2
    foot = HEIGHT / 2 + max(width for _, width in sizes) * per_cm / 2
    parts: list[TubePart] = []
    for piece, (length, width) in zip(pieces, sizes, strict=True):
        spot = _at(round(x + length * per_cm / 2, 2), round(foot - width * per_cm / 2, 2))
        parts += stuffed(piece, worked.gauge, per_cm, spot)
        x += (length + 3.0) * per_cm
    return parts


def _cord(worked: WorkedPattern, piece: WorkedPiece) -> str:
    """The letter of the cord: of another piece, if there is one."""
    others = [p for p in worked.pieces if p.key != piece.key]
    return (others[0] if others else piece).plan[0].letter


def _fitted(worked: WorkedPattern, piece: WorkedPiece, slack: float) -> list[TubePart]:
    laid = [piece]
    if worked.joined is not None and piece.sides == "joined":
        laid = [worked.piece(key) for key in worked.joined.order]
    width, length = flat_size(laid, worked.gauge)
    hang = 2 * piece.fringe.finished_cm if piece.fringe else 0.0
    lies = length + hang > 1.15 * width
    across, along = (length + hang, width) if lies else (width, length + hang)
    per_cm = min(ROOM[0] / across, ROOM[1] / along) / slack
    make = blanket if worked.pattern.kind == "blanket" else flat
    return make(laid, worked.gauge, per_cm, _at(WIDTH / 2, HEIGHT / 2, 86.0 if lies else -4.0))


def _scarf(worked: WorkedPattern, piece: WorkedPiece) -> list[TubePart]:
    if piece.finished_length_cm < 120 or piece.finished_length_cm > 320:
        return _fitted(worked, piece, 1.0)
    width, height = scarf_size(piece)
    per_cm = min(ROOM[0] / width, 262 / height)
    top = (HEIGHT - height * per_cm) / 2 + min(piece.made_up_width_cm, 15.0) * per_cm * 0.5 + 5
    return scarf(piece, worked.gauge, per_cm, _at(WIDTH / 2, round(top, 2)))


def _hat(worked: WorkedPattern, piece: WorkedPiece) -> list[TubePart]:
    girth = 2 * piece.made_up_width_cm
    head = max(worked.fit.head_cm, girth) if worked.fit else girth
    width, height = hat_size(piece, head)
    per_cm = min(ROOM[0] / width, ROOM[1] / height)
    foot = HEIGHT / 2 + height * per_cm * 0.46
    return hat(piece, worked.gauge, per_cm, _at(WIDTH / 2, round(foot, 2)), head)


def _ring(worked: WorkedPattern, piece: WorkedPiece) -> list[TubePart]:
    width = piece.finished_length_cm / pi * 1.25
    per_cm = min(ROOM[0] / width, ROOM[1] / (piece.made_up_width_cm + width * 0.24))
    return ring(piece, worked.gauge, per_cm, _at(WIDTH / 2, HEIGHT / 2))


def _cowl(worked: WorkedPattern, piece: WorkedPiece) -> list[TubePart]:
    wide = piece.made_up_width_cm * 0.78
    _, length = outer(piece)
    per_cm = min(ROOM[0] * 0.86 / wide, ROOM[1] * 0.94 / (length + wide * 0.24))
    return tube(piece, worked.gauge, per_cm, _at(WIDTH / 2, HEIGHT / 2 + 2), wide=wide, lean=0.06)


def _pair(worked: WorkedPattern, piece: WorkedPiece) -> list[TubePart]:
    wide = piece.made_up_width_cm * 0.92
    _, length = outer(piece)
    per_cm = min(ROOM[0] * 0.4 / wide, ROOM[1] * 0.93 / (length + wide * 0.24))
    step = max(wide * per_cm * 0.66, 70)
    x1, x2 = WIDTH / 2 - step, WIDTH / 2 + step
    gauge = worked.gauge
    return [
        *tube(piece, gauge, per_cm, _at(x1, HEIGHT / 2 + 4, -6), wide=wide, lean=0.05),
        *tube(piece, gauge, per_cm, _at(x2, HEIGHT / 2, 6) + "scale(-1 1)", wide=wide, lean=0.05),
    ]


def _bag(worked: WorkedPattern, piece: WorkedPiece) -> list[TubePart]:
    others = [p for p in worked.pieces if p.key != piece.key and p.lining_of is None]
    band = others[0] if others else None
    wide = piece.made_up_width_cm * 0.96
    _, length = outer(piece)
    rise = min(max(band.finished_length_cm * 0.4, 8.0), length * 0.8) if band else 0.0
    per_cm = min(ROOM[0] / wide, ROOM[1] / (length + rise + wide * 0.1))
    half, tall = wide * per_cm / 2, length * per_cm
    straps: tuple[Cord, ...] = ()
    if band:
        letter, width = band.plan[0].letter, min(band.flat_width_cm * per_cm, 16.0)
        straps = (
            strap(letter, half * 0.92, -tall / 2 - 3, rise * per_cm, width),
            strap(letter, half, -tall / 2 + half * 0.16, rise * per_cm * 0.92, width),
        )[: band.make]
    y = HEIGHT / 2 + rise * per_cm / 2 - 4
    linings = [p.plan[0].letter for p in worked.pieces if p.lining_of == piece.key]
    return tube(
        piece,
        worked.gauge,
        per_cm,
        _at(WIDTH / 2, round(y, 2)),
        wide=wide,
        lean=0.05,
        cords=straps,
        inside_letter=linings[0] if linings else "",
    )
