"""Drawn bands against a row plan: stripes to scale tell the rows as surely as numbers do."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

_CLOSE = 0.004
"""Share of the whole that a band may be off and still be that stripe."""

_SHAPE = re.compile(r"<(rect|path|polygon)\b([^>]*)>")
_ATTRIBUTE = re.compile(r"\b(x|y|width|height|d|points)\s*=\s*[\"']([^\"']*)[\"']")
_POINT = re.compile(r"-?\d*\.?\d+")
_YARN = re.compile(r"class\s*=\s*[\"'][^\"']*\byarn-")

Box = tuple[float, float, float, float]
_Plan = tuple[int, ...]


def shows_bands(markup: str, plans: Sequence[_Plan], *, any_shape: bool = False) -> _Plan | None:
    """The first plan whose proportions stand in a drawing, band after band, along or across.

    Only shapes of a yarn are looked at, or `any_shape`. Plans of stripes that are as good as equal
    tell nothing: every paid pattern is drawn so.
    """
    boxes = list(_boxes(markup, any_shape=any_shape))
    plans = [plan for plan in plans if not _is_equal(plan)]
    for side in (3, 2):
        lengths = [box[side] for box in boxes]
        for plan in plans:
            if _stands(lengths, plan):
                return plan
    return None


def _stands(lengths: Sequence[float], plan: _Plan) -> bool:
    rows = sum(plan)
    if not rows:
        return False
    shares = [one / rows for one in plan]
    for at in range(len(lengths) - len(plan) + 1):
        whole = sum(lengths[at : at + len(plan)])
        # Most runs of bands differ at once from the plan: its first share is looked at first.
        if whole <= 0 or abs(lengths[at] / whole - shares[0]) > _CLOSE:
            continue
        here = lengths[at : at + len(plan)]
        if all(abs(a / whole - b) <= _CLOSE for a, b in zip(here, shares, strict=True)):
            return True
    return False


def _is_equal(plan: _Plan) -> bool:
    rows = sum(plan)
    return not rows or all(abs(one / rows - 1 / len(plan)) <= _CLOSE for one in plan)


def _boxes(markup: str, *, any_shape: bool) -> Iterator[Box]:
    """The extent of each shape of a yarn, or of each, in the order they are drawn."""
    for kind, inside in _SHAPE.findall(markup):
        if not any_shape and not _YARN.search(inside):
            continue
        values = dict(_ATTRIBUTE.findall(inside))
        if kind == "rect":
            yield tuple(_length(values.get(key, "0")) for key in ("x", "y", "width", "height"))  # type: ignore[misc]  # four keys, four numbers
        else:
            yield _extent(values.get("d") or values.get("points") or "")


def _length(text: str) -> float:
    found = _POINT.match(text)
    return float(found[0]) if found else 0.0


def _extent(points: str) -> Box:
    """A path's extent, were all its numbers points: exact for straight bands drawn absolutely."""
    numbers = [float(number) for number in _POINT.findall(points)]
    across, along = numbers[0::2], numbers[1::2]
    if not across or not along:
        return (0.0, 0.0, 0.0, 0.0)
    return (min(across), min(along), max(across) - min(across), max(along) - min(along))
