"""Worked pattern + words + drawings -> PatternView: all that is given may be shown.

Of a paid pattern, what is given is its public twin (`compute.public`), which has no rows to tell.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from stripewright.view.groups import group_views
from stripewright.view.parts import (
    drawing_view,
    gauge_view,
    material_views,
    piece_views,
    size_views,
    supply_views,
)
from stripewright.view.shop import is_sponsored
from stripewright.view.site import post_view, sheet_view, site_view
from stripewright.view.views import (
    CautionView,
    ChapterView,
    CorrectionView,
    PatternView,
    SizeChoiceView,
    Whole,
)
from stripewright.words.markdown import to_html

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from stripewright.compute.worked import Clash, WorkedPattern, WorkedSize
    from stripewright.draw.drawing import Drawings
    from stripewright.pattern.pattern import Video
    from stripewright.pattern.settings import Settings
    from stripewright.view.views import DrawingView, PhotoView
    from stripewright.words.written import Written


def pattern_view(
    worked: WorkedPattern,
    written: Written,
    drawings: Drawings,
    settings: Settings,
    *,
    held: str = "",
    pdfs: Mapping[str, str] | None = None,
    photos: Sequence[PhotoView] = (),
    pictures: Mapping[str, tuple[int, int]] | None = None,
) -> PatternView:
    """A pattern as it is told.

    Args:
        worked: its numbers.
        written: its words.
        drawings: its drawings.
        settings: the studio's.
        held: why it is not published yet, or "".
        pdfs: paper size ("A4", "Letter") -> path from the site's root.
        photos: its pictures, as published.
        pictures: width and height in pixels of the pictures in its texts, by file name.
    """
    pattern = worked.pattern
    schematics = {key: drawing_view(drawing) for key, drawing in drawings.schematics.items()}
    currency = (pattern.price and pattern.price.currency) or settings.currency
    return PatternView(
        slug=worked.slug,
        title=pattern.title,
        summary=pattern.summary,
        kind=pattern.kind,
        access=pattern.access,
        level=pattern.level,
        tags=pattern.tags,
        published=pattern.published.isoformat() if pattern.published else None,
        updated=pattern.updated.isoformat() if pattern.updated else None,
        held=held,
        version=pattern.version,
        bed=pattern.machine.bed,
        needles=pattern.machine.needles,
        gauge=gauge_view(worked.gauge),
        sizes=size_views(worked),
        materials=material_views(worked),
        supplies=supply_views(worked),
        minutes_low=worked.time.total.low,
        minutes_high=worked.time.total.high,
        finished=drawing_view(drawings.finished),
        strip=drawing_view(drawings.strip),
        assembly=drawing_view(drawings.assembly) if drawings.assembly else None,
        schematics=tuple(schematics.values()),
        intro_html=to_html(written.intro, photos=pictures),
        cautions=tuple(CautionView(c.key, c.title, c.text) for c in written.cautions),
        corrections=tuple(
            CorrectionView(c.date.isoformat(), c.text)
            for c in sorted(pattern.corrections, key=lambda c: c.date, reverse=True)
        ),
        photos=tuple(photos),
        video_url=pattern.video.url if pattern.video else None,
        video_title=pattern.video.title if pattern.video else None,
        price=pattern.price.amount if pattern.price else None,
        currency=currency if pattern.price else None,
        shop=pattern.shop,
        sponsored=is_sponsored(pattern.shop, settings),
        licence=pattern.licence or settings.licence,
        credit=pattern.credit or settings.maker,
        clashes=_clashes(worked),
        whole=None if worked.nominal else _whole(worked, written, schematics, pdfs or {}, pictures),
    )


def _whole(
    worked: WorkedPattern,
    written: Written,
    schematics: Mapping[str, DrawingView],
    pdfs: Mapping[str, str],
    pictures: Mapping[str, tuple[int, int]] | None,
) -> Whole:
    chapters = _chapters(worked.pattern.video)
    return Whole(
        pieces=piece_views(worked, schematics),
        groups=group_views(written.groups, chapters),
        body_html=to_html(written.before, photos=pictures),
        after_html=to_html(written.after, photos=pictures),
        size_choices=tuple(_size_choice(size) for size in worked.sizes),
        chapters=chapters,
        pdfs=pdfs,
    )


def _size_choice(size: WorkedSize) -> SizeChoiceView:
    worked = size.worked
    return SizeChoiceView(
        key=size.key,
        title=size.title,
        needles=worked.pattern.machine.needles,
        bed=worked.pattern.machine.bed,
        gauge=gauge_view(worked.gauge),
        sizes=size_views(worked),
        materials=material_views(worked),
        pieces=piece_views(worked, {}),
    )


def _chapters(video: Video | None) -> tuple[ChapterView, ...]:
    return tuple(ChapterView(c.at, c.title, c.step) for c in video.chapters) if video else ()


SEERS = {
    "normal": "most readers",
    "protan": "readers who see little red",
    "deutan": "readers who see little green",
    "tritan": "readers who see little blue",
    "grey": "a black-and-white print",
}
"""Who can't tell two colours apart, in words."""


def _clashes(worked: WorkedPattern) -> tuple[str, ...]:
    """Each pair of neighbouring yarns that somebody can't tell apart, told once."""
    sentences = (_clash(worked, clash) for clash in worked.clashes)
    return tuple(dict.fromkeys(sentences))


def _clash(worked: WorkedPattern, clash: Clash) -> str:
    first, second = worked.yarn(clash.first), worked.yarn(clash.second)
    seers = [SEERS[seer] for seer in clash.seen_by]
    who = seers[0] if len(seers) == 1 else f"{', '.join(seers[:-1])} and {seers[-1]}"
    return (
        f"{first.letter} ({first.name}) and {second.letter} ({second.name}) lie side by side "
        f"and look alike to {who}: go by the letters."
    )


__all__ = ["pattern_view", "post_view", "sheet_view", "site_view"]
