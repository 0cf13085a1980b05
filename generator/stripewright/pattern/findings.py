"""What a check across a pattern's parts finds, and how it names what would be right."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from stripewright.catalogue import say
from stripewright.problems import Severity, did_you_mean

if TYPE_CHECKING:
    from collections.abc import Iterable

    from stripewright.source.places import Path


class Finding(NamedTuple):
    """Something wrong, by its path in the front matter."""

    path: Path
    message: str
    hint: str
    key: bool = False
    """Whether it stands at the key rather than at the value."""
    severity: Severity = Severity.ERROR


def near(name: str, known: Iterable[str]) -> str:
    """A hint for a name that isn't there: the nearest one that is, or all of them."""
    names = list(known)
    return did_you_mean(name, names, say("there are {names}", ", ".join(names)))
