"""A source file taken apart: front matter as plain values with their places, and the body."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from stripewright.problems import Place

if TYPE_CHECKING:
    from collections.abc import Mapping

Path = tuple[str | int, ...]
"""Where a value stands in the front matter: ("pieces", "cover", "stripes", 0)."""


@dataclass(frozen=True, slots=True)
class Document:
    """A file's front matter and body.

    Attributes:
        file: its name in problems, relative to the studio.
        front: the front matter: mappings, lists, text, numbers, true, false and None.
        places: the place of each value.
        body: the Markdown under the front matter.
        body_line: the 1-based line that the body starts on.
        key_places: the place of each key that leads to a value.
        whole: whether all of the front matter could be read; if not, a missing key is no news.
    """

    file: str
    front: Mapping[str, Any]
    places: Mapping[Path, Place] = field(repr=False)
    body: str = ""
    body_line: int = 1
    key_places: Mapping[Path, Place] = field(default_factory=dict, repr=False)
    whole: bool = True

    def place(self, *path: str | int) -> Place:
        """The place of a value, or of the nearest value around it that has one."""
        return self._nearest(self.places, path)

    def key_place(self, *path: str | int) -> Place:
        """The place of a value's key, or of the nearest thing around it that has a place."""
        if path in self.key_places:
            return self.key_places[path]
        return self._nearest(self.places, path)

    def _nearest(self, places: Mapping[Path, Place], path: Path) -> Place:
        for end in range(len(path), -1, -1):
            if path[:end] in places:
                return places[path[:end]]
        return Place(self.file, 1, 1)
