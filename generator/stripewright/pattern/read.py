"""Document -> model: validation at construction, every mistake told with its place."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, TypeVar

from pydantic import ValidationError

from stripewright.catalogue import say
from stripewright.pattern.base import AuthorModel
from stripewright.pattern.check import check_names, check_pattern
from stripewright.pattern.fields import without_tags
from stripewright.pattern.mend import mended
from stripewright.pattern.mistakes import mistakes
from stripewright.pattern.pattern import Pattern
from stripewright.pattern.records import fill_in_tables
from stripewright.pattern.sized import fill_in_sizes
from stripewright.pattern.slugs import check_slug
from stripewright.problems import Problem, error, has_errors

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from stripewright.source.document import Document

_Model = TypeVar("_Model", bound=AuthorModel)

_MOST_TOLD = 200
"""Problems of one file that are listed; the rest are counted."""


def as_model(document: Document, model: type[_Model]) -> tuple[_Model | None, list[Problem]]:
    """The document's front matter as a model.

    For a `Pattern` this includes what only shows between its parts: names of yarns and pieces
    that aren't there, dates out of order.

    Args:
        document: a file taken apart. When it isn't whole, only what is there is judged.
        model: Pattern, Post, Page, Sheets or Settings.

    Returns:
        The model, or None after an error, and every problem found, each with its place.
    """
    try:
        made = model.model_validate(document.front)
    except ValidationError as fault:
        return None, _mistakes(fault.errors(include_url=False), document, model)
    problems: list[Problem] = []
    if isinstance(made, Pattern):
        problems = check_pattern(made, document) + fill_in_tables(made, document)
        problems += fill_in_sizes(made, document)
    problems += check_names(made, document)
    problems += check_slug(getattr(made, "slug", None), document, model)
    if has_errors(problems):
        return None, problems
    return (made if document.whole else None), problems


def spare_model(document: Document, model: type[_Model]) -> _Model | None:
    """A model of front matter with mistakes, as good as it gets: to look for more with it."""
    try:
        return model.model_validate(document.front)
    except ValidationError as fault:
        items = fault.errors(include_url=False)[:_MOST_TOLD]
        return mended(document.front, model, items).model


def _mistakes(
    items: Sequence[Mapping[str, Any]], document: Document, model: type[AuthorModel]
) -> list[Problem]:
    """What pydantic found, and what can be found beside it."""
    if len(items) > _MOST_TOLD:
        place = document.place(*without_tags(items[_MOST_TOLD]["loc"]))
        more = say("there are {items} more mistakes in this file", len(items) - _MOST_TOLD)
        return [*mistakes(items[:_MOST_TOLD], document, model), error(place, more)]
    problems = mistakes(items, document, model)
    spare = mended(document.front, model, items)
    problems += mistakes(spare.later, document, model)
    if isinstance(spare.model, Pattern):
        problems += check_pattern(spare.model, document, spare.touched)
    return problems
