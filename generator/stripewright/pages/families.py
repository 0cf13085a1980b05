"""Colour families: what a viewer means by "something in green"."""

from __future__ import annotations

import colorsys
from functools import lru_cache

from stripewright.catalogue import N_

FAMILIES = (N_("red"), N_("orange"), N_("yellow"), N_("green"), N_("blue"), N_("purple"),
            N_("pink"), N_("brown"), N_("white"), N_("grey"), N_("black"))  # fmt: skip
"""In the order that the catalogue lists them."""

_HUES = ((15, "red"), (42, "orange"), (68, "yellow"), (165, "green"), (255, "blue"),
         (290, "purple"), (335, "pink"), (360, "red"))  # fmt: skip
"""Upper bound of the hue in degrees of HLS; by eye, common practice, no source."""


@lru_cache(maxsize=4096)
def family(colour: str) -> str:
    """The family of a colour written #rrggbb."""
    red, green, blue = (int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5))
    hue, lightness, _ = colorsys.rgb_to_hls(red, green, blue)
    chroma = max(red, green, blue) - min(red, green, blue)
    if lightness < 0.13:
        return "black"
    if chroma < 0.12:
        return "white" if lightness > 0.8 else "grey"
    if lightness > 0.9 and chroma < 0.17:
        return "white"
    name = next(name for bound, name in _HUES if hue * 360 < bound or bound == 360)
    if name in ("red", "orange", "yellow") and lightness < 0.42 and chroma < 0.5 and hue < 0.17:
        return "brown"
    if name == "red" and lightness > 0.68:
        return "pink"
    return name


def families(colours: list[str]) -> tuple[str, ...]:
    """The families of several colours, each once, in the catalogue's order."""
    found = {family(colour) for colour in colours}
    return tuple(name for name in FAMILIES if name in found)
