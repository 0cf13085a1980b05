"""What the commands do, each as its steps; the command line only parses and prints."""

from __future__ import annotations

import shutil
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, NamedTuple

from stripewright.catalogue import N_
from stripewright.pipeline.processes import collecting_seldom
from stripewright.problems import Problem, Refused, has_errors, in_order
from stripewright.studio import Studio, is_named, starter

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence
    from pathlib import Path

    from stripewright.pattern.settings import Settings
    from stripewright.pipeline.build import Built
    from stripewright.pipeline.changes import Changes
    from stripewright.pipeline.context import Options
    from stripewright.pipeline.output import Sound
    from stripewright.pipeline.own_machine import OwnMachine
    from stripewright.pipeline.progress import Progress
    from stripewright.pipeline.sources import SourceFile, Sources
    from stripewright.publish.commit import Outcome


def start(folder: Path) -> tuple[list[Path], list[Path]]:
    """Lay out a new studio; what is already there stays as it is.

    Returns:
        The files made, and those left alone because they were there.
    """
    made: list[Path] = []
    kept: list[Path] = []
    for source in sorted(path for path in starter().rglob("*") if path.is_file()):
        target = folder / source.relative_to(starter())
        if is_named(target):
            kept.append(target)
            continue
        target.parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(source, target)
        made.append(target)
    return made, kept


def proof(studio: Studio, options: Options, only: Sequence[Path] = ()) -> Built:
    """Every problem of a studio, or of some of its files, and what else is told of them."""
    from stripewright.pipeline.build import build
    from stripewright.pipeline.sources import read_sources

    sources, problems = read_sources(studio)
    built = build(studio, sources, options)
    built = replace(built, problems=tuple(in_order([*problems, *built.problems])))
    if not only:
        return built
    names = {studio.name_of(path.resolve()) for path in only}
    return replace(
        built,
        problems=tuple(one for one in built.problems if one.place.file in names),
        public=tuple((name, told) for name, told in built.public if name in names),
        letters=tuple((name, used) for name, used in built.letters if name in names),
    )


class Worked(NamedTuple):
    """A pattern worked and written, or one size of it."""

    sound: Sound
    settings: Settings
    problems: list[Problem]
    """Warnings."""
    titles: Mapping[str, str]
    """The titles of all its sizes, by their keys; none where there is but one."""


def worksheet(
    studio: Studio, path: Path, own: OwnMachine | None = None, size: str | None = None
) -> Worked:
    """A pattern worked and written, or one size of it. Raises Refused on an error.

    Args:
        studio: where its settings are.
        path: the pattern's file.
        own: somebody's own machine to work it for.
        size: the key of a size, or base; all of them when left out. None is worked that there
            isn't.
    """
    from stripewright.pipeline.make import work_source
    from stripewright.pipeline.own_machine import each_on_own_machine, on_own_machine
    from stripewright.pipeline.sources import noting_file, read_any

    settings, problems = _settings_of(studio)
    source, found = read_any(studio, path)
    problems += found
    if settings is None or source is None:
        raise Refused(in_order(problems))
    with noting_file(source.name):
        done = work_source(source, settings)
    problems += done.problems
    if done.sound is None or has_errors(problems):
        raise Refused(in_order(problems))
    sound, settings = done.sound, done.settings or settings
    titles = {key: sound.worked.size_title(key) for key in sound.worked.size_keys}
    if size is not None and size in (titles or ("base",)):
        sound = sound.of_size(size)
    if own is not None:
        anew = each_on_own_machine if sound.worked.sizes else on_own_machine
        sound, problems = anew(own, sound, done.document, settings)
    return Worked(sound, settings, in_order(problems), titles)


def _settings_of(studio: Studio) -> tuple[Settings | None, list[Problem]]:
    """The studio's settings with its stash, or such as a studio without any would have."""
    from stripewright.pipeline.context import UNSTATED, whole_settings
    from stripewright.pipeline.sources import read_any
    from stripewright.studio import SETTINGS, STASH

    def read(name: str) -> tuple[SourceFile | None, list[Problem]]:
        there = (studio.root / name).exists()
        return read_any(studio, studio.root / name) if there else (None, [])

    given, problems = read(SETTINGS)
    if problems:
        return None, problems
    listed, problems = read(STASH)
    settings, _document, found = whole_settings(given or UNSTATED, listed)
    return settings, problems + found


@dataclass(frozen=True)
class Published:
    """What a publish did."""

    built: Built
    outcome: Outcome
    changes: Changes
    """What it did to the patterns' pages."""
    packs: tuple[str, ...]
    """What there is to say of the packs of paid patterns."""
    books: tuple[str, ...]
    """The same of paid planning sheets."""


@collecting_seldom()
def publish(
    studio: Studio, into: Path, options: Options, progress: Progress, workers: int | None = None
) -> Published:
    """Read, make and check everything, then write it. Raises Refused; the old site stands."""
    from stripewright.pipeline.build import build
    from stripewright.pipeline.cached import disk_memo
    from stripewright.pipeline.sources import read_sources
    from stripewright.pipeline.store import Damaged

    sources, problems = read_sources(studio)

    def build_and_write() -> Published:
        with disk_memo(studio) as memo:
            built = build(studio, sources, options, progress, memo=memo, workers=workers)
            built = replace(built, problems=tuple(in_order([*problems, *built.problems])))
            return _written(studio, sources, built, into, progress)

    try:
        return build_and_write()
    except Damaged:
        # Something has been at the cache. It is worth nothing then, and never needed.
        if studio.holds(studio.cache):
            shutil.rmtree(studio.cache, ignore_errors=True)
        return build_and_write()


def _written(
    studio: Studio, sources: Sources, built: Built, into: Path, progress: Progress
) -> Published:
    from stripewright.pipeline.changes import changes_of, keep_told, warnings_of
    from stripewright.pipeline.pack_record import told_of_packs
    from stripewright.publish.commit import commit

    if has_errors(built.problems):
        raise Refused(built.problems)
    changes = changes_of(built.files, built.told, into, built.leading)
    told = in_order([*built.problems, *warnings_of(changes)])
    progress(N_("written"), 0, len(built.files))
    outcome = commit(built.files, into)
    keep_told(built.told, into)
    progress(N_("written"), len(built.files), len(built.files))
    data = {source.name: source for kind in ("patterns", "sheets") for source in sources.of(kind)}
    packs, books = (
        tuple(told_of_packs(studio, [(slug, data[name]) for slug, name in sold]))
        for sold in (built.sold, built.books)
    )
    return Published(replace(built, problems=tuple(told)), outcome, changes, packs, books)
