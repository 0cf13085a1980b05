"""Packs to sell and sheets to print: sources -> packs/SLUG/, beside the site and never in it.

What a pack was made from, and what came of it, is kept in the cache folder. A pack whose sources
and files are as they were is left alone; without the cache, everything is made again.
"""

from __future__ import annotations

import hashlib
import json
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING, Any

from stripewright.addresses import NUMBERS, pattern_path
from stripewright.catalogue import _, speaking
from stripewright.draw.draw import draw_all
from stripewright.figures import Figures
from stripewright.paper.packs import make_pack, pack_key, sheets_pack
from stripewright.pattern.read import as_model
from stripewright.pattern.settings import Sheets
from stripewright.pipeline.cache import program
from stripewright.pipeline.context import Context, Options, begin, names_of
from stripewright.pipeline.faults import of_theme, problem_of_fault
from stripewright.pipeline.make import photo_views, pictures_of, work_source
from stripewright.pipeline.photos import PhotoLibrary
from stripewright.pipeline.processes import can_be_started_again, cores, starting, worker_pool
from stripewright.pipeline.sources import noting_file
from stripewright.pipeline.store import write_whole
from stripewright.problems import Place, Problem, Refused, error, has_errors, in_order
from stripewright.publish.commit import commit
from stripewright.publish.names import what_is_wrong
from stripewright.source.reader import read_document
from stripewright.view.make import pattern_view
from stripewright.view.own_machine import own_machine_data, own_machine_script

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
    from pathlib import Path

    from stripewright.pattern.settings import Settings
    from stripewright.pipeline.make import Sound, WorkedSource
    from stripewright.pipeline.photos import CleanPhoto
    from stripewright.pipeline.progress import Progress
    from stripewright.pipeline.sources import SourceFile
    from stripewright.source.document import Document
    from stripewright.studio import Studio

RECORD = "packs.json"
WORTH_A_WORKER = 3
"""Packs to make for each process: one pack takes about as long as a process needs to start."""
RENEWED = 40
"""Packs after which worker processes are started anew."""


@dataclass(frozen=True, slots=True)
class Pack:
    """A pack to be made: its folder's name, what it is made from, and how."""

    slug: str
    name: str
    """The source file's name."""
    place: Place
    """Where that file says its slug, or where it begins."""
    key: str
    source: str
    """A fingerprint of the file that it is made from."""
    make: Callable[[], Mapping[str, bytes]]
    """Can be pickled: a pack may be made in another process."""


@dataclass(frozen=True, slots=True)
class Packed:
    """What a run did."""

    made: tuple[str, ...]
    unchanged: tuple[str, ...]
    warnings: tuple[Problem, ...]


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
    wanted = names_of(studio, only)
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
            problems += found
            packs.append(_pattern_pack(done, sound, context.told_by(done.settings), photos))
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
    wanted = names_of(studio, only)
    packs: list[Pack] = []
    for source in sources.of("sheets"):
        if wanted and source.name not in wanted:
            continue
        document, found = read_document(source.data, source.name, source.tables)
        problems += found
        sheets, found = as_model(document, Sheets)
        problems += found
        if sheets is not None:
            packs.append(_sheets_pack(source, document, sheets, context))
    return _write(studio, packs, problems, progress, workers)


def _is_sold(sound: Sound, options: Options) -> bool:
    """Paid, and not a draft: a pack is wanted before its day, but not before it is done."""
    pattern = sound.worked.pattern
    return pattern.access == "paid" and (pattern.published is not None or options.drafts)


def _pattern_pack(
    done: WorkedSource, sound: Sound, context: Context, photos: Mapping[str, CleanPhoto]
) -> Pack:
    pictures = {name: photo.data for name, photo in sorted(photos.items())}
    theme, site = context.theme.files, context.site
    around = repr((site.menu, sorted(site.empty))).encode()
    pages = (theme[path] for path in sorted(theme) if not path.startswith("print/"))
    key = _key(done.source, context, [*pictures.values(), around, *pages])
    make = partial(_of_pattern, sound, context, dict(photos))
    return Pack(done.slug, done.source.name, done.document.place("slug"), key,
                fingerprint(done.source), make)  # fmt: skip


def _of_pattern(
    sound: Sound, context: Context, photos: Mapping[str, CleanPhoto]
) -> Mapping[str, bytes]:
    with speaking(context.settings.words):
        return _of_sound(sound, context, photos)


def _of_sound(
    sound: Sound, context: Context, photos: Mapping[str, CleanPhoto]
) -> Mapping[str, bytes]:
    worked, written, _drawn = sound
    settings = context.settings
    drawings = draw_all(worked, written, prefix=worked.slug, figures=Figures.of(settings))
    sizes = {name: (photo.width, photo.height) for name, photo in photos.items()}
    view = pattern_view(worked, written, drawings, settings,
                        photos=photo_views(worked.pattern, photos), pictures=sizes)  # fmt: skip
    numbers = own_machine_script(own_machine_data(worked, settings, written.events))
    page = context.renderer.pack(
        view, _files(photos) | {pattern_path(worked.slug, NUMBERS): numbers}
    )
    pictures = {name: photo.data for name, photo in sorted(photos.items())}
    return make_pack(worked, view, written, settings, context.theme.files, pictures, page=page)


def _files(photos: Mapping[str, CleanPhoto]) -> dict[str, bytes]:
    return {path: data for photo in photos.values() for path, data in photo.files.items()}


def _of_sheets(
    slug: str, sheets: Sheets, settings: Settings, files: Mapping[str, bytes]
) -> Mapping[str, bytes]:
    with speaking(settings.words):
        return sheets_pack(slug, sheets, settings, files)


def _sheets_pack(source: SourceFile, document: Document, sheets: Sheets, context: Context) -> Pack:
    slug = sheets.slug or source.stem
    make = partial(_of_sheets, slug, sheets, context.settings, context.theme.files)
    return Pack(slug, source.name, document.place("slug"), _key(source, context, []),
                fingerprint(source), make)  # fmt: skip


def fingerprint(source: SourceFile) -> str:
    """A fingerprint of what an author wrote in a file, and of the tables that it names."""
    return pack_key([source.data, *(data for _, data in source.tables)])


def told_of_packs(studio: Studio, sold: Iterable[tuple[str, SourceFile]]) -> Iterator[str]:
    """What there is to say of packs: those that are missing, and those older than their patterns.

    Args:
        studio: whose packs.
        sold: slug and file of each paid pattern that is published.
    """
    record = _read_record(studio)
    for slug, source in sold:
        known = record.get(slug)
        if known is None or not (studio.packs / slug).is_dir():
            yield _("{name} has no pack yet", name=slug)
        elif known.get("source") != fingerprint(source):
            yield _("the pack of {name} is older than its pattern", name=slug)


def _key(source: SourceFile, context: Context, pictures: Sequence[bytes]) -> str:
    """Everything that a pack is made from, as one key."""
    theme = context.theme.files
    prints = (theme[path] for path in sorted(theme) if path.startswith("print/"))
    settings = context.settings.model_dump_json().encode()
    return pack_key(
        [
            program().encode(),
            settings,
            source.data,
            *(data for _, data in source.tables),
            *prints,
            *pictures,
        ]
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
    record = _read_record(studio)
    stand = [_stands(studio.packs / one.slug, record.get(one.slug), one.key) for one in packs]
    wanted = [one for one, stands in zip(packs, stand, strict=True) if not stands]
    unchanged = [one.slug for one, stands in zip(packs, stand, strict=True) if stands]
    if unchanged:
        progress("packs", len(unchanged), len(packs))
    for number, (one, make) in enumerate(_at_work(wanted, workers or cores()), 1):
        files = _made(one, make, studio)
        commit(files, studio.packs / one.slug)
        digests = {path: _digest(data) for path, data in files.items()}
        record[one.slug] = {"from": one.name, "key": one.key, "source": one.source,
                            "files": digests}  # fmt: skip
        _keep_record(studio, record)
        progress("packs", len(unchanged) + number, len(packs))
    return Packed(tuple(one.slug for one in wanted), tuple(unchanged), tuple(in_order(problems)))


def _at_work(
    packs: Sequence[Pack], workers: int
) -> Iterator[tuple[Pack, Callable[[], Mapping[str, bytes]]]]:
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


def _made(
    one: Pack, make: Callable[[], Mapping[str, bytes]], studio: Studio
) -> Mapping[str, bytes]:
    """A pack's files. Raises Refused for a template with a mistake, of pages or of print."""
    with noting_file(one.name):
        try:
            return make()
        except Exception as fault:
            if not of_theme(fault, studio):
                raise
            raise Refused([problem_of_fault(fault, one.name, studio)]) from fault


def _two_of_a_name(studio: Studio, packs: Sequence[Pack]) -> list[Problem]:
    """Two sources that would write one folder: a pattern and a sheet may share a slug."""
    record = _read_record(studio)
    owners: dict[str, Place] = {}
    found = []
    for one in packs:
        before = record.get(one.slug, {}).get("from", one.name)
        gone = before == one.name or not (studio.root / before).is_file()
        other = owners.setdefault(one.slug, one.place if gone else Place(before))
        if other.file != one.name:
            found.append(
                error(one.place, f"packs/{one.slug} is already the pack of {other}",
                      "give one of the two another slug")
            )  # fmt: skip
    return found


def _out_of_place(studio: Studio, packs: Sequence[Pack]) -> list[Problem]:
    """Folders that can't be made everywhere, or that a link leads out of the studio."""
    found = []
    for one in packs:
        if wrong := what_is_wrong(one.slug):
            found.append(error(Place(one.name), f"packs/{one.slug} can't be a folder: {wrong}",
                               "give it a slug, like slug: harbour-cushion"))  # fmt: skip
        elif not studio.holds(studio.packs / one.slug):
            place = Place(f"packs/{one.slug}")
            found.append(error(place, "this is a link that leads out of the studio",
                               "put a folder here instead"))  # fmt: skip
    return found


def _stands(folder: Path, kept: Any, key: str) -> bool:
    """Whether a pack was made from the same things and every file of it is still as it was."""
    files = kept.get("files") if isinstance(kept, dict) and kept.get("key") == key else None
    if not isinstance(files, dict) or not files:
        return False
    return all(
        (folder / path).is_file() and _digest((folder / path).read_bytes()) == digest
        for path, digest in files.items()
    )


def _digest(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()


def _read_record(studio: Studio) -> dict[str, Any]:
    """What earlier runs made; empty when nobody knows, and then everything is made again."""
    path = studio.cache / RECORD
    try:
        found = json.loads(path.read_bytes())
    except (OSError, ValueError):
        return {}
    return found if isinstance(found, dict) else {}


def _keep_record(studio: Studio, record: Mapping[str, Any]) -> None:
    if not studio.holds(studio.cache):
        return  # a link that leads out of the studio; without a record, all is made again
    studio.cache.mkdir(parents=True, exist_ok=True)
    write_whole(studio.cache / RECORD, json.dumps(record, sort_keys=True).encode())
