"""Stripes given by their yarn: as many whole rows as it knits, and what is left of it then.

What a stripe takes is its worked rows, with what an end of the piece takes up, and the tails that
hang from it. Tails depend on the rows (a yarn carried up, a side seam) and rows on the tails, so
the pieces are worked with rows on trial until both agree; what is found never takes more yarn than
there is.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from math import ceil, floor
from typing import TYPE_CHECKING

from stripewright.catalogue import say
from stripewright.compute.marl import as_knitted
from stripewright.compute.rows import stripe_count
from stripewright.compute.worked_piece import WorkedAmount
from stripewright.compute.yarn import metres_of
from stripewright.compute.yarn_needs import ENOUGH, YarnNeeds
from stripewright.pattern.amounts import ByYarn
from stripewright.pattern.stripes import MOST_STRIPES, of_kind

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from stripewright.compute.notes import Notes
    from stripewright.compute.rows import RowShare
    from stripewright.compute.worked import WorkedGauge
    from stripewright.compute.yarn_given import Spot
    from stripewright.compute.yarn_needs import YarnTrial
    from stripewright.pattern.pattern import Pattern

_ROUNDS = 12
"""Of rows and tails, until they agree; where they never do, rows are taken back."""


@dataclass(frozen=True, slots=True)
class StatedRows:
    """What was found: visible rows of every stripe by piece, and what became of each amount."""

    rows: Mapping[str, Sequence[int]] = field(default_factory=dict)
    amounts: tuple[WorkedAmount, ...] = ()


def rows_by_yarn(
    pattern: Pattern,
    gauge: WorkedGauge,
    letters: Mapping[str, str],
    left_g: Mapping[str, float],
    notes: Notes,
) -> StatedRows:
    """The rows of every piece that has stripes given by their yarn.

    Args:
        pattern: what the author wrote.
        gauge: of the pattern.
        letters: by yarn key.
        left_g: what the stash has left of yarns that come from it, in g, by yarn key.
        notes: where amounts that knit no row are told.
    """
    written = [piece.stripes or () for piece in pattern.pieces.values()]
    if not any(any(of_kind(items, (), ByYarn)) for items in written):
        return StatedRows()
    if any(stripe_count(items) > MOST_STRIPES for items in written):
        return StatedRows()  # it is told when the stripes are built
    finder = _Finder(pattern, gauge, letters, left_g, notes)
    if not finder.given():
        return StatedRows(finder.rows)
    trial = finder.settled()
    if trial is None:  # some other mistake, which is told when the pieces are worked for good
        return StatedRows(finder.rows)
    finder.tell_of_none(trial)
    return StatedRows(finder.rows, tuple(finder.amounts(trial)))


class _Finder(YarnNeeds):
    """Looks for the rows."""

    def settled(self) -> YarnTrial | None:
        """Rows that agree with their tails, and take no more than there is; None as in `_trial`."""
        agreed = False
        for _ in range(_ROUNDS):
            trial = self.trial()
            if trial is None:
                return None
            found = {spot: max(self.most(spot, trial), 1) for spot in self.own}
            if agreed := all(self._rows(spot) == rows for spot, rows in found.items()):
                break
            for (key, n), rows in found.items():
                self.rows[key][n] = rows
        trial = self._lowered()
        if not agreed:
            self._raised(self.own)
        if self.alls and trial is not None:
            self._lay_all(trial)
            self._raised(self.alls)
        return self.trial()

    def _rows(self, spot: Spot) -> int:
        return self.rows[spot[0]][spot[1]]

    def _lowered(self) -> YarnTrial | None:
        """Take rows back until nothing takes more than there is."""
        while True:
            trial = self.trial()
            if trial is None:
                return None
            over = self._over(trial)
            if over is None:
                return trial
            (key, n), rows = over
            self.rows[key][n] = max(self.rows[key][n] - rows, 1)

    def _raised(self, spots: Sequence[Spot]) -> None:
        """Give each of the stripes a row more as long as there is yarn for it."""
        waiting = [*spots]
        while waiting:
            for spot in [*waiting]:
                self.rows[spot[0]][spot[1]] += 1
                trial = self.trial()
                if trial is None or self._over(trial) is not None:
                    self.rows[spot[0]][spot[1]] -= 1
                    waiting.remove(spot)

    def _over(self, trial: YarnTrial) -> tuple[Spot, int] | None:
        """A stripe of more than one row that has too many, and how many of them."""
        for spot in self.own:
            most = max(self.most(spot, trial), 1)
            if self._rows(spot) > most:
                return spot, self._rows(spot) - most
        own = {*self.own}
        for yarn, there in self.budgets(trial).items():
            excess = self.takes_of(yarn, trial) - there * ENOUGH
            if excess <= 0:
                continue
            known = (*reversed(self.own), *reversed(self.alls))
            for spot in sorted(known, key=lambda one: one in own):
                if self._rows(spot) > 1 and yarn in self.strands(self.items[spot].yarn):
                    return spot, ceil(excess / self._row_m(spot, yarn, trial))
        return None

    def _row_m(self, spot: Spot, strand: str, trial: YarnTrial) -> float:
        """What a row of a stripe takes of one of its strands, in m."""
        is_marl = self.items[spot].yarn != strand
        many = self.pattern.yarns[strand].strands if is_marl else 1
        return self.row_cm(spot, trial) * many / 100

    def _lay_all(self, trial: YarnTrial) -> None:
        """Share what is left of each yarn evenly among the stripes of all of it, but for a row.

        A marl ends with the yarn of it that ends first; the others go on with what it leaves.
        """
        open_ = [*self.alls]
        while open_:
            there, more = self.budgets(trial), {}
            for spot in open_:
                rooms = []
                for strand in self.strands(self.items[spot].yarn):
                    if strand in self.left_g:
                        a_row = sum(
                            self._row_m(one, strand, trial)
                            for one in open_
                            if strand in self.strands(self.items[one].yarn)
                        )
                        free = there[strand] - self.takes_of(strand, trial)
                        rooms.append(floor(free / a_row))
                more[spot] = max(min(rooms), 0)
            for (key, n), rows in more.items():
                self.rows[key][n] += rows
            open_ = [spot for spot in open_ if more[spot]]
            lowered = self._lowered()
            if lowered is None:
                return
            trial = lowered

    def tell_of_none(self, trial: YarnTrial) -> None:
        """Note each amount that knits no row, and each rest that is none."""
        for spot in self.own:
            if self.most(spot, trial) < 1:
                item, least = self.items[spot], self.takes_m(spot, 1, trial)
                need = self.as_written(item, least)
                self.tell(
                    item,
                    say(
                        "{told} knits no row: with its tails one row takes {need}", item.told, need
                    ),
                    say("write {need} or more, or knit it in a yarn of which there is more", need),
                )
        self._tell_of_fringe(trial)
        self._tell_of_no_all(trial)
        for key, parts in self.parts.items():
            self._tell_of_no_rest(key, parts)

    def _tell_of_fringe(self, trial: YarnTrial) -> None:
        """Note a yarn that is given by amounts and has too little for fringe and joins."""
        there = {} if self.alls else self.budgets(trial)
        for spot in {self.items[spot].yarn: spot for spot in self.own}.values():
            item = self.items[spot]
            takes = self.takes_of(item.yarn, trial)
            if takes > there.get(item.yarn, takes) * ENOUGH:
                self.tell(
                    item,
                    say(
                        "what is given of {yarn} is too little: with its fringe and joins the "
                        "piece takes {as_written}",
                        item.yarn,
                        self.as_written(item, takes),
                    ),
                    "write more, or take another yarn for the fringe",
                )

    def _tell_of_no_all(self, trial: YarnTrial) -> None:
        """Note a stripe of all there is, where other stripes take it."""
        there = self.budgets(trial)
        for spot in self.alls:
            item = self.items[spot]
            short = [
                yarn
                for yarn in self.strands(item.yarn)
                if yarn in there and self.takes_of(yarn, trial) > there[yarn] * ENOUGH
            ]
            for yarn in short[:1]:
                self.tell(
                    item,
                    say(
                        "{told} knits no row: what else is knitted in {yarn} takes all that "
                        "the stash has left",
                        item.told,
                        yarn,
                    ),
                    "knit less in it, or leave this stripe out",
                )

    def _tell_of_no_rest(self, key: str, parts: Sequence[RowShare]) -> None:
        rests = [n for n, _ in enumerate(parts) if self.is_rest((key, n))]
        if not rests:
            return
        others = sum(rows for n, rows in enumerate(self.rows[key]) if n not in rests)
        name, total = self.target(key)
        need = others + len(rests)
        if need <= total:
            return
        right = (
            self.notes.figures.to_write(need / self.gauge.rows_per_cm)
            if name == "length"
            else str(need)
        )
        item = self.items[(key, rests[0])]
        self.tell(
            item,
            say(
                "nothing is left for {told}: the other stripes come to {others} rows, and the "
                "piece to {total}",
                item.told,
                others,
                total,
            ),
            say("write {name}: {right} or more, or give the others less", name, right),
        )

    def amounts(self, trial: YarnTrial) -> Iterator[WorkedAmount]:
        """What became of each amount, in the order of the pieces."""
        there, beside = self.budgets(trial), self._beside(trial)
        for spot in self.items:
            if self.is_rest(spot):
                continue
            key, number = spot
            item, rows = self.items[spot], self._rows(spot)
            given = self.metres[spot]
            used = self.takes_m(spot, rows, trial) + beside.get(spot, 0.0)
            if spot in self.alls:
                strands = [one for one in self.strands(item.yarn) if one in there]
                tight = min(strands, key=lambda one: there[one] - self.takes_of(one, trial))
                given, used = there[tight], self.takes_of(tight, trial)
            reach = metres_of(as_knitted(self.pattern.yarns, item.yarn), self.loop)
            by_mass = item.amount.length_m is None and reach is not None
            line, text = self.lines[key][number], item.amount.text
            yield WorkedAmount(key, line, item.yarn, text, rows, given, used, reach, by_mass)

    def _beside(self, trial: YarnTrial) -> dict[Spot, float]:
        """What a yarn given by amounts only takes beside its stripes, in m: of the last first.

        That is fringe in a yarn of its own, and joins of balls that run out in the next stripe.
        """
        found: dict[Spot, float] = {}
        for yarn in self.budgets(trial):
            spots = [spot for spot in self.own if self.items[spot].yarn == yarn]
            takes = {spot: self.takes_m(spot, self._rows(spot), trial) for spot in spots}
            more = self.takes_of(yarn, trial) - sum(takes.values())
            for spot in self.own:
                if yarn in self.pattern.yarns[self.items[spot].yarn].marl:
                    held = self.takes_m(spot, self._rows(spot), trial)
                    more -= held * self.pattern.yarns[yarn].strands
            for spot in reversed(spots):
                found[spot] = max(min(more, self.metres[spot] - takes[spot]), 0.0)
                more -= found[spot]
        return found
