"""Document -> model: validation at construction, every mistake told with its place."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TypeVar

from pydantic import ValidationError

from stripewright.pattern.base import Written
from stripewright.problems import Place, Problem, error
from stripewright.source.document import Document

Model = TypeVar("Model", bound=Written)


def as_model(document: Document, model: type[Model]) -> tuple[Model | None, list[Problem]]:
    """The document's front matter as a model, or None and every problem found."""
    try:
        return model.model_validate(document.front), []
    except ValidationError as fault:
        return None, [
            error(document.place(*item["loc"]), item["msg"].removeprefix("Value error, "))
            for item in fault.errors()
        ]


def duplicate_slugs(named: Iterable[tuple[str, str]]) -> list[Problem]:
    """Files that would land at one address, told at the later file.

    Args:
        named: each file's name and its slug, of one kind of files.
    """
    first: dict[str, str] = {}
    problems = []
    for file, slug in named:
        other = first.setdefault(slug.casefold(), file)
        if other != file:
            problems.append(
                error(Place(file, 1, 1), f"the slug {slug} is taken by {other}",
                      "give one of them another, like slug: " + slug.casefold() + "-2")  # fmt: skip
            )
    return problems
