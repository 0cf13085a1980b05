"""The stripe strip: the order of colours as a thin bar, for cards and lists."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stripewright.draw.along import main_piece, stripes
from stripewright.draw.canvas import Canvas, Group, box, rounded_coordinate
from stripewright.draw.hatches import marls_of, yarns
from stripewright.draw.telling import strip_words

if TYPE_CHECKING:
    from stripewright.compute.worked import WorkedPattern
    from stripewright.draw.drawing import Drawing

WIDTH, HEIGHT = 340.0, 26.0
_FONT = 13.0
PLATE = 14.0
"""Width of the plate that a letter stands on; narrower bands show their hatch alone."""


def strip(worked: WorkedPattern, *, prefix: str, hatched: bool = False) -> Drawing:
    """Draw the visible rows of the main piece as a bar, from the cast-on end."""
    piece = main_piece(worked)
    canvas = Canvas(f"{prefix}-strip", WIDTH, HEIGHT, hatched=hatched, size=_FONT)
    canvas.marls = marls_of(worked)
    colours = {yarn.letter: yarn.colour for yarn in worked.yarns}
    outline = rounded_coordinate(1, 1, WIDTH - 2, HEIGHT - 2, 6)
    inside = canvas.group(clip_path=canvas.clip("c", outline))
    bands = [(a, round(x * WIDTH, 2), round(y * WIDTH, 2)) for a, x, y in stripes(piece)]
    shapes: dict[str, list[str]] = {}
    for letter, start, end in bands:
        shapes.setdefault(letter, []).append(box(start, 0, end - start, HEIGHT))
    yarns(canvas, {letter: "".join(parts) for letter, parts in shapes.items()}, colours, inside)
    _letters(canvas, [(a, (x + y) / 2) for a, x, y in bands if y - x >= PLATE + 2], inside)
    canvas.stroke(outline, ink="muted", stroke_opacity="0.7")
    return canvas.finish(*strip_words(worked, piece))


def _letters(canvas: Canvas, places: list[tuple[str, float]], inside: Group) -> None:
    """Letters on plates of their own, so that they can be read on any yarn; shown with hatches."""
    if not places:
        return
    over = canvas.overlay(inside)
    plates = "".join(rounded_coordinate(x - PLATE / 2, 5, PLATE, 16, 4) for _, x in places)
    canvas.filled(plates, over, "paper")
    texts = canvas.texts("ink", over, font_weight="700", text_anchor="middle")
    for letter, x in places:
        canvas.text(letter, x, 17.3, texts)
