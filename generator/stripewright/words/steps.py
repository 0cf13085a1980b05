"""The plan of each piece as steps: set up, every stripe in order, take off."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import count

from stripewright.compute.worked import PlanLine, WorkedOpening, WorkedPattern, WorkedPiece
from stripewright.pattern.settings import Settings
from stripewright.words.techniques import Techniques
from stripewright.words.units import counter_text, length_text
from stripewright.words.written import Step, StepGroup

SWALLOWED_BY = {"seamed": "seam", "gathered": "gathering", "hemmed": "hem", "grafted": "join",
                "open": "edge"}  # fmt: skip
"""What takes the allowance rows up, by edge."""

TAIL_FOR = {"seamed": "sew this end", "gathered": "gather this end", "hemmed": "sew the hem",
            "grafted": "graft the ends", "open": "finish the edge"}  # fmt: skip
"""What a long tail at an end is for, by edge."""


def terms(settings: Settings) -> dict[str, object]:
    """The words that differ between UK and US terms."""
    us = settings.terms == "us"
    return {"us": us, "cast_off": "bind off" if us else "cast off",
            "colour": "color" if us else "colour"}  # fmt: skip


def piece_groups(
    worked: WorkedPattern, settings: Settings, techniques: Techniques, numbers: count[int],
    known: Mapping[str, object],
) -> Iterator[StepGroup]:  # fmt: skip
    """The steps of each piece, in the order they are knitted.

    Args:
        worked: the pattern.
        settings: the studio's (terms, units).
        techniques: how each thing is said.
        numbers: counts the steps of the whole pattern.
        known: what every text may name.
    """
    for piece in worked.pieces:
        yield _Knitting(worked, piece, settings, techniques, numbers, known).group()


class _Knitting:
    def __init__(
        self, worked: WorkedPattern, piece: WorkedPiece, settings: Settings,
        techniques: Techniques, numbers: count[int], known: Mapping[str, object],
    ) -> None:  # fmt: skip
        self.worked, self.piece, self.settings = worked, piece, settings
        self.techniques, self.numbers = techniques, numbers
        self.names = {yarn.key: yarn.name for yarn in worked.yarns}
        self.steps: list[Step] = []
        pattern = worked.pattern
        self.facts = {
            **known, **terms(settings), "piece": piece.title, "stitches": piece.stitches,
            "make": piece.make, "bed": pattern.machine.bed, "needles": pattern.machine.needles,
            "form": piece.form, "waste_rows": pattern.waste.rows,
        }  # fmt: skip

    def length(self, cm: float) -> str:
        return length_text(cm, self.settings.units)

    @property
    def short(self) -> str:
        tails = self.worked.tails_cm
        return self.length(tails.get("inside", self.worked.pattern.tails.inside))

    def group(self) -> StepGroup:
        piece = self.piece
        first, last = piece.plan[0], piece.plan[-1]
        self.add("set_up", "set-up", self.of(first))
        self.add("set_counter", "counter", {**self.of(first), **self.tail("first")})
        for number, line in enumerate(piece.plan, 1):
            self.marks(line)
            self.stripe(number, line)
        if piece.fold is not None and piece.fold == piece.worked_rows:
            self.fold(piece.fold)
        self.add("take_off", "take-off", {**self.of(last), **self.tail("last")})
        if piece.make > 1:
            self.add("again", "again", {})
        return StepGroup(piece.key, piece.title, tuple(self.steps))

    def of(self, line: PlanLine) -> dict[str, object]:
        return {
            "letter": line.letter, "yarn": self.names[line.yarn], "first": line.first,
            "last": line.last, "rows": line.rows, "until": counter_text(line.last),
        }  # fmt: skip

    def tail(self, which: str) -> dict[str, object]:
        """The tail at an end: long when something is sewn with it."""
        tails, key = self.worked.tails_cm, self.piece.key
        ends = {"first": self.piece.ends[0], "last": self.piece.ends[1]}
        own = tails.get(f"{key}.{which}")
        side = tails.get(f"{key}.side")
        if own is not None:
            edge = ends[which].edge
            closes = edge == "open" and self.piece.lining_of is not None
            tail_for = "close this end" if closes else TAIL_FOR[edge]
            return {"tail": self.length(own), "tail_for": tail_for}
        if side is not None and (which == "first" or f"{key}.first" in tails):
            return {"tail": self.length(side), "tail_for": "sew the side"}
        return {"tail": self.short, "tail_for": ""}

    def stripe(self, number: int, line: PlanLine) -> None:
        ends = self.piece.ends
        facts = {
            **self.of(line), "stripe": number, "tail": self.short,
            "where": "inside" if self.piece.form == "tube" else "at the edge",
            "before": line.allowance_before, "after": line.allowance_after,
            "swallowed_by": SWALLOWED_BY[ends[0].edge],
            "swallowed_after": SWALLOWED_BY[ends[1].edge],
        }  # fmt: skip
        self.add("stripe", str(number), facts, line)

    def marks(self, line: PlanLine) -> None:
        """What has to be known before a stripe is begun: openings and the fold."""
        for n, opening in enumerate(self.piece.openings, 1):
            if line.first <= opening.first <= line.last:
                self.opening(n, opening)
        fold = self.piece.fold
        if fold is not None and line.first <= fold + 1 <= line.last:
            self.fold(fold)

    def fold(self, fold: int) -> None:
        self.add("mark_fold", "fold", {"until": counter_text(fold)})

    def opening(self, number: int, opening: WorkedOpening) -> None:
        tube = self.piece.form == "tube"
        sides = {"left": "left", "right": "right", "both": "left and right"}[opening.side]
        where = f"on the {sides}" if tube else f"{sides} edge"
        facts: dict[str, object] = {
            "what": opening.what, "first": opening.first, "last": opening.last,
            "rows": opening.last - opening.first + 1, "where": where,
            "from_until": counter_text(opening.first - 1), "until": counter_text(opening.last),
        }  # fmt: skip
        self.add("slit" if tube else "gap", f"opening-{number}", facts)

    def add(
        self, technique: str, name: str, facts: Mapping[str, object], line: PlanLine | None = None
    ) -> None:
        everything = {**self.facts, **facts}
        self.steps.append(
            Step(
                number=next(self.numbers),
                key=f"{self.piece.key}.{name}",
                title=self.techniques.title(technique, everything),
                text=self.techniques.text(technique, everything),
                piece=self.piece.key,
                technique=technique,
                letter=line.letter if line else None,
                first=line.first if line else None,
                last=line.last if line else None,
            )
        )
