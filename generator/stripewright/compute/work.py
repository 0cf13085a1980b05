"""The computation's table of contents: one pattern in, one worked pattern out."""

from __future__ import annotations

from stripewright.compute.worked import WorkedPattern
from stripewright.pattern.pattern import Pattern
from stripewright.pattern.settings import Settings
from stripewright.problems import Problem
from stripewright.source.document import Document


def work(
    pattern: Pattern, document: Document, settings: Settings, slug: str
) -> tuple[WorkedPattern | None, list[Problem]]:
    """Work a pattern out.

    Args:
        pattern: what the author wrote.
        document: where they wrote it, for the places of problems.
        settings: the studio's (pace, currency).
        slug: the pattern's address.

    Returns:
        The worked pattern (None after an error) and every problem found.
    """
    raise NotImplementedError
