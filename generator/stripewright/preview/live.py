"""The studio as last saved, and its pages, made when they are asked for."""

from __future__ import annotations

import threading
from dataclasses import dataclass
from typing import TYPE_CHECKING

from stripewright.addresses import pattern_of, pattern_path, photo_of
from stripewright.catalogue import SOURCE
from stripewright.digests import digest_of
from stripewright.pattern.kinds import OTHERS
from stripewright.pattern.slugs import duplicate_slugs
from stripewright.pipeline.context import Context, Options, make_context, today
from stripewright.pipeline.faults import problem_of_fault
from stripewright.pipeline.memo import Work, surroundings
from stripewright.pipeline.photos import PhotoLibrary
from stripewright.pipeline.stash import stash_stamp
from stripewright.preview.lists import Lists
from stripewright.preview.saved import Saved, SavedChanges
from stripewright.preview.turns import Turns
from stripewright.preview.units import MOST_WORKED, Units
from stripewright.problems import Problem, Severity, in_order

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable
    from pathlib import Path

    from stripewright.pattern.settings import Settings
    from stripewright.pipeline.sources import SourceFile
    from stripewright.preview.lists import Waiting
    from stripewright.preview.units import Shown, Unit
    from stripewright.studio import Studio

AT_ONCE = 4
"""Patterns made before pages are told of a save; of more, first those that are open."""


@dataclass(frozen=True, slots=True)
class Found:
    """What stands at an address.

    Attributes:
        data: its bytes; None for the page of a pattern that never was whole.
        unit: the pattern whose page it is.
        shown: that pattern's numbers.
    """

    data: bytes | None
    unit: Unit | None = None
    shown: Shown | None = None


class LiveStudio:
    """A studio being written. Every public method may be called from any thread."""

    def __init__(self, studio: Studio) -> None:
        self.saved = Saved(studio)
        self.units = Units(studio)
        self.rounds = 0
        """How many times a save was taken up."""
        self.turns = Turns()
        self.wanted = threading.Event()
        """Set when patterns wait to be made, or problems to be told."""
        self._context: Context | None = None
        self._good_settings: SourceFile | None = None
        self._settings_problems: list[Problem] = []
        self._shelf = PhotoLibrary({})
        self._assets: dict[str, bytes] = {}
        self._faults: dict[str, Problem] = {}
        """What failed, by what was being done."""
        self._context_version = 0
        self._lists = Lists(studio)
        self._apply(self.saved.read_all())

    # ---- saves --------------------------------------------------------------------------------

    def take_up(self, paths: Collection[Path | None], watched: Iterable[str] = ()) -> bool:
        """Read what was saved, and make at once the little that open pages wait for.

        Args:
            paths: what changed; None means that anything may have.
            watched: the addresses of open pages.

        Returns:
            Whether anything differs from before.
        """
        named = [path for path in paths if path is not None]
        with self.turns.first():
            try:
                changes = self.saved.read_all() if None in paths else self.saved.read(named)
                if not self._apply(changes) and not self._faults.pop("save", None):
                    return False
                self._faults.pop("save", None)
            except Exception as fault:  # noqa: BLE001  # told on the page; the next save is read
                studio = self.saved.studio
                name = studio.name_of(named[0]) if named else "content"
                self._faults["save"] = problem_of_fault(fault, name, studio)
            self.rounds += 1
            waiting = self.units.stale()
            if len(waiting) > AT_ONCE:
                slugs = {pattern_of(address) for address in watched}
                waiting = [unit for unit in waiting if unit.slug in slugs]
            for unit in waiting:
                self.units.make(unit)
            return True

    def report(self, what: str, problem: Problem | None) -> bool:
        """Tell what else fails, or (None) no longer does; whether that is news."""
        with self.turns.first():
            differs = self._faults.get(what) != problem
            self._faults.pop(what, None)
            if problem is not None:
                self._faults[what] = problem
        self.wanted.set()
        return differs

    def make_one(self) -> bool:
        """Make one pattern that waits to be made; False when none does."""
        with self.turns.after_others():
            unit = next(iter(self.units.stale()), None)
            if unit is None or self._context is None:
                return False
            self.units.make(unit)
            return True

    def _apply(self, changes: SavedChanges) -> bool:
        """Mark what has to be made again; say whether there is anything new to be seen."""
        for kind, name in changes.sources:
            self.units.put(name, self.saved.files[kind].get(name))
        if changes.photos:
            self._shelf = PhotoLibrary(self.saved.photos)
            self._use(self._context)
        menu = any(kind != "patterns" for kind, _ in changes.sources)  # they may stand in it
        renewed = (changes.settings or menu) and self._renew_context()
        self.wanted.set()
        return bool(changes.sources or changes.photos or changes.problems or renewed)

    def _renew_context(self) -> bool:
        """Read settings and theme; while they are broken, the last good ones stay in use."""
        studio = self.saved.studio
        options = Options(today(), drafts=True, preview=True, paper=False)
        context, problems = make_context(studio, self.saved.sources(self.saved.settings), options)
        differs = problems != self._settings_problems
        self._settings_problems = problems
        if context is not None:
            self._good_settings = self.saved.settings
        elif self._good_settings is not None:
            context, _ = make_context(studio, self.saved.sources(self._good_settings), options)
        old = self._context
        if context is None or (old and _same(old, context)):
            return differs
        self._context_version += 1
        self._assets = context.renderer.assets.files()
        self._use(context)
        return True

    def _use(self, context: Context | None) -> None:
        """Make with these settings, theme and pictures from now on."""
        self._context = context
        if context is not None:
            work = Work(context, self._shelf, self.units.memo, most_worked=MOST_WORKED)
            self.units.use(work)

    # ---- what is shown ------------------------------------------------------------------------

    def find(self, path: str, *, buyer: bool = False) -> Found | None:
        """What stands at a path from the site's root; None for nothing."""
        with self.turns.first():
            if self._context is None:
                return None
            if slug := pattern_of(path):
                unit = self._unit_at(slug)
                return self._of_unit(unit, path, buyer=buyer) if unit else None
            if photo_of(path):
                picture = self._shelf.file(path)
                return Found(picture) if picture is not None else None
            data = self._assets.get(path)
            if data is None:
                data = self._listed(path, self._context)
            return Found(data) if data is not None else None

    def _unit_at(self, slug: str) -> Unit | None:
        """The pattern at an address; one that names its own has to be made before that is known."""
        unit = self.units.with_slug(slug)
        if unit is None:
            for other in self.units.stale():
                if b"slug:" in other.source.data:
                    self.units.make(other)
            unit = self.units.with_slug(slug)
        return unit

    def _of_unit(self, unit: Unit, path: str, *, buyer: bool) -> Found | None:
        if unit.stale:
            self.units.make(unit)
        if path in unit.drawings and not buyer:
            data = self.units.file(unit.last[False], path)
            return Found(data) if data is not None else None
        shown = self.units.shown(unit, buyer=buyer)
        data = self.units.file(shown.kept, path) if shown else None
        if data is not None or path == pattern_path(unit.slug):
            return Found(data, unit, shown)
        return None

    def _listed(self, path: str, context: Context) -> bytes | None:
        """A page that is not a pattern's."""
        others = {
            kind.folder: [unit.shown for unit in self.units.others(kind.folder) if unit.shown]
            for kind in OTHERS
        }

        def waiting() -> Waiting:
            return context.renderer.site(self.units.cards(), others)

        key = (self.units.version, self._context_version)
        before = dict(self._lists.faults)
        page = self._lists.page(path, key, waiting)
        if self._lists.faults != before:
            self.wanted.set()
        return page

    def stamps(self) -> dict[str, str]:
        """A short fingerprint of each drawing that lists show as a picture, by its path."""
        with self.turns.first():
            return {
                path: digest[:8]
                for unit in self.units.in_order()
                for path, digest in unit.drawings.items()
            }

    def assets(self) -> dict[str, str]:
        """A fingerprint of each style and script of the theme, by its path."""
        with self.turns.first():
            return {path: digest_of(data)[:12] for path, data in self._assets.items()}

    def problems(self) -> list[Problem]:
        """Every problem of the studio that is known by now."""
        with self.turns.first():
            return in_order(self._problems())

    def elsewhere(self, here: Iterable[Problem]) -> tuple[list[Problem], int]:
        """The errors beside those of a page, and how many problems there are beside them."""
        with self.turns.first():
            others = set(self._problems()).difference(here)
            errors = in_order(p for p in others if p.severity is Severity.ERROR)
            return errors, len(others)

    def _problems(self) -> list[Problem]:
        for path in list(self._lists.faults):
            if self._context is not None:
                self._listed(path, self._context)  # it may be mended by now
        found = [*self._settings_problems, *self._faults.values(), *self._lists.faults.values()]
        for problems in self.saved.problems.values():
            found += problems
        for units in (
            self.units.in_order(),
            *(self.units.others(kind.folder) for kind in OTHERS),
        ):
            found += [problem for unit in units for problem in unit.problems]
            found += duplicate_slugs((unit.source.name, unit.slug) for unit in units)
        return found

    @property
    def settings(self) -> Settings | None:
        """The studio's settings, as last good; None when they never were."""
        return self._context.settings if self._context else None

    @property
    def words(self) -> str:
        """The locale that the preview itself speaks: the studio's."""
        return self.settings.words if self.settings else SOURCE

    def reading(self) -> tuple[int, int]:
        """How many patterns are made, and how many there are."""
        with self.turns.first():
            total = len(self.units.in_order())
            return total - len(self.units.stale()), total


def _same(old: Context, new: Context) -> bool:
    return (
        surroundings(old) == surroundings(new)
        and old.theme.files == new.theme.files
        and stash_stamp(old.settings.stash) == stash_stamp(new.settings.stash)
    )
