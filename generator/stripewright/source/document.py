"""A source file taken apart: front matter as plain values with their places, and the body."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from stripewright.problems import Place

Path = tuple[str | int, ...]
"""Where a value stands in the front matter: ("pieces", "cover", "stripes", 0)."""


@dataclass(frozen=True, slots=True)
class Document:
    """A file's front matter and body. `body_line` is the 1-based line that the body starts on."""

    file: str
    front: Mapping[str, Any]
    places: Mapping[Path, Place] = field(repr=False)
    body: str = ""
    body_line: int = 1

    def place(self, *path: str | int) -> Place:
        """The place of a value, or of the nearest value around it that has one."""
        for end in range(len(path), -1, -1):
            if path[:end] in self.places:
                return self.places[path[:end]]
        return Place(self.file, 1, 1)
