"""Coordinates as drawings write them: rounded here and nowhere else."""

from __future__ import annotations

from functools import lru_cache


@lru_cache(maxsize=1 << 14)
def unit(value: float) -> str:
    """A coordinate: two decimals at most, no trailing zeros, no minus before a zero."""
    text = f"{value:.2f}"
    if text[-1] == "0":
        text = text[:-3] if text[-2] == "0" else text[:-1]
        return "0" if text == "-0" else text
    return text


def path(*parts: str | float) -> str:
    """Path data from commands and coordinates: `path("M", 1, 2, "h", 3)`."""
    return "".join([part if isinstance(part, str) else f" {unit(part)}" for part in parts])
