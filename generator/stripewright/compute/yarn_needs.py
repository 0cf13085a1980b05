"""What stripes given by their yarn take, with the rows they have on trial."""

from __future__ import annotations

from dataclasses import dataclass
from math import floor
from typing import TYPE_CHECKING

from stripewright.compute.notes import Notes
from stripewright.compute.piece import work_piece
from stripewright.compute.piece_context import PieceContext, target_rows
from stripewright.compute.rows import share
from stripewright.compute.tails import all_tails, long_tails
from stripewright.compute.yarn import bought, metres_of, uses_of
from stripewright.compute.yarn_given import YarnGiven

if TYPE_CHECKING:
    from collections.abc import Mapping

    from stripewright.compute.worked_piece import WorkedPiece
    from stripewright.compute.yarn import Use
    from stripewright.compute.yarn_given import Spot

ENOUGH = 1 + 1e-9
"""An amount that is enough to the last digit of a float is enough."""


@dataclass(frozen=True, slots=True)
class YarnTrial:
    """The pieces worked with rows on trial, what hangs from them, and what all of it takes."""

    pieces: Mapping[str, WorkedPiece]
    hanging: Mapping[tuple[str, int, bool], float]
    """Tails in cm by piece, stripe of its plan, and whether they hang at its end; of all copies."""
    uses: Mapping[str, Use]


class YarnNeeds(YarnGiven):
    """What the stripes take, with rows that may still change."""

    def trial(self) -> YarnTrial | None:
        """The pieces with the rows as they are now; None where another mistake stands."""
        self._share_rests()
        notes = Notes(self.notes.document, figures=self.notes.figures)
        context = PieceContext(self.pattern, self.gauge, self.letters, notes, stated=self.rows)
        pieces = {key: work_piece(context, key) for key in self.pattern.pieces}
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
        return spot in self.items and self.items[spot].amount.takes == "rest"

    def target(self, key: str) -> tuple[str, int]:
        """The key that says how long a piece is, and the visible rows that it comes to."""
        context = PieceContext(self.pattern, self.gauge, self.letters, self.notes)
        return target_rows(context, self.pattern.pieces[key])

    def row_cm(self, spot: Spot, trial: YarnTrial) -> float:
        """Yarn in one row of a stripe, over all pieces that are alike, in cm of all strands."""
        yarn = self.pattern.yarns[self.items[spot].yarn]
        stitches = sum(
            trial.pieces[one].stitches * trial.pieces[one].make for one in self.alike[spot[0]]
        )
        return yarn.strands * stitches * self.loop.length_cm.value

    def _fixed_cm(self, spot: Spot, trial: YarnTrial) -> float:
        """What a stripe takes beside its visible rows: ends' rows and tails, in cm."""
        key, number = spot
        parts, yarn = self.parts[key], self.pattern.yarns[self.items[spot].yarn]
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
        sold = self.pattern.yarns[self.items[spot].yarn].on_sale
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

    def takes_of(self, yarn: str, trial: YarnTrial) -> float:
        """What the whole pattern takes of a yarn, in m, as it is told."""
        use = trial.uses[yarn]
        return bought(self.pattern, self.pattern.yarns[yarn], use, self.loop, "")[0].value

    def budgets(self, trial: YarnTrial) -> dict[str, float]:
        """What there is of whole yarns, in m: those with `all`, and those given by amounts only."""
        there: dict[str, float] = {}
        for spot in self.own:
            for strand in self.strands(self.items[spot].yarn):
                many = self.pattern.yarns[strand].strands if strand != self.items[spot].yarn else 1
                there[strand] = there.get(strand, 0.0) + self.metres[spot] * many
        none = {self.items[spot].yarn for spot in self.own if self.most(spot, trial) < 1}
        for yarn in self._open(trial) | {one for key in none for one in self.strands(key)}:
            there.pop(yarn, None)  # what knits no row is told by itself
        for spot in self.alls:
            for strand in self.strands(self.items[spot].yarn):
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
