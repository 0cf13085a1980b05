"""A spare copy of broken front matter, good enough to look for further mistakes in.

What is wrong is taken out, or replaced by the example of its field; what was touched is handed
back, so that nothing is said about it. The copy serves no other end and is thrown away.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any, Generic, NamedTuple, TypeVar

from pydantic import ValidationError

from stripewright.pattern.base import AuthorModel, Wrong
from stripewright.pattern.fields import as_value, example_of, field_at, without_tags

if TYPE_CHECKING:
    from stripewright.source.places import Path

_Model = TypeVar("_Model", bound=AuthorModel)

_ROUNDS = 4
"""Mending one mistake can show another; after so many rounds it is left."""


class Mended(NamedTuple, Generic[_Model]):
    """What came of mending."""

    model: _Model | None
    """The model, or None where mending didn't help."""
    touched: frozenset[Path]
    """The paths that were mended."""
    later: list[Mapping[str, Any]]
    """Pydantic's errors that only showed once others were mended."""


def mended(
    front: Mapping[str, Any], model: type[_Model], items: Sequence[Mapping[str, Any]]
) -> Mended[_Model]:
    """A model of the front matter with its mistakes mended.

    Args:
        front: the front matter as written; it is not changed.
        model: what it should be.
        items: pydantic's errors about it.
    """
    spare = _copy(front)
    touched: set[Path] = set()
    later: list[Mapping[str, Any]] = []
    for _ in range(_ROUNDS):
        for item in items:
            touched.add(_mend(spare, model, item))
        try:
            return Mended(model.model_validate(spare), frozenset(touched), later)
        except ValidationError as fault:
            items = [dict(item) for item in fault.errors(include_url=False)]
            later += [item for item in items if _is_news(item, touched)]
    return Mended(None, frozenset(touched), later)


_SALE = frozenset({("access",), ("price",), ("shop",)})


def _is_news(item: Mapping[str, Any], touched: set[Path]) -> bool:
    """Whether an error is the author's own, and not of what was put in."""
    fault = item.get("ctx", {}).get("error")
    if not isinstance(fault, Wrong):
        return False
    around = without_tags(item["loc"])
    path = (*around, *fault.at)
    if around and any(one[: len(around)] == around for one in touched):
        return False  # it is about keys that were mended
    if path[:1] in _SALE and touched & _SALE:
        return False  # what is mended in one of these shows in the others
    return not any(path[:end] in touched for end in range(1, len(path) + 1))


def _copy(value: Any) -> Any:
    if isinstance(value, Mapping):
        return {key: _copy(inner) for key, inner in value.items()}
    return [_copy(inner) for inner in value] if isinstance(value, list) else value


def _mend(spare: dict[str, Any], model: type[AuthorModel], item: Mapping[str, Any]) -> Path:
    """Mend one mistake in place; gives the path of what was touched."""
    loc: tuple[str | int, ...] = tuple(item["loc"])
    fault = item.get("ctx", {}).get("error")
    if isinstance(fault, Wrong) and fault.at:
        loc = (*loc, *fault.at)
    while loc and not isinstance(_at(spare, without_tags(loc)[:-1]), dict | list):
        loc = loc[:-1]  # what is written as one text is mended as one
    path = without_tags(loc)
    if not path:
        spare["gauge"] = "14 sts x 21 rows / 10 cm"
        return ("gauge",)
    around = _at(spare, path[:-1])
    last = path[-1]
    if (item["type"] == "extra_forbidden" or loc[-1] == "[key]") and isinstance(around, dict):
        around.pop(last, None)
        return path
    field = field_at(model, loc)
    example = example_of(field)
    conflict = isinstance(fault, Wrong) and fault.at
    optional = field is not None and not field.is_required()
    if optional and isinstance(around, dict) and (conflict or not example):
        around.pop(last, None)
    elif isinstance(around, dict) and isinstance(last, str):
        around[last] = as_value(example) if example else _entry(model, loc)
    elif isinstance(around, list) and isinstance(last, int):
        if last < len(around):
            around[last] = _entry(model, loc)
        else:
            around.append(_entry(model, loc))
    return path


def _at(value: Any, path: Path) -> Any:
    for step in path:
        try:
            value = value[step]
        except (KeyError, IndexError, TypeError):
            return None
    return value


def _entry(model: type[AuthorModel], loc: Sequence[str | int]) -> Any:
    """An example entry of the list or mapping that a path's last step stands in."""
    end = len(loc) - 1
    while end > 0 and field_at(model, loc[:end]) is None:
        end -= 1
    examples = as_value(example_of(field_at(model, loc[:end])))
    if isinstance(examples, dict):
        return next(iter(examples.values()))
    return examples[0] if isinstance(examples, list) else examples
