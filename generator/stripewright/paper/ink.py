"""Letters that can be read on a yarn's colour."""

from __future__ import annotations

DARK, LIGHT = "#16181b", "#ffffff"


def luminance(colour: str) -> float:
    """Relative luminance of `#rrggbb`, 0 to 1: WCAG 2.2, W3C."""
    red, green, blue = (int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5))

    def linear(part: float) -> float:
        return part / 12.92 if part <= 0.04045 else float(((part + 0.055) / 1.055) ** 2.4)

    return 0.2126 * linear(red) + 0.7152 * linear(green) + 0.0722 * linear(blue)


def contrast(first: str, second: str) -> float:
    """Contrast ratio of two colours, 1 to 21: WCAG 2.2, W3C."""
    low, high = sorted((luminance(first), luminance(second)))
    return (high + 0.05) / (low + 0.05)


def letter_on(colour: str) -> str:
    """The better of dark and light on a colour."""
    return max((DARK, LIGHT), key=lambda ink: contrast(ink, colour))
