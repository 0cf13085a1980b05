"""Colours of what is not yarn.

Every shape has its real colour as well as a class, so that a drawing is right on its own, in
print, and in a page whose style sheet recolours it by class:

    ink, muted, paper               fills: text and marks, lesser ones, plates behind text
    ink-line, muted-line, paper-line    the same as strokes
    yarn-a, yarn-b, ...             fills of the yarns, by letter
    yarn-a-line, ...                strokes of the yarns (fringe)
    hatch                           overlays that are hidden until hatches are wanted
"""

from __future__ import annotations

from functools import lru_cache

INK = "#22252a"
MUTED = "#5f6670"
PAPER = "#ffffff"


@lru_cache(maxsize=256)
def mixed(first: str, second: str, share: float) -> str:
    """A colour with `share` of the second mixed into the first, channel by channel."""
    pairs = ((int(first[i : i + 2], 16), int(second[i : i + 2], 16)) for i in (1, 3, 5))
    return "#" + "".join(f"{round(a + (b - a) * share):02x}" for a, b in pairs)
