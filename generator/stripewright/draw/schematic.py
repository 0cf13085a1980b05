"""The schematic of a piece: to scale both ways, with rows, readings, sizes and edges."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stripewright.draw import dims
from stripewright.draw.canvas import Canvas, box
from stripewright.draw.edges import STYLES, edge
from stripewright.draw.figures import reading, unit
from stripewright.draw.hatches import yarns
from stripewright.draw.keys import Entry, allowance, key, key_height
from stripewright.draw.measure import ems
from stripewright.draw.schematic_layout import FONT, GAP, WIDTH, SchematicLayout, laid_out
from stripewright.draw.telling import schematic_words

if TYPE_CHECKING:
    from stripewright.compute.worked import WorkedPattern, WorkedPiece
    from stripewright.draw.drawing import Drawing


def schematic(
    worked: WorkedPattern, key_: str, *, prefix: str, hatched: bool = False, numbers: bool = True
) -> Drawing:
    """Draw the schematic of one piece.

    Args:
        worked: the pattern.
        key_: the piece's key.
        prefix: what the drawing's name and its ids begin with.
        hatched: show hatches, for black-and-white print.
        numbers: tell rows, readings and sizes; not on a paid pattern's public page.
    """
    piece = worked.piece(key_)
    layout = laid_out(worked, piece, numbers=numbers)
    entries = _entries(piece, numbers=numbers)
    foot = layout.foot + 34
    canvas = Canvas(
        f"{prefix}-{key_}", WIDTH, foot + key_height(entries, WIDTH), hatched=hatched, size=FONT
    )
    colours = {yarn.letter: yarn.colour for yarn in worked.yarns}
    _bands(canvas, layout, colours)
    if numbers:
        _allowances(canvas, layout)
    _edges(canvas, layout)
    _labels(canvas, layout, colours)
    _sizes(canvas, layout)
    key(canvas, entries, foot)
    return canvas.finish(*schematic_words(worked, piece, numbers=numbers))


def _spans(layout: SchematicLayout) -> list[tuple[float, float]]:
    """Left edge and width of what is shown of the piece: two parts when it is broken."""
    left, right = layout.columns.left, layout.columns.right
    if not layout.broken:
        return [(left, right - left)]
    middle = left + (right - left) * 0.62
    return [(left, middle - GAP / 2 - left), (middle + GAP / 2, right - middle - GAP / 2)]


def _bands(canvas: Canvas, layout: SchematicLayout, colours: dict[str, str]) -> None:
    shapes: dict[str, list[str]] = {}
    scale, spans = layout.scale, _spans(layout)
    for line in layout.piece.plan:
        top, high = scale.y(line.last), line.rows * scale.per_row
        shapes.setdefault(line.letter, []).extend(box(x, top, w, high) for x, w in spans)
    yarns(
        canvas,
        {letter: "".join(parts) for letter, parts in shapes.items()},
        colours,
        canvas.group(class_="bands"),
        shape_rendering="crispEdges",
    )
    if layout.broken:
        _break(canvas, layout)


def _break(canvas: Canvas, layout: SchematicLayout) -> None:
    """The two edges of a break, in zigzag."""
    (x1, w1), (x2, _) = _spans(layout)
    steps = max(4, round((layout.scale.foot - layout.head) / 14))
    step = (layout.scale.foot - layout.head) / steps
    zigzag = "".join(f"l{unit(3 if i % 2 else -3)} {unit(step)}" for i in range(steps))
    head = unit(layout.head)
    d = f"M{unit(x1 + w1 + 1)} {head}{zigzag}M{unit(x2 + 1)} {head}{zigzag}"
    canvas.stroke(d, width=0.9)


def _allowances(canvas: Canvas, layout: SchematicLayout) -> None:
    d = ""
    scale = layout.scale
    for line in layout.piece.plan:
        for rows, last in (
            (line.allowance_before, line.first - 1 + line.allowance_before),
            (line.allowance_after, line.last),
        ):
            if rows:
                d += "".join(
                    box(x, scale.y(last), w, rows * scale.per_row) for x, w in _spans(layout)
                )
    if d:
        canvas.path(d, fill=allowance(canvas), class_="allowance")


def _edges(canvas: Canvas, layout: SchematicLayout) -> None:
    piece, scale = layout.piece, layout.scale
    left, right = layout.columns.left, layout.columns.right
    lines = [
        (piece.ends[0].edge, left, scale.foot, right, scale.foot),
        (piece.ends[1].edge, left, layout.head, right, layout.head),
        (piece.sides if piece.form == "panel" else "open", left, layout.head, left, scale.foot),
        (piece.sides if piece.form == "panel" else "open", right, layout.head, right, scale.foot),
    ]
    if piece.fold:
        lines.append(("fold", left - 6, scale.y(piece.fold), right + 6, scale.y(piece.fold)))
    for gap in piece.openings:
        for side, x in (("left", left), ("right", right)):
            if gap.side in (side, "both"):
                lines.append(("opening", x, scale.y(gap.last), x, scale.y(gap.first - 1)))
    for style, x1, y1, x2, y2 in lines:
        canvas.stroke(edge(style, (x1, y1, x2, y2)), width=STYLES[style][1])


def _labels(canvas: Canvas, layout: SchematicLayout, colours: dict[str, str]) -> None:
    x, right = layout.columns.labels, layout.columns.right
    leaders = ""
    chips: dict[str, list[str]] = {}
    letters = canvas.texts(font_weight="700")
    rows = canvas.texts(font_weight="700") if layout.readings else letters
    for label in layout.labels:
        leaders += f"M{unit(right + 2)} {unit(label.start)}L{unit(x - 6)} {unit(label.y)}h4"
        chips.setdefault(label.letter, []).append(box(x, label.y - 5.5, 11, 11))
        canvas.text(label.letter, x + 15, label.y + 4.6, letters)
        if label.words:
            canvas.text(label.words, x + 31, label.y + 4.6, rows)
    yarns(canvas, {letter: "".join(parts) for letter, parts in chips.items()}, colours)
    canvas.stroke("".join(part for parts in chips.values() for part in parts), width=0.6)
    readings = canvas.texts(text_anchor="end")
    left = layout.columns.left
    for mark in layout.readings:
        leaders += (
            f"M{unit(left - 1)} {unit(mark.start)}h-3"
            f"L{unit(layout.columns.readings + 3)} {unit(mark.y)}"
        )
        canvas.text(mark.words, layout.columns.readings, mark.y + 4.6, readings)
    canvas.stroke(leaders, ink="muted", width=0.7)


def _sizes(canvas: Canvas, layout: SchematicLayout) -> None:
    left, right = layout.columns.left, layout.columns.right
    texts = canvas.texts(text_anchor="middle")
    y = 15.0
    for words in layout.widths:
        half = ems(words) * FONT / 2
        middle = min(max((left + right) / 2, half + 2), WIDTH - half - 2)
        canvas.text(words, middle, y, texts)
        y += 17
    if layout.widths:
        dims.level(canvas, left, right, y - 8)
    if layout.length:
        top, foot, words = layout.length
        dims.upright(canvas, 22, top, foot)
        dims.upright_words(canvas, words, 14, (layout.head + layout.scale.foot) / 2, texts)
    _direction(canvas, layout)


def _direction(canvas: Canvas, layout: SchematicLayout) -> None:
    """The arrow at the cast-on edge, pointing the way the piece is knitted."""
    middle = (layout.columns.left + layout.columns.right) / 2
    foot = layout.foot
    canvas.filled(
        f"M{unit(middle)} {unit(foot - 2)}l6 9h-4v7h-4v-7h-4z",
    )
    half = ems(layout.foot_words) * FONT / 2
    centre = min(max(middle, half + 2), WIDTH - half - 2)
    texts = canvas.texts(text_anchor="middle")
    canvas.text(layout.foot_words, centre, foot + 27, texts)


def _entries(piece: WorkedPiece, *, numbers: bool) -> tuple[Entry, ...]:
    """What the key tells: only what the drawing shows."""
    styles: list[str] = [piece.ends[0].edge, piece.ends[1].edge]
    if piece.form == "panel":
        styles.append(piece.sides)
    entries = [Entry(style, STYLES[style][2]) for style in dict.fromkeys(styles) if style != "open"]
    if piece.fold:
        entries.append(Entry("fold", f"fold, after {reading(piece.fold)}" if numbers else "fold"))
    for gap in piece.openings:
        where = f", {reading(gap.first - 1)} to {gap.last:03}, {gap.side}" if numbers else ""
        entries.append(Entry("opening", f"opening: {gap.what}{where}"))
    if numbers and any(line.allowance_before or line.allowance_after for line in piece.plan):
        entries.append(
            Entry(
                "allowance",
                "allowance: rows that finishing the edge takes up (the + in the row counts)",
            )
        )
    return tuple(entries)
