"""What stripes given by their yarn have, and what they take, with the rows they have on trial."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, floor
from typing import TYPE_CHECKING

from stripewright.catalogue import _, say
from stripewright.compute.bench import PieceContext, target_rows
from stripewright.compute.marl import as_knitted
from stripewright.compute.notes import Notes
from stripewright.compute.piece import work_piece
from stripewright.compute.rows import RowShare, build_stripes, share
from stripewright.compute.tails import all_tails, long_tails
from stripewright.compute.yarn import bought, loop_of, metres_of, uses_of
from stripewright.figures import decimal
from stripewright.pattern.amounts import ByYarn
from stripewright.pattern.quantities import CM, GRAM
from stripewright.pattern.stripes import of_kind

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from stripewright.compute.worked import WorkedGauge
    from stripewright.compute.worked_piece import WorkedPiece
    from stripewright.compute.yarn import Loop, Use
    from stripewright.pattern.amounts import YarnAmount
    from stripewright.pattern.pattern import Pattern
    from stripewright.source.places import Path

ENOUGH = 1 + 1e-9
"""An amount that is enough to the last digit of a float is enough."""

Spot = tuple[str, int]
"""A stripe as written: its piece's key, and its number in it from 0."""


@dataclass(frozen=True, slots=True)
class YarnTrial:
    """The pieces worked with rows on trial, what hangs from them, and what all of it takes."""

    pieces: Mapping[str, WorkedPiece]
    hanging: Mapping[tuple[str, int, bool], float]
    """Tails in cm by piece, stripe of its plan, and whether they hang at its end; of all copies."""
    uses: Mapping[str, Use]


class YarnNeeds:
    """Looks for the rows; see `rows_by_yarn` for what it is given."""

    def __init__(
        self,
        pattern: Pattern,
        gauge: WorkedGauge,
        letters: Mapping[str, str],
        left_g: Mapping[str, float],
        notes: Notes,
    ) -> None:
        self.pattern, self.gauge, self.letters = pattern, gauge, letters
        self.left_g, self.notes = left_g, notes
        self.paths: dict[int, Path] = {
            id(item): path
            for key, piece in pattern.pieces.items()
            for item, path in of_kind(piece.stripes or (), ("pieces", key, "stripes"), ByYarn)
        }
        self.parts: dict[str, list[RowShare]] = {
            key: build_stripes(piece.stripes)
            for key, piece in pattern.pieces.items()
            if piece.stripes and any(of_kind(piece.stripes, (), ByYarn))
        }
        self.lines = {key: plan_lines(parts) for key, parts in self.parts.items()}
        """The stripe of the plan that each stripe as written is in."""
        self.rows = {key: [int(part.count) for part in parts] for key, parts in self.parts.items()}
        self.alike = {key: [key, *_alike(pattern, key)] for key in self.parts}
        self.loop = self._loop()
        self.spots = [(key, n) for key, parts in self.parts.items()
                      for n, part in enumerate(parts) if part.by_yarn]  # fmt: skip
        self.own = [spot for spot in self.spots if not self.amount_at(spot).takes]
        self.alls = [spot for spot in self.spots if self.amount_at(spot).takes == "all"]
        self.metres: dict[Spot, float] = {}

    def _loop(self) -> Loop:
        """The yarn in one stitch, as it is for the whole pattern: of the yarns that are knitted."""
        pattern = self.pattern
        knitted: set[str] = set()
        for piece in pattern.pieces.values():
            knitted |= {piece.yarn} if piece.yarn else set()
            knitted |= {p.yarn for p in build_stripes(piece.stripes or piece.parts or ())}
        held = [as_knitted(pattern.yarns, key) for key in pattern.yarns if key in knitted]
        return loop_of(self.gauge, pattern.swatches, held)

    def item(self, spot: Spot) -> ByYarn:
        """A stripe as it was written."""
        item = self.parts[spot[0]][spot[1]].by_yarn
        assert item is not None  # noqa: S101  # spots are made of those that have one
        return item

    def amount_at(self, spot: Spot) -> YarnAmount:
        """What there is for a stripe."""
        return self.item(spot).amount

    # --- what there is ------------------------------------------------------------------------

    def given(self) -> bool:
        """Work out what there is for each stripe, in m; tell of what can't be known."""
        for spot in (*self.own, *self.alls):
            item = self.item(spot)
            metres = self._left(item) if item.amount.takes else self._there_is(item)
            if metres is not None:
                self.metres[spot] = metres
        return len(self.metres) == len(self.own) + len(self.alls)

    def _there_is(self, item: ByYarn) -> float | None:
        if item.amount.length_m is not None:
            return item.amount.length_m
        reach = metres_of(as_knitted(self.pattern.yarns, item.yarn), self.loop)
        if reach is None:
            self.tell(
                item,
                say("nothing says how many rows {told} knits", item.told),
                _(
                    "give {yarn} its ball, like ball: 100 g / 120 m, weigh the swatch, "
                    "or write metres",
                    yarn=item.yarn,
                ),
            )
            return None
        return (item.amount.mass_g or 0.0) * reach

    def _left(self, item: ByYarn) -> float | None:
        """What the stash has left, of the strand that is shortest in a marl, in m of the yarn."""
        yarn = self.pattern.yarns[item.yarn]
        strands = [key for key in (yarn.marl or (item.yarn,)) if key in self.left_g]
        reaches = {key: metres_of(self.pattern.yarns[key], self.loop) for key in strands}
        if not strands or None in reaches.values():
            what = (
                say("stash doesn't say what is left of it")
                if strands == []
                else say("yarn has no ball")
            )
            self.tell(
                item,
                say("{told} knits all that the stash has of it, and the {what}", item.told, what),
                say(
                    "write from: stash.{yarn} at the yarn, and what is left in content/stash.yaml",
                    item.yarn,
                )
                if strands == []
                else "add it in content/stash.yaml, like ball: 100 g / 120 m",
            )
            return None
        if self._takes_rest(item.yarn):
            self.tell(
                item,
                say("{yarn} has a stripe of all there is, and one of the rest", item.yarn),
                "give one of them its rows, or another yarn",
            )
            return None
        return min(self.left_g[key] * (reaches[key] or 0.0) for key in strands)

    def _takes_rest(self, yarn: str) -> bool:
        return any(
            self.amount_at(spot).takes == "rest" and self.item(spot).yarn == yarn
            for spot in self.spots
        )

    # --- what it takes ------------------------------------------------------------------------

    def trial(self) -> YarnTrial | None:
        """The pieces with the rows as they are now; None where another mistake stands."""
        self._share_rests()
        notes = Notes(self.notes.document, figures=self.notes.figures)
        bench = PieceContext(self.pattern, self.gauge, self.letters, notes, stated=self.rows)
        pieces = {key: work_piece(bench, key) for key in self.pattern.pieces}
        sound = {key: piece for key, piece in pieces.items() if piece is not None}
        if len(sound) < len(pieces):
            return None
        every = list(sound.values())
        tails = all_tails(every, long_tails(every, self.pattern.tails))
        hanging: dict[tuple[str, int, bool], float] = {}
        for tail in tails:
            if tail.line is not None:
                at = (tail.piece, tail.line, tail.after)
                hanging[at] = hanging.get(at, 0.0) + tail.length_cm * tail.times
        return YarnTrial(sound, hanging, uses_of(self.pattern.yarns, every, tails))

    def _share_rests(self) -> None:
        """Give what a piece's length or rows leave to its stripes of the rest, a row at least."""
        for key, parts in self.parts.items():
            rests = [n for n, _ in enumerate(parts) if self.is_rest((key, n))]
            if not rests:
                continue
            others = sum(rows for n, rows in enumerate(self.rows[key]) if n not in rests)
            room = max(self.target(key)[1] - others, len(rests))
            ones = [1] * len(rests)
            for n, rows in zip(rests, share(room, ones, ones), strict=True):
                self.rows[key][n] = rows

    def is_rest(self, spot: Spot) -> bool:
        """Whether a stripe takes the rest of its piece."""
        given = self.parts[spot[0]][spot[1]].by_yarn
        return given is not None and given.amount.takes == "rest"

    def target(self, key: str) -> tuple[str, int]:
        """The key that says how long a piece is, and the visible rows that it comes to."""
        bench = PieceContext(self.pattern, self.gauge, self.letters, self.notes)
        return target_rows(bench, self.pattern.pieces[key])

    def row_cm(self, spot: Spot, trial: YarnTrial) -> float:
        """Yarn in one row of a stripe, over all pieces that are alike, in cm of all strands."""
        yarn = self.pattern.yarns[self.item(spot).yarn]
        stitches = sum(
            trial.pieces[one].stitches * trial.pieces[one].make for one in self.alike[spot[0]]
        )
        return yarn.strands * stitches * self.loop.length_cm.value

    def _fixed_cm(self, spot: Spot, trial: YarnTrial) -> float:
        """What a stripe takes beside its visible rows: ends' rows and tails, in cm."""
        key, number = spot
        parts, yarn = self.parts[key], self.pattern.yarns[self.item(spot).yarn]
        lines = self.lines[key]
        line = lines[number]
        begins = number == 0 or lines[number - 1] != line
        ends = number == len(parts) - 1 or lines[number + 1] != line
        total = 0.0
        for one in self.alike[key]:
            piece = trial.pieces[one]
            first, last = piece.ends
            extra = (first.rows - first.grafted) * (number == 0)
            extra += (last.rows - last.grafted) * (number == len(parts) - 1)
            total += extra * piece.stitches * piece.make * self.loop.length_cm.value
            total += trial.hanging.get((one, line, False), 0.0) * begins
            total += trial.hanging.get((one, line, True), 0.0) * ends
        return yarn.strands * total

    def takes_m(self, spot: Spot, rows: int, trial: YarnTrial) -> float:
        """What so many visible rows of a stripe take, in m, joins of its balls counted."""
        metres = (rows * self.row_cm(spot, trial) + self._fixed_cm(spot, trial)) / 100
        sold = self.pattern.yarns[self.item(spot).yarn].on_sale
        if not sold:
            return metres
        joins = int(metres / min(one.ball.length_m for one in sold))
        return metres + joins * 2 * self.pattern.tails.inside / 100

    def most(self, spot: Spot, trial: YarnTrial) -> int:
        """The most visible rows that a stripe's own yarn knits; may be under 1."""
        there = self.metres[spot] * ENOUGH
        room = there * 100 - self._fixed_cm(spot, trial)
        rows = floor(room / self.row_cm(spot, trial))
        while rows > 0 and self.takes_m(spot, rows, trial) > there:
            rows -= 1
        return rows

    def strands(self, yarn: str) -> tuple[str, ...]:
        """The yarns that one is knitted from: itself, or those of a marl."""
        return self.pattern.yarns[yarn].marl or (yarn,)

    def takes_of(self, yarn: str, trial: YarnTrial) -> float:
        """What the whole pattern takes of a yarn, in m, as it is told."""
        use = trial.uses[yarn]
        return bought(self.pattern, self.pattern.yarns[yarn], use, self.loop, "")[0].value

    def budgets(self, trial: YarnTrial) -> dict[str, float]:
        """What there is of whole yarns, in m: those with `all`, and those given by amounts only."""
        there: dict[str, float] = {}
        for spot in self.own:
            for strand in self.strands(self.item(spot).yarn):
                many = self.pattern.yarns[strand].strands if strand != self.item(spot).yarn else 1
                there[strand] = there.get(strand, 0.0) + self.metres[spot] * many
        none = {self.item(spot).yarn for spot in self.own if self.most(spot, trial) < 1}
        for yarn in self._open(trial) | {one for key in none for one in self.strands(key)}:
            there.pop(yarn, None)  # what knits no row is told by itself
        for spot in self.alls:
            for strand in self.strands(self.item(spot).yarn):
                if strand in self.left_g:
                    reach = metres_of(self.pattern.yarns[strand], self.loop) or 0.0
                    there[strand] = self.left_g[strand] * reach
        return there

    def _open(self, trial: YarnTrial) -> set[str]:
        """Yarns of which some stripe isn't given by an amount of its own."""
        counted = {one for keys in self.alike.values() for one in keys}
        found: set[str] = set()
        for key, piece in trial.pieces.items():
            if key not in counted:
                found |= set(piece.yarns)
        for parts in self.parts.values():
            found |= {
                part.yarn for part in parts if part.by_yarn is None or part.by_yarn.amount.takes
            }
        return {strand for yarn in found for strand in self.strands(yarn)}

    def as_written(self, item: ByYarn, metres: float) -> str:
        """An amount in the unit that the author used, rounded up."""
        unit = item.amount.text.lstrip("0123456789.,/ ¼½¾⅓⅔⅛⅜⅝⅞-").strip()
        name = unit.rstrip(".").lower()
        reach = metres_of(as_knitted(self.pattern.yarns, item.yarn), self.loop)
        if item.amount.mass_g is not None and reach is not None:
            value = metres / reach / GRAM[name]
        else:
            value = metres * 100 / CM[name]
        return f"{decimal(ceil(value * 10 - 1e-9) / 10, 1)} {unit}"

    def tell(self, item: ByYarn, message: str, hint: str) -> None:
        """Note an error at a stripe, once, however often it is knitted."""
        path = self.paths[id(item)]
        place = self.notes.document.place(*path)
        if not any(one.place == place and message == one.message for one in self.notes.problems):
            self.notes.error(path, message, hint)


def _alike(pattern: Pattern, key: str) -> list[str]:
    """Pieces knitted by the very stripes of another: they share the yarn that is there for it."""
    found = []
    for name, piece in pattern.pieces.items():
        if piece.like == key and piece.yarn is None and piece.length is None and piece.rows is None:
            found += [name, *_alike(pattern, name)]
    return found


def plan_lines(parts: Sequence[RowShare]) -> list[int]:
    """The stripe of the plan that each part is in: neighbours of one yarn are one."""
    lines: list[int] = []
    for number, part in enumerate(parts):
        new = number > 0 and parts[number - 1].yarn != part.yarn
        lines.append(lines[-1] + new if lines else 0)
    return lines
