"""Colourways: the same pattern in other yarns, worked whole."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from stripewright.pattern.colourways import Colourway
    from stripewright.pattern.pattern import Pattern


def recoloured(pattern: Pattern, colourway: Colourway) -> Pattern:
    """The pattern as it would be written in a colourway's yarns: rows and sizes stay.

    A yarn that the colourway doesn't name stays, and so does what it doesn't say of one that it
    names; but another ball has no price until it says one.
    """
    yarns = dict(pattern.yarns)
    for key, given in colourway.yarns.items():
        update: dict[str, Any] = {
            name: getattr(given, name) for name in given.model_fields_set if name != "weight"
        }
        if {"ball", "balls"} & update.keys():
            update = {"ball": None, "balls": (), "price": None} | update
        yarns[key] = yarns[key].model_copy(update=update)
    return pattern.model_copy(update={"yarns": yarns, "sizes": {}, "colourways": {}})
