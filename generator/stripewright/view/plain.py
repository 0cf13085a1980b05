"""Frozen data as what JSON knows: dictionaries, lists, texts and numbers."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import is_dataclass
from typing import Any

Ways = Mapping[type, Callable[[Any], Any]]
"""Kinds of values that a reader tells in its own way."""

_AS_THEY_ARE = frozenset({str, int, bool, type(None)})


def plain_data(value: Any, names: Callable[[type], Sequence[str]], ways: Ways) -> Any:
    """A value, and whatever it holds, as plain data.

    Args:
        value: frozen data.
        names: the fields of a kind of it that are told, in their order.
        ways: kinds that are told otherwise.

    Raises:
        TypeError: it holds something that is no data.
    """
    kind = type(value)
    if kind in _AS_THEY_ARE:
        return value
    if kind in ways:
        return ways[kind](value)
    if isinstance(value, (tuple, list)):
        return [plain_data(one, names, ways) for one in value]
    if is_dataclass(value):
        return {
            name: one
            if type(one := getattr(value, name)) in _AS_THEY_ARE
            else plain_data(one, names, ways)
            for name in names(kind)
        }
    if isinstance(value, Mapping):
        return {str(key): plain_data(one, names, ways) for key, one in value.items()}
    if isinstance(value, (str, int, float)):
        return value
    raise TypeError(f"no plain data: {kind.__name__}")
