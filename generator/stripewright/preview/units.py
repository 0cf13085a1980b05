"""The source files of the preview: what was last saved, and what was last good."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any

from stripewright.pages.feed import latest
from stripewright.pipeline.batch import not_in_feed
from stripewright.pipeline.faults import problem_of_fault
from stripewright.pipeline.memo import Kept, MemoryMemo, Work
from stripewright.pipeline.output import Output
from stripewright.pipeline.store import Damaged

if TYPE_CHECKING:
    from collections.abc import Mapping

    from stripewright.compute.worked import WorkedPattern
    from stripewright.pages.cards import Card
    from stripewright.pipeline.context import Context
    from stripewright.pipeline.sources import SourceFile
    from stripewright.problems import Problem
    from stripewright.studio import Studio

MOST_PAGES = 48
"""Whole pages kept; others are made again when they are asked for."""
MOST_WORKED = 16
"""Patterns that stay worked out, for the numbers beside their pages and for their buyers' view."""
MOST_TOLD = 60
"""Cards kept with their stories; the feed shows fewer."""
SWEPT_EVERY = 16
"""Saves after which what they replaced is forgotten."""


@dataclass(frozen=True, slots=True)
class Shown:
    """A pattern's files, and the numbers that stand beside its page."""

    kept: Kept
    worked: WorkedPattern
    context: Context
    """What it was made with."""

    @property
    def held(self) -> str:
        """Why it is not published yet."""
        return self.kept.value.held

    @property
    def access(self) -> str:
        """Free or paid."""
        return self.kept.value.access


@dataclass(slots=True)
class Unit:
    """A source file."""

    source: SourceFile
    """As last saved."""
    slug: str
    good: SourceFile | None = None
    """As last saved without an error: what its page shows."""
    problems: tuple[Problem, ...] = ()
    """Of `source`."""
    last: dict[bool, Kept] = field(default_factory=dict)
    """What was last shown of `good`, as viewers see it (False) and as buyers do (True)."""
    stale: bool = True
    """Not in the memo: saved since it was last made, or its settings, theme or pictures changed."""
    made: int = 0
    """How many times it was made."""

    @property
    def shown(self) -> Any:
        """What lists, and its own page if it is no pattern, show of `good`."""
        return self.last[False].value.shown if False in self.last else None

    @property
    def card(self) -> Card | None:
        """Of `good`."""
        return self.last[False].value.card if False in self.last else None

    @property
    def drawings(self) -> Mapping[str, str]:
        """Drawings of `good` that stand in files, which lists show as pictures: path -> digest."""
        files = self.last[False].files if False in self.last else {}
        return {path: digest for path, digest in files.items() if path.endswith(".svg")}


class Units:
    """All source files, each made when it is asked for, and kept in a memo."""

    def __init__(self, studio: Studio) -> None:
        self.studio = studio
        self.by_name: dict[str, Unit] = {}
        self.version = 0
        """Counted up when what lists show differs: they are then made anew."""
        self.memo = MemoryMemo(MOST_PAGES)
        self._work: Work | None = None
        self._whole: dict[str, Card] = {}
        """Cards that have their stories still, by name."""
        self._since_swept = 0

    def use(self, work: Work) -> None:
        """Settings, theme or pictures changed: what the memo doesn't hold has to be made again."""
        self._work = work
        for unit in self.by_name.values():
            self._look_up(unit)

    def put(self, name: str, source: SourceFile | None) -> None:
        """A file was saved, or (None) is gone. It is made later."""
        unit = self.by_name.get(name)
        if source is None:
            self._whole.pop(name, None)
            if self.by_name.pop(name).shown:
                self.version += 1
            return
        if unit is None:
            unit = self.by_name[name] = Unit(source, slug=source.stem)
        unit.source = source
        self._look_up(unit)

    def _look_up(self, unit: Unit) -> None:
        kept = self._work.made(unit.source, whole=False) if self._work else None
        unit.stale = kept is None
        if kept is not None:
            self._take(unit, kept)

    def stale(self) -> list[Unit]:
        """The patterns that have to be made again, in order."""
        return [unit for unit in self.in_order() if unit.stale]

    def in_order(self, kind: str = "patterns") -> list[Unit]:
        """All of one kind, by name."""
        return [unit for _, unit in sorted(self.by_name.items()) if unit.source.kind == kind]

    def others(self, kind: str) -> list[Unit]:
        """What is no pattern, of one kind, made as last saved."""
        units = self.in_order(kind)
        for unit in units:
            if unit.stale:
                self.make(unit)
        return units

    def with_slug(self, slug: str) -> Unit | None:
        """The pattern at an address; of several that ask for it, the first."""
        return next((unit for unit in self.in_order() if unit.slug == slug), None)

    def make(self, unit: Unit) -> None:
        """Make what was last saved; where that is broken, the last good stays."""
        if self._work is None:
            return
        unit.stale = False
        unit.made += 1
        self._take(unit, self._kept(unit.source, self._work))
        self._since_swept += 1
        if self._since_swept >= SWEPT_EVERY and not self.stale():
            self._since_swept = 0
            self._sweep(self._work)

    def _take(self, unit: Unit, kept: Kept) -> None:
        unit.problems = kept.value.problems
        if kept.value.shown is None:
            unit.slug = unit.slug if unit.good else kept.value.slug
            return
        unit.good, unit.slug = unit.source, kept.value.slug
        before = (unit.shown, unit.drawings)
        unit.last[False] = kept
        if (unit.shown, unit.drawings) != before:
            self.version += 1
        if kept.value.card is None:
            return
        self._whole[unit.source.name] = kept.value.card
        if len(self._whole) > MOST_TOLD:
            self._thin_out()

    def _kept(self, source: SourceFile, work: Work, *, buyer: bool = False) -> Kept:
        """What the memo holds of a source, or what is made of it now."""
        kept = work.made(source, buyer=buyer)
        if kept is not None:
            return kept
        try:
            return work.make(source, buyer=buyer)
        except Exception as fault:  # noqa: BLE001  # a fault of ours is told in its place; pages stay
            problem = problem_of_fault(fault, source.name, self.studio)
            output = Output(source.name, source.stem, (problem,))
            return work.keep(source, output, buyer=buyer)

    def shown(self, unit: Unit, *, buyer: bool) -> Shown | None:
        """The last good state of a pattern, whole; None when it never was good."""
        if unit.good is None or self._work is None:
            return None
        kept = self._kept(unit.good, self._work, buyer=buyer)
        if kept.value.card is not None:
            unit.last[buyer] = kept
        worked = self._work.worked(unit.good).worked
        if buyer not in unit.last or worked is None:
            return None
        return Shown(unit.last[buyer], worked, self._work.context)

    def file(self, kept: Kept, path: str) -> bytes | None:
        """One of a pattern's files; None where there is none, or it is no longer kept."""
        try:
            return self.memo.store.get(kept.files[path])
        except (KeyError, Damaged):
            return None

    def cards(self) -> list[Card]:
        """The cards of all patterns, with the stories of those that the feed shows."""
        units = {unit.card.view.slug: unit for unit in self.in_order() if unit.card}
        for card in latest([unit.card for unit in units.values() if unit.card]):
            unit = units[card.view.slug]
            if unit.source.name not in self._whole and unit.good and self._work:
                kept = self._work.make(unit.good)
                if kept.value.card:
                    unit.last[False] = kept
                    self._whole[unit.source.name] = kept.value.card
        return [unit.card for unit in self.in_order() if unit.card]

    def _thin_out(self) -> None:
        """Let go of stories that the feed won't show: they are most of what is kept."""
        for name in not_in_feed(self._whole):
            del self._whole[name]
            unit = self.by_name[name]
            kept, card = unit.last[False], unit.card
            if card is None or unit.good is None or self._work is None:
                continue
            unit.last[False] = replace(kept, value=replace(kept.value, card=card.listed))
            key = self._work.key(unit.good)
            if self.memo.find(key) is kept:
                self.memo.keep(key, unit.last[False])

    def _sweep(self, work: Work) -> None:
        """Forget what was made of what isn't saved any more."""
        keys: set[str] = set()
        digests: set[str] = set()
        for unit in self.by_name.values():
            for source in {unit.source, unit.good} - {None}:
                keys |= {work.key(source, buyer=buyer) for buyer in (False, True)}  # type: ignore[arg-type]  # no None is left
            for kept in unit.last.values():
                digests.update(kept.files.values())
        self.memo.sweep(keys, digests)
