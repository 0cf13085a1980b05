"""All of a studio's sources -> all of the site's files. Nothing is written here."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, TypeVar

from stripewright.pattern.base import Written as WrittenModel
from stripewright.pattern.read import as_model, duplicate_slugs
from stripewright.pattern.settings import Page, Post, Sheets
from stripewright.pipeline.bench import Workbench
from stripewright.pipeline.context import Context, Options, make_context
from stripewright.pipeline.make import held
from stripewright.pipeline.photos import Shelf
from stripewright.pipeline.progress import quiet
from stripewright.pipeline.store import Spool
from stripewright.problems import Problem, has_errors, in_order
from stripewright.publish.guard import check
from stripewright.source.reader import read_document
from stripewright.view.make import post_view, sheet_view
from stripewright.view.secrets import sheets_secrets
from stripewright.words.markdown import images_in, prose

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from stripewright.pipeline.make import PatternOutput
    from stripewright.pipeline.progress import Progress
    from stripewright.pipeline.sources import SourceFile, Sources
    from stripewright.source.document import Document
    from stripewright.studio import Studio
    from stripewright.view.secrets import Secrets
    from stripewright.view.views import PostView, SheetView

Model = TypeVar("Model", bound=WrittenModel)


@dataclass(frozen=True)
class Built:
    """A site in memory, and everything that is wrong with the studio."""

    files: Mapping[str, bytes] = field(default_factory=dict)
    problems: tuple[Problem, ...] = ()
    patterns: int = 0
    """Patterns shown."""

    @property
    def sound(self) -> bool:
        """Whether it may be published."""
        return not has_errors(self.problems)


def build(
    studio: Studio,
    sources: Sources,
    options: Options,
    progress: Progress = quiet,
    bench: Workbench | None = None,
) -> Built:
    """Make the whole site, collecting every problem of every file. Writes nothing of the site.

    Args:
        studio: where the theme is.
        sources: everything that the author wrote.
        options: what is asked for.
        progress: told of each step.
        bench: where files are kept until they are written, and what was made before; in memory
            and from nothing when left out.
    """
    context, problems = make_context(studio, sources, options)
    if context is None:
        return Built(problems=tuple(in_order(problems)))
    bench = bench or Workbench()
    files = Spool(bench.store)
    outputs = bench.make_all(
        sources.of("patterns"), context, Shelf(sources.photos), files, progress
    )
    rest, made, found = make_rest(sources, context, Shelf(sources.photos))
    problems += [*(p for output in outputs for p in output.problems), *found]
    problems += duplicate_slugs((output.name, output.slug) for output in outputs)
    if has_errors(problems):
        return Built(problems=tuple(in_order(problems)))
    cards = [output.card for output in outputs if output.card]
    made |= context.renderer.site(cards, rest.posts, rest.pages, rest.sheets)
    made |= context.renderer.assets()
    for path, data in made.items():
        files.put(path, data)
    problems += guard(files, outputs, progress, rest.sheets)
    return Built(files, tuple(in_order(problems)), len(cards))


def guard(
    files: Mapping[str, bytes],
    outputs: Iterable[PatternOutput],
    progress: Progress,
    sheets: Iterable[SheetView] = (),
) -> list[Problem]:
    """Look through the whole site for what paid patterns keep."""
    progress("looked through", 0, len(files))
    kept: dict[bool, list[Secrets]] = {True: [], False: []}
    for output in outputs:
        if output.secrets:
            kept[output.access == "paid"].append(output.secrets)
    kept[True] += [sheets_secrets(sheet.slug) for sheet in sheets if sheet.access == "paid"]
    found = check(files, kept[True], kept[False])
    progress("looked through", len(files), len(files))
    return found


@dataclass(frozen=True)
class Rest:
    """Posts, pages and sheets, as views."""

    posts: tuple[PostView, ...]
    pages: tuple[PostView, ...]
    sheets: tuple[SheetView, ...]


def make_rest(
    sources: Sources, context: Context, shelf: Shelf
) -> tuple[Rest, dict[str, bytes], list[Problem]]:
    """Make posts, free-standing pages and planning sheets; the site's renderer shows them."""
    problems: list[Problem] = []
    files: dict[str, bytes] = {}

    def of(kind: str, model: type[Model]) -> Iterable[tuple[SourceFile, Document, Model]]:
        for source in sources.of(kind):
            document, found = read_document(source.data, source.name)
            problems.extend(found)
            if not has_errors(found):
                made, found = as_model(document, model)
                problems.extend(found)
                if made is not None:
                    yield source, document, made

    def texts(kind: str, model: type[Post | Page]) -> tuple[PostView, ...]:
        views = []
        for source, document, made in of(kind, model):
            text, found = prose(document.body, document.file, document.body_line,
                                raw_html=context.settings.raw_html)  # fmt: skip
            problems.extend(found)
            waiting = _held(made, context.options)
            if waiting and not context.options.drafts:
                continue
            for name, place in images_in(text, document).items():
                photo, found = shelf.take(name, place)
                problems.extend(found)
                if photo:
                    files[photo.path] = photo.data
            views.append(post_view(made, made.slug or source.stem, text, held=waiting))
        return tuple(views)

    posts, pages = texts("posts", Post), texts("pages", Page)
    sheets = []
    for source, _document, made in of("sheets", Sheets):
        waiting = _held(made, context.options)
        if waiting and not context.options.drafts:
            continue
        slug = made.slug or source.stem
        pdfs, count = {}, 0
        if made.access == "free" and context.options.paper:
            from stripewright.paper.sheets import sheets_pdf  # noqa: PLC0415  # Typst is heavy

            for size, label in (("a4", "A4"), ("letter", "Letter")):
                pdfs[label] = f"sheets/{slug}-{size}.pdf"
                files[pdfs[label]], count = sheets_pdf(
                    made, size, context.settings, context.theme.files
                )
        sheets.append(sheet_view(made, slug, context.settings, pdfs=pdfs, pages=count))
    return Rest(posts, pages, tuple(sheets)), files, problems


def _held(made: Post | Page | Sheets, options: Options) -> str:
    if isinstance(made, Page):
        return ""
    return held(made.published.isoformat() if made.published else None, options)
