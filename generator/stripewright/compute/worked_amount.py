"""What stripes take of the yarn that they were given."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class WorkedAmount:
    """A stripe given by its yarn: what there is, and what it takes, in m of all its strands."""

    piece: str
    line: int
    """Its stripe of the plan, from 0."""
    yarn: str
    text: str
    """As written: 23 g, 12 m, all."""
    rows: int
    """Visible rows."""
    given_m: float
    used_m: float
    """With its tails; of `all`, what the whole pattern takes of the yarn."""
    metres_per_gram: float | None
    by_mass: bool

    @property
    def left_m(self) -> float:
        """What is left of it, in m."""
        return max(self.given_m - self.used_m, 0.0)
