"""Places of values, kept small while reading and spelt out only when a problem asks for one."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TypeAlias

from stripewright.problems import Place
from stripewright.source.document import Path

Spot: TypeAlias = tuple[int, int, "dict[str, Spot] | list[Spot] | None", int, int]
"""A value's line and column, what it holds, and its key's line and column; all 0-based.

A value that isn't a mapping's has no key: then the key's line is -1.
"""


class Lines:
    """A text's lines as they stand in the file, split when a place is first asked for."""

    __slots__ = ("_file", "_first", "_lines", "_text")

    def __init__(self, text: str, file: str, first: int) -> None:
        """Lines of a file.

        Args:
            text: a part of the file.
            file: the file's name.
            first: the 1-based line of the file that the text begins on.
        """
        self._text = text
        self._file = file
        self._first = first
        self._lines: list[str] | None = None

    def all(self) -> list[str]:
        """The lines, without their ends."""
        if self._lines is None:
            self._lines = self._text.split("\n")
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


class Places(Mapping[Path, Place]):
    """The places of a tree of spots, by path. Nothing is built before it is asked for."""

    __slots__ = ("_keys", "_lines", "_root")

    def __init__(self, root: Spot, lines: Lines, *, keys: bool = False) -> None:
        """A view on a tree of spots.

        Args:
            root: the outermost value's spot.
            lines: the lines that the spots are in.
            keys: whether to give keys' places instead of values'.
        """
        self._root = root
        self._lines = lines
        self._keys = keys

    def __getitem__(self, path: Path) -> Place:
        spot = self._root
        for step in path:
            inner = spot[2]
            if isinstance(inner, dict) and isinstance(step, str):
                spot = inner[step]
                continue
            if not isinstance(inner, list) or not isinstance(step, int):
                raise KeyError(path)
            if not 0 <= step < len(inner):
                raise KeyError(path)
            spot = inner[step]
        return self._place(spot, path)

    def _place(self, spot: Spot, path: Path) -> Place:
        line, column = (spot[3], spot[4]) if self._keys else (spot[0], spot[1])
        if line < 0:
            raise KeyError(path)
        return self._lines.place(line, column)

    def __iter__(self) -> Iterator[Path]:
        stack: list[tuple[Path, Spot]] = [((), self._root)]
        while stack:
            path, spot = stack.pop()
            if not self._keys or spot[3] >= 0:
                yield path
            inner = spot[2]
            if isinstance(inner, dict):
                stack.extend(((*path, key), child) for key, child in reversed(inner.items()))
            elif isinstance(inner, list):
                stack.extend(((*path, n), inner[n]) for n in reversed(range(len(inner))))

    def __len__(self) -> int:
        return sum(1 for _ in self)
