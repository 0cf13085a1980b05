"""What can be knitted from the stash: enough or not, what is lacking, what could stand in for it.

A pattern is held against all of the stash as if nothing else were knitted from it. Of a yarn, as
much has to be there as is bought: what it takes and the margin on top (see `balls.needed`). Where
every stripe of a yarn is given by what there is of it, its rows were made to fit, and no margin is
asked for.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import floor
from typing import TYPE_CHECKING

from stripewright.compute.balls import needed
from stripewright.compute.colour import difference
from stripewright.compute.yarn import metres_per_gram

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence

    from stripewright.compute.worked import Figure, WorkedPattern, WorkedYarn
    from stripewright.pattern.stash import Stash, StashYarn

MOST_STEPS = 20_000
"""Of the search for yarns that stand in; beyond it the best found so far is told."""
_ENOUGH = 1e-9


@dataclass(frozen=True, slots=True)
class StandIn:
    """A yarn of the stash for one that is lacking: its key, and CIEDE2000 between their colours."""

    key: str
    difference: float
    left_g: float
    need_g: float
    """Of this yarn, with the margin."""


@dataclass(frozen=True, slots=True)
class YarnNeed:
    """A pattern's yarn held against the stash; masses in g, None where nothing says them."""

    key: str
    letter: str
    name: str
    colour: str
    weight: int | None
    source: str | None
    """The yarn of the stash that it is."""
    need_m: float
    """With the margin."""
    need_g: float | None
    takes_g: float | None
    """Without it."""
    margin: float
    """The share that is asked for on top: 0 where its rows are made to fit."""
    left_g: float
    stand_in: StandIn | None = None

    @property
    def over_g(self) -> float | None:
        """What is left over, the margin kept; below 0, what is lacking."""
        return None if self.need_g is None else self.left_g - self.need_g

    @property
    def enough(self) -> bool:
        """Whether there is enough of the very yarn, with the margin."""
        return self.over_g is not None and self.over_g >= -_ENOUGH * max(self.left_g, 1.0)

    @property
    def just_enough(self) -> bool:
        """Whether there is enough of it without the margin only."""
        if self.enough or self.takes_g is None:
            return False
        return self.takes_g <= self.left_g * (1 + _ENOUGH)


@dataclass(frozen=True, slots=True)
class Basket:
    """A pattern held against the stash."""

    worked: WorkedPattern
    needs: tuple[YarnNeed, ...]

    @property
    def enough(self) -> bool:
        """Whether it can be knitted wholly from the stash."""
        return all(one.enough for one in self.needs)

    @property
    def with_stand_ins(self) -> bool:
        """Whether it can with other colours of the stash for what is lacking."""
        return not self.enough and all(one.enough or one.stand_in for one in self.needs)


@dataclass(frozen=True, slots=True)
class BedRows:
    """Rows that what is left of a yarn gives on a bed, two tails taken off."""

    bed: str
    needles: int
    """In work."""
    rows: int
    pattern: str
    """The slug of the pattern whose gauge it is."""


def held_against(worked: WorkedPattern, stash: Stash) -> Basket:
    """A pattern held against the stash, with what could stand in for what is lacking.

    A yarn is one of the stash that it comes `from`, or else the one of its very name. Others stand
    in for it where they are of its weight class, as far as both are known, and reach.
    """
    needs = tuple(
        _need(worked, yarn, yarn.length_m, stash)
        for yarn in worked.yarns
        if not yarn.marl and yarn.length_m and yarn.length_m.value > 0
    )
    found = _stand_ins(worked, needs, stash)
    return Basket(worked, tuple(replace(one, stand_in=found.get(one.key)) for one in needs))


def _need(worked: WorkedPattern, yarn: WorkedYarn, length: Figure, stash: Stash) -> YarnNeed:
    written = worked.pattern.yarns[yarn.key]
    source = written.source if written.source in stash.yarns else _named(yarn.name, stash)
    margin = 0.0 if _made_to_fit(worked, yarn.key) else worked.pattern.margin
    metres = needed(length, margin) if margin else length.value
    takes = yarn.mass_g.value if yarn.mass_g else None
    return YarnNeed(
        key=yarn.key,
        letter=yarn.letter,
        name=yarn.name,
        colour=yarn.colour,
        weight=yarn.weight,
        source=source,
        need_m=metres,
        need_g=None if takes is None else takes * metres / length.value,
        takes_g=takes,
        margin=margin,
        left_g=stash.yarns[source].left_g if source else 0.0,
    )


def _named(name: str, stash: Stash) -> str | None:
    wanted = name.casefold()
    return next((key for key, one in stash.yarns.items() if one.name.casefold() == wanted), None)


def _made_to_fit(worked: WorkedPattern, key: str) -> bool:
    """Whether every stripe of a yarn, and of marls with it, is given by what there is of it.

    A stripe of all of it takes what the others leave, so one is enough.
    """
    if any(one.text == "all" and one.yarn == key for one in worked.amounts):
        return True
    fitted = {(one.piece, one.line) for one in worked.amounts}
    marls = {other.key for other in worked.yarns if key in other.marl}
    stripes = [
        (piece.key, number)
        for piece in worked.pieces
        for number, line in enumerate(piece.plan)
        if line.yarn == key or line.yarn in marls
    ]
    alike = {piece.key: piece for piece in worked.pieces}
    origins = {(_origin(worked, alike, name), number) for name, number in stripes}
    return bool(stripes) and origins <= fitted


def _origin(worked: WorkedPattern, known: Mapping[str, object], key: str) -> str:
    """The piece whose stripes a piece has."""
    piece = worked.pattern.pieces.get(key)
    while piece is not None and piece.like in known and piece.yarn is None and not piece.stripes:
        key = str(piece.like)
        piece = worked.pattern.pieces.get(key)
    return key


# --- what stands in for it ------------------------------------------------------------------------


def _stand_ins(
    worked: WorkedPattern, needs: Sequence[YarnNeed], stash: Stash
) -> dict[str, StandIn]:
    """For each yarn that is lacking, one of the stash; as near in colour as all of them can be.

    No more is taken of any than there is. Where not all can be found, those that can are told.
    """
    lacking = [one for one in needs if not one.enough]
    if not lacking:
        return {}
    left = {key: yarn.left_g for key, yarn in stash.yarns.items()}
    for one in needs:
        if one.enough and one.source and one.need_g is not None:
            left[one.source] -= one.need_g
    choices = {one.key: [*_candidates(worked, one, stash)] for one in lacking}
    found = [one for one in lacking if choices[one.key]]
    return _Search(left, [(one.key, choices[one.key]) for one in found]).best()


def _candidates(worked: WorkedPattern, need: YarnNeed, stash: Stash) -> Iterator[StandIn]:
    others = [(key, yarn) for key, yarn in stash.yarns.items() if key != need.source]
    ranked = sorted((difference(need.colour, yarn.colour), key) for key, yarn in others)
    for apart, key in ranked:
        yarn = stash.yarns[key]
        grams = _grams(worked, need, yarn)
        classes = {need.weight, yarn.weight} - {None}
        if grams is not None and len(classes) < 2 and grams <= yarn.left_g * (1 + _ENOUGH):
            yield StandIn(key, apart, yarn.left_g, grams)


def _grams(worked: WorkedPattern, need: YarnNeed, yarn: StashYarn) -> float | None:
    """What a yarn of the stash would take in g: by its own ball, else by the one it stands for."""
    if yarn.ball is not None and metres_per_gram(worked.pattern.yarns[need.key]) is not None:
        return need.need_m / yarn.ball.metres_per_gram
    return need.need_g


class _Search:
    """Looks for the stand-ins whose differences add up to the least."""

    def __init__(
        self, left: dict[str, float], wanted: Sequence[tuple[str, Sequence[StandIn]]]
    ) -> None:
        self.left, self.wanted = left, wanted
        self.steps = 0
        self.found: dict[str, StandIn] = {}
        self.score = (-1, 0.0)
        """How many are found, and minus the sum of their differences."""

    def best(self) -> dict[str, StandIn]:
        """The best that was found, by the key of what it stands in for."""
        self._try(0, {}, 0.0)
        return self.found

    def _try(self, at: int, so_far: dict[str, StandIn], total: float) -> None:
        self.steps += 1
        score = (len(so_far), -total)
        if score > self.score:
            self.score, self.found = score, dict(so_far)
        open_ = len(self.wanted) - at
        if not open_ or self.steps > MOST_STEPS:
            return
        if (len(so_far) + open_, -total) <= self.score:
            return  # it can't get better than what is found
        key, choices = self.wanted[at]
        for one in choices:
            if one.need_g <= self.left[one.key] * (1 + _ENOUGH):
                self.left[one.key] -= one.need_g
                self._try(at + 1, so_far | {key: one}, total + one.difference)
                self.left[one.key] += one.need_g
        self._try(at + 1, so_far, total)


# --- rows of a yarn on each bed -------------------------------------------------------------------


def rows_on_beds(
    key: str, yarn: StashYarn, patterns: Iterable[WorkedPattern]
) -> tuple[BedRows, ...]:
    """Rows that what is left of a yarn of the stash gives on each bed of the patterns.

    A bed's stitches take what they do in the first pattern on it that is knitted in this yarn,
    else in one of its weight class; without either nothing is told of it. Where neither its ball
    nor the pattern's weighed swatch says how far a gram goes, nothing is told either.
    """
    found: dict[tuple[str, int], tuple[int, BedRows]] = {}
    for worked in patterns:
        machine = worked.pattern.machine
        rank = _rank(key, yarn, worked)
        rows = _rows(yarn, worked)
        bed = (machine.bed, machine.in_work)
        if rank and rows is not None and rank > found.get(bed, (0, None))[0]:
            found[bed] = (rank, BedRows(*bed, rows, worked.slug))
    return tuple(found[bed][1] for bed in sorted(found))


def _rank(key: str, yarn: StashYarn, worked: WorkedPattern) -> int:
    """2 for a pattern that is knitted in a yarn of the stash, 1 for one of its weight class."""
    yarns = worked.pattern.yarns.values()
    if any(one.source == key or one.name.casefold() == yarn.name.casefold() for one in yarns):
        return 2
    return int(yarn.weight is not None and any(one.weight == yarn.weight for one in yarns))


def _rows(yarn: StashYarn, worked: WorkedPattern) -> int | None:
    reaches = [yarn.ball.metres_per_gram if yarn.ball else None]
    reaches += [
        metres_per_gram(one) for one in worked.pattern.yarns.values() if one.weight == yarn.weight
    ]
    reach = next((one for one in reaches if one is not None), None)
    if reach is None:
        return None
    tails = 2 * worked.pattern.tails.inside
    row = worked.pattern.machine.in_work * worked.loop_cm.value
    return max(floor((yarn.left_g * reach * 100 - tails) / row + _ENOUGH), 0)
