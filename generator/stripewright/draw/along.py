"""Stripes along a length: whose they are, and which yarn lies from where to where."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping

    from stripewright.compute.worked import WorkedPattern
    from stripewright.compute.worked_piece import WorkedPiece

Band = tuple[str, float, float]
"""Letter, first and last place along the visible length, 0 to 1 from the cast-on end."""


def main_piece(worked: WorkedPattern) -> WorkedPiece:
    """The piece that shows most: no lining, and of the others the one with most to see."""
    outer = [piece for piece in worked.pieces if piece.lining_of is None] or list(worked.pieces)
    return max(outer, key=lambda p: (len(p.yarns) > 1, p.flat_width_cm * p.finished_length_cm))


def stripes(piece: WorkedPiece) -> list[Band]:
    """The visible stripes of a piece."""
    total = piece.visible_rows or 1
    found, done = [], 0
    for line in piece.plan:
        if (rows := line.visible) > 0:
            found.append((line.letter, done / total, (done + rows) / total))
            done += rows
    return found


def between(found: Iterable[Band], start: float, end: float) -> list[Band]:
    """The stripes from one place to another, told as 0 to 1 of that part."""
    length = end - start
    return [
        (letter, (max(a, start) - start) / length, (min(b, end) - start) / length)
        for letter, a, b in found
        if b > start and a < end
    ]


def turned(found: Iterable[Band]) -> list[Band]:
    """The stripes from the other end."""
    return [(letter, 1 - b, 1 - a) for letter, a, b in reversed(list(found))]


def bands(found: Iterable[Band], shape: Callable[[float, float], str]) -> dict[str, str]:
    """Path data of each letter's bands, each band drawn by `shape(from, to)`."""
    drawn: dict[str, list[str]] = {}
    for letter, a, b in found:
        drawn.setdefault(letter, []).append(shape(a, b))
    return joined_paths(drawn)


def joined_paths(drawn: Mapping[str, list[str]]) -> dict[str, str]:
    """Path data of each letter, in one."""
    return {letter: "".join(parts) for letter, parts in drawn.items()}
