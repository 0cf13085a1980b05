"""Worked pattern + words + drawings -> PatternView: all that is given may be shown.

Of a paid pattern, what is given is its public twin (`compute.public`), which has no rows to tell.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from stripewright.catalogue import plain
from stripewright.view.colourways import colourway_views
from stripewright.view.numbers import numbers
from stripewright.view.runs import shown_steps
from stripewright.view.site import held_told, offer_view
from stripewright.view.views import (
    ChapterView,
    CorrectionView,
    PatternView,
    SizeChoiceView,
    VideoView,
)
from stripewright.words.html import to_html

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from stripewright.compute.worked import WorkedPattern, WorkedSize
    from stripewright.draw.draw import Drawings
    from stripewright.pattern.beside import Video
    from stripewright.pattern.settings import Settings
    from stripewright.view.numbers import Events
    from stripewright.view.views import PhotoView
    from stripewright.words.shown import ShownPicture
    from stripewright.words.written import PatternText, StepGroup


def pattern_view(
    worked: WorkedPattern,
    written: PatternText,
    drawings: Drawings,
    settings: Settings,
    *,
    held: str = "",
    pdfs: Mapping[str, Mapping[str, str]] | None = None,
    photos: Sequence[PhotoView] = (),
    pictures: Mapping[str, ShownPicture] | None = None,
) -> PatternView:
    """A pattern as it is told.

    Args:
        worked: its numbers.
        written: its words.
        drawings: its drawings.
        settings: the studio's.
        held: why it is not published yet, or "".
        pdfs: size's key, "" for all -> paper size ("A4", "Letter") -> path from the site's root.
        photos: its pictures, as published.
        pictures: what is published of the pictures in its texts, by file name.
    """
    papers = pdfs or {}
    choices = (_choice(size, written, drawings, settings, pictures) for size in worked.sizes)
    return replace(
        _facts(worked, settings, written.events, held),
        cautions=written.cautions,
        photos=tuple(photos),
        video=_video(worked.pattern.video, written.groups),
        groups=written.groups,
        shown_steps=shown_steps(written.groups),
        size_choices=tuple(replace(one, pdfs=papers.get(one.key, {})) for one in choices),
        intro_html=to_html(written.intro, photos=pictures),
        body_html=to_html(written.before, photos=pictures),
        after_html=to_html(written.after, photos=pictures),
        pdfs=papers.get("", papers.get("base", {})),
        drawings=drawings,
        colourways=colourway_views(worked, drawings.colourways, settings),
    )


def _facts(worked: WorkedPattern, settings: Settings, events: Events, held: str) -> PatternView:
    """What front matter and numbers alone tell of a pattern."""
    pattern, stripes = worked.pattern, (len(piece.plan) for piece in worked.pieces)
    return PatternView(
        slug=worked.slug,
        title=pattern.title,
        summary=pattern.summary,
        kind=pattern.kind,
        level=pattern.level,
        tags=pattern.tags,
        published=pattern.published.isoformat() if pattern.published else None,
        updated=pattern.updated.isoformat() if pattern.updated else None,
        held=held_told(held),
        version=pattern.version,
        licence=pattern.licence or plain(settings.licence),
        credit=pattern.credit or settings.maker,
        offer=offer_view(pattern.price, pattern.shop, settings),
        simplified=worked.nominal,
        equal_bands=worked.nominal and pattern.reveal is None and max(stripes) > 1,
        numbers=numbers(worked, settings, events),
        corrections=tuple(
            CorrectionView(c.date.isoformat(), c.text)
            for c in sorted(pattern.corrections, key=lambda c: c.date, reverse=True)
        ),
        base_title=pattern.base.title if pattern.base else "",
    )


def _choice(
    size: WorkedSize,
    written: PatternText,
    drawings: Drawings,
    settings: Settings,
    pictures: Mapping[str, ShownPicture] | None,
) -> SizeChoiceView:
    """A further size, told whole."""
    text = written.sizes.get(size.key)
    told = numbers(size.worked, settings, text.events if text else {})
    if text is None:
        return SizeChoiceView(size.key, size.title, told)
    drawn = drawings.sizes.get(size.key)
    return SizeChoiceView(
        size.key,
        size.title,
        told,
        groups=text.groups,
        shown_steps=shown_steps(text.groups),
        cautions=text.cautions,
        drawings=drawn,
        intro_html=to_html(text.intro, photos=pictures),
        body_html=to_html(text.before, photos=pictures),
        after_html=to_html(text.after, photos=pictures),
        video=_video(size.worked.pattern.video, text.groups),
        colourways=colourway_views(size.worked, drawn.colourways, settings) if drawn else (),
    )


_MAKING_UP = "making-up"
"""The key of the group of steps that join and finish the pieces."""


def _video(video: Video | None, groups: Sequence[StepGroup]) -> VideoView | None:
    """A film; each chapter stands beside the first step, or group, that it names."""
    if video is None:
        return None
    named: dict[str, list[ChapterView]] = {}
    timed = [
        (one.step, ChapterView(one.at, one.title)) for one in video.parts if one.at is not None
    ]
    for named_step, chapter in timed:
        if named_step:
            named.setdefault(named_step, []).append(chapter)
    beside: dict[str, tuple[ChapterView, ...]] = {}

    def put(key: str, *names: str | None) -> None:
        shown = [chapter for name in names if name for chapter in named.pop(name, ())]
        if shown:
            beside[key] = tuple(shown)

    for group in groups:
        put(group.key, *(("making up",) if group.key == _MAKING_UP else ()), group.key)
        for step in group.steps:
            put(step.key, step.key, step.technique)
    chapters = tuple(chapter for _, chapter in timed)
    return VideoView(video.url, video.title or "", chapters, beside)
