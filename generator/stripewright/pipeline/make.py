"""One pattern file -> its page, its files and its card. Pure: the unit of all other work.

A pattern's page shows nothing of another pattern, so a unit can be made alone, kept in a cache,
made in a worker process, and made again when its file is saved.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, cast

from stripewright.addresses import FINISHED, NUMBERS, PAPERS, SHARE, STRIP, pattern_path, pdf_name
from stripewright.catalogue import speaking
from stripewright.compute.heights import HEIGHTS
from stripewright.compute.letters import out_of_order
from stripewright.compute.work import work
from stripewright.pages.cards import card
from stripewright.pages.links import SHARE_SIZE
from stripewright.pattern.pattern import Pattern
from stripewright.pattern.read import as_model
from stripewright.pattern.slugs import slug_in
from stripewright.pattern.stash import taken_from
from stripewright.pipeline.moved import moved_from
from stripewright.pipeline.output import Output, Sound, held_back
from stripewright.pipeline.pictures import (
    bytes_of,
    lost_pictures,
    pictures_named,
    pictures_of,
    published_files,
    view_of,
)
from stripewright.problems import Problem, has_errors
from stripewright.source.reader import read_document
from stripewright.view.contents import page_parts
from stripewright.view.own_machine import own_machine_data, own_machine_script
from stripewright.view.secrets import said_by, secrets_of
from stripewright.words.body import check_body
from stripewright.words.boundary import Public, public_part
from stripewright.words.links import own_links
from stripewright.words.write import write

if TYPE_CHECKING:
    from collections.abc import Mapping

    from stripewright.compute.worked import WorkedPattern
    from stripewright.draw.draw import Drawings
    from stripewright.pattern.settings import Settings
    from stripewright.pipeline.context import Context, Options
    from stripewright.pipeline.photos import CleanPhoto, PhotoLibrary
    from stripewright.pipeline.sources import SourceFile
    from stripewright.source.document import Document
    from stripewright.view.views import PatternView
    from stripewright.words.written import PatternText


@dataclass(frozen=True)
class WorkedSource:
    """A pattern file taken through every stage up to its words; None where it got no further."""

    source: SourceFile
    slug: str
    document: Document
    problems: tuple[Problem, ...]
    worked: WorkedPattern | None = None
    written: PatternText | None = None
    settings: Settings | None = None
    """What it is told by: the studio's, with the pattern's own units and terms."""

    @property
    def sound(self) -> Sound | None:
        """What can be drawn and shown; None after any error."""
        if self.worked is None or self.written is None or has_errors(self.problems):
            return None
        return Sound(self.worked, self.written)


def work_source(source: SourceFile, settings: Settings) -> WorkedSource:
    """Read, work and write one pattern file, collecting every problem in the studio's words."""
    with speaking(settings.words):
        document, problems = read_document(source.data, source.name, source.tables)
        return work_document(source, document, settings, problems)


def work_document(
    source: SourceFile, document: Document, settings: Settings, problems: list[Problem]
) -> WorkedSource:
    """The same of a file that is read already, with the problems of that."""
    slug = slug_in(document)
    if has_errors(problems) and not document.front:
        return WorkedSource(source, slug, document, tuple(problems))
    pattern, found = as_model(document, Pattern)
    problems += found
    if pattern is not None:
        pattern, found = taken_from(pattern, document, settings.stash)
        problems += found
    if pattern is None:
        problems += check_body(document, settings)
        return WorkedSource(source, slug, document, tuple(problems))
    settings = settings.of_pattern(pattern)
    with speaking(settings.words):
        return _worked(source, settings, document, pattern, problems)


def _worked(
    source: SourceFile,
    settings: Settings,
    document: Document,
    pattern: Pattern,
    problems: list[Problem],
) -> WorkedSource:
    slug = pattern.slug or source.stem
    worked, found = work(pattern, document, settings, slug)
    problems += found
    if worked is None:
        problems += check_body(document, settings)
        return WorkedSource(source, slug, document, tuple(problems))
    written, found = write(worked, document, settings)
    problems += found
    return WorkedSource(source, slug, document, tuple(problems), worked, written, settings)


def show_source(
    done: WorkedSource, context: Context, shelf: PhotoLibrary, *, buyer: bool = False
) -> Output:
    """Draw and show a pattern that is worked out; whole where a `buyer` sees it (preview only)."""
    with speaking(context.told_by(done.settings).settings.words):
        return _shown(done, context.told_by(done.settings), shelf, buyer=buyer)


def _shown(done: WorkedSource, context: Context, shelf: PhotoLibrary, *, buyer: bool) -> Output:
    source, sound = done.source, done.sound
    if sound is None:
        found = lost_pictures(done.document, shelf)
        return Output(source.name, done.slug, (*done.problems, *found))
    output = _untold(done, sound, context.options)
    if output.held and not context.options.drafts:
        return output
    pattern = sound.worked.pattern
    whole = buyer or pattern.access == "free"
    shown = sound if buyer else sound.for_everyone
    # A mistake in what buyers see is told now, and not when their pack is made.
    every, found = pictures_of(sound, done.document, shelf)
    photos = every if whole else pictures_of(shown, done.document, shelf)[0]
    if has_errors(found):
        named = tuple(pictures_named(shown, done.document))
        return Output(source.name, done.slug, (*done.problems, *found), pictures=named)
    view, files = show_pattern(shown, context, photos, output.held, prints=whole)
    texts = (sound.written.intro, sound.written.body)
    return replace(
        output,
        files=files | published_files(photos) | context.renderer.pattern(view),
        card=card(view),
        pictures=tuple(every),
        links=tuple(link for text in texts for link in own_links(text, source.name)),
        stash=tuple(yarn.source for yarn in pattern.yarns.values() if yarn.source),
        formerly=moved_from(pattern.formerly, done.document, "patterns", done.slug, pattern.title),
        parts=page_parts(view, bytes_of(photos)),
    )


def _untold(done: WorkedSource, sound: Sound, options: Options) -> Output:
    """What a pattern gives whether it is shown or held back."""
    pattern = sound.worked.pattern
    published = pattern.published.isoformat() if pattern.published else None
    waiting = held_back(published, options)
    kept = secrets_of(sound.worked, sound.written)
    paid = pattern.access == "paid"
    # What isn't published says nothing yet: a copy of a paid pattern whose access was forgotten is
    # a free draft, and would make a secret of nothing.
    counts = not waiting or (options.drafts and "access" in pattern.model_fields_set)
    return Output(
        done.source.name,
        done.slug,
        done.problems,
        waiting,
        pattern.access,
        secrets=kept if paid else None,
        said=said_by(kept) if counts and not paid else None,
        published=published,
        public=_public(sound) if paid else None,
        letters=out_of_order(sound.worked),
    )


def _public(sound: Sound) -> Public:
    told = public_part(sound.written.intro)
    return replace(told, heights=sound.worked.pattern.reveal == HEIGHTS)


def show_pattern(
    sound: Sound,
    context: Context,
    photos: Mapping[str, CleanPhoto],
    waiting: str,
    *,
    prints: bool,
) -> tuple[PatternView, dict[str, bytes]]:
    """The view of a pattern or its twin, and what stands beside its page: PDFs if it `prints`."""
    worked, slug, paper = sound.worked, sound.worked.slug, context.options.paper
    pdfs = {
        key: {label: pattern_path(slug, pdf_name(slug, size, key)) for size, label in PAPERS}
        for key in worked.printed
    }
    printed = pdfs if prints and paper else {}
    view = view_of(sound, context.settings, photos, held=waiting, pdfs=printed)
    drawings = cast("Drawings", view.drawings)  # it was drawn just now
    files = _printed(sound, view, context, photos) if view.pdfs else {}
    data = own_machine_data(worked, context.settings)
    files[pattern_path(slug, NUMBERS)] = own_machine_script(data)
    files[pattern_path(slug, FINISHED)] = drawings.finished.svg.encode()
    files[pattern_path(slug, STRIP)] = drawings.strip.svg.encode()
    if paper:
        files[pattern_path(slug, SHARE)] = _share_picture(view, drawings, photos)
    return view, files


def _printed(
    sound: Sound, view: PatternView, context: Context, photos: Mapping[str, CleanPhoto]
) -> dict[str, bytes]:
    """The PDFs of a pattern, by their paths."""
    from stripewright.paper.pattern_pdf import pattern_pdfs

    settings, theme = context.settings, context.theme.files
    pictures = bytes_of(photos)
    made = pattern_pdfs(sound.worked, view, sound.written, settings, theme, pictures=pictures)
    slug = sound.worked.slug
    return {
        pattern_path(slug, pdf_name(slug, paper, size)): pdf for (size, paper), pdf in made.items()
    }


def _share_picture(
    view: PatternView, drawings: Drawings, photos: Mapping[str, CleanPhoto]
) -> bytes:
    """What other sites show of a pattern: its main photo, or the drawing."""
    from stripewright.paper.picture import jpeg, photo_jpeg

    if main := view.main_photo:
        return photo_jpeg(photos[main.file].data, SHARE_SIZE)
    return jpeg(drawings.finished.svg, SHARE_SIZE[0])
