"""The plan of each piece as steps: set up, every stripe in order, take off."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stripewright.figures import rc
from stripewright.words.techniques import finishing, technique
from stripewright.words.titles import small
from stripewright.words.written import Step, StepGroup

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from stripewright.compute.worked import PlanLine, WorkedOpening, WorkedPiece
    from stripewright.words.teller import Teller


def piece_groups(teller: Teller) -> Iterator[StepGroup]:
    """The steps of each piece, in the order they are knitted."""
    for piece in teller.worked.pieces:
        yield StepGroup(piece.key, piece.title, tuple(_Knitting(teller, piece).steps()))


class _Knitting:
    """One piece on the machine."""

    def __init__(self, teller: Teller, piece: WorkedPiece) -> None:
        self.teller, self.piece = teller, piece
        machine = piece.machine
        self.facts: Mapping[str, object] = {
            "piece": small(piece.title), "stitches": piece.stitches, "make": piece.make,
            "bed": machine.bed, "needles": machine.needles, "form": piece.form,
        }  # fmt: skip

    def steps(self) -> Iterator[Step]:
        piece = self.piece
        first, last = piece.plan[0], piece.plan[-1]
        yield self.step("set_up", "set-up", self.of(first))
        yield self.step("set_counter", "counter", self.of(first) | self.tail("first"))
        for number, line in enumerate(piece.plan, 1):
            yield from self.marks(line)
            yield self.stripe(number, line)
        yield self.step("take_off", "take-off", self.of(last) | self.tail("last"))
        if piece.make > 1:
            yield self.step("again", "again", {})

    def step(
        self, technique: str, name: str, facts: Mapping[str, object], line: PlanLine | None = None
    ) -> Step:
        key = self.piece.key
        everything = {**self.facts, **facts}
        return self.teller.step(technique, f"{key}.{name}", everything, pieces=(key,), line=line)

    def of(self, line: PlanLine) -> dict[str, object]:
        return {
            "letter": line.letter, "yarn": self.teller.yarn_names[line.yarn], "first": line.first,
            "last": line.last, "rows": line.rows, "until": rc(line.last),
        }  # fmt: skip

    def tail(self, which: str) -> dict[str, object]:
        """The tail at an end: long when something is sewn with it."""
        key, teller = f"{self.piece.key}.{which}", self.teller
        edges = [end.edge for end in self.piece.ends]
        done = "graft" if edges == ["grafted", "grafted"] else finishing(edges[which == "last"])
        return {
            "tail": teller.tail(key),
            "tail_for": technique(done).tail_for if key in teller.worked.tails_cm else "",
        }

    def stripe(self, number: int, line: PlanLine) -> Step:
        first, last = self.piece.ends
        facts = self.of(line) | {
            "stripe": number, "stripes": len(self.piece.plan),
            "tail": self.teller.tail("inside"),
            "where": "inside" if self.piece.form == "tube" else "at the edge",
            "before": line.allowance_before,
            "before_for": technique(finishing(first.edge)).takes_up if first.rows else "",
            "after": line.allowance_after, "after_for": technique(finishing(last.edge)).takes_up,
        }  # fmt: skip
        return self.step("stripe", str(number), facts, line)

    def marks(self, line: PlanLine) -> Iterator[Step]:
        """What has to be known before a stripe is begun: openings and the fold."""
        for number, opening in enumerate(self.piece.openings, 1):
            if line.first <= opening.first <= line.last:
                yield self.opening(number, opening, crosses=opening.last > line.last)
        fold = self.piece.fold
        if fold is not None and line.first <= fold + 1 <= line.last:
            now = fold + 1 == line.first
            yield self.step("mark_fold", "fold", {"until": rc(fold), "now": now})

    def opening(self, number: int, opening: WorkedOpening, *, crosses: bool) -> Step:
        tube = self.piece.form == "tube"
        side = {"left": "left", "right": "right", "both": "left and right"}[opening.side]
        facts: dict[str, object] = {
            "what": opening.what, "first": opening.first, "last": opening.last,
            "rows": opening.last - opening.first + 1,
            "where": f"on the {side} of the tube as it lies flat" if tube else f"{side} edge",
            "crosses": crosses,
            "from_until": rc(opening.first - 1), "until": rc(opening.last),
        }  # fmt: skip
        return self.step("slit" if tube else "gap", f"opening-{number}", facts)
