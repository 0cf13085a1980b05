"""Where values stand: a text's lines, the nodes composed of it, and the places in them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from yaml import Node

from stripewright.problems import Place

if TYPE_CHECKING:
    from collections.abc import Iterator

Path = tuple[str | int, ...]
"""Where a value stands in the front matter: ("pieces", "cover", "stripes", 0)."""


class SourceLines:
    """A text's lines as they stand in the file, split when a place is first asked for."""

    __slots__ = ("_file", "_first", "_lines", "text")

    def __init__(self, text: str, file: str, first: int) -> None:
        """Lines of a file.

        Args:
            text: a part of the file.
            file: the file's name.
            first: the 1-based line of the file that the text begins on.
        """
        self.text = text
        self._file = file
        self._first = first
        self._lines: list[str] | None = None

    def all(self) -> list[str]:
        """The lines, without their ends."""
        if self._lines is None:
            self._lines = self.text.split("\n")
        return self._lines

    def place(self, line: int, column: int) -> Place:
        """The place of a 0-based line and column, held within the text.

        YAML's parser puts what is missing at the end behind the last line, and a mended line
        can be longer than the one in the file.
        """
        lines = self.all()
        if line >= len(lines):
            line, column = len(lines) - 1, len(lines[-1])
        return Place(self._file, self._first + line, min(column, len(lines[line])) + 1)


class AliasNode(Node):
    """An alias where it stands; its value is the node that it repeats."""


def behind(node: Node) -> Node:
    """The node that an alias repeats, or the node itself."""
    while type(node) is AliasNode:
        node = node.value
    return node


def entry(node: Node, step: str | int) -> tuple[Node | None, Node] | None:
    """The key and value, or the entry of a list, one step into a node; None where there is none."""
    held = behind(node).value
    if isinstance(held, dict) and isinstance(step, str):
        return held.get(step)
    if isinstance(held, list) and isinstance(step, int) and 0 <= step < len(held):
        return None, held[step]
    return None


@dataclass(frozen=True, slots=True)
class Tree:
    """What could be read, where it stands, and whether that is all of it.

    Attributes:
        front: the values.
        root: the node of all of them, as `Values` leaves it; None where there is none.
        lines: the text as it stands in the file.
        whole: whether all of it could be read.
        mended: whether a slip was mended: then the nodes' marks are in another text.
    """

    front: dict[str, Any]
    root: Node | None
    lines: SourceLines
    whole: bool
    mended: bool = False

    def place(self, path: Path) -> Place:
        """The place of a value, or of the nearest value around it."""
        nodes = [node for _, node in self.along(path)]
        mark = nodes[-1].start_mark if nodes else None
        return self.lines.place(mark.line, mark.column) if mark else self.lines.place(0, 0)

    def key_place(self, path: Path) -> Place:
        """The place of a value's key, or of the nearest value around it."""
        steps = list(self.along(path))
        key = steps[-1][0] if len(steps) == len(path) + 1 else None
        if key is None:
            return self.place(path)
        return self.lines.place(key.start_mark.line, key.start_mark.column)

    def along(self, path: Path) -> Iterator[tuple[Node | None, Node]]:
        """The key's node and the value's at each step of a path, as far as it leads."""
        at: tuple[Node | None, Node] | None = (None, self.root) if self.root else None
        for step in path:
            if at is None:
                return
            yield at
            at = entry(at[1], step)
        if at is not None:
            yield at
