"""How much room a text takes, without a font file.

Drawings are set in whatever sans-serif the reader has. Widths here are those of a wide face, in
hundredths of an em, so that a box reckoned with them is never too small.
"""

from __future__ import annotations

from functools import lru_cache

FONTS = "system-ui, sans-serif"
"""Generic families only: a drawing carries no font and fetches none."""

_UNKNOWN = 110
"""Any character not listed: as wide as the widest scripts set."""

_PLAIN = {
    32: " ,.·",
    36: "'-/:;\\|ijlI",
    42: "()[]!tfJr",
    54: '?sz"',
    62: "acekovxyF*_`–L",
    65: "$0123456789{}ETYPSbdghnpqu",
    70: "ABCKRVXZ",
    79: "DGHNOQU&",
    87: "M#+<=>^~×→w",
    102: "mW@%…—¼½¾⅛⅜⅝⅞",
}
_BOLD = {
    41: " ,.·ijlI'|:;",
    50: "-/()[]!J\\tfr",
    62: '?"*_`–csz',
    70: "aekovxyFLET",
    74: "$0123456789{}bdghnpquSYCPZ",
    78: "ABKRVX",
    88: "DGHNUOQ&#+<=>^~×→",
    94: "w",
    106: "Mm¼½¾⅛⅜⅝⅞%@…—",
    112: "W",
}


def _table(groups: dict[int, str]) -> dict[str, int]:
    return {character: width for width, characters in groups.items() for character in characters}


_WIDTHS = {False: _table(_PLAIN), True: _table(_BOLD)}


@lru_cache(maxsize=4096)
def ems(text: str, *, bold: bool = False) -> float:
    """The width of a text in em, never less than what a reader's font takes."""
    widths = _WIDTHS[bold]
    return sum(widths.get(character, _UNKNOWN) for character in text) / 100


def fitted(text: str, room: float, size: float) -> str:
    """The text, or its beginning with an ellipsis, in `room` units at a font size."""
    if ems(text) * size <= room:
        return text
    while text and ems(text + "…") * size > room:
        text = text[:-1]
    return text.rstrip() + "…"


def wrapped(text: str, room: float, size: float) -> list[str]:
    """The text broken at spaces into lines of at most `room` units; long words are cut."""
    lines: list[str] = []
    for word in text.split():
        if lines and ems(f"{lines[-1]} {word}") * size <= room:
            lines[-1] = f"{lines[-1]} {word}"
        else:
            lines.append(fitted(word, room, size))
    return lines
