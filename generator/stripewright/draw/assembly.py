"""Assembly: the pieces side by side at one scale, and how they go together, step by step."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stripewright.draw.canvas import Canvas, box
from stripewright.draw.edges import STYLES, edge
from stripewright.draw.hatches import yarns
from stripewright.draw.keys import Entry, key, key_height
from stripewright.draw.measure import wrapped
from stripewright.draw.scale import of_rows
from stripewright.draw.telling import assembly_words

if TYPE_CHECKING:
    from stripewright.compute.worked import WorkedPattern, WorkedPiece
    from stripewright.draw.drawing import Drawing
    from stripewright.words.written import Step, Written

WIDTH = 340.0
FONT = 12.5
LINE = 16.0
TALLEST = 260.0
GAP = 24.0


@dataclass(frozen=True, slots=True)
class Placed:
    """A piece, placed: its upper left corner, its size, and its name in lines."""

    piece: WorkedPiece
    x: float
    y: float
    width: float
    height: float
    name: tuple[str, ...]


def assembly(
    worked: WorkedPattern, written: Written | None, *, prefix: str, hatched: bool = False
) -> Drawing | None:
    """Draw how the pieces go together; None for a single piece with nothing to join."""
    steps = _steps(written)
    if not _joins(worked):
        return None
    placed, per_row, foot = _placed(worked)
    lines = [(step.number, wrapped(step.title, WIDTH - 48, FONT)) for step in steps]
    entries = _entries(worked)
    listed = foot + 10
    height = listed + sum(len(words) * LINE + 6 for _, words in lines)
    canvas = Canvas(
        f"{prefix}-assembly", WIDTH, height + key_height(entries, WIDTH), hatched=hatched, size=FONT
    )
    _pieces(canvas, worked, placed, per_row)
    _list(canvas, lines, listed)
    key(canvas, entries, height)
    return canvas.finish(*assembly_words(worked, [f"{s.number}. {s.title}." for s in steps]))


def _joins(worked: WorkedPattern) -> bool:
    pieces = worked.pieces
    if len(pieces) > 1 or pieces[0].make > 1 or pieces[0].fringe or pieces[0].filled:
        return True
    one = pieces[0]
    return any(end.edge != "open" for end in one.ends) or one.sides != "open" or bool(one.fold)


def _steps(written: Written | None) -> tuple[Step, ...]:
    """The steps of making up."""
    groups = written.groups if written else ()
    return tuple(step for group in groups if group.key == "making-up" for step in group.steps)


def _placed(worked: WorkedPattern) -> tuple[list[Placed], float, float]:
    """The pieces in rows from left to right, units to the row, and y under them."""
    tallest = max(p.worked_rows for p in worked.pieces) / worked.gauge.rows_per_cm
    widest = max(p.flat_width_cm for p in worked.pieces)
    across = sum(p.flat_width_cm for p in worked.pieces)
    room = WIDTH - 16 - GAP * (len(worked.pieces) - 1)
    per_cm = min(TALLEST / tallest, max(room / across, 0.25 * TALLEST / tallest), 200 / widest)
    scale = of_rows(per_cm / worked.gauge.rows_per_cm, worked.gauge)
    placed: list[Placed] = []
    x, y, foot = 8.0, 24.0, 0.0
    row: list[Placed] = []
    for piece in worked.pieces:
        width = piece.flat_width_cm * scale.per_cm
        column = max(width, 86.0)
        if row and x + column > WIDTH - 8:
            x, y, row = 8.0, foot + 26, []
        title = piece.title if piece.make == 1 else f"{piece.title} × {piece.make}"
        name = tuple(wrapped(title, column + 4, FONT))
        height = piece.worked_rows * scale.per_row
        one = Placed(piece, x + (column - width) / 2, y, width, height, name)
        row.append(one)
        placed.append(one)
        foot = max(foot, y + height + 10 + LINE * len(name))
        x += column + GAP
    return placed, scale.per_row, foot


def _pieces(canvas: Canvas, worked: WorkedPattern, placed: list[Placed], per_row: float) -> None:
    colours = {yarn.letter: yarn.colour for yarn in worked.yarns}
    shapes: dict[str, list[str]] = {}
    texts = canvas.texts(text_anchor="middle")
    for one in placed:
        foot = one.y + one.height
        for line in one.piece.plan:
            shapes.setdefault(line.letter, []).append(
                box(one.x, foot - line.last * per_row, one.width, line.rows * per_row)
            )
        for index, words in enumerate(one.name):
            canvas.text(words, one.x + one.width / 2, foot + 20 + index * LINE, texts)
    yarns(canvas, {letter: "".join(parts) for letter, parts in shapes.items()}, colours)
    for one in placed:
        foot, right = one.y + one.height, one.x + one.width
        piece = one.piece
        side = piece.sides if piece.form == "panel" else "open"
        for style, x1, y1, x2, y2 in (
            (piece.ends[0].edge, one.x, foot, right, foot),
            (piece.ends[1].edge, one.x, one.y, right, one.y),
            (side, one.x, one.y, one.x, foot),
            (side, right, one.y, right, foot),
        ):
            canvas.stroke(edge(style, (x1, y1, x2, y2)), width=STYLES[style][1])


def _list(canvas: Canvas, lines: list[tuple[int, list[str]]], top: float) -> None:
    numbers = canvas.texts(font_weight="700", text_anchor="end")
    texts = canvas.texts()
    y = top
    for number, words in lines:
        canvas.text(str(number), 32, y + 12, numbers)
        for text in words:
            canvas.text(text, 42, y + 12, texts)
            y += LINE
        y += 6


def _entries(worked: WorkedPattern) -> tuple[Entry, ...]:
    styles = [
        style
        for piece in worked.pieces
        for style in (*(end.edge for end in piece.ends), piece.sides)
        if style != "open"
    ]
    return tuple(Entry(style, STYLES[style][2]) for style in dict.fromkeys(styles))
