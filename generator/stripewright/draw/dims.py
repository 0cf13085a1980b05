"""Dimension lines: ends marked, words beside them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stripewright.draw.figures import unit

if TYPE_CHECKING:
    from stripewright.draw.canvas import Canvas, Element


def level(canvas: Canvas, x1: float, x2: float, y: float) -> None:
    """A dimension line from x1 to x2."""
    a, b, h = unit(x1), unit(x2), unit(y)
    canvas.stroke(f"M{a} {unit(y - 4)}v8M{b} {unit(y - 4)}v8M{a} {h}H{b}", ink="muted")


def upright(canvas: Canvas, x: float, y1: float, y2: float) -> None:
    """A dimension line from y1 down to y2."""
    a, b, v = unit(y1), unit(y2), unit(x)
    canvas.stroke(f"M{unit(x - 4)} {a}h8M{unit(x - 4)} {b}h8M{v} {a}V{b}", ink="muted")


def upright_words(canvas: Canvas, words: str, x: float, y: float, into: Element) -> None:
    """Words read upward, with their base line at x and their middle at y."""
    canvas.text(
        words, x, y, into, text_anchor="middle", transform=f"rotate(-90 {unit(x)} {unit(y)})"
    )
