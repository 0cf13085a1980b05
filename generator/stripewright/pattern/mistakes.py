"""What pydantic found, as problems at their places."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from stripewright.catalogue import say
from stripewright.pattern.base import AuthorModel, Wrong, fields_by_key
from stripewright.pattern.fields import field_at, models_at, without_tags
from stripewright.pattern.messages import Case, first_word, in_words, missing_key, unknown_key
from stripewright.problems import Problem, error
from stripewright.source.scalars import short

if TYPE_CHECKING:
    from stripewright.source.document import Document
    from stripewright.source.places import Path

_CONSEQUENCES = frozenset({"missing", "too_short"})
"""What can't be told of a file whose front matter was only read in part."""


def mistakes(
    items: Sequence[Mapping[str, Any]],
    document: Document,
    model: type[AuthorModel],
    within: Path = (),
) -> list[Problem]:
    """Pydantic's errors as problems, each mistake once.

    Args:
        items: the errors.
        document: where the author wrote what they are about.
        model: what it should be.
        within: where it stands in the document; () for all of it.
    """
    paths = [(*within, *_path(item)) for item in items]
    inside = {path[:end] for path in paths for end in range(len(path))}
    meant = {
        (*path[:-1], _meant(item, model))
        for item, path in zip(items, paths, strict=True)
        if item["type"] == "extra_forbidden"
    }
    problems: list[Problem] = []
    for item, path in zip(items, paths, strict=True):
        if item["type"] == "too_short" and path in inside:
            continue  # its entries are told one by one
        if item["type"] == "missing" and path in meant:
            continue  # it is there, under a misspelt name
        if not document.whole and (item["type"] in _CONSEQUENCES or _is_whole_model(item)):
            continue
        problems.append(_problem(item, path, document, model))
    return problems


def _path(item: Mapping[str, Any]) -> Path:
    """Where an error is in what was written; an unknown key may be spelt like a tag of ours."""
    loc = item["loc"]
    if item["type"] == "extra_forbidden":
        return (*without_tags(loc[:-1]), loc[-1])
    return without_tags(loc)


def _is_whole_model(item: Mapping[str, Any]) -> bool:
    """Whether an error is about how the keys of a mapping go together."""
    return item["type"] == "value_error" and isinstance(item["input"], dict)


def _meant(item: Mapping[str, Any], model: type[AuthorModel]) -> str:
    """The known key that an unknown one was meant for, or the unknown one."""
    known = _known(item, model)
    if item["input"] is None and (first := first_word(str(item["loc"][-1]), known)):
        return first
    _, hint = unknown_key(str(item["loc"][-1]), known, item["input"])
    near = hint.removeprefix("did you mean ").removesuffix("?")
    return near if near in known else str(item["loc"][-1])


def _known(item: Mapping[str, Any], model: type[AuthorModel]) -> list[str]:
    models = models_at(model, item["loc"][:-1])
    return list(fields_by_key(models[0])) if models else []


def _problem(
    item: Mapping[str, Any], path: Path, document: Document, model: type[AuthorModel]
) -> Problem:
    kind, loc = item["type"], item["loc"]
    if kind == "extra_forbidden":
        said = unknown_key(str(path[-1]), _known(item, model), item["input"])
        return error(document.key_place(*path), *said)
    if kind == "missing" and isinstance(path[-1], str):
        where = name_of(path[:-1]) or say("the front matter")
        said = missing_key(path[-1], where, field_at(model, loc))
        return error(document.key_place(*path[:-1]), *said)
    if kind in ("missing", "too_long") and isinstance(path[-1], int):
        path, loc = path[:-1], loc[:-1]
    if loc and loc[-1] == "[key]":
        return error(
            document.key_place(*path), *in_words(Case(item, say("the key"), None, path[-1]))
        )
    written, present = _written(document.front, path)
    said = in_words(Case(item, name_of(present), field_at(model, loc), written))
    fault = item.get("ctx", {}).get("error")
    if isinstance(fault, Wrong) and fault.at:
        return error(document.place(*path, *fault.at), *said)
    if isinstance(written, dict):
        return error(document.key_place(*path), *said)
    return error(document.place(*path), *said)


def name_of(path: Sequence[str | int]) -> str:
    """What a value is called in a message: its key, or "entry 2 of stripes"."""
    if not path:
        return ""
    last = path[-1]
    if isinstance(last, str):
        return short(last)
    around = name_of(path[:-1])
    return (
        say("entry {last} of {around}", last + 1, around)
        if around
        else say("entry {last}", last + 1)
    )


def _written(front: Any, path: Path) -> tuple[Any, Path]:
    """The value that stands at a path, or the nearest around it (a text, say), and its path."""
    value = front
    for end, step in enumerate(path):
        if isinstance(value, Mapping) and step in value:
            value = value[str(step)]
        elif isinstance(value, list) and isinstance(step, int) and step < len(value):
            value = value[step]
        else:
            return value, path[:end]
    return value, path
