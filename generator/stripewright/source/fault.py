"""Where YAML's parser stopped, and the slip of the hand that stopped it."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence


@dataclass(frozen=True, slots=True)
class Fault:
    """Where the parser stopped, in 0-based lines and columns, and what it says."""

    line: int
    column: int
    message: str
    start: int
    """The line that the unfinished thing began on."""


@dataclass(frozen=True, slots=True)
class Slip:
    """A slip, 0-based place, and the line as it should be."""

    line: int
    column: int
    message: str
    hint: str
    mended: str


@dataclass(frozen=True, slots=True)
class Suspect:
    """A line to look at, its 0-based number, where the parser stopped, and all lines."""

    line: str
    number: int
    fault: Fault
    lines: Sequence[str] = ()
    mended: Mapping[int, str] = field(default_factory=dict)
    """Lines that were mended before, as they were."""
