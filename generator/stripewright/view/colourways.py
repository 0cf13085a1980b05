"""Colourways as they are shown: each drawn, with its yarn and cost."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stripewright.view.numbers import materials_of

if TYPE_CHECKING:
    from collections.abc import Mapping

    from stripewright.compute.worked import WorkedPattern
    from stripewright.draw.drawing import Drawing
    from stripewright.pattern.settings import Settings
    from stripewright.view.materials import MaterialView


@dataclass(frozen=True, slots=True)
class ColourwayView:
    """A colourway."""

    key: str
    title: str
    materials: tuple[MaterialView, ...]
    cost: str | None
    """What all its yarn costs."""
    finished: Drawing
    strip: Drawing


def colourway_views(
    worked: WorkedPattern,
    pictures: Mapping[str, tuple[Drawing, Drawing]],
    settings: Settings,
) -> tuple[ColourwayView, ...]:
    """The colourways of a pattern, or of its public twin.

    Args:
        worked: the pattern.
        pictures: each one's finished picture and strip, by its key.
        settings: how things are told.
    """
    views = []
    for one in worked.colourways:
        materials, cost = materials_of(one.worked, settings)
        finished, strip = pictures[one.key]
        views.append(ColourwayView(one.key, one.title, materials, cost, finished, strip))
    return tuple(views)
