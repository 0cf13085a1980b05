"""Steps with the chapters of the video that show them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stripewright.view.views import ChapterView, GroupView, StepView

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stripewright.words.written import Step, StepGroup

MAKING_UP = "making-up"


def group_views(
    groups: Sequence[StepGroup], chapters: Sequence[ChapterView]
) -> tuple[GroupView, ...]:
    """The groups of steps; each chapter stands at the first step, or group, that it names."""
    by_step: dict[str, list[ChapterView]] = {}
    for chapter in chapters:
        if chapter.step:
            by_step.setdefault(chapter.step, []).append(chapter)
    return tuple(_group(group, by_step) for group in groups)


def _group(group: StepGroup, by_step: dict[str, list[ChapterView]]) -> GroupView:
    shown = by_step.pop("making up", []) if group.key == MAKING_UP else []
    shown += by_step.pop(group.key, [])
    steps = tuple(_step(step, by_step) for step in group.steps)
    return GroupView(group.key, group.title, steps, tuple(shown))


def _step(step: Step, by_step: dict[str, list[ChapterView]]) -> StepView:
    chapters = by_step.pop(step.key, [])
    if step.technique:
        chapters += by_step.pop(step.technique, [])
    return StepView(
        number=step.number,
        key=step.key,
        title=step.title,
        text=step.text,
        letter=step.letter,
        first=step.first,
        last=step.last,
        chapters=tuple(chapters),
    )
