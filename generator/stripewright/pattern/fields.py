"""Finding one's way in the models: which field a path leads to, and what may be written there."""

from __future__ import annotations

import types
from typing import TYPE_CHECKING, Annotated, Any, Literal, Union, get_args, get_origin

from stripewright.pattern.base import AuthorModel, fields_by_key
from stripewright.pattern.quantity_types import READERS
from stripewright.source.yaml_tree import read_yaml

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from pydantic.fields import FieldInfo

    from stripewright.source.places import Path


def is_tag(step: str | int) -> bool:
    """Whether a step of an error's path names a union's branch rather than a key."""
    return isinstance(step, str) and step.startswith("<") and step.endswith(">")


def without_tags(path: Sequence[str | int]) -> Path:
    """An error's path as it leads through what was written."""
    return tuple(step for step in path if not is_tag(step) and step != "[key]")


def field_at(model: type[AuthorModel], path: Sequence[str | int]) -> FieldInfo | None:
    """The field that a path's last key belongs to; None for entries of lists and free keys.

    Args:
        model: the outermost model.
        path: an error's path, tags included.
    """
    return _walked(model, path)[1]


def models_at(model: type[AuthorModel], path: Sequence[str | int]) -> list[type[AuthorModel]]:
    """The models that may stand where a path leads, those of other tags left out."""
    return [kind for kind in _walked(model, path)[0] if _is_model(kind)]


def _walked(
    model: type[AuthorModel], path: Sequence[str | int]
) -> tuple[list[Any], FieldInfo | None]:
    """What may stand where a path leads, and the field that its last key belongs to."""
    kinds: list[Any] = [model]
    field: FieldInfo | None = None
    for step in path:
        if is_tag(step):
            field, kinds = None, [kind for kind in kinds if _answers(kind, str(step))] or kinds
            continue
        fields = [fields_by_key(kind).get(str(step)) for kind in kinds if _is_model(kind)]
        field = next(filter(None, fields), None)
        kinds = (
            [*_kinds(field.annotation)]
            if field
            else [inner for kind in kinds for inner in _entries(kind, step)]
        )
    return kinds, field


def _is_model(kind: Any) -> bool:
    return isinstance(kind, type) and issubclass(kind, AuthorModel)


def models_in(field: FieldInfo) -> tuple[type[AuthorModel], ...]:
    """The models of what stands below a field: its own, or those of its list's or free keys'."""
    found: dict[type[AuthorModel], None] = {}
    waiting = list(_kinds(field.annotation))
    while waiting:
        kind = waiting.pop(0)
        if _is_model(kind):
            found[kind] = None
        elif get_origin(kind) in (dict, tuple):
            waiting += [inner for of in get_args(kind) for inner in _kinds(of) if of is not ...]
    return tuple(found)


def _answers(kind: Any, tag: str) -> bool:
    """Whether a union's branch goes by a tag."""
    name = tag.strip("<>")
    if name == "several":
        return get_origin(kind) is tuple
    if name == "one":
        return get_origin(kind) is None
    return isinstance(kind, type) and kind.__name__.lower() == name


def _kinds(annotation: Any) -> Iterable[Any]:
    """The branches of an annotation: models, dicts, tuples, plain types."""
    origin = get_origin(annotation)
    if origin is Annotated:
        yield from _kinds(get_args(annotation)[0])
    elif origin in (Union, types.UnionType):
        for branch in get_args(annotation):
            yield from _kinds(branch)
    elif annotation is not type(None):
        yield annotation


def _entries(kind: Any, step: str | int) -> Iterable[Any]:
    """What stands inside a dict or tuple."""
    origin, inside = get_origin(kind), get_args(kind)
    if origin is dict and isinstance(step, str):
        yield from _kinds(inside[1])
    elif origin is tuple and isinstance(step, int):
        several = len(inside) == 2 and inside[1] is Ellipsis
        if several or step < len(inside):
            yield from _kinds(inside[0] if several else inside[step])


def example_of(field: FieldInfo | None) -> str:
    """What may be written for a field, as YAML; empty when nothing is known."""
    if field is None:
        return ""
    if field.examples:
        return str(field.examples[0])
    reader = reader_of(field)
    return READERS[reader][1] if reader else ""


def as_value(example: Any) -> Any:
    """An example, from YAML to a value."""
    if not isinstance(example, str):
        return example
    return read_yaml(f"example: {example}", "", 1)[0].front.get("example")


def unit_of(field: FieldInfo | None) -> str:
    """The unit of a field's number inside the program: cm, g, share, or none."""
    reader = reader_of(field) if field else None
    return READERS[reader][0] if reader else ""


def reader_of(field: FieldInfo) -> Any:
    """The function that reads a field's text into a number, or None."""
    metadata = [*field.metadata]
    for annotation in _annotated(field.annotation):
        metadata += get_args(annotation)[1:]
    for item in metadata:
        reader = getattr(item, "func", None)
        if reader in READERS:
            return reader
    return None


def _annotated(annotation: Any) -> Iterable[Any]:
    if get_origin(annotation) is Annotated:
        yield annotation
    elif get_origin(annotation) in (Union, types.UnionType):
        for branch in get_args(annotation):
            yield from _annotated(branch)


def choices(field: FieldInfo) -> list[str]:
    """The words that a field may hold, when they are a fixed few."""
    return [
        str(word)
        for kind in _kinds(field.annotation)
        if get_origin(kind) is Literal
        for word in get_args(kind)
    ]
