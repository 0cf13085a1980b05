"""Numbers as drawings show them. The one place where a drawing's coordinates are rounded."""

from __future__ import annotations

from stripewright.figures import decimal, eighths, rc


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


def cm(length: float) -> str:
    """A length in cm to the millimetre: `38.1 cm`."""
    return f"{decimal(length, 1)} cm"


def inches(length: float) -> str:
    """A length in cm, told in inches to the eighth: `15 in`, `5⅝ in`."""
    return f"{eighths(length)} in"


def size(length: float) -> str:
    """Both, as dimension lines carry them."""
    return f"{cm(length)} · {inches(length)}"


def reading(row: int) -> str:
    """A row counter's reading: `RC 014`."""
    return rc(row)


def counted(number: int, one: str, many: str = "") -> str:
    """A count with its noun: `1 row`, `12 rows`."""
    return f"{number} {one if number == 1 else many or one + 's'}"
