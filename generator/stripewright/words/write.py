"""The words' table of contents: steps, making up, cautions, the author's own text."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from stripewright.catalogue import speaking
from stripewright.problems import Problem, has_errors
from stripewright.words.body import write_body
from stripewright.words.cautions import write_cautions
from stripewright.words.chapters import check_chapters
from stripewright.words.events import told_events
from stripewright.words.making_up import making_up
from stripewright.words.steps import piece_groups
from stripewright.words.teller import StepWriter
from stripewright.words.written import PatternText

if TYPE_CHECKING:
    from stripewright.compute.worked import WorkedPattern
    from stripewright.pattern.settings import Settings
    from stripewright.source.document import Document


def write(
    worked: WorkedPattern, document: Document, settings: Settings
) -> tuple[PatternText | None, list[Problem]]:
    """Put a worked pattern into words.

    Args:
        worked: the pattern.
        document: where it was written, for the places of problems.
        settings: the studio's (units, terms, techniques, raw HTML).

    Returns:
        The words (None after an error) and every problem found.
    """
    with speaking(settings.words):
        text, problems = _written(worked, document, settings)
        if text is None:
            return None, problems
        sizes: dict[str, PatternText] = {}
        for size in worked.sizes:
            other, found = _written(size.worked, document, settings)
            problems += [problem for problem in found if problem not in problems]
            if other is not None:
                sizes[size.key] = other
        return (None if has_errors(problems) else replace(text, sizes=sizes)), problems


def _written(
    worked: WorkedPattern, document: Document, settings: Settings
) -> tuple[PatternText | None, list[Problem]]:
    teller = StepWriter(worked, document, settings)
    groups = list(piece_groups(teller))
    making, problems = making_up(teller)
    if making.steps:
        groups.append(making)
    problems += teller.techniques.problems
    problems += check_chapters(worked, document, groups, teller.techniques.names)
    intro, body, steps_at, found = write_body(worked, document, settings, teller.techniques.meter)
    problems += found
    if has_errors(problems):
        return None, problems
    events = {piece.key: told_events(teller, piece) for piece in worked.pieces}
    return PatternText(
        tuple(groups), write_cautions(worked), intro, body, events, steps_at
    ), problems
