"""A post, a free-standing page or a file of planning sheets -> its view, and the files beside it.

The site's renderer shows them: their pages hold lists of other things as well.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, cast

from stripewright.addresses import PAPERS, pdf_name, sheets_path
from stripewright.catalogue import speaking
from stripewright.pattern.kinds import BY_FOLDER
from stripewright.pattern.read import as_model, spare_model
from stripewright.pattern.settings import Page, Post
from stripewright.pattern.sheets import Sheets
from stripewright.pattern.slugs import slug_in
from stripewright.pipeline.moved import moved_from
from stripewright.pipeline.output import ALWAYS, Output, held_back
from stripewright.pipeline.pictures import published_files, shown_in_text, taken_from_shelf
from stripewright.problems import has_errors
from stripewright.source.reader import read_document
from stripewright.view.site import post_view, sheet_view
from stripewright.words.body import sponsored_hosts
from stripewright.words.links import OwnLink, own_links
from stripewright.words.markdown import images_in, prose

if TYPE_CHECKING:
    from stripewright.pattern.base import AuthorModel
    from stripewright.pipeline.context import Context
    from stripewright.pipeline.photos import PhotoLibrary
    from stripewright.pipeline.sources import SourceFile
    from stripewright.source.document import Document


def make_other(source: SourceFile, context: Context, shelf: PhotoLibrary) -> Output:
    """Make what is no pattern, collecting every problem.

    Args:
        source: the file.
        context: settings, theme, options.
        shelf: the studio's pictures.
    """
    document, problems = read_document(source.data, source.name)
    model = BY_FOLDER[source.kind].model
    made, found = as_model(document, model)
    sound = made is not None and not has_errors(problems)
    made = made or spare_model(document, model)
    slug: str = getattr(made, "slug", None) or slug_in(document)
    output = Output(source.name, slug, (*problems, *found), published=_published(made))
    if made is None:
        return output
    output = replace(output, held=held_back(output.published, context.options))
    if isinstance(made, Sheets):
        return _with_sheets(output, made, context) if sound else output
    shown = _with_text(output, cast("Post | Page", made), document, context, shelf)
    return shown if sound else replace(shown, view=None, files={}, formerly=())


def _published(made: AuthorModel | None) -> str | None:
    if isinstance(made, Post | Sheets):
        return made.published.isoformat() if made.published else None
    return ALWAYS if made else None


def _with_text(
    output: Output, made: Post | Page, document: Document, context: Context, shelf: PhotoLibrary
) -> Output:
    kind = BY_FOLDER[output.kind]
    text, problems = prose(
        document.body,
        document.file,
        document.body_line,
        raw_html=context.settings.raw_html,
        sponsored=sponsored_hosts(context.settings),
    )
    if isinstance(made, Post):
        named = enumerate(made.patterns)
        mentions = (OwnLink("pattern", one, document.place("patterns", at)) for at, one in named)
        output = replace(output, mentions=tuple(mentions))
    if output.held and not context.options.drafts:
        return replace(output, problems=(*output.problems, *problems))
    pictures = images_in(text, document)
    taken, found = taken_from_shelf(pictures, shelf)
    problems += found
    shown = shown_in_text(taken)
    formerly = made.formerly if isinstance(made, Post) else ()
    return replace(
        output,
        problems=(*output.problems, *problems),
        files=published_files(taken),
        view=post_view(
            made, kind.path(output.slug), output.slug, text, held=output.held, pictures=shown
        ),
        pictures=tuple(pictures),
        links=own_links(text, document.file),
        formerly=moved_from(formerly, document, kind.folder, output.slug, made.title),
    )


def _with_sheets(output: Output, made: Sheets, context: Context) -> Output:
    """With its PDFs, if it is free."""
    if output.held and not context.options.drafts:
        return output
    pdfs: dict[str, str] = {}
    files: dict[str, bytes] = {}
    count = 0
    if made.access == "free" and context.options.paper:
        from stripewright.paper.sheets import sheets_pdf

        for size, label in PAPERS:
            pdfs[label] = path = sheets_path(pdf_name(output.slug, size))
            with speaking(context.settings.words):
                files[path], count = sheets_pdf(made, size, context.settings, context.theme.files)
    view = sheet_view(made, output.slug, context.settings, pdfs=pdfs, pages=count)
    return replace(output, files=files, view=view)
