"""What a pack is made from, and how: a paid pattern or a book of sheets -> its files."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING, NamedTuple

from stripewright.addresses import NUMBERS, pattern_path
from stripewright.catalogue import plain, speaking
from stripewright.digests import digest_of_all
from stripewright.figures import Figures
from stripewright.paper.changes_text import changes_text
from stripewright.paper.packs import heading_of, make_pack, sheets_pack
from stripewright.pipeline.cache import program
from stripewright.pipeline.pack_record import (
    fingerprint,
)
from stripewright.pipeline.pictures import bytes_of, published_files, view_of
from stripewright.pipeline.versions import (
    History,
    Told,
    check_versions,
    made_now,
    notes_of,
    version_of,
)
from stripewright.view.contents import pattern_contents, sheets_contents
from stripewright.view.own_machine import own_machine_data, own_machine_script

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    from stripewright.pattern.settings import Settings
    from stripewright.pattern.sheets import Sheets
    from stripewright.pipeline.context import Context
    from stripewright.pipeline.make import WorkedSource
    from stripewright.pipeline.output import Sound
    from stripewright.pipeline.photos import CleanPhoto
    from stripewright.pipeline.sources import SourceFile
    from stripewright.problems import Place, Problem
    from stripewright.source.document import Document


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
    make: Callable[[], Made]
    """Can be pickled: a pack may be made in another process."""
    check: Callable[[Told], list[Problem]]
    """What the author should do about its version."""


class Made(NamedTuple):
    """A pack's files, and what making it did to its versions."""

    files: Mapping[str, bytes]
    told: Told


def pack_of_pattern(
    done: WorkedSource,
    sound: Sound,
    context: Context,
    photos: Mapping[str, CleanPhoto],
    known: History,
) -> Pack:
    """The pack of a pattern.

    Args:
        done: the pattern, worked.
        sound: the same, without an error.
        context: what it is made with.
        photos: its pictures by name.
        known: its versions so far.
    """
    pictures = dict(sorted(bytes_of(photos).items()))
    theme, site = context.theme.files, context.site
    around = repr((site.menu, site.lists)).encode()
    pages = (theme[path] for path in sorted(theme) if not path.startswith("print/"))
    key = _key(done.source, context, [*pictures.values(), around, *pages])
    make = partial(_of_pattern, sound, context, dict(photos), known)
    check = partial(
        check_versions,
        before=known,
        slug=done.slug,
        document=done.document,
        source=sound.worked.pattern,
    )
    return Pack(done.slug, done.source.name, done.document.place("slug"), key,
                fingerprint(done.source), make, check)  # fmt: skip


def _of_pattern(
    sound: Sound,
    context: Context,
    photos: Mapping[str, CleanPhoto],
    known: History,
) -> Made:
    worked, written, _drawn = sound
    settings, files = context.settings, context.theme.files
    with speaking(settings.words):
        view = view_of(sound, settings, photos)
        numbers = own_machine_script(own_machine_data(worked, settings))
        page = context.renderer.pack(
            view, published_files(photos) | {pattern_path(worked.slug, NUMBERS): numbers}
        )
        pictures = dict(sorted(bytes_of(photos).items()))
        contents = pattern_contents(view, pictures)
        told = made_now(known, version_of(worked.pattern, contents), contents)
        changes = changes_text(
            heading_of(view.title, view.version, view.credit),
            notes_of(told.history, worked.pattern),
            told.history[0].digest,
            Figures.of(settings),
            view.corrections,
        )
        made = make_pack(
            worked, view, written, settings, files, pictures=pictures, page=page, changes=changes
        )
        return Made(made, told)


def _of_sheets(
    slug: str, sheets: Sheets, settings: Settings, files: Mapping[str, bytes], known: History
) -> Made:
    with speaking(settings.words):
        contents = sheets_contents(sheets, plain(settings.licence))
        told = made_now(known, version_of(sheets, contents), contents)
        changes = changes_text(
            heading_of(sheets.title, sheets.version, settings.maker),
            notes_of(told.history, sheets),
            told.history[0].digest,
            Figures.of(settings),
        )
        return Made(sheets_pack(slug, sheets, settings, files, changes=changes), told)


def pack_of_sheets(
    source: SourceFile,
    document: Document,
    sheets: Sheets,
    context: Context,
    known: Mapping[str, History],
) -> Pack:
    """The pack of planning sheets; `known` are the versions of every pack so far."""
    slug = sheets.slug or source.stem
    # Books said no version once: there is nothing that a buyer could tell that one by.
    history = tuple(one for one in known.get(slug, ()) if one.version)
    make = partial(_of_sheets, slug, sheets, context.settings, context.theme.files, history)
    check = partial(check_versions, before=history, slug=slug, document=document, source=sheets)
    return Pack(slug, source.name, document.place("slug"), _key(source, context, []),
                fingerprint(source), make, check)  # fmt: skip


def _key(source: SourceFile, context: Context, pictures: Sequence[bytes]) -> str:
    """Everything that a pack is made from, as one key."""
    theme = context.theme.files
    prints = (theme[path] for path in sorted(theme) if path.startswith("print/"))
    settings = context.settings.model_dump_json().encode()
    return digest_of_all(
        [
            program().encode(),
            settings,
            source.data,
            *(data for _, data in source.tables),
            *prints,
            *pictures,
        ]
    )
