"""One file of a studio through every stage, in memory: read, model, work, write, draw, view, page."""

from __future__ import annotations

import time
from dataclasses import replace
from datetime import date
from functools import cache
from typing import TYPE_CHECKING
from xml.etree import ElementTree as ET

from stripewright.pages.render import Renderer
from stripewright.pages.theme import Theme
from stripewright.pages.tokens import check_tokens
from stripewright.pipeline.context import Context, Options, make_context
from stripewright.pipeline.make import show_source, work_source
from stripewright.pipeline.others import make_other
from stripewright.pipeline.photos import PhotoLibrary
from stripewright.pipeline.sources import SourceFile, Sources, read_sources
from stripewright.problems import Place, Problem, Severity, has_errors
from stripewright.studio import SETTINGS, Studio
from support.mutations import ROOT
from support.pages import site_files

if TYPE_CHECKING:
    from collections.abc import Mapping

DAY = date(2026, 12, 24)
MOST_CPU_S = 2.0
"""Seconds of processor that one file may take."""


@cache
def demo() -> tuple[Sources, Context]:
    """The demo studio and what its files are made with."""
    studio = Studio(ROOT)
    sources, problems = read_sources(studio)
    context, found = make_context(studio, sources, Options(DAY, drafts=True, paper=False))
    assert [*problems, *found] == []
    assert context is not None
    return sources, context


def through(kind: str, data: bytes, *, paper: bool = False) -> list[Problem]:
    """Take a file through the whole line and hold what is promised of any file.

    Args:
        kind: patterns, posts, pages, sheets, settings or theme.
        data: its bytes.
        paper: whether PDFs and the share picture are made too.

    Returns:
        The problems told.

    Raises:
        AssertionError: a promise is broken. Any other exception is one, too.
    """
    begun = time.process_time()
    name = {"settings": SETTINGS, "theme": "themes/tideline/theme.yaml"}.get(
        kind, f"content/{kind}/it.md"
    )
    source = SourceFile(name, data)
    made, problems = _made(kind, source, paper=paper)
    taken = time.process_time() - begun
    assert taken < MOST_CPU_S, f"{taken:.1f} s"
    for problem in problems:
        assert problem.place.file in (name, SETTINGS), problem
        assert problem.severity is not Severity.ERROR or problem.place.line >= 1, problem
        assert problem.message, problem
        assert len(problem.message) + len(problem.hint) < 3000, problem
    assert made or has_errors(problems), "neither made nor refused"
    for path, content in made.items():
        if path.endswith((".svg", ".xml")):
            ET.fromstring(content)
        elif path.endswith((".html", ".css", ".txt")):
            content.decode()
    return problems


def _made(
    kind: str, source: SourceFile, *, paper: bool
) -> tuple[Mapping[str, bytes], list[Problem]]:
    sources, context = demo()
    if kind == "settings":
        return _settings(source)
    if kind == "theme":
        return _theme(source)
    context = replace(context, options=replace(context.options, paper=paper)) if paper else context
    shelf = PhotoLibrary(sources.photos)
    if kind == "patterns":
        output = show_source(work_source(source, context.settings), context, shelf)
        if output.card is None or has_errors(output.problems):
            return {}, list(output.problems)
        pages = site_files(context.renderer, [output.card])
        return {**output.files, **pages}, list(output.problems)
    output = make_other(source, context, PhotoLibrary(sources.photos))
    if output.shown is None:
        return {}, list(output.problems)
    pages = site_files(context.renderer, **{kind: [output.shown]})
    return {**output.files, **pages}, list(output.problems)


def _settings(source: SourceFile) -> tuple[Mapping[str, bytes], list[Problem]]:
    sources, before = demo()
    context, problems = make_context(
        Studio(ROOT), replace(sources, settings=source), before.options
    )
    if context is None or has_errors(problems):
        return {}, problems
    pattern = next(one for one in sources.of("patterns") if one.stem == "lamplit-bolster")
    output = show_source(
        work_source(pattern, context.settings), context, PhotoLibrary(sources.photos)
    )
    cards = [output.card] if output.card else []
    files = {
        **output.files,
        **site_files(context.renderer, cards),
        **context.renderer.assets.files(),
    }
    # The pattern is sound: what is wrong now, the settings' own words for techniques made wrong.
    return files, [*problems, *output.problems]


def _theme(source: SourceFile) -> tuple[Mapping[str, bytes], list[Problem]]:
    _, context = demo()
    theme = Theme("tideline", {**context.theme.files, "theme.yaml": source.data})
    problems = check_tokens(theme, {}, lambda name: Place(SETTINGS, 1, 1))
    files = Renderer(context.site, theme).assets.files()
    css = files["assets/tokens.css"].decode()
    assert css.count("{") == css.count("}") <= 4, css
    assert not any(bad in css.lower() for bad in ("url(", "@import", "/*", "expression(", "</")), (
        css
    )
    return files, problems
