"""Problems of values told by their path: what is being coloured stands in no file yet."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from stripewright.problems import Place
from stripewright.source.document import Document

if TYPE_CHECKING:
    from stripewright.source.places import Path


@dataclass(frozen=True)
class Coloured(Document):
    """A document whose values have no lines: each place is the number of a path, to be told by."""

    numbered: list[Path] = field(default_factory=lambda: [()])
    """The paths that were asked for; a place's line is the number of one, from 1."""

    def place(self, *path: str | int) -> Place:
        """The place of a value, or of the nearest value around it."""
        while not _is_there(self.front, path):
            path = path[:-1]
        if path not in self.numbered:
            self.numbered.append(path)
        return Place(self.file, self.numbered.index(path) + 1, 1)

    def key_place(self, *path: str | int) -> Place:
        """The same: a key is told by its value's path."""
        return self.place(*path)


def _is_there(value: Any, path: Path) -> bool:
    for step in path:
        inside = value if isinstance(value, dict) else {}
        if isinstance(value, list):
            inside = dict(enumerate(value))
        if step not in inside:
            return False
        value = inside[step]
    return True
