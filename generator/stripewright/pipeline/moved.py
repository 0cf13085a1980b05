"""Addresses that pages had before: each goes on leading to where the page is now."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stripewright.catalogue import say
from stripewright.pattern.kinds import BY_FOLDER
from stripewright.problems import Place, Problem, error

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from stripewright.source.document import Document


@dataclass(frozen=True, slots=True)
class Moved:
    """A page's earlier address."""

    kind: str
    """Its folder in content."""
    old: str
    """The slug that it had."""
    slug: str
    """The slug that it has."""
    title: str
    place: Place
    """Where the earlier one is written."""

    @property
    def path(self) -> str:
        """The earlier page, from the site's root."""
        return BY_FOLDER[self.kind].path(self.old)

    @property
    def to(self) -> str:
        """The page as it is now."""
        return BY_FOLDER[self.kind].path(self.slug)


def moved_from(
    formerly: Sequence[str], document: Document, kind: str, slug: str, title: str
) -> tuple[Moved, ...]:
    """The earlier addresses that a file names."""
    return tuple(
        Moved(kind, old, slug, title, document.place("formerly", number))
        for number, old in enumerate(formerly)
    )


def check_moved(moved: Iterable[Moved], taken: Mapping[str, str]) -> list[Problem]:
    """Earlier addresses that can't lead on.

    Args:
        moved: all of them.
        taken: path of each page -> the name of the file that it is made from.
    """
    problems: list[Problem] = []
    first: dict[str, Moved] = {}
    for one in moved:
        other = first.setdefault(one.path, one)
        if one.old == one.slug:
            what = say("{old} is the address that it has now", one.old)
            problems.append(error(one.place, what, "name only those that it had before"))
        elif one.path in taken:
            what = say(
                "{old} is the address of another page: that of {taken}", one.old, taken[one.path]
            )
            problems.append(error(one.place, what, "take it out here, or give that page another"))
        elif other is not one:
            what = say("{old} is also named by {place}", one.old, other.place)
            problems.append(error(one.place, what, "keep it in one of the two"))
    return problems
