"""A hatch for each yarn letter, so that colour is never alone.

A hatch is a small tile of dark marks on a veil that lightens the yarn below, so that marks show on
any colour, on screen and in grey print. Neighbouring letters differ in kind, not only in spacing.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from stripewright.draw.canvas import Canvas, Group, box, path, unit

if TYPE_CHECKING:
    from collections.abc import Mapping

    from stripewright.compute.worked import WorkedPattern

MARK = "#14161a"
VEIL = "#ffffff"
VEIL_OPACITY = 0.62
TWIST = 2.0
"""How wide a strand of a marl is drawn."""

_KINDS: tuple[tuple[float, str, float], ...] = (
    (6, "M-1 7L7 -1M-1 1L1 -1M5 7L7 5", 1.1),
    (7, "M3.5 2v3M2 3.5h3", 1.1),
    (6, "M-1 -1L7 7M-1 5L1 7M5 -1L7 1", 1.1),
    (5, "M2.5 0v5", 1.1),
    (7, "M1.5 1.5h1M5 5h1", 1.6),
    (7, "M0 0L7 7M0 7L7 0", 0.8),
    (8, "M0 3L2 1L6 5L8 3", 1.1),
    (7, "M0 3.5h7M3.5 0v7", 0.8),
    (8, "M1.5 4a2.5 2.5 0 1 0 5 0a2.5 2.5 0 1 0 -5 0", 0.9),
    (8, "M1 2h4M5 6h3M0 6h1", 1.2),
    (8, "M2 1v4M6 5v3M6 0v1", 1.2),
    (6, "M0 3h6", 1.6),
    (8, "M1 6L4 2L7 6z", 0.9),
)
"""Side of the tile, its marks, the width of their lines."""


def _kind(letter: str) -> tuple[float, str, float, float]:
    index = (ord(letter[0].lower()) - ord("a")) % 26
    side, marks, width = _KINDS[index % len(_KINDS)]
    return side, marks, width, 1.0 if index < len(_KINDS) else 1.7


def hatch(canvas: Canvas, letter: str) -> str:
    """The reference to a letter's hatch, defined on first use."""
    part = f"h-{letter.lower()}"
    if not canvas.has(part):
        side, marks, width, scale = _kind(letter)
        tile = canvas.tile(part, side, side, f"scale({unit(scale)})" if scale != 1 else "")
        canvas.path(box(0, 0, side, side), tile, fill=VEIL, fill_opacity=unit(VEIL_OPACITY))
        canvas.path(marks, tile, fill="none", stroke=MARK, stroke_width=unit(width))
    return canvas.url(part)


def marls_of(worked: WorkedPattern) -> dict[str, tuple[str, ...]]:
    """Letters of the yarns that each marl is made of, by the marl's letter."""
    letters = {yarn.key: yarn.letter for yarn in worked.yarns}
    return {
        yarn.letter: tuple(letters[key] for key in yarn.marl) for yarn in worked.yarns if yarn.marl
    }


def _twist(canvas: Canvas, letter: str, colours: Mapping[str, str]) -> str:
    """The reference to a marl's look: its yarns wound round each other, as slanting stripes."""
    part = f"m-{letter.lower()}"
    if canvas.has(part):
        return canvas.url(part)
    strands = canvas.marls[letter]
    side = TWIST * len(strands)
    tile = canvas.tile(part, side, side)
    for number, strand in enumerate(strands):
        x = number * TWIST
        d = "".join(
            path("M", at, 0, "h", TWIST, "l", -side, side, "h", -TWIST, "z") for at in (x, x + side)
        )
        canvas.path(d, tile, fill=colours[strand], class_=f"yarn-{strand.lower()}")
    return canvas.url(part)


def yarns(
    canvas: Canvas,
    shapes: Mapping[str, str],
    colours: Mapping[str, str],
    into: Group | None = None,
    **attributes: str,
) -> None:
    """Fill shapes with their yarns, and lay the hatches over them.

    Args:
        canvas: where.
        shapes: letter -> path data.
        colours: letter -> `#rrggbb`.
        into: the group to draw in.
        attributes: more for each fill, such as `shape_rendering`.
    """
    for letter, d in shapes.items():
        canvas.path(d, into, fill=colours[letter], class_=f"yarn-{letter.lower()}", **attributes)
        if letter in canvas.marls:
            canvas.path(d, into, fill=_twist(canvas, letter, colours))
    over = canvas.overlay(into)
    for letter, d in shapes.items():
        canvas.path(d, over, fill=hatch(canvas, letter))


def chips(canvas: Canvas, patches: Mapping[str, list[str]], colours: Mapping[str, str]) -> None:
    """Small patches of yarn beside labels, each with a line around it."""
    yarns(canvas, {letter: "".join(parts) for letter, parts in patches.items()}, colours)
    canvas.stroke("".join(part for parts in patches.values() for part in parts), width=0.6)
