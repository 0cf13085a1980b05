"""The finished view: what it looks like made up, on a frame of 4:3 for cards and share pictures."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stripewright.draw.canvas import Canvas, box
from stripewright.draw.finished.cloth import flat
from stripewright.draw.finished.cushion import cushion, solid_size
from stripewright.draw.finished.part import Part, set_parts
from stripewright.draw.inks import mixed
from stripewright.draw.strip import main_piece
from stripewright.draw.telling import finished_words

if TYPE_CHECKING:
    from stripewright.compute.worked import WorkedPattern
    from stripewright.draw.drawing import Drawing

WIDTH, HEIGHT = 400.0, 300.0
ROOM = (330.0, 225.0)
"""What a thing may take of the frame."""


def finished(worked: WorkedPattern, *, prefix: str, hatched: bool = False) -> Drawing:
    """Draw the thing as it looks made up."""
    canvas = Canvas(f"{prefix}-finished", WIDTH, HEIGHT, hatched=hatched)
    colours = {yarn.letter: yarn.colour for yarn in worked.yarns}
    ground = mixed("#f2eee7", worked.yarns[0].colour, 0.1)
    canvas.path(box(0, 0, WIDTH, HEIGHT), fill=ground, class_="ground")
    set_parts(canvas, _parts(worked), colours)
    return canvas.finish(*finished_words(worked, main_piece(worked)))


def _parts(worked: WorkedPattern) -> list[Part]:
    piece = main_piece(worked)
    middle = f"translate({WIDTH / 2:g} {HEIGHT / 2:g})"
    if piece.filled:
        width, length, _ = solid_size(piece)
        per_cm = min(ROOM[0] / length / 1.08, ROOM[1] / width / 1.1)
        return cushion(piece, worked.gauge, per_cm, f"{middle}rotate(-6)")
    per_cm = min(ROOM[0] / piece.flat_width_cm, ROOM[1] / piece.finished_length_cm)
    return flat(piece, worked.gauge, per_cm, middle)
