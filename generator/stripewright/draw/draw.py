"""Every drawing of a pattern."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from stripewright.draw.assembly import assembly
from stripewright.draw.finished.view import finished
from stripewright.draw.schematic import schematic
from stripewright.draw.strip import strip
from stripewright.figures import METRIC

if TYPE_CHECKING:
    from collections.abc import Mapping

    from stripewright.compute.worked import WorkedPattern
    from stripewright.draw.drawing import Drawing
    from stripewright.figures import Figures
    from stripewright.words.written import PatternText


@dataclass(frozen=True, slots=True)
class Drawings:
    """All drawings of a pattern."""

    finished: Drawing
    """What it looks like made up: the card and the share picture."""
    strip: Drawing
    """The order of colours as a thin bar."""
    assembly: Drawing | None
    """How the pieces go together; None for a single piece with nothing to join."""
    schematics: Mapping[str, Drawing]
    """By piece key."""
    colourways: Mapping[str, tuple[Drawing, Drawing]] = field(default_factory=dict)
    """By the colourway's key: what it looks like, and the order of its colours."""
    sizes: Mapping[str, Drawings] = field(default_factory=dict)
    """By the key of a further size: all of its own."""

    def everything(self) -> tuple[Drawing, ...]:
        """All of them, in the order of a page."""
        more = (self.assembly,) if self.assembly else ()
        ways = (one for pair in self.colourways.values() for one in pair)
        sizes = (one for size in self.sizes.values() for one in size.everything())
        return (self.finished, self.strip, *more, *self.schematics.values(), *ways, *sizes)


def draw_all(
    worked: WorkedPattern,
    written: PatternText | None = None,
    *,
    prefix: str,
    hatched: bool = False,
    figures: Figures = METRIC,
) -> Drawings:
    """Draw a pattern.

    Args:
        worked: its numbers; for a paid pattern's public page, those of equal bands.
        written: its words, for the numbers of the steps; None for a public view.
        prefix: what the drawings' names and ids begin with, unique in the site: the slug.
        hatched: show hatches, for black-and-white print.
        figures: how sizes are told.
    """
    events = written.events if written else {}
    done, lying = _finished_and_strip(worked, prefix, hatched=hatched)
    return Drawings(
        finished=done,
        strip=lying,
        assembly=assembly(worked, written, prefix=prefix, hatched=hatched),
        schematics={
            piece.key: schematic(
                worked,
                piece.key,
                prefix=prefix,
                hatched=hatched,
                figures=figures,
                events=events.get(piece.key, ()),
            )
            for piece in worked.pieces
        },
        colourways={
            one.key: _finished_and_strip(one.worked, f"{prefix}-way-{one.key}", hatched=hatched)
            for one in worked.colourways
        },
        sizes=_of_sizes(worked, written, prefix, hatched=hatched, figures=figures),
    )


def _finished_and_strip(
    worked: WorkedPattern, prefix: str, *, hatched: bool
) -> tuple[Drawing, Drawing]:
    return (
        finished(worked, prefix=prefix, hatched=hatched),
        strip(worked, prefix=prefix, hatched=hatched),
    )


def _of_sizes(
    worked: WorkedPattern,
    written: PatternText | None,
    prefix: str,
    *,
    hatched: bool,
    figures: Figures,
) -> dict[str, Drawings]:
    return {
        one.key: draw_all(
            one.worked,
            written.sizes.get(one.key) if written else None,
            prefix=f"{prefix}-{one.key}",
            hatched=hatched,
            figures=figures,
        )
        for one in worked.sizes
        if not one.worked.nominal
    }
