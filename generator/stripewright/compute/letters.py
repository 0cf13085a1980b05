"""The order that yarns are first used in, beside that of their letters."""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeVar

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from stripewright.compute.worked import WorkedPattern

_Value = TypeVar("_Value")


def letters_used(worked: WorkedPattern) -> tuple[str, ...]:
    """The letters in the order that stripes first use them, piece after piece as knitted."""
    return tuple(dict.fromkeys(line.letter for piece in worked.pieces for line in piece.plan))


def out_of_order(worked: WorkedPattern) -> tuple[str, ...]:
    """The letters as stripes first use them, where that isn't the alphabet's order; else none."""
    used = letters_used(worked)
    return () if list(used) == sorted(used) else used


def in_order_of_use(yarns: Mapping[str, _Value], used: Iterable[str]) -> dict[str, _Value]:
    """Yarns by key, those that stripes use first in front; the others as they were, after them."""
    keys = dict.fromkeys([*(key for key in used if key in yarns), *yarns])
    return {key: yarns[key] for key in keys}
