"""A pattern in the preview: what was last saved, and what was last good."""

from __future__ import annotations

import hashlib
from collections import OrderedDict
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from stripewright.pipeline.faults import told
from stripewright.pipeline.make import PatternOutput, show_source, work_source

if TYPE_CHECKING:
    from collections.abc import Collection, Mapping

    from stripewright.compute.worked import WorkedPattern
    from stripewright.pages.cards import Card
    from stripewright.pipeline.context import Context
    from stripewright.pipeline.photos import Shelf
    from stripewright.pipeline.sources import SourceFile
    from stripewright.problems import Problem
    from stripewright.studio import Studio

MOST_SHOWN = 48
"""Whole pages kept; others are made again when they are asked for."""


@dataclass(frozen=True, slots=True)
class Shown:
    """A pattern's files, and the numbers that stand beside its page."""

    files: Mapping[str, bytes]
    worked: WorkedPattern
    held: str
    access: str
    context: Context
    """What it was made with."""


@dataclass(slots=True)
class Unit:
    """A pattern file."""

    source: SourceFile
    """As last saved."""
    slug: str
    good: SourceFile | None = None
    """As last saved without an error: what its page shows."""
    problems: tuple[Problem, ...] = ()
    """Of `source`."""
    card: Card | None = None
    """Of `good`."""
    drawings: Mapping[str, bytes] = field(default_factory=dict)
    """Drawings of `good` that stand in files, by path: lists show them as pictures."""
    stamps: Mapping[str, str] = field(default_factory=dict)
    """A fingerprint of each."""
    stale: bool = True
    """Saved since it was last made, or its settings, theme or pictures changed."""
    made: int = 0
    """How many times it was made."""


class Units:
    """All pattern files, each made when it is saved or asked for."""

    def __init__(self, studio: Studio) -> None:
        self.studio = studio
        self.by_name: dict[str, Unit] = {}
        self.cards_version = 0
        """Counted up when a card or its pictures differ: lists are then made anew."""
        self._shown: OrderedDict[tuple[str, bool], Shown] = OrderedDict()

    def put(self, name: str, source: SourceFile | None) -> None:
        """A file was saved, or (None) is gone. It is made later."""
        unit = self.by_name.get(name)
        if source is None:
            if self.by_name.pop(name).card:
                self.cards_version += 1
            self._forget(name)
        elif unit is None:
            self.by_name[name] = Unit(source, slug=source.stem)
        else:
            unit.source, unit.stale = source, True

    def all_stale(self) -> None:
        """Settings or theme changed: everything has to be made again."""
        for unit in self.by_name.values():
            unit.stale = True

    def show_again(self, photos: Collection[str]) -> None:
        """Pictures changed: every pattern that names one has to be made again."""
        names = [photo.encode() for photo in photos]
        for unit in self.by_name.values():
            unit.stale |= any(name in unit.source.data for name in names)

    def stale(self) -> list[Unit]:
        """Those that have to be made again, in order."""
        return [unit for unit in self.in_order() if unit.stale]

    def in_order(self) -> list[Unit]:
        """All of them, by name."""
        return [self.by_name[name] for name in sorted(self.by_name)]

    def with_slug(self, slug: str) -> Unit | None:
        """The pattern at an address; of several that ask for it, the first."""
        return next((unit for unit in self.in_order() if unit.slug == slug), None)

    def make(self, unit: Unit, context: Context, shelf: Shelf) -> None:
        """Make a pattern from what was last saved; where that is broken, the last good stays."""
        shown, output = _show(unit.source, context, shelf, self.studio, buyer=False)
        unit.stale = False
        unit.made += 1
        unit.problems = output.problems
        if shown is None:
            unit.slug = unit.slug if unit.good else output.slug
            return
        self._forget(unit.source.name)
        unit.good, unit.slug = unit.source, output.slug
        drawings = {path: data for path, data in shown.files.items() if path.endswith(".svg")}
        if output.card != unit.card or drawings != unit.drawings:
            self.cards_version += 1
        unit.card, unit.drawings = output.card, drawings
        unit.stamps = {
            path: hashlib.sha256(data).hexdigest()[:8] for path, data in drawings.items()
        }
        self._keep((unit.source.name, False), shown)

    def shown(self, unit: Unit, context: Context, shelf: Shelf, *, buyer: bool) -> Shown | None:
        """The last good state of a pattern, whole; None when it never was good."""
        key = (unit.source.name, buyer)
        kept = self._shown.get(key)
        if unit.good and (kept is None or kept.context is not context):
            fresh, _ = _show(unit.good, context, shelf, self.studio, buyer=buyer)
            if fresh:
                kept = fresh
        if kept is not None:
            self._keep(key, kept)
        return kept

    def _keep(self, key: tuple[str, bool], shown: Shown) -> None:
        self._shown[key] = shown
        self._shown.move_to_end(key)
        while len(self._shown) > MOST_SHOWN:
            self._shown.popitem(last=False)

    def _forget(self, name: str) -> None:
        for buyer in (False, True):
            self._shown.pop((name, buyer), None)


def _show(
    source: SourceFile, context: Context, shelf: Shelf, studio: Studio, *, buyer: bool
) -> tuple[Shown | None, PatternOutput]:
    try:
        done = work_source(source, context.settings)
        output = show_source(done, context, shelf, buyer=buyer)
    except Exception as fault:  # noqa: BLE001  # a fault of ours is told in its place; pages stay
        problem = told(fault, source.name, studio)
        return None, PatternOutput(source.name, source.stem, (problem,))
    if output.card is None or done.worked is None:
        return None, output
    return Shown(output.files, done.worked, output.held, output.access, context), output
