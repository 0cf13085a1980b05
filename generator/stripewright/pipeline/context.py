"""What every file of a studio is made with: settings, theme, the day, and what is asked for."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from stripewright.pages.render import Renderer
from stripewright.pages.theme import Theme
from stripewright.pattern.read import as_model
from stripewright.pattern.settings import Settings
from stripewright.problems import Problem, error
from stripewright.studio import SETTINGS, Studio
from stripewright.view.make import site_view

if TYPE_CHECKING:
    from datetime import date

    from stripewright.pipeline.sources import Sources
    from stripewright.view.views import SiteView


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
    from stripewright.source.reader import read_settings  # noqa: PLC0415  # keeps --help quick

    if sources.settings is None:
        return None, []
    document, problems = read_settings(sources.settings.data, sources.settings.name)
    settings, found = as_model(document, Settings)
    problems += found
    if settings is None:
        return None, problems
    files = studio.theme_files(settings.theme)
    if not files:
        hint = (
            "write a shipped one, tideline or ledger, or make the folder themes/" + settings.theme
        )
        problems.append(
            error(document.place("theme"), f"there is no theme “{settings.theme}”", hint)
        )
        return None, problems
    theme = Theme(settings.theme, files)
    site = site_view(settings, preview=options.preview)
    return Context(settings, theme, site, options), problems


__all__ = ["SETTINGS", "Context", "Options", "make_context"]
