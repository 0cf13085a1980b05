"""A picture's file -> a palette: the yarns that a pattern could begin with."""

from __future__ import annotations

import io
import json
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from stripewright.catalogue import _
from stripewright.compute.colour import difference
from stripewright.compute.colour_words import said, words_for
from stripewright.compute.palette import PaletteColour, palette
from stripewright.pipeline.photos import clean_photo
from stripewright.problems import Place, Refused

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from stripewright.pattern.stash import Stash

SIDE = 240
"""Pixels of the longer side that colours are counted in: what is smaller is no stripe."""
_STEP = 8
"""Levels of a channel that are counted as one."""


@dataclass(frozen=True, slots=True)
class YarnColour:
    """A colour of a palette, with what a yarn of it may be called."""

    key: str
    name: str
    found: PaletteColour


def palette_of(path: Path, most: int, shown: str = "") -> list[YarnColour]:
    """The colours of a picture that matter, as yarns.

    Args:
        path: JPEG, PNG or WebP.
        most: how many, at most.
        shown: what the picture is called in problems; its path when left out.

    Raises:
        Refused: it can't be read.
    """
    photo, problems = clean_photo(path, Place(shown or str(path)))
    if photo is None:
        raise Refused(problems)
    return named(palette(_counted(photo.data), most))


def named(colours: Sequence[PaletteColour]) -> list[YarnColour]:
    """Colours with keys and names by their everyday words."""
    words = words_for(one.colour for one in colours)
    return [
        YarnColour(word.replace(" ", "_"), said(word), one)
        for word, one in zip(words, colours, strict=True)
    ]


def _counted(data: bytes) -> dict[tuple[int, int, int], int]:
    """Pixels of each colour, nearly alike ones counted together; see-through ones are left out."""
    from PIL import Image

    with Image.open(io.BytesIO(data)) as picture:
        whole = picture.convert("RGBA")
    # Pixels are picked, not blended: between two colours there would be a third.
    whole.thumbnail((SIDE, SIDE), Image.Resampling.NEAREST)
    alike: dict[tuple[int, ...], list[int]] = {}
    pixels = whole.tobytes()
    for at in range(0, len(pixels), 4):
        *channels, solid = pixels[at : at + 4]
        if solid >= 128:
            sums = alike.setdefault(tuple(part // _STEP for part in channels), [0, 0, 0, 0])
            for n, part in enumerate((*channels, 1)):
                sums[n] += part
    counts = {
        (round(red / many), round(green / many), round(blue / many)): many
        for red, green, blue, many in alike.values()
    }
    return counts or {(255, 255, 255): 1}


def nearest_of(stash: Stash, yarns: Sequence[YarnColour]) -> list[tuple[str, YarnColour, float]]:
    """The yarn of the stash that is nearest to each colour, each at most once.

    Returns:
        Key in the stash, the colour, and how far they are apart: CIEDE2000. The nearest pairs are
        made first, and told in the colours' own order.
    """
    pairs = sorted(
        (difference(one.found.was or one.found.colour, yarn.colour), number, key)
        for number, one in enumerate(yarns)
        for key, yarn in stash.yarns.items()
    )
    taken: dict[int, tuple[str, float]] = {}
    for far, number, key in pairs:
        if number not in taken and key not in {name for name, _ in taken.values()}:
            taken[number] = key, far
    return [(key, yarns[number], far) for number, (key, far) in sorted(taken.items())]


def from_stash(found: Sequence[tuple[str, YarnColour, float]]) -> str:
    """The front matter's `yarns:`, each pointing to the stash."""
    lines = ["yarns:"]
    for key, one, far in found:
        colour = one.found.was or one.found.colour
        share = _percent(one.found.share)
        told = _(
            "{share} of the picture; {far:.1f} from its {colour} (CIEDE2000)",
            share=share,
            far=far,
            colour=colour,
        )
        lines.append(f"  {key}: {{from: stash.{key}}}  # {told}")
    return "\n".join(lines)


def as_yarns(yarns: Sequence[YarnColour]) -> str:
    """The front matter's `yarns:`, ready to paste, each with its share of the picture."""
    lines = ["yarns:"]
    for one in yarns:
        share = _("{share} of the picture", share=_percent(one.found.share))
        if one.found.was:
            share += "; " + _("{colour} in the picture", colour=one.found.was)
        colour = json.dumps(one.found.colour)
        lines.append(f"  {one.key}: {{name: {one.name}, colour: {colour}}}  # {share}")
    return "\n".join(lines)


def as_json(yarns: Sequence[YarnColour]) -> list[dict[str, Any]]:
    """The same as plain values."""
    return [
        {
            "key": one.key,
            "name": one.name,
            "colour": one.found.colour,
            "share": round(one.found.share, 4),
            "in_picture": one.found.was or one.found.colour,
        }
        for one in yarns
    ]


def _percent(share: float) -> str:
    return f"{100 * share:.0f} %" if share >= 0.01 else _("under 1 %")
