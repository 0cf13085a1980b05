"""A source file taken apart: front matter as plain values with their places, and the body."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from stripewright.problems import Place

if TYPE_CHECKING:
    from collections.abc import Mapping

    from stripewright.source.places import Tree


@dataclass(frozen=True, slots=True)
class Document:
    """A file's front matter and body.

    Attributes:
        file: its name in problems, relative to the studio.
        front: the front matter: mappings, lists, text, numbers, true, false and None.
        tree: where each value stands; None when nothing could be read.
        body: the Markdown under the front matter.
        body_line: the 1-based line that the body starts on.
        tables: the studio's tables that its front matter may be made with, by name.
        whole: whether all of the front matter could be read; if not, a missing key is no news.
    """

    file: str
    front: Mapping[str, Any]
    tree: Tree | None = field(default=None, repr=False)
    body: str = ""
    body_line: int = 1
    whole: bool = True
    tables: Mapping[str, bytes] = field(default_factory=dict, repr=False)

    def place(self, *path: str | int) -> Place:
        """The place of a value, or of the nearest value around it that has one."""
        return self.tree.place(path) if self.tree else Place(self.file, 1, 1)

    def key_place(self, *path: str | int) -> Place:
        """The place of a value's key, or of the nearest value around it that has a place."""
        return self.tree.key_place(path) if self.tree else Place(self.file, 1, 1)
