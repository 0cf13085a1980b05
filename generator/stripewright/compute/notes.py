"""Where the computation writes down what is wrong, with its place."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stripewright.catalogue import say
from stripewright.figures import METRIC, Figures
from stripewright.problems import Problem, error, has_errors, warning

if TYPE_CHECKING:
    from stripewright.problems import Place
    from stripewright.source.document import Document
    from stripewright.source.places import Path


class Notes:
    """The problems found in one pattern.

    Args:
        document: where the author wrote it.
        size: the key of the further size that is being worked, if one is; its problems are told
            at what that size says of the value, or at its key where it says nothing of it.
        figures: how lengths are told.
    """

    def __init__(
        self, document: Document, size: str | None = None, figures: Figures = METRIC
    ) -> None:
        self.document = document
        self.size = size
        self.figures = figures
        self.problems: list[Problem] = []
        self._messages: list[str] = []

    def error(self, path: Path, message: str, hint: str = "") -> None:
        """Note what stops publishing, at the value that `path` leads to."""
        self.problems.append(error(self._place(path), self._named(path, message), hint))

    def warning(self, path: Path, message: str, hint: str = "") -> None:
        """Note what the author should look at, at the value that `path` leads to."""
        self.problems.append(warning(self._place(path), self._named(path, message), hint))

    @property
    def failed(self) -> bool:
        """Whether an error was noted."""
        return has_errors(self.problems)

    def beyond(self, others: Notes) -> list[Problem]:
        """A size's problems that aren't noted in `others`, the base's, word for word."""
        told = {problem.message for problem in others.problems}
        return [
            problem
            for problem, message in zip(self.problems, self._messages, strict=True)
            if message not in told
        ]

    def _place(self, path: Path) -> Place:
        """The place of a value; an entry as a whole, like a piece, is placed at its key."""
        if self.size is not None:
            return self._in_size(path, self.size)
        return self.document.key_place(*path) if len(path) <= 2 else self.document.place(*path)

    def _in_size(self, path: Path, size: str) -> Place:
        """The place of what a size says of a value, as near to it as it says anything."""
        own = path if path[:1] == ("sizes",) else ("sizes", size, *path)
        while len(own) > 2 and not self._said(own):
            own = own[:-1]
        if own[2:] == ("pieces",):  # of other pieces alone
            own = own[:2]
        return self.document.key_place(*own)

    def _said(self, path: Path) -> bool:
        """Whether the author wrote a value at a path."""
        tree = self.document.tree
        return tree is not None and len(list(tree.along(path))) == len(path) + 1

    def _named(self, path: Path, message: str) -> str:
        self._messages.append(message)
        if self.size is None:
            return message
        piece = f"{path[1]}: " if path[0] == "pieces" else ""
        return say("size {size}: {piece}{message}", self.size, piece, message)
