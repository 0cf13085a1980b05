"""Document -> model: validation at construction, every mistake told with its place."""

from __future__ import annotations

from typing import TypeVar

from pydantic import ValidationError

from stripewright.pattern.base import Written
from stripewright.problems import Problem, error
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
