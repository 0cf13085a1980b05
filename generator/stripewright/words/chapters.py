"""Chapters of a film: made from the steps, and what is wrong with those that are listed."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

from stripewright.catalogue import say
from stripewright.problems import error, nearest, warning
from stripewright.words.techniques import shipped_techniques

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from stripewright.compute.worked import WorkedPattern
    from stripewright.problems import Problem
    from stripewright.source.document import Document
    from stripewright.words.written import StepGroup

_MAKING_UP = "making up"
"""What a chapter names to stand beside all of making up."""


def _from_steps(groups: Sequence[StepGroup]) -> Iterator[tuple[str, str]]:
    """Title and step of each chapter that a film of these steps would have, in their order.

    Each piece, and on its way every technique that is new: told once, shown once.
    """
    shown = {name for name, each in shipped_techniques().items() if each.passing}
    for group in groups:
        if any(step.piece == group.key for step in group.steps):
            yield group.title, group.key
        for step in group.steps:
            if step.technique and step.technique not in shown:
                shown.add(step.technique)
                yield step.title, step.technique


def check_chapters(
    worked: WorkedPattern,
    document: Document,
    groups: Sequence[StepGroup],
    techniques: frozenset[str],
) -> list[Problem]:
    """Chapters that name no step or have no time yet; those to be made, where none are listed."""
    video = worked.pattern.video
    if video is None:
        return []
    if isinstance(video.chapters, str):
        lines = "".join(
            f"\n      - {{at: , title: {json.dumps(title, ensure_ascii=False)}, step: {step}}}"
            for title, step in _from_steps(groups)
        )
        what = say("the film has no chapters yet: their times are left to fill in")
        hint = say(
            "write this instead, with a time at each, like at: 2:30\n    chapters:{lines}", lines
        )
        return [warning(document.place("video", "chapters"), what, hint)]
    steps = {step.key for group in groups for step in group.steps}
    pieces = {piece.key for piece in worked.pieces}
    known = {_MAKING_UP} | {group.key for group in groups} | steps | techniques
    problems = []
    for index, chapter in enumerate(video.parts):
        if chapter.step is not None and chapter.step not in known:
            problems.append(
                error(
                    document.place("video", "chapters", index, "step"),
                    say("there is no step “{step}” to show this chapter at", chapter.step),
                    nearest(chapter.step, {_MAKING_UP} | pieces | techniques),
                )
            )
        if chapter.at is None:
            place = document.place("video", "chapters", index)
            what = say("the chapter “{title}” has no time yet, and isn't shown", chapter.title)
            problems.append(warning(place, what, "write where it begins, like at: 2:30"))
    return problems
