"""One type for everything that can be wrong in a studio, and how a list of it is shown.

A stage collects problems and hands them on beside its result; it never raises for an author's
mistake. Exceptions are for bugs and for the operating system.
"""

from __future__ import annotations

from collections.abc import Set as AbstractSet
from dataclasses import dataclass
from difflib import get_close_matches
from enum import StrEnum
from typing import TYPE_CHECKING

from stripewright.catalogue import _, say, tell

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence


_MOST_NAMED = 60
"""Names that a hint lists."""


class Severity(StrEnum):
    """How much a problem weighs: an error stops publishing, a warning does not."""

    ERROR = "error"
    WARNING = "warning"


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """A place in a source file. `line` and `column` are 1-based; 0 means the whole file."""

    file: str
    line: int = 0
    column: int = 0

    def __str__(self) -> str:
        """`file:line`, the form that editors turn into a link."""
        return f"{self.file}:{self.line}" if self.line else self.file


@dataclass(frozen=True, slots=True, order=True)
class Problem:
    """Something wrong, where it is, and what would be right.

    Attributes:
        place: the file (relative to the studio), line and column.
        severity: error or warning.
        message: what is wrong, one sentence without a full stop.
        hint: what would be right, with an example where one helps; may be empty.
    """

    place: Place
    severity: Severity
    message: str
    hint: str = ""

    def __str__(self) -> str:
        """`file:line: error: message`, with the hint indented on a second line."""
        severity = _("error") if self.severity is Severity.ERROR else _("warning")
        head = f"{self.place}: {severity}: {tell(self.message)}"
        return f"{head}\n    {tell(self.hint)}" if self.hint else head

    def as_json(self) -> dict[str, str | int]:
        """The problem as one flat JSON object."""
        return {
            "file": self.place.file,
            "line": self.place.line,
            "column": self.place.column,
            "severity": str(self.severity),
            "message": tell(self.message),
            "hint": tell(self.hint),
        }


def error(place: Place, message: str, hint: str = "") -> Problem:
    """A problem that stops publishing."""
    return Problem(place, Severity.ERROR, message, hint)


def warning(place: Place, message: str, hint: str = "") -> Problem:
    """A problem that the author should look at, but may leave."""
    return Problem(place, Severity.WARNING, message, hint)


def has_errors(problems: Iterable[Problem]) -> bool:
    """Whether any of the problems is an error."""
    return any(problem.severity is Severity.ERROR for problem in problems)


def in_order(problems: Iterable[Problem]) -> list[Problem]:
    """The problems by file, line and column, each told once."""
    return sorted(set(problems))


def did_you_mean(name: str, known: Iterable[str], otherwise: str = "", cutoff: float = 0.6) -> str:
    """A hint that names the known name most like one that isn't known.

    Args:
        name: what was written.
        known: what could have been; of two that are as like, the later in order is named.
        otherwise: the hint when none is like it.
        cutoff: how like it must be, 0 to 1, as `difflib` counts.
    """
    near = get_close_matches(name, list(known), n=1, cutoff=cutoff)
    return say("did you mean {name}?", near[0]) if near else otherwise


def nearest(name: str, known: Iterable[str]) -> str:
    """A hint that names the nearest known name, else all of them, while they are few.

    They are told in the order given; what has none is sorted.
    """
    names = sorted(known) if isinstance(known, AbstractSet) else list(known)
    few = 0 < len(names) <= _MOST_NAMED
    return did_you_mean(name, names, say("there are {names}", ", ".join(names)) if few else "")


class Refused(Exception):
    """A command can't go on; carries every problem found, not only the first."""

    def __init__(self, problems: Sequence[Problem]) -> None:
        super().__init__(problems)
        self.problems = tuple(problems)

    def __str__(self) -> str:
        """Each problem as it is printed."""
        return "\n".join(map(str, self.problems))
