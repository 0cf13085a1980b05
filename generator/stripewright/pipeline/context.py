"""What every file of a studio is made with: settings, theme, the day, and what is asked for."""

from __future__ import annotations

import json
from dataclasses import dataclass, replace
from datetime import date
from functools import cached_property
from typing import TYPE_CHECKING, TypeVar

from stripewright.catalogue import say
from stripewright.pages.contrast import check_contrast
from stripewright.pages.render import Renderer
from stripewright.pages.theme import Theme
from stripewright.pages.tokens import check_tokens
from stripewright.pattern.base import AuthorModel
from stripewright.pattern.kinds import BY_FOLDER, KINDS, PATTERNS, Kind
from stripewright.pattern.read import as_model, spare_model
from stripewright.pattern.settings import Page, Settings
from stripewright.pipeline.sources import SourceFile, read_sources
from stripewright.pipeline.stash import read_stash
from stripewright.pipeline.themes import check_theme
from stripewright.problems import Place, Problem, Refused, error, has_errors, in_order, warning
from stripewright.source.reader import read_document, read_settings
from stripewright.studio import DEFAULT_THEME, SETTINGS, SHARED, Studio, shipped_themes
from stripewright.view.site import site_view

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from stripewright.pipeline.sources import Sources
    from stripewright.source.document import Document
    from stripewright.view.views import SiteView

_Model = TypeVar("_Model", bound=AuthorModel)


_UNSTATED = {"title": "Studio", "maker": "The maker", "summary": "A studio."}
UNSTATED = SourceFile(SETTINGS, json.dumps(_UNSTATED).encode())
"""The settings of a studio that has none."""


def today() -> date:
    """The maker's own day, wherever they are: which one it is elsewhere doesn't matter."""
    return date.today()  # noqa: DTZ011  # as above


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

    def told_by(self, settings: Settings | None) -> Context:
        """The same for a pattern with units or terms of its own."""
        if settings is None or settings == self.settings:
            return self
        site = replace(self.site, units=settings.units, terms=settings.terms)
        return replace(self, settings=settings, site=site)

    @cached_property
    def renderer(self) -> Renderer:
        """The templates, compiled once."""
        return Renderer(self.site, self.theme, lasting=not self.options.preview)


def begin(studio: Studio, options: Options) -> tuple[Sources, Context, list[Problem]]:
    """A studio's files, what they are made with, and what is wrong so far.

    Raises:
        Refused: nothing can be made with its settings or theme.
    """
    sources, problems = read_sources(studio)
    context, found = make_context(studio, sources, options)
    problems += found
    if context is None:
        raise Refused(in_order(problems))
    return sources, context, problems


def names_of(
    studio: Studio, only: Sequence[Path], sources: Sources, kind: str
) -> tuple[frozenset[str], list[Problem]]:
    """The names in the studio of the files that a command was given, and those that are no such.

    Args:
        studio: where they are.
        only: the files.
        sources: what there is in the studio.
        kind: what they should be, patterns or sheets.
    """
    names = frozenset(studio.name_of(path.resolve()) for path in only)
    problems = [
        error(
            Place(name),
            say("this is no file of {folder} in the studio", folder=f"content/{kind}"),
            say("name a file that is, or none for all of them"),
        )
        for name in sorted(names - {source.name for source in sources.of(kind)})
    ]
    return names, problems


def make_context(
    studio: Studio, sources: Sources, options: Options
) -> tuple[Context | None, list[Problem]]:
    """Read the settings and the theme."""
    if sources.settings is None:
        return None, []
    settings, document, problems = whole_settings(sources.settings, sources.stash)
    if settings is None:
        return None, problems
    theme, found = _theme_of(studio, settings, document)
    problems += _check_language(settings, document) + found
    if theme is None:
        return None, problems
    return _context(settings, theme, sources, options), problems


def whole_settings(
    source: SourceFile, listed: SourceFile | None
) -> tuple[Settings | None, Document, list[Problem]]:
    """The settings with the stash that is listed beside them, and the file that they stand in."""
    document, problems = read_settings(source.data, source.name)
    settings, found = as_model(document, Settings)
    problems += found
    if settings is not None:
        settings.written_in(document)
        stash, found = read_stash(listed)
        settings.beside(stash)
        problems += found
    return settings, document, problems


def _check_language(settings: Settings, document: Document) -> list[Problem]:
    language = settings.language
    if language.partition("-")[0] == "en":
        return []
    what = say(
        "the program's own words (steps, headings, labels) are English, not {language}",
        language,
    )
    hint = say("write en, or replace them by techniques and templates of your own")
    return [warning(document.place("language"), what, hint)]


def _theme_of(
    studio: Studio, settings: Settings, document: Document
) -> tuple[Theme | None, list[Problem]]:
    """The theme that the settings name, and what is wrong with it."""
    files = studio.theme_files(settings.theme)
    if not files:
        what = say("there is no theme “{theme}”", settings.theme)
        hint = say(
            "write a shipped one, tideline or ledger, or make the folder themes/{theme}",
            settings.theme,
        )
        if settings.theme == SHARED:
            what = say("shared holds what every theme falls back to, and is no theme")
            hint = say("write tideline, ledger or the name of a theme of your own")
        problem = error(document.place("theme"), what, hint)
        return None, [problem, *check_theme(studio, Theme(settings.theme, {}))]
    theme = Theme(settings.theme, files)
    problems = check_theme(studio, theme)
    for look in (check_tokens, check_contrast):
        problems += look(theme, settings.tokens, lambda name: document.place("tokens", name))
    return theme, problems


def spare_context(sources: Sources, options: Options) -> Context:
    """What to look for further mistakes with, where settings or theme have some of their own.

    The settings are as they were meant, as far as that can be told; the theme is a shipped one.
    """
    source = sources.settings or UNSTATED
    document, _ = read_settings(source.data, source.name)
    settings = spare_model(document, Settings) or Settings(**_UNSTATED)
    shipped = Studio(shipped_themes().parent).theme_files(DEFAULT_THEME)
    settings = settings.model_copy(update={"tokens": {}, "theme": DEFAULT_THEME})
    settings.beside(read_stash(sources.stash)[0])
    without_paper = replace(options, paper=False)
    return _context(settings, Theme(DEFAULT_THEME, shipped), sources, without_paper)


def _context(settings: Settings, theme: Theme, sources: Sources, options: Options) -> Context:
    site = site_view(
        settings, menu_of(sources), lists=lists_of(sources, options), preview=options.preview
    )
    return Context(settings, theme, site, options)


def menu_of(sources: Sources) -> list[tuple[str, str]]:
    """Title and path of each free-standing page that the menu shows, by file name.

    Every page of the site shows the menu, so it is known before any is made. What is wrong with
    a page is told when that page is made.
    """
    menu = []
    for source in sources.of("pages"):
        page = _sound(source, Page)
        if page is not None and page.menu:
            menu.append((page.title, BY_FOLDER["pages"].path(page.slug or source.stem)))
    return menu


def lists_of(sources: Sources, options: Options) -> list[tuple[str, str]]:
    """Title and path of each list that the menu shows: of kinds that have something to show.

    The catalogue of patterns is always there.
    """

    def shows(source: SourceFile, kind: Kind) -> bool:
        made = _sound(source, kind.model)
        if made is None:
            return False
        published: date | None = getattr(made, "published", None)
        return options.drafts or (published is not None and published <= options.on)

    return [
        (kind.in_menu or kind.title, kind.list_path)
        for kind in KINDS
        if kind.listed
        and (kind is PATTERNS or any(shows(one, kind) for one in sources.of(kind.folder)))
    ]


def _sound(source: SourceFile, model: type[_Model]) -> _Model | None:
    document, found = read_document(source.data, source.name, source.tables)
    return None if has_errors(found) else as_model(document, model)[0]
