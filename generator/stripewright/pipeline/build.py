"""All of a studio's sources -> all of the site's files. Nothing is written here."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, TypeVar

from stripewright.pattern.base import Written as WrittenModel
from stripewright.pattern.read import as_model, duplicate_slugs
from stripewright.pattern.settings import Page, Post, Sheets
from stripewright.pipeline.context import Context, Options, make_context
from stripewright.pipeline.make import PatternOutput, held, make_pattern
from stripewright.pipeline.photos import Shelf
from stripewright.problems import Problem, has_errors, in_order
from stripewright.publish.guard import check
from stripewright.source.reader import read_document
from stripewright.view.make import post_view, sheet_view
from stripewright.words.markdown import images_in, prose

if TYPE_CHECKING:
    from collections.abc import Mapping

    from stripewright.pipeline.sources import SourceFile, Sources
    from stripewright.source.document import Document
    from stripewright.studio import Studio
    from stripewright.view.views import PostView, SheetView

Progress = Callable[[str, int, int], None]
"""Told of each step: what is done, how many of it are done, how many there are."""

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


def quiet(_step: str, _done: int, _of: int) -> None:
    """Progress that nobody watches."""


def build(studio: Studio, sources: Sources, options: Options, progress: Progress = quiet) -> Built:
    """Make the whole site in memory, collecting every problem of every file."""
    context, problems = make_context(studio, sources, options)
    if context is None:
        return Built(problems=tuple(in_order(problems)))
    shelf = Shelf(sources.photos)
    outputs = make_patterns(sources.of("patterns"), context, shelf, progress)
    rest, files, found = make_rest(sources, context, shelf)
    problems += [*(p for output in outputs for p in output.problems), *found]
    problems += duplicate_slugs((output.name, output.slug) for output in outputs)
    if has_errors(problems):
        return Built(problems=tuple(in_order(problems)))
    for output in outputs:
        files |= output.files
    cards = [output.card for output in outputs if output.card]
    files |= context.renderer.site(cards, rest.posts, rest.pages, rest.sheets)
    files |= context.renderer.assets()
    progress("checked", 0, 1)
    problems += check(files, [output.secrets for output in outputs if output.secrets])
    progress("checked", 1, 1)
    return Built(files, tuple(in_order(problems)), len(cards))


def make_patterns(
    sources: Iterable[SourceFile], context: Context, shelf: Shelf, progress: Progress
) -> list[PatternOutput]:
    """Make every pattern, in the order of the files."""
    waiting = list(sources)
    outputs = []
    for number, source in enumerate(waiting, 1):
        outputs.append(make_pattern(source, context, shelf))
        progress("patterns", number, len(waiting))
    return outputs


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

    def texts(kind: str, model: type[Post] | type[Page]) -> tuple[PostView, ...]:
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
                files[pdfs[label]], count = sheets_pdf(made, size)
        sheets.append(sheet_view(made, slug, context.settings, pdfs=pdfs, pages=count))
    return Rest(posts, pages, tuple(sheets)), files, problems


def _held(made: Post | Page | Sheets, options: Options) -> str:
    if isinstance(made, Page):
        return ""
    return held(made.published.isoformat() if made.published else None, options)
