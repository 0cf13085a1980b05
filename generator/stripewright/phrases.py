"""A figure told once, with its exact value, and words with such figures in them."""

from __future__ import annotations

from dataclasses import dataclass
from string import Formatter


def capital(text: str) -> str:
    """A text as it begins a sentence or a heading."""
    return text[:1].upper() + text[1:]


@dataclass(frozen=True, slots=True)
class Measure:
    """A figure told once: its exact value in `unit` (cm, m or g), and its text in both systems."""

    unit: str
    value: float
    text: str

    @property
    def own(self) -> str:
        """Its text in the studio's own units alone."""
        return self.text.partition(" (")[0]

    def __str__(self) -> str:
        return self.text


@dataclass(frozen=True, slots=True, init=False)
class Phrase:
    """A few words with measures in them."""

    parts: tuple[str | Measure, ...]

    def __init__(self, *parts: str | Measure) -> None:
        object.__setattr__(self, "parts", parts)

    def __str__(self) -> str:
        return "".join(map(str, self.parts))


def phrase(message: str, **parts: str | Measure | Phrase) -> Phrase:
    """A message, in the locale spoken and not filled in, with measures in its fields."""
    told: list[str | Measure] = []
    for text, name, _spec, _conversion in Formatter().parse(message):
        told.append(text)
        if name is not None:
            one = parts[name]
            told += one.parts if isinstance(one, Phrase) else (one,)
    return Phrase(*(one for one in told if one))
