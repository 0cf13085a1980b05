"""Places of values, kept small while reading and spelt out only when a problem asks for one."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TypeAlias

from stripewright.problems import Place
from stripewright.source.document import Path

Spot: TypeAlias = tuple[int, int, "dict[str, Spot] | list[Spot] | None", int, int]
"""A value's line and column, what it holds, and its key's line and column; all 0-based.

A value that isn't a mapping's has no key: then the key's line is -1.
"""


class Places(Mapping[Path, Place]):
    """The places of a tree of spots, by path. Nothing is built before it is asked for."""

    __slots__ = ("_file", "_first_line", "_keys", "_lines", "_root")

    def __init__(
        self,
        file: str,
        root: Spot,
        first_line: int = 1,
        *,
        keys: bool = False,
        lines: Sequence[str] | None = None,
    ) -> None:
        """A view on a tree of spots.

        Args:
            file: the file's name.
            root: the outermost value's spot.
            first_line: the 1-based line of the file that the tree's line 0 is.
            keys: whether to give keys' places instead of values'.
            lines: the lines as they stand in the file, when the tree was read from mended ones.
        """
        self._file = file
        self._root = root
        self._first_line = first_line
        self._keys = keys
        self._lines = lines

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
        if self._lines is not None:
            line = min(line, len(self._lines) - 1)
            column = min(column, len(self._lines[line]))
        return Place(self._file, self._first_line + line, column + 1)

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
