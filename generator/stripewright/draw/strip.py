"""The stripe strip: the order of colours as a thin bar, for cards and lists."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stripewright.draw.canvas import Canvas, box, rounded
from stripewright.draw.hatches import yarns
from stripewright.draw.telling import strip_words

if TYPE_CHECKING:
    from stripewright.compute.worked import WorkedPattern, WorkedPiece
    from stripewright.draw.drawing import Drawing

WIDTH, HEIGHT = 340.0, 24.0


def main_piece(worked: WorkedPattern) -> WorkedPiece:
    """The piece that shows most: no lining, and of the others the one with most to see."""
    outer = [piece for piece in worked.pieces if piece.lining_of is None] or list(worked.pieces)
    return max(outer, key=lambda p: (len(p.yarns) > 1, p.flat_width_cm * p.finished_length_cm))


def strip(worked: WorkedPattern, *, prefix: str, hatched: bool = False) -> Drawing:
    """Draw the visible rows of the main piece as a bar, from the cast-on end."""
    piece = main_piece(worked)
    canvas = Canvas(f"{prefix}-strip", WIDTH, HEIGHT, hatched=hatched)
    colours = {yarn.letter: yarn.colour for yarn in worked.yarns}
    clip = canvas.clip("c", rounded(1, 1, WIDTH - 2, HEIGHT - 2, 6))
    total = piece.visible_rows or 1
    shapes: dict[str, list[str]] = {}
    done = 0
    for line in piece.plan:
        x = round(WIDTH * done / total, 2)
        done += line.visible
        shapes.setdefault(line.letter, []).append(
            box(x, 0, round(WIDTH * done / total, 2) - x, HEIGHT)
        )
    yarns(
        canvas,
        {letter: "".join(parts) for letter, parts in shapes.items()},
        colours,
        canvas.group(clip_path=clip),
    )
    canvas.stroke(rounded(1, 1, WIDTH - 2, HEIGHT - 2, 6), ink="muted", stroke_opacity="0.7")
    return canvas.finish(*strip_words(worked, piece))
