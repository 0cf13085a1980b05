"""Assembly: the pieces side by side at one scale, and how they go together, step by step."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stripewright.catalogue import _
from stripewright.draw.assembly_layout import (
    BREAK,
    AssemblyLayout,
    assembly_layout,
    steps_of_making_up,
)
from stripewright.draw.badges import BADGE, BADGE_FONT, BADGES_WIDTH, LINE, Placed, badge_width
from stripewright.draw.canvas import Canvas, box, path, rounded_coordinate
from stripewright.draw.edges import STYLES, edges
from stripewright.draw.hatches import marls_of, yarns
from stripewright.draw.keys import KeyEntry, key, key_height
from stripewright.draw.measure import wrapped
from stripewright.draw.telling import assembly_words

if TYPE_CHECKING:
    from collections.abc import Iterator

    from stripewright.compute.worked import WorkedPattern
    from stripewright.draw.drawing import Drawing
    from stripewright.draw.edges import EdgeLine
    from stripewright.words.written import PatternText, Step

LabelLines = list[tuple[int, list[str]]]
"""Steps with their titles in lines."""


def assembly(
    worked: WorkedPattern, written: PatternText | None, *, prefix: str, hatched: bool = False
) -> Drawing | None:
    """Draw how the pieces go together; None for a single piece with nothing to join.

    Args:
        worked: the pattern.
        written: its words; the numbers of the steps are theirs. None draws no numbers.
        prefix: what the drawing's name and its ids begin with.
        hatched: show hatches, for black-and-white print.
    """
    if not _joins(worked):
        return None
    steps = steps_of_making_up(written)
    layout = assembly_layout(worked, steps)
    numbered = {badge.words for badge in layout.badges}
    steps = tuple(step for step in steps if str(step.number) in numbered)
    lines: LabelLines = [
        (step.number, wrapped(step.title, BADGES_WIDTH - 60, BADGE_FONT)) for step in steps
    ]
    entries = _entries(worked)
    listed = layout.foot + 8
    foot = listed + sum(max(len(words) * LINE, BADGE) + 4 for _entry, words in lines) + 4
    height = foot + key_height(entries, BADGES_WIDTH)
    canvas = Canvas(f"{prefix}-assembly", BADGES_WIDTH, height, hatched=hatched, size=BADGE_FONT)
    canvas.marls = marls_of(worked)
    _fabric(canvas, worked, layout)
    _edges(canvas, layout)
    _names(canvas, layout)
    _arrows(canvas, layout)
    _numbers(canvas, layout, lines, listed)
    _list(canvas, lines, listed)
    key(canvas, entries, foot)
    return canvas.finish(*assembly_words(worked, [_told(step) for step in steps]))


def _told(step: Step) -> str:
    return f"{step.number}. {step.title}."


def _joins(worked: WorkedPattern) -> bool:
    """Whether there is anything to put together."""
    one = worked.pieces[0]
    if len(worked.pieces) > 1 or one.make > 1 or one.fringe or one.filled or one.fold or one.brim:
        return True
    return any(end.edge != "open" for end in one.ends) or one.sides != "open"


def _fabric(canvas: Canvas, worked: WorkedPattern, layout: AssemblyLayout) -> None:
    colours = {yarn.letter: yarn.colour for yarn in worked.yarns}
    shapes: dict[str, list[str]] = {}
    row = layout.scale.per_row
    for one in layout.placed:
        for line in one.piece.plan:
            for start, end, foot in one.shown:
                first = max(line.first - 1 - line.grafted_before, start)
                last = min(line.last + line.grafted, end)
                if last > first:
                    y, high = foot - (last - start) * row, (last - first) * row
                    drawn = shapes.setdefault(line.letter, [])
                    drawn += [box(left, y, one.width, high) for left in one.lefts]
    yarns(canvas, {letter: "".join(parts) for letter, parts in shapes.items()}, colours)


def _edges(canvas: Canvas, layout: AssemblyLayout) -> None:
    row = layout.scale.per_row
    edges(canvas, (drawn for one in layout.placed for drawn in _edge_lines(one, row)))
    breaks = "".join(_break(one) for one in layout.placed if len(one.shown) > 1)
    if breaks:
        canvas.stroke(breaks, width=0.9)


def _break(one: Placed) -> str:
    """The two wavy edges of a break in a long piece."""
    low = one.shown[1][2]
    step = (one.width + 6) / 4
    d = ""
    for left in one.lefts:
        for y in (low, low + BREAK):
            d += path("M", left - 3, y, "q", step / 2, -3, step, 0)
            d += path("t", step, 0, "t", step, 0, "t", step, 0)
    return d


def _edge_lines(one: Placed, row: float) -> Iterator[tuple[str, EdgeLine]]:
    piece = one.piece
    side = piece.sides if piece.form == "panel" else "open"
    for left in one.lefts:
        right = left + one.width
        yield piece.ends[0].edge, (right, one.foot, left, one.foot)
        yield piece.ends[1].edge, (left, one.top, right, one.top)
        for start, end, foot in one.shown:
            top = foot - (end - start) * row
            yield side, (left, foot, left, top)
            yield side, (right, top, right, foot)
        if one.fold:
            yield "fold", (left - 5, one.fold, right + 5, one.fold)
        if one.brim:
            yield "turned_up", (left - 5, one.brim, right + 5, one.brim)


def _names(canvas: Canvas, layout: AssemblyLayout) -> None:
    texts = canvas.texts(text_anchor="middle")
    for one in layout.placed:
        for line in one.names:
            canvas.text(line.words, line.x, line.y, texts)


def _arrows(canvas: Canvas, layout: AssemblyLayout) -> None:
    """From piece to piece, on a lighter line so that they show on any yarn."""
    for arrow in layout.arrows:
        x1, y1, x2, y2 = arrow.x1, arrow.y1, arrow.x2, arrow.y2
        back = x2 - 8 if x2 > x1 else x2 + 8
        d = path("M", x1, y1, "L", x2, y2, "M", back, y2 - 6, "L", x2, y2, "L", back, y2 + 6)
        canvas.stroke(d, ink="paper", width=5.5, stroke_linecap="round")
        canvas.stroke(d, width=2.2, stroke_linecap="round")


def _numbers(canvas: Canvas, layout: AssemblyLayout, lines: LabelLines, top: float) -> None:
    """The steps' numbers on plates: where they are done, and before their titles."""
    plates = [(badge.x, badge.y, badge.words, badge.width) for badge in layout.badges]
    y = top
    for number, words in lines:
        width = badge_width(str(number))
        plates.append((8 + width / 2, y + BADGE / 2, str(number), width))
        y += max(len(words) * LINE, BADGE) + 4
    if not plates:
        return
    d = "".join(rounded_coordinate(x - w / 2, y - BADGE / 2, w, BADGE, 7) for x, y, _, w in plates)
    canvas.path(d, fill="#22252a", class_="ink paper-line", stroke="#ffffff", stroke_width="1.4")
    texts = canvas.texts("paper", font_weight="700", text_anchor="middle")
    for x, y, plate, _width in plates:
        canvas.text(plate, x, y + 4.5, texts)


def _list(canvas: Canvas, lines: LabelLines, top: float) -> None:
    texts = canvas.texts()
    y = top
    for _entry, words in lines:
        for index, text in enumerate(words):
            canvas.text(text, 50, y + 13.8 + index * LINE, texts)
        y += max(len(words) * LINE, BADGE) + 4


def _entries(worked: WorkedPattern) -> tuple[KeyEntry, ...]:
    styles: list[str] = []
    for piece in worked.pieces:
        styles += [end.edge for end in piece.ends]
        if piece.form == "panel":
            styles.append(piece.sides)
        if piece.fold:
            styles.append("fold")
        if piece.brim:
            styles.append("turned_up")
    return tuple(KeyEntry(style, _(STYLES[style].words)) for style in dict.fromkeys(styles))
