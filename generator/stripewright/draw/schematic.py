"""The schematic of a piece: to scale both ways, with rows, readings, sizes and edges."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stripewright.catalogue import N_, _
from stripewright.draw.canvas import Canvas, Group, box, path
from stripewright.draw.edges import (
    STYLES,
    dimension_across,
    dimension_up,
    dimension_words,
    edges,
)
from stripewright.draw.hatches import chips, marls_of, yarns
from stripewright.draw.keys import KeyEntry, allowance_hatch, key, key_height
from stripewright.draw.measure import ems
from stripewright.draw.schematic_layout import (
    CHIP,
    FONT,
    LEADER,
    LETTER,
    WIDTH,
    WORDS,
    SchematicLayout,
    schematic_layout,
)
from stripewright.draw.telling import schematic_words
from stripewright.figures import METRIC, rc

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from stripewright.compute.worked import WorkedPattern
    from stripewright.compute.worked_piece import WorkedPiece
    from stripewright.draw.drawing import Drawing
    from stripewright.draw.edges import EdgeLine
    from stripewright.figures import Figures
    from stripewright.words.written import ToldEvent

_GAP = 8.0
"""Width of the break in a piece that is wider than its room."""
_BREAK = 0.62
"""Where it stands, from the left."""
BASE = 4.6
"""From the middle of a line of text down to its base line."""


def schematic(
    worked: WorkedPattern,
    piece: str,
    *,
    prefix: str,
    hatched: bool = False,
    figures: Figures = METRIC,
    events: Sequence[ToldEvent] = (),
) -> Drawing:
    """Draw the schematic of one piece; of a public twin, without rows and readings.

    Args:
        worked: the pattern.
        piece: the piece's key.
        prefix: what the drawing's name and its ids begin with.
        hatched: show hatches, for black-and-white print.
        figures: how sizes are told.
        events: what happens along the piece, for the description.
    """
    one = worked.piece(piece)
    layout = schematic_layout(worked, one, figures)
    entries = _entries(worked, one)
    foot = layout.foot + 38
    height = foot + key_height(entries, WIDTH)
    canvas = Canvas(f"{prefix}-schematic-{piece}", WIDTH, height, hatched=hatched, size=FONT)
    canvas.marls = marls_of(worked)
    colours = {yarn.letter: yarn.colour for yarn in worked.yarns}
    _fringe(canvas, worked, layout)
    _bands(canvas, layout, colours)
    _allowances(canvas, layout)
    edges(canvas, _edge_lines(layout))
    _labels(canvas, layout, colours)
    _readings(canvas, layout)
    _sizes(canvas, layout)
    key(canvas, entries, foot)
    return canvas.finish(*schematic_words(worked, one, figures, events))


def _spans(layout: SchematicLayout) -> list[tuple[float, float]]:
    """Left edge and width of what is shown of the piece: two parts when it is broken."""
    left, right = layout.left, layout.right
    if not layout.broken:
        return [(left, right - left)]
    middle = left + (right - left) * _BREAK
    return [(left, middle - _GAP / 2 - left), (middle + _GAP / 2, right - middle - _GAP / 2)]


def _bands(canvas: Canvas, layout: SchematicLayout, colours: Mapping[str, str]) -> None:
    shapes: dict[str, list[str]] = {}
    scale, spans = layout.scale, _spans(layout)
    for line in layout.piece.plan:
        high = (line.grafted_before + line.rows + line.grafted) * scale.per_row
        top = scale.y(line.last + line.grafted)
        shapes.setdefault(line.letter, []).extend(box(x, top, w, high) for x, w in spans)
    whole = {letter: "".join(parts) for letter, parts in shapes.items()}
    yarns(canvas, whole, colours, canvas.group(class_="bands"), shape_rendering="crispEdges")
    if layout.broken:
        _break(canvas, layout)


def _break(canvas: Canvas, layout: SchematicLayout) -> None:
    """The two edges of a break, in zigzag."""
    (x1, w1), (x2, _) = _spans(layout)
    tall = layout.sole - layout.head
    steps = max(4, round(tall / 14))
    zigzag = "".join(path("l", 3 if i % 2 else -3, tall / steps) for i in range(steps))
    canvas.stroke(
        path("M", x1 + w1 + 1, layout.head, zigzag, "M", x2 + 1, layout.head, zigzag), width=0.9
    )


def _allowances(canvas: Canvas, layout: SchematicLayout) -> None:
    """The rows that finishing the edges takes up, hatched apart, with a line where they end."""
    scale, d, lines = layout.scale, "", ""
    for line in layout.piece.plan:
        inner = line.first - 1 + line.allowance_before, line.last - line.allowance_after
        if line.allowance_before:
            d += _across(layout, inner[0], line.allowance_before)
            lines += path("M", layout.left - 4, scale.y(inner[0]), "H", layout.right + 4)
        if line.allowance_after:
            d += _across(layout, line.last, line.allowance_after)
            lines += path("M", layout.left - 4, scale.y(inner[1]), "H", layout.right + 4)
    if d:
        canvas.path(d, fill=allowance_hatch(canvas), class_="allowance")
        canvas.stroke(lines, width=0.8)


def _across(layout: SchematicLayout, last: int, rows: int) -> str:
    top, high = layout.scale.y(last), rows * layout.scale.per_row
    return "".join(box(x, top, w, high) for x, w in _spans(layout))


def _edge_lines(layout: SchematicLayout) -> Iterator[tuple[str, EdgeLine]]:
    piece, scale = layout.piece, layout.scale
    left, right, head, foot = layout.left, layout.right, layout.head, layout.sole
    side = piece.sides if piece.form == "panel" else "open"
    yield piece.ends[0].edge, (right, foot, left, foot)
    yield piece.ends[1].edge, (left, head, right, head)
    yield side, (left, foot, left, head)
    yield side, (right, head, right, foot)
    if piece.fold:
        yield "fold", (left - 8, scale.y(piece.fold), right + 8, scale.y(piece.fold))
    if brim := piece.brim:
        yield "turned_up", (left - 8, scale.y(brim.turn), right + 8, scale.y(brim.turn))
    for gap in piece.openings:
        for where, x in (("left", left), ("right", right)):
            if gap.side in (where, "both"):
                yield "opening", (x, scale.y(gap.last), x, scale.y(gap.first - 1))


def _fringe(canvas: Canvas, worked: WorkedPattern, layout: SchematicLayout) -> None:
    """Strands at both ends, each in its yarn."""
    fringe = layout.piece.fringe
    if fringe is None:
        return
    count = min(fringe.tassels, 30)
    step = (layout.right - layout.left) / count
    for key_, y, long in (
        (fringe.yarns[0], layout.sole, layout.fringe),
        (fringe.yarns[1], layout.head, -layout.fringe),
    ):
        yarn = worked.yarn(key_)
        d = "".join(path("M", layout.left + step * (n + 0.5), y, "v", long) for n in range(count))
        canvas.stroke(d, ink="muted", width=2.6)
        canvas.stroke(d, width=1.6, stroke=yarn.colour, class_=f"yarn-{yarn.letter.lower()}-line")


def _labels(canvas: Canvas, layout: SchematicLayout, colours: Mapping[str, str]) -> None:
    x, right = layout.right + LEADER, layout.right
    leaders = ""
    patches: dict[str, list[str]] = {}
    bold = canvas.texts(font_weight="700")
    for label in layout.labels:
        item, y = label.item, label.y
        if item.letter:
            leaders += path("M", right + 2, label.start, "L", x - 7, y, "h", 5)
            patches.setdefault(item.letter, []).append(box(x, y - CHIP / 2, CHIP, CHIP))
            canvas.text(item.letter, x + LETTER, y + BASE, bold)
        else:
            top, foot = layout.scale.y(item.end) + 2, layout.scale.y(item.start) - 2
            leaders += path("M", right + 3, top, "h", 4, "V", foot, "h", -4)
            leaders += path("M", right + 7, label.start, "L", x - 3, y, "h", 12)
        if item.words:
            canvas.text(item.words, x + (WORDS if item.letter else LETTER), y + BASE, bold)
    chips(canvas, patches, colours)
    canvas.stroke(leaders, ink="muted", width=0.7)


def _readings(canvas: Canvas, layout: SchematicLayout) -> None:
    end, left = layout.readings_end, layout.left
    texts = canvas.texts(text_anchor="end")
    leaders = ""
    for mark in layout.readings:
        leaders += path("M", left - 1, mark.start, "h", -3, "L", end + 3, mark.y)
        canvas.text(mark.words, end, mark.y + BASE, texts)
    if leaders:
        canvas.stroke(leaders, ink="muted", width=0.7)


def _sizes(canvas: Canvas, layout: SchematicLayout) -> None:
    left, right = layout.left, layout.right
    texts = canvas.texts(text_anchor="middle")
    y = 15.0
    for words in layout.widths:
        canvas.text(words, _inside((left + right) / 2, words), y, texts)
        y += 17
    dimension_across(canvas, left, right, y - 8)
    dimension_up(canvas, 23, *layout.length)
    middle = (layout.head + layout.sole) / 2
    dimension_words(canvas, layout.length_words, 15, middle, texts)
    _direction(canvas, layout, texts)


def _inside(middle: float, words: str) -> float:
    """The middle of words, moved so that they stay on the drawing."""
    half = ems(words) * FONT / 2
    return min(max(middle, half + 2), WIDTH - half - 2)


def _direction(canvas: Canvas, layout: SchematicLayout, texts: Group) -> None:
    """The arrow at the cast-on edge, pointing the way the piece is knitted."""
    middle, y = (layout.left + layout.right) / 2, layout.foot
    canvas.filled(path("M", middle, y, "l", 6, 9, "h", -4, "v", 7, "h", -4, "v", -7, "h", -4, "z"))
    canvas.text(layout.foot_words, _inside(middle, layout.foot_words), y + 30, texts)


_SIDES = {"left": N_("left side"), "right": N_("right side"), "both": N_("both sides")}
"""Where an opening is, in the words of the key."""


def _entries(worked: WorkedPattern, piece: WorkedPiece) -> tuple[KeyEntry, ...]:
    """What the key tells: only what the drawing shows."""
    numbers = not worked.nominal
    styles: list[str] = [piece.ends[0].edge, piece.ends[1].edge]
    if piece.form == "panel":
        styles.append(piece.sides)
    entries = [KeyEntry(style, _(STYLES[style].words)) for style in dict.fromkeys(styles)]
    if piece.fold:
        fold = _("fold, after {reading}", reading=rc(piece.fold)) if numbers else _("fold")
        entries.append(KeyEntry("fold", fold))
    if brim := piece.brim:
        turned = _("brim, turned up at {reading}", reading=rc(brim.turn))
        entries.append(KeyEntry("turned_up", turned if numbers else _("brim, turned up")))
    for gap in piece.openings:
        side = _(_SIDES[gap.side])
        words = _("opening: {what}, {side}", what=gap.what, side=side)
        if numbers:
            first, last = rc(gap.first - 1), f"{gap.last:03}"
            words = _(
                "opening: {what}, {first} to {last}, {side}",
                what=gap.what,
                first=first,
                last=last,
                side=side,
            )
        entries.append(KeyEntry("opening", words))
    if any(line.allowance_before or line.allowance_after for line in piece.plan):
        words = _("allowance: rows that finishing the edge takes up, told after the + of a stripe")
        entries.append(KeyEntry("allowance", words))
    return tuple(entries)
