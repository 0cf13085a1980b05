"""The plan of each piece as steps: set up, every stripe and event in order, take off."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stripewright.catalogue import _
from stripewright.figures import listed, rc
from stripewright.words.events import event_facts, needle_named
from stripewright.words.pieces import small, the
from stripewright.words.techniques import finishing, technique
from stripewright.words.written import Step, StepGroup

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from stripewright.compute.event import Event, WorkedRepeat
    from stripewright.compute.worked_piece import PlanLine, WorkedPiece
    from stripewright.words.teller import StepWriter

ON_THE_WAY = frozenset({"slit", "gap", "hem", "fold", "turn_up", "join"})
"""Events that have a step of their own."""

FEW_CHANGES = 12
"""Readings at which a repeat changes yarns that its step still lists; the plan has them all."""

_Told = dict[tuple[object, ...], str]
"""What is told in full once in a pattern, by what it is and what it depends on: where that was."""


def piece_groups(teller: StepWriter) -> Iterator[StepGroup]:
    """The steps of each piece, in the order they are knitted."""
    told: _Told = {}
    for piece in teller.worked.pieces:
        yield StepGroup(piece.key, piece.title, tuple(_Knitting(teller, piece, told).steps()))


class _Knitting:
    """One piece on the machine."""

    def __init__(self, teller: StepWriter, piece: WorkedPiece, told: _Told) -> None:
        self.teller, self.piece, self.told = teller, piece, told
        self.named = the(piece.title)
        self.machine = machine = piece.machine
        self.tube = piece.form == "tube"
        self.done_on_the_way = [one for one in piece.events if one.kind in ON_THE_WAY]
        counter_at = needle_named(machine.counter_at)
        self.knot = teller.worked.pattern.tails.knot == "at once"
        self.facts: Mapping[str, object] = {
            "piece": small(piece.title),
            "stitches": piece.stitches,
            "make": piece.make,
            "bed": machine.bed,
            "needles": machine.needles,
            "every": machine.every,
            "form": piece.form,
            "counter_at": counter_at,
            "stop": _("at {needle}, where the counter trips", needle=counter_at)
            if self.tube
            else _("at the end of the row"),
            "round": _("round") if self.tube else _("row"),
            "where": _("inside") if self.tube else _("at the edge"),
            "stripes": len(piece.plan),
        }
        first, last = piece.ends
        self.of_stripes: Mapping[str, object] = {
            "tail": teller.tail("inside"),
            **self.seen(),
            "before_for": technique(finishing(first.edge)).takes_up if first.rows else "",
            "after_for": technique(finishing(last.edge)).takes_up,
        }
        """What the text of every stripe may name, whichever it is."""

    def steps(self) -> Iterator[Step]:
        """All of them, in order."""
        plan = self.piece.plan
        begun = next((line for line in plan if line.rows), plan[0])
        yield self.set_up(begun)
        yield from self.strands()
        yield self.step("set_counter", "counter", self.of(begun) | self.tail("first"))
        blocks = {block.first + block.stripes: block for block in self.piece.repeats}
        number = 0
        while number < len(plan):
            yield from self.line(number)
            number += 1
            if block := blocks.get(number):
                yield self.repeat(block)
                number = block.first + block.stripes * block.times
        facts = self.of(plan[-1]) | self.tail("last") | {"edge": self.piece.ends[1].edge}
        yield self.step("take_off", "take-off", facts)
        if self.piece.make > 1:
            yield self.step("again", "again", {})

    def step(
        self,
        technique: str,
        name: str,
        facts: Mapping[str, object],
        line: PlanLine | None = None,
        *,
        change: str | None = None,
    ) -> Step:
        """One step of this piece."""
        key = self.piece.key
        everything = {**self.facts, **facts}
        return self.teller.step(
            technique, f"{key}.{name}", everything, pieces=(key,), line=line, change=change
        )

    def of(self, line: PlanLine) -> dict[str, object]:
        """What every text about a stripe may name."""
        strands = self.teller.worked.yarn(line.yarn).strands
        return {
            "letter": line.letter,
            "yarn": self.teller.yarn_names[line.yarn],
            "first": line.first,
            "last": line.last,
            "rows": line.rows,
            "until": rc(line.last),
            "held": _(", {number} strands held together", number=strands) if strands > 1 else "",
        }

    def first_time(self, *what: object) -> str:
        """Where this was told before; empty the first time, which is noted."""
        before = self.told.get(what, "")
        self.told.setdefault(what, self.named)
        return before

    def set_up(self, line: PlanLine) -> Step:
        """Cast on; told in full for the first piece on such a bed."""
        swatches = self.teller.worked.pattern.swatches
        like = self.first_time("set_up", self.machine.bed, self.piece.form)
        setting = next((one.setting for one in swatches if one.setting), "")
        beds = {(one.machine.bed, one.machine.needles) for one in self.teller.worked.pieces}
        facts = {
            "setting": setting,
            "hold": self.machine.hold or "",
            "like": like,
            "beds": len(beds),
            "shorter": self.shorter(),
        }
        return self.step("set_up", "set-up", self.of(line) | facts)

    def shorter(self) -> int:
        """Rows that a made-up lining is shorter than its cover; 0 for any other piece."""
        if self.piece.lining_of is None:
            return 0
        cover = self.teller.worked.piece(self.piece.lining_of)
        return max(cover.visible_rows - self.piece.visible_rows, 0)

    def strands(self) -> Iterator[Step]:
        """Yarns of several strands, each told where it is first used."""
        worked = self.teller.worked
        for key in self.piece.yarns:
            yarn = worked.yarn(key)
            several = max(yarn.strands, len(yarn.marl))
            if several < 2 or self.first_time("strands", key):
                continue
            of = listed(self.teller.yarn_names[one] for one in yarn.marl) if yarn.marl else ""
            facts = {"letter": yarn.letter, "yarn": yarn.name, "strands": several, "of": of}
            yield self.step("hold_together", f"strands-{key}", facts)

    def tail(self, which: str) -> dict[str, object]:
        """The tail at an end: long when something is sewn with it."""
        key, teller = f"{self.piece.key}.{which}", self.teller
        edges = [end.edge for end in self.piece.ends]
        done = "graft" if edges == ["grafted", "grafted"] else finishing(edges[which == "last"])
        return {
            "tail": teller.tail(key),
            "tail_for": technique(done).tail_for if key in teller.worked.tails_cm else "",
        }

    def line(self, index: int) -> Iterator[Step]:
        """A stripe, with the change before it and what has to be known before it is begun."""
        line = self.piece.plan[index]
        for event in self.done_on_the_way:
            yield from self.event(event, line, now=True)
        change = self.change(index)
        if change.pop("in full"):
            yield self.step("change", "change", change)
            change |= {"change": "", "until": rc(line.last)}
            if self.teller.worked.pattern.jogs == "soften" and self.tube:
                yield self.step("soften_jog", "jog", change)
        for event in self.done_on_the_way:
            yield from self.event(event, line, now=False)
        facts = {
            **change,
            **self.of_stripes,
            "stripe": index + 1,
            "grafted_first": line.grafted_before,
            "grafted_last": line.grafted,
            "before": line.allowance_before,
            "after": line.allowance_after,
        }
        own_words = (
            not line.rows,
            line.carried,
            change["kept"] != change["keeps"],
            line.grafted_before or line.grafted,
            line.allowance_before or line.allowance_after,
        )
        told_as = None if any(own_words) else str(facts["change"])
        yield self.step("stripe", str(index + 1), facts, line, change=told_as)

    def change(self, index: int) -> dict[str, object]:
        """How a stripe's yarn comes in: the change in full, or what it is like."""
        plan = self.piece.plan
        line, old = plan[index], plan[max(index - 1, 0)]
        following = next((one for one in plan[index + 1 :] if one.yarn == old.yarn), None)
        keeps = following is not None and following.carried
        facts = self.of(line) | {
            "old": old.letter,
            "keeps": keeps,
            "kept": keeps,
            "change": "",
            "at": rc(old.last),
            "knot": self.knot,
            "in full": False,
        }
        if index == 0 or not line.rows:
            return facts
        if line.carried:
            return facts | {"change": "carried"}
        told = self.first_time("change", self.piece.form)
        kept = self.told.setdefault(("kept", self.piece.form), str(keeps))
        if told == self.named:
            told_as = _("the first change")
        else:
            told_as = _("the first change of {piece}", piece=told)
        return facts | {
            "until": rc(line.last if told else old.last),
            "tail": self.of_stripes["tail"],
            "change": told_as,
            "kept": kept == "True",
            "in full": not told,
        }

    def repeat(self, block: WorkedRepeat) -> Step:
        """All but the first of a block of stripes that repeats."""
        plan, size = self.piece.plan, block.stripes
        first, last = plan[block.first], plan[block.first + size - 1]
        end = plan[block.first + size * block.times - 1]
        repeated = range(block.first + size, block.first + size * block.times)
        readings = [rc(plan[index - 1].last) for index in repeated]
        facts = {
            "first": first.first,
            "last": last.last,
            "times": block.times,
            "more": block.times - 1,
            "stripes": size,
            "until": rc(end.last),
            "from": _("stripe {number}", number=block.first + 1),
            "changes": listed(readings) if len(readings) <= FEW_CHANGES else "",
        }
        return self.step("repeat_stripes", f"repeat-{block.first + 1}", facts)

    def event(self, event: Event, line: PlanLine, *, now: bool) -> Iterator[Step]:
        """What is done as a stripe begins, `now`, or has to be known before it is knitted."""
        at_the_end = event.row == line.last and line is self.piece.plan[-1]
        if not (line.first - 1 <= event.row < line.last or at_the_end):
            return
        if event.kind in ("slit", "gap"):
            if not now:
                yield self.opening(event, line)
            return
        if now != (event.row == line.first - 1):
            return
        facts: dict[str, object] = {"until": rc(event.row), "now": now}
        if event.kind == "fold":
            yield self.step("mark_fold", "fold", facts)
        elif event.kind == "hem":
            yield self.step("mark_hem", f"hem-{event.side}", facts)
        elif event.kind == "turn_up":
            yield self.step("mark_turn_up", "turn-up", facts | {"rows": event.number})
        else:
            what = the(self.teller.worked.piece(event.what).title)
            yield self.step("mark_join", f"join-{event.what}", facts | {"what": what})

    def seen(self) -> dict[str, object]:
        """How many rows of a hem show once the brim is turned up, at either end."""
        brim = self.piece.brim
        hemmed = brim if brim and brim.layers == 2 and self.piece.fold is None else None
        return {
            f"seen_{end}": hemmed.rows if hemmed and hemmed.end == end else 0
            for end in ("first", "last")
        }

    def opening(self, event: Event, line: PlanLine) -> Step:
        """A slit of a tube, or a gap in a panel's seam."""
        facts = event_facts(self.teller, self.piece, event) | {
            "first": event.row + 1,
            "last": event.until,
            "from_until": rc(event.row),
            "both": event.side == "both",
            "mirrored": sum(bool(piece.openings) for piece in self.teller.worked.pieces) > 1,
            "hands": self.teller.worked.pattern.kind == "wrist warmers",
            "crosses": (event.until or 0) > line.last,
        }
        name = f"opening-{event.number}"
        return self.step("slit" if self.tube else "gap", name, facts)
