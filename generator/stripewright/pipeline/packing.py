"""Packs to sell and sheets to print: sources -> packs/SLUG/, beside the site and never in it.

A pack whose sources and files are as they were (`pack_record`) is left alone; what buyers have of
one is remembered (`versions`).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stripewright.catalogue import N_, say
from stripewright.pattern.read import as_model
from stripewright.pattern.sheets import Sheets
from stripewright.pipeline.context import Options, begin, names_of
from stripewright.pipeline.faults import of_theme, problem_of_fault
from stripewright.pipeline.make import work_source
from stripewright.pipeline.pack_making import pack_of_pattern, pack_of_sheets
from stripewright.pipeline.pack_record import (
    keep_record,
    other_files,
    read_record,
    record_of,
    stands_still,
)
from stripewright.pipeline.photos import PhotoLibrary
from stripewright.pipeline.pictures import pictures_of
from stripewright.pipeline.processes import can_be_started_again, cores, starting, worker_pool
from stripewright.pipeline.sources import noting_file
from stripewright.pipeline.versions import (
    keep_version,
    known_of,
    read_versions,
)
from stripewright.problems import Place, Problem, Refused, error, has_errors, in_order, warning
from stripewright.publish.commit import commit
from stripewright.publish.names import what_is_wrong
from stripewright.source.reader import read_document
from stripewright.studio import LEADS_OUT
from stripewright.view.contents import LOOK

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence
    from pathlib import Path

    from stripewright.pipeline.make import WorkedSource
    from stripewright.pipeline.output import Sound
    from stripewright.pipeline.pack_making import Made, Pack
    from stripewright.pipeline.progress import Progress
    from stripewright.pipeline.versions import Told
    from stripewright.studio import Studio

WORTH_A_WORKER = 3
"""Packs to make for each process: one pack takes about as long as a process needs to start."""
RENEWED = 40
"""Packs after which worker processes are started anew."""


@dataclass(frozen=True, slots=True)
class Packed:
    """What a run did."""

    made: tuple[str, ...]
    unchanged: tuple[str, ...]
    warnings: tuple[Problem, ...]
    new: tuple[str, ...] = ()
    """Of those made, the ones that were never made before."""
    changed: tuple[tuple[str, tuple[str, ...]], ...] = ()
    """Of those made, the ones that differ from what they were, and in which parts."""


def make_packs(
    studio: Studio,
    options: Options,
    progress: Progress,
    only: Sequence[Path] = (),
    workers: int | None = None,
) -> Packed:
    """Make the packs of the paid patterns, or of the files named. Raises Refused.

    Args:
        studio: where its files are.
        options: what is asked for.
        progress: told of each pack.
        only: the files; all paid patterns when empty.
        workers: processes at most; None is as many as there are cores for this program.
    """
    sources, context, problems = begin(studio, options)
    wanted, others = names_of(studio, only, sources, "patterns")
    problems, known = [*problems, *others], read_versions(studio)
    shelf = PhotoLibrary(sources.photos)
    packs: list[Pack] = []
    for source in sources.of("patterns"):
        if wanted and source.name not in wanted:
            continue
        with noting_file(source.name):
            done = work_source(source, context.settings)
        sound = done.sound
        if sound is None or wanted or _is_sold(sound, options):
            problems += done.problems
        if sound is not None and (wanted or _is_sold(sound, options)):
            photos, found = pictures_of(sound, done.document, shelf)
            problems += [*found, *_under_old_names(studio, done, sound)]
            told = context.told_by(done.settings)
            before = known_of(known, done.slug, sound.worked.pattern.formerly)
            packs.append(pack_of_pattern(done, sound, told, photos, before))
    return _write(studio, packs, problems, progress, workers)


def make_sheets(
    studio: Studio,
    options: Options,
    progress: Progress,
    only: Sequence[Path] = (),
    workers: int | None = None,
) -> Packed:
    """Make the planning sheets and books of content/sheets, or the files named. Raises Refused."""
    sources, context, problems = begin(studio, options)
    wanted, others = names_of(studio, only, sources, "sheets")
    problems, known = [*problems, *others], read_versions(studio)
    packs: list[Pack] = []
    for source in sources.of("sheets"):
        if wanted and source.name not in wanted:
            continue
        document, found = read_document(source.data, source.name, source.tables)
        problems += found
        sheets, found = as_model(document, Sheets)
        problems += found
        if sheets is not None:
            packs.append(pack_of_sheets(source, document, sheets, context, known))
    return _write(studio, packs, problems, progress, workers)


def _is_sold(sound: Sound, options: Options) -> bool:
    """Paid, and not a draft: a pack is wanted before its day, but not before it is done."""
    pattern = sound.worked.pattern
    return pattern.access == "paid" and (pattern.published is not None or options.drafts)


def _under_old_names(studio: Studio, done: WorkedSource, sound: Sound) -> Iterator[Problem]:
    """A warning for each folder that a pack was made in before its pattern had another address."""
    for old in sound.worked.pattern.formerly:
        if old != done.slug and (studio.packs / old).is_dir():
            yield warning(
                Place(f"packs/{old}"),
                say("this is the pack of {slug} as it was under an earlier address", done.slug),
                say("delete the folder once your shop has packs/{slug}", slug=done.slug),
            )


def _write(
    studio: Studio,
    packs: Sequence[Pack],
    problems: list[Problem],
    progress: Progress,
    workers: int | None,
) -> Packed:
    problems += _two_of_a_name(studio, packs)
    problems += _out_of_place(studio, packs)
    if has_errors(problems):
        raise Refused(in_order(problems))
    record, known = read_record(studio), read_versions(studio)
    stand = [
        one.slug in known and stands_still(studio.packs / one.slug, record.get(one.slug), one.key)
        for one in packs
    ]
    wanted = [one for one, stands in zip(packs, stand, strict=True) if not stands]
    unchanged = [one.slug for one, stands in zip(packs, stand, strict=True) if stands]
    if unchanged:
        progress(N_("packs"), len(unchanged), len(packs))
    new: list[str] = []
    changed: list[tuple[str, tuple[str, ...]]] = []
    for number, (one, make) in enumerate(_at_work(wanted, workers or cores()), 1):
        files, told = _made(one, make, studio)
        commit(files, studio.packs / one.slug)
        keep_version(studio, one.slug, told.history)
        seen = other_files(record.get(one.slug), files)
        record[one.slug] = record_of(one.name, one.key, one.source, files)
        keep_record(studio, record)
        progress(N_("packs"), len(unchanged) + number, len(packs))
        problems += one.check(told)
        if told.changed is None:
            new.append(one.slug)
        elif parts := _changed(told, seen=seen):
            changed.append((one.slug, parts))
    made = tuple(one.slug for one in wanted)
    return Packed(made, tuple(unchanged), tuple(in_order(problems)), tuple(new), tuple(changed))


def _changed(told: Told, *, seen: bool) -> tuple[str, ...]:
    """In which parts a pack differs from the one before; `seen`: some file of it does."""
    if told.changed:
        return told.changed
    if not told.same_version:  # its version alone: changes.txt, covers and pages say it
        return ("dates",)
    return (LOOK,) if seen else ()


def _at_work(packs: Sequence[Pack], workers: int) -> Iterator[tuple[Pack, Callable[[], Made]]]:
    """Each pack with what gives its files: worker processes, if they are worth their start.

    A pool is left after `RENEWED` packs, for the typesetter keeps what it has set in memory.
    """
    workers = max(min(workers, len(packs) // WORTH_A_WORKER), 1)
    if (workers == 1 and len(packs) <= RENEWED) or not can_be_started_again():
        yield from ((one, one.make) for one in packs)
        return
    for first in range(0, len(packs), RENEWED):
        batch = packs[first : first + RENEWED]
        with worker_pool(workers) as pool:
            with starting():
                waiting = [pool.submit(one.make) for one in batch]
            while waiting:  # what is written is let go
                yield batch[-len(waiting)], waiting.pop(0).result


def _made(one: Pack, make: Callable[[], Made], studio: Studio) -> Made:
    """A pack, made. Raises Refused for a template with a mistake, of pages or of print."""
    with noting_file(one.name):
        try:
            return make()
        except Exception as fault:
            if not of_theme(fault, studio):
                raise
            raise Refused([problem_of_fault(fault, one.name, studio)]) from fault


def _two_of_a_name(studio: Studio, packs: Sequence[Pack]) -> list[Problem]:
    """Two sources that would write one folder: a pattern and a sheet may share a slug."""
    record = read_record(studio)
    owners: dict[str, Place] = {}
    found = []
    for one in packs:
        before = record.get(one.slug, {}).get("from", one.name)
        gone = before == one.name or not (studio.root / before).is_file()
        other = owners.setdefault(one.slug, one.place if gone else Place(before))
        if other.file != one.name:
            found.append(
                error(
                    one.place,
                    say("packs/{slug} is already the pack of {other}", one.slug, other),
                    "give one of the two another slug",
                )
            )
    return found


def _out_of_place(studio: Studio, packs: Sequence[Pack]) -> list[Problem]:
    """Folders that can't be made everywhere, or that a link leads out of the studio."""
    found = []
    for one in packs:
        if wrong := what_is_wrong(one.slug):
            found.append(
                error(
                    Place(one.name),
                    say("packs/{slug} can't be a folder: {wrong}", one.slug, wrong),
                    "give it a slug, like slug: harbour-cushion",
                )
            )
        elif not studio.holds(studio.packs / one.slug):
            place = Place(f"packs/{one.slug}")
            found.append(
                error(
                    place,
                    LEADS_OUT,
                    "put a folder here instead",
                )
            )
    return found
