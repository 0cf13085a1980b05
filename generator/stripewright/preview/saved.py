"""What is on the disk, as last read, and what differs when it is read again."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from stripewright.pattern.kinds import BY_FOLDER
from stripewright.pipeline.sources import SourceFile, Sources, read_file, read_photos, read_sources
from stripewright.problems import Place, error
from stripewright.studio import SETTINGS, STASH, Studio, is_named

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable
    from pathlib import Path

    from stripewright.problems import Problem

Stamp = tuple[int, int, int]
"""When a picture was saved, its size and its place on the disk."""


@dataclass(slots=True)
class SavedChanges:
    """What differs from before."""

    sources: set[tuple[str, str]] = field(default_factory=set)
    """Kind and name of files that were saved, made or removed."""
    settings: bool = False
    """Settings, stash or theme may differ."""
    photos: set[str] = field(default_factory=set)
    """Names of pictures that came, went or changed."""
    problems: bool = False
    """Other files can't be read than before."""

    def __bool__(self) -> bool:
        """Whether anything differs."""
        return bool(self.sources or self.settings or self.photos or self.problems)


class Saved:
    """A studio's files as last read."""

    def __init__(self, studio: Studio) -> None:
        self.studio = studio
        self.files: dict[str, dict[str, SourceFile]] = {kind: {} for kind in BY_FOLDER}
        """By kind and name."""
        self.settings: SourceFile | None = None
        self.stash: SourceFile | None = None
        self.photos: dict[str, Path] = {}
        self.problems: dict[str, list[Problem]] = {}
        """By name, of files that can't be read."""
        self._stamps: dict[str, Stamp] = {}

    def sources(self, settings: SourceFile | None) -> Sources:
        """What is saved, with some settings."""
        return Sources(
            settings,
            {kind: tuple(of[name] for name in sorted(of)) for kind, of in self.files.items()},
            stash=self.stash,
        )

    def read_all(self) -> SavedChanges:
        """Read everything: at the start, and when folders came, went or moved.

        While the studio itself is gone, what was read last stays.
        """
        if not self.studio.root.is_dir():
            return self._read_nothing()
        changes = SavedChanges(settings=True)
        sources, problems = read_sources(self.studio)
        before, self.problems = self.problems, {}
        for problem in problems:
            self.problems.setdefault(problem.place.file, []).append(problem)
        changes.problems = self.problems != before
        for kind in BY_FOLDER:
            old, now = self.files[kind], {source.name: source for source in sources.of(kind)}
            differ = {name for name in old.keys() | now.keys() if old.get(name) != now.get(name)}
            changes.sources |= {(kind, name) for name in differ}
            self.files[kind] = now
        self.settings, self.stash = sources.settings, sources.stash
        changes.photos = self._read_photos(dict(sources.photos))
        return changes

    def _read_nothing(self) -> SavedChanges:
        before, name = self.problems, str(self.studio.root)
        self.problems = {name: [error(Place(name), "the studio's folder is gone",
                                      "put it back and this goes on; or end the preview and "
                                      "start it where the studio is now")]}  # fmt: skip
        return SavedChanges(problems=self.problems != before)

    def read(self, paths: Collection[Path]) -> SavedChanges:
        """Read again what was named."""
        if not self.studio.root.is_dir():
            return self._read_nothing()
        changes = SavedChanges()
        for path in sorted(paths):
            if self.studio.is_source(path) and path.parent.name in BY_FOLDER:
                self._read_source(path, changes)
            elif path == self.studio.root / SETTINGS:
                self._read_settings(path, changes)
            elif path == self.studio.root / STASH:
                self._read_stash(path, changes)
            elif path.is_relative_to(self.studio.themes):
                changes.settings = True
        if any(path.parent == self.studio.content / "data" for path in paths):
            for name, source in [*self.files["patterns"].items()]:
                if b"data:" in source.data:
                    self._read_source(self.studio.root / name, changes)
        photos = self.studio.content / "photos"
        if any(path.parent == photos for path in paths):
            found, problems = read_photos(self.studio)
            changes.photos = self._read_photos(found)
            before, within = self.problems, f"{self.studio.name_of(photos)}/"
            self.problems = {
                name: told for name, told in before.items() if not name.startswith(within)
            }
            self.problems |= {problem.place.file: [problem] for problem in problems}
            changes.problems |= self.problems != before
        return changes

    def _read_source(self, path: Path, changes: SavedChanges) -> None:
        kind, name = path.parent.name, self.studio.name_of(path)
        source, problems = read_file(self.studio, path) if is_named(path) else (None, [])
        if source != self.files[kind].get(name):
            changes.sources.add((kind, name))
            if source is None:
                del self.files[kind][name]
            else:
                self.files[kind][name] = source
        self._tell(name, problems, changes)

    def _read_settings(self, path: Path, changes: SavedChanges) -> None:
        if not is_named(path):
            return  # the last settings stay in use until there are others
        source, problems = read_file(self.studio, path)
        if source is not None and source != self.settings:
            self.settings = source
            changes.settings = True
        self._tell(SETTINGS, problems, changes)

    def _read_stash(self, path: Path, changes: SavedChanges) -> None:
        source, problems = read_file(self.studio, path) if is_named(path) else (None, [])
        if source != self.stash:
            self.stash = source
            changes.settings = True
        self._tell(STASH, problems, changes)

    def _tell(self, name: str, problems: list[Problem], changes: SavedChanges) -> None:
        if self.problems.get(name, []) != problems:
            changes.problems = True
            self.problems[name] = problems

    def _read_photos(self, photos: dict[str, Path]) -> set[str]:
        stamps = dict(_stamped(photos.items()))
        old, self._stamps = self._stamps, stamps
        self.photos = photos
        return {name for name in old.keys() | stamps.keys() if old.get(name) != stamps.get(name)}


def _stamped(photos: Iterable[tuple[str, Path]]) -> Iterable[tuple[str, Stamp]]:
    for name, path in photos:
        try:
            found = path.stat()
        except OSError:
            continue
        yield name, (found.st_mtime_ns, found.st_size, found.st_ino)
