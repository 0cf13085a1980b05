"""Posts, free-standing pages and planning sheets -> their views, and the files beside them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, TypeVar

from stripewright.addresses import PAPERS, pdf_name, sheets_path
from stripewright.catalogue import speaking
from stripewright.pattern.base import AuthorModel
from stripewright.pattern.read import as_model, duplicate_slugs
from stripewright.pattern.settings import Page, Post, Sheets
from stripewright.pipeline.make import held_back
from stripewright.pipeline.moved import Moved, moved_from
from stripewright.pipeline.sources import noting_file
from stripewright.problems import Problem, has_errors
from stripewright.source.reader import read_document
from stripewright.view.make import post_view, sheet_view
from stripewright.words.links import OwnLink, own_links
from stripewright.words.markdown import images_in, prose

if TYPE_CHECKING:
    from collections.abc import Iterator

    from stripewright.pipeline.context import Context, Options
    from stripewright.pipeline.photos import PhotoLibrary
    from stripewright.pipeline.sources import Sources
    from stripewright.source.document import Document
    from stripewright.view.views import PostView, SheetView

_Model = TypeVar("_Model", bound=AuthorModel)


@dataclass(frozen=True)
class OtherContent:
    """All that isn't a pattern, as views."""

    posts: tuple[PostView, ...]
    pages: tuple[PostView, ...]
    sheets: tuple[SheetView, ...]
    links: tuple[OwnLink, ...] = ()
    """What shown texts link to on the site."""
    moved: tuple[Moved, ...] = ()
    """Addresses that posts had before."""
    mentions: tuple[OwnLink, ...] = ()
    """Patterns that posts say they are about; one that is held back is not linked to yet."""


def make_other_content(
    sources: Sources, context: Context, shelf: PhotoLibrary
) -> tuple[OtherContent, dict[str, bytes], list[Problem]]:
    """Make posts, free-standing pages and planning sheets; the site's renderer shows them.

    Returns:
        The views, the files that stand beside their pages, and every problem.
    """
    making = _Making(sources, context, shelf)
    posts, pages = tuple(making.texts("posts", Post)), tuple(making.texts("pages", Page))
    sheets = tuple(making.sheets())
    rest = OtherContent(posts, pages, sheets, tuple(making.links), tuple(making.moved),
                        tuple(making.mentions))  # fmt: skip
    return rest, making.files, making.problems


class _Making:
    def __init__(self, sources: Sources, context: Context, shelf: PhotoLibrary) -> None:
        self.sources = sources
        self.context = context
        self.shelf = shelf
        self.files: dict[str, bytes] = {}
        self.problems: list[Problem] = []
        self.links: list[OwnLink] = []
        self.mentions: list[OwnLink] = []
        self.moved: list[Moved] = []
        self.sponsored = frozenset(shop.host for shop in context.settings.shops if shop.sponsored)

    def read(self, kind: str, model: type[_Model]) -> Iterator[tuple[str, Document, _Model]]:
        """Every sound file of a kind: its slug, its document, and what was written in it."""
        named: list[tuple[str, str]] = []
        for source in self.sources.of(kind):
            document, found = read_document(source.data, source.name)
            made, more = as_model(document, model)
            self.problems += [*found, *more]
            slug: str = getattr(made, "slug", None) or source.stem
            named.append((source.name, slug))
            if made is not None and not has_errors(found):
                yield slug, document, made
        self.problems += duplicate_slugs(named)

    def texts(self, kind: str, model: type[Post | Page]) -> Iterator[PostView]:
        """Posts or pages."""
        for slug, document, made in self.read(kind, model):
            with noting_file(document.file):
                view = self.text(slug, document, made)
            if view:
                yield view

    def text(self, slug: str, document: Document, made: Post | Page) -> PostView | None:
        """A post or page; None when it is held back."""
        text, found = prose(document.body, document.file, document.body_line,
                            raw_html=self.context.settings.raw_html,
                            sponsored=self.sponsored)  # fmt: skip
        self.problems += found
        if isinstance(made, Post):
            self.mentions += [
                OwnLink("pattern", name, document.place("patterns", number))
                for number, name in enumerate(made.patterns)
            ]
        waiting = _held(made, self.context.options)
        if waiting and not self.context.options.drafts:
            return None
        self.links += own_links(text, document.file)
        if isinstance(made, Post):
            self.moved += moved_from(made.formerly, document, "posts", slug, made.title)
        sizes: dict[str, tuple[int, int]] = {}
        for name, place in images_in(text, document).items():
            photo, found = self.shelf.take(name, place)
            self.problems += found
            if photo:
                self.files |= photo.files
                sizes[name] = (photo.width, photo.height)
        return post_view(made, slug, text, held=waiting, pictures=sizes)

    def sheets(self) -> Iterator[SheetView]:
        """Files of planning sheets."""
        for slug, document, made in self.read("sheets", Sheets):
            with noting_file(document.file):
                view = self.sheet(slug, made)
            if view:
                yield view

    def sheet(self, slug: str, made: Sheets) -> SheetView | None:
        """A file of planning sheets with its PDFs, if it is free; None when it is held back."""
        context = self.context
        waiting = _held(made, context.options)
        if waiting and not context.options.drafts:
            return None
        pdfs, count = {}, 0
        if made.access == "free" and context.options.paper:
            from stripewright.paper.sheets import sheets_pdf

            for size, label in PAPERS:
                pdfs[label] = sheets_path(pdf_name(slug, size))
                with speaking(context.settings.words):
                    self.files[pdfs[label]], count = sheets_pdf(
                        made, size, context.settings, context.theme.files
                    )
        return sheet_view(made, slug, context.settings, pdfs=pdfs, pages=count)


def _held(made: Post | Page | Sheets, options: Options) -> str:
    if isinstance(made, Page):
        return ""
    return held_back(made.published.isoformat() if made.published else None, options)
