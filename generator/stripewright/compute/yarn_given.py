"""Stripes given by their yarn, as they were written: how much there is for each of them."""

from __future__ import annotations

from math import ceil
from typing import TYPE_CHECKING

from stripewright.catalogue import _, say
from stripewright.compute.marl import as_knitted, knitted_yarns
from stripewright.compute.rows import RowShare, build_stripes
from stripewright.compute.yarn import loop_of, metres_of
from stripewright.figures import decimal
from stripewright.pattern.amounts import ByYarn
from stripewright.pattern.quantities import CM, GRAM
from stripewright.pattern.stripes import of_kind

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from stripewright.compute.notes import Notes
    from stripewright.compute.worked import WorkedGauge
    from stripewright.compute.yarn import Loop
    from stripewright.pattern.pattern import Pattern
    from stripewright.source.places import Path

Spot = tuple[str, int]
"""A stripe as written: its piece's key, and its number in it from 0."""


class YarnGiven:
    """The stripes of a pattern that are given by their yarn; see `rows_by_yarn` for the rest."""

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
        self.items: dict[Spot, ByYarn] = {
            (key, n): part.by_yarn
            for key, parts in self.parts.items()
            for n, part in enumerate(parts)
            if part.by_yarn
        }
        """The stripes as they were written."""
        self.own = [spot for spot, item in self.items.items() if not item.amount.takes]
        self.alls = [spot for spot, item in self.items.items() if item.amount.takes == "all"]
        self.metres: dict[Spot, float] = {}

    def _loop(self) -> Loop:
        """The yarn in one stitch, as it is for the whole pattern: of the yarns that are knitted."""
        pattern = self.pattern
        used: set[str] = set()
        for piece in pattern.pieces.values():
            used |= {piece.yarn} if piece.yarn else set()
            used |= {p.yarn for p in build_stripes(piece.stripes or piece.parts or ())}
        return loop_of(self.gauge, pattern.swatches, knitted_yarns(pattern.yarns, used))

    def given(self) -> bool:
        """Work out what there is for each stripe, in m; tell of what can't be known."""
        for spot in (*self.own, *self.alls):
            item = self.items[spot]
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
            item.amount.takes == "rest" and item.yarn == yarn for item in self.items.values()
        )

    def strands(self, yarn: str) -> tuple[str, ...]:
        """The yarns that one is knitted from: itself, or those of a marl."""
        return self.pattern.yarns[yarn].marl or (yarn,)

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
