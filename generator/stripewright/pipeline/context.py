"""What every file of a studio is made with: settings, theme, the day, and what is asked for."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, TypeVar

from stripewright.pages.render import Renderer
from stripewright.pages.theme import Theme
from stripewright.pages.tokens import check_tokens
from stripewright.pattern.base import Written
from stripewright.pattern.read import as_model
from stripewright.pattern.settings import Page, Post, Settings, Sheets
from stripewright.problems import Place, Problem, error, has_errors
from stripewright.source.reader import read_document, read_settings
from stripewright.studio import SETTINGS, Studio
from stripewright.view.make import site_view

if TYPE_CHECKING:
    from datetime import date

    from stripewright.pipeline.sources import SourceFile, Sources
    from stripewright.view.views import SiteView

Model = TypeVar("Model", bound=Written)


@dataclass(frozen=True)
class Options:
    """What a run asks for.

    Attributes:
        on: the day that decides what is published yet.
        drafts: whether drafts and held-back items are made too, and marked.
        preview: built for the preview: marked, and with the refresh script.
        paper: whether PDFs and share pictures are made.
    """

    on: date
    drafts: bool = False
    preview: bool = False
    paper: bool = True


@dataclass(frozen=True)
class Context:
    """Settings, theme and options, shared by every file of a run; can be pickled."""

    settings: Settings
    theme: Theme
    site: SiteView
    options: Options

    def __getstate__(self) -> dict[str, object]:
        """Leave the renderer behind: a worker makes its own."""
        return {key: value for key, value in self.__dict__.items() if key != "renderer"}

    @cached_property
    def renderer(self) -> Renderer:
        """The templates, compiled once."""
        return Renderer(self.site, self.theme)


def make_context(
    studio: Studio, sources: Sources, options: Options
) -> tuple[Context | None, list[Problem]]:
    """Read the settings and the theme."""
    if sources.settings is None:
        return None, []
    document, problems = read_settings(sources.settings.data, sources.settings.name)
    settings, found = as_model(document, Settings)
    problems += found
    if settings is None:
        return None, problems
    settings.written_in(document)
    files = studio.theme_files(settings.theme)
    if not files:
        hint = (
            "write a shipped one, tideline or ledger, or make the folder themes/" + settings.theme
        )
        problems.append(
            error(document.place("theme"), f"there is no theme “{settings.theme}”", hint)
        )
        return None, problems
    problems += [error(Place(name), why, "take it out of the theme, or put a file in its place")
                 for name, why in studio.unread_theme_files(settings.theme)]  # fmt: skip
    theme = Theme(settings.theme, files)
    problems += check_tokens(theme, settings.tokens, lambda name: document.place("tokens", name))
    site = site_view(
        settings, menu_of(sources), empty=empty_kinds(sources, options), preview=options.preview
    )
    return Context(settings, theme, site, options), problems


def menu_of(sources: Sources) -> list[tuple[str, str]]:
    """Title and path of each free-standing page that the menu shows, by file name.

    Every page of the site shows the menu, so it is known before any is made. What is wrong with
    a page is told when that page is made.
    """
    menu = []
    for source in sources.of("pages"):
        page = _sound(source, Page)
        if page is not None and page.menu:
            menu.append((page.title, f"{page.slug or source.stem}/index.html"))
    return menu


def empty_kinds(sources: Sources, options: Options) -> frozenset[str]:
    """Posts or sheets, when there are none to show yet: the menu leaves them out."""

    def shows(source: SourceFile, model: type[Post | Sheets]) -> bool:
        made = _sound(source, model)
        if made is None:
            return False
        return options.drafts or (made.published is not None and made.published <= options.on)

    models: dict[str, type[Post | Sheets]] = {"posts": Post, "sheets": Sheets}
    return frozenset(
        kind for kind, model in models.items() if not any(shows(s, model) for s in sources.of(kind))
    )


def _sound(source: SourceFile, model: type[Model]) -> Model | None:
    document, found = read_document(source.data, source.name)
    return None if has_errors(found) else as_model(document, model)[0]


__all__ = ["SETTINGS", "Context", "Options", "make_context"]
