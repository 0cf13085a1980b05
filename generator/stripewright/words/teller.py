"""Tells steps one after another: numbers them, and gives every text what it may name."""

from __future__ import annotations

from itertools import count
from typing import TYPE_CHECKING

from stripewright.catalogue import _
from stripewright.figures import Figures
from stripewright.words.namespace import namespace
from stripewright.words.techniques import Techniques
from stripewright.words.written import Step

if TYPE_CHECKING:
    from collections.abc import Mapping

    from stripewright.compute.worked import WorkedPattern
    from stripewright.compute.worked_piece import PlanLine
    from stripewright.pattern.settings import Settings
    from stripewright.source.document import Document


class StepWriter:
    """Tells the steps of one pattern, in the order it is asked for them."""

    def __init__(self, worked: WorkedPattern, document: Document, settings: Settings) -> None:
        self.worked = worked
        self.document = document
        self.figures = Figures.of(settings)
        self.techniques = Techniques(worked, document, settings)
        self.yarn_names = {yarn.key: yarn.name for yarn in worked.yarns}
        self._numbers = count(1)
        us = settings.terms == "us"
        self._known = namespace(worked, self.figures) | {
            "us": us,
            "cast_off": _("cast off"),
            "colour": _("colour"),
            "waste_rows": worked.pattern.waste.rows,
        }

    def step(
        self,
        technique: str,
        key: str,
        facts: Mapping[str, object],
        *,
        pieces: tuple[str, ...] = (),
        line: PlanLine | None = None,
        note: str = "",
        change: str | None = None,
    ) -> Step:
        """One step, with the next number.

        Args:
            technique: how it is done.
            key: names it in the pattern.
            facts: what its text may name, beside what every text may.
            pieces: what it is done to.
            line: the stripe that it knits, if it knits one.
            note: the author's own words, added at the end.
            change: what the change before the stripe is like, as `Step` has it.
        """
        everything = {**self._known, **facts}
        title, text = self.techniques.told(technique, everything)
        return Step(
            number=next(self._numbers),
            key=key,
            title=title,
            text=f"{text} {note}".strip(),
            piece=pieces[0] if len(pieces) == 1 else None,
            pieces=pieces if len(pieces) > 1 else (),
            technique=technique,
            letter=line.letter if line else None,
            first=line.first if line else None,
            last=line.last if line else None,
            change=change,
        )

    def told(self, technique: str, facts: Mapping[str, object]) -> tuple[str, str]:
        """What a technique is called, and its words alone."""
        return self.techniques.told(technique, {**self._known, **facts})

    def tail(self, key: str) -> str:
        """A tail's length: `PIECE.first`, `PIECE.last`, `PIECE.side`, else the one at a change."""
        tails = self.worked.tails_cm
        inside = tails.get("inside", self.worked.pattern.tails.inside)
        return self.figures.cut(tails.get(key, inside))
