"""Corner marks: four squares, each different, that a camera can find and tell apart.

They are ArUco marks of the dictionary DICT_4X4_50 as OpenCV publishes it (modules/objdetect,
predefined dictionaries, ids 0 to 3): a black border one module wide around four by four modules,
1 for white. Method: Garrido-Jurado et al., "Automatic generation and detection of highly reliable
fiducial markers under occlusion", Pattern Recognition 47 (2014), 2280-2292.
"""

from __future__ import annotations

from typing import Any

BITS = (
    ("1011", "0101", "0011", "0010"),
    ("0000", "1111", "1001", "1010"),
    ("0011", "0011", "0010", "1101"),
    ("1001", "1001", "0100", "0110"),
)
"""The inside of marks 0 to 3, row by row from the top."""

SIDE_MM = 12.0
"""Outer side of a mark, its black border included."""
INSET_MM = 8.0
"""From the edge of the paper to the mark: printers leave up to 5 mm white."""
MODULE_MM = SIDE_MM / 6


def corner_marks(width_mm: float, height_mm: float) -> list[dict[str, Any]]:
    """The marks of a page, clockwise from the top left: id, place, and the white modules in it.

    Args:
        width_mm: of the paper.
        height_mm: of the paper.

    Returns:
        Each with `x` and `y` (its top left corner, mm from the page's) and `white`, the top left
        corners of its white modules, mm from its own.
    """
    right, bottom = width_mm - INSET_MM - SIDE_MM, height_mm - INSET_MM - SIDE_MM
    places = ((INSET_MM, INSET_MM), (right, INSET_MM), (right, bottom), (INSET_MM, bottom))
    return [
        {"id": number, "x": x, "y": y, "white": _white(BITS[number])}
        for number, (x, y) in enumerate(places)
    ]


def _white(bits: tuple[str, ...]) -> list[list[float]]:
    return [
        [MODULE_MM * (1 + column), MODULE_MM * (1 + row)]
        for row, line in enumerate(bits)
        for column, bit in enumerate(line)
        if bit == "1"
    ]
