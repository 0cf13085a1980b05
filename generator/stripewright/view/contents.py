"""What a pack or a page tells, part by part, as digests: to say what a newer one has otherwise.

They are of what is told, not of files: a compressor's or a typesetter's next version gives other
bytes of the same words.
"""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from dataclasses import fields, is_dataclass, replace
from functools import cache
from typing import TYPE_CHECKING, Any

from stripewright.catalogue import N_
from stripewright.digests import digest_of

if TYPE_CHECKING:
    from stripewright.pattern.settings import Sheets
    from stripewright.view.numbers import Numbers
    from stripewright.view.views import PatternView, PhotoView

LOOK = "look"
"""What isn't told but seen: the theme, or how the program lays out. It is in no digest."""

PART_WORDS = {
    "numbers": N_("numbers"),
    "yarn": N_("yarn"),
    "steps": N_("steps"),
    "drawings": N_("drawings"),
    "pictures": N_("pictures"),
    "words": N_("words"),
    "cautions": N_("cautions"),
    "corrections": N_("corrections"),
    "film": N_("film"),
    "licence": N_("licence"),
    "sheets": N_("sheets"),
    "price": N_("price"),
    "dates": N_("dates and version"),
    "files": N_("files"),
    LOOK: N_("look"),
}
"""Each part of a pack or a page, in the order that it is told in, and its word."""

_SIGNIFICANT = 9
"""Figures of a number that count: more than is told, fewer than machines differ in."""
_SHORT = 16
"""Digits of a digest that is only compared with the one of a run before."""
_AS_THEY_ARE = frozenset({str, int, bool, type(None)})
_TITLES = re.compile(r"<(title|desc)\b[^>]*>.*?</\1>", re.DOTALL)
_OWN_NAME = "own"
_OF_YARN = frozenset({"yarn", "colour", "what"})
"""What a row of a plan says of its yarn, besides its letter."""


def pattern_parts(view: PatternView, pictures: Mapping[str, bytes]) -> dict[str, str]:
    """The digest of each part of a pattern's pack.

    Args:
        view: the pattern, as its buyers see it.
        pictures: file name -> bytes of its photos and of the pictures in its text.
    """
    sizes = view.size_choices
    ways = (*view.colourways, *(way for one in sizes for way in one.colourways))
    told = [view.numbers, *(one.numbers for one in sizes)]
    drawings = view.drawings.everything() if view.drawings else ()
    parts: dict[str, Any] = {
        "numbers": [_without_yarn(one) for one in told],
        "yarn": [[(one.materials, one.cost, one.clashes) for one in told],
                 [(one.title, one.materials, one.cost) for one in ways]],
        "steps": [view.groups, [one.groups for one in sizes]],
        "drawings": [_shapes(one.svg, view.slug) for one in drawings],
        "pictures": [[_picture(one) for one in view.photos],
                     {name: digest_of(data) for name, data in pictures.items()}],
        "words": [view.title, view.summary, view.kind, view.level, view.tags, view.credit,
                  view.base_title, view.intro_html, view.body_html, view.after_html,
                  [(one.title, one.intro_html, one.body_html, one.after_html) for one in sizes]],
        "cautions": [view.cautions, [one.cautions for one in sizes]],
        "corrections": view.corrections,
        "film": view.video,
        "licence": view.licence,
    }  # fmt: skip
    return {name: digest_of(_canonical(value)) for name, value in parts.items()}


def page_parts(view: PatternView, pictures: Mapping[str, bytes]) -> dict[str, str]:
    """The digest of each part of a pattern's page and of the files beside it.

    Args:
        view: the pattern, or its public twin.
        pictures: as of `pattern_parts`.
    """
    parts: dict[str, Any] = {
        "price": view.offer,
        "dates": [view.published, view.updated, view.version, view.held],
        "files": view.pdfs,
    }
    told = pattern_parts(view, pictures) | {
        name: digest_of(_canonical(value)) for name, value in parts.items()
    }
    return {name: value[:_SHORT] for name, value in told.items()}


def sheets_parts(sheets: Sheets) -> dict[str, str]:
    """The digest of each part of a pack of planning sheets."""
    return {"sheets": digest_of(_canonical(sheets.model_dump(mode="json")))}


def whole(parts: Mapping[str, str]) -> str:
    """The digest of all parts."""
    return digest_of(_canonical(parts))


def differing(before: Mapping[str, str], now: Mapping[str, str]) -> tuple[str, ...]:
    """The parts that two packs have otherwise, in the order that they are told in."""
    return tuple(name for name in PART_WORDS if before.get(name) != now.get(name))


def look_of(files: Mapping[str, bytes], tokens: Mapping[str, str]) -> str:
    """The digest of a theme with a studio's own tokens."""
    return digest_of(_canonical([{path: digest_of(data) for path, data in files.items()}, tokens]))


def _without_yarn(numbers: Numbers) -> Any:
    """A size's numbers without what its yarns are called and what they look like."""
    return _left_out(_plain(replace(numbers, materials=(), cost=None, clashes=())), _OF_YARN)


def _left_out(value: Any, names: frozenset[str]) -> Any:
    if isinstance(value, dict):
        return {key: _left_out(one, names) for key, one in value.items() if key not in names}
    return [_left_out(one, names) for one in value] if isinstance(value, list) else value


def _picture(photo: PhotoView) -> tuple[Any, ...]:
    return (photo.file, photo.alt, photo.width, photo.height, photo.main)


def _shapes(svg: str, slug: str) -> str:
    """A drawing without its titles, which are words, and without its pattern's name."""
    return _TITLES.sub("", svg).replace(f'"{slug}-', f'"{_OWN_NAME}-')


def _canonical(value: Any) -> bytes:
    return json.dumps(_plain(value), ensure_ascii=True, sort_keys=True).encode()


def _plain(value: Any) -> Any:
    """Frozen data as what JSON knows, numbers rounded alike on every machine."""
    kind = type(value)
    if kind in _AS_THEY_ARE:
        return value
    if kind is float:
        return f"{value:.{_SIGNIFICANT}g}"
    if kind is tuple or kind is list:
        return [_plain(one) for one in value]
    if is_dataclass(value):
        names = _names(kind)  # type: ignore[arg-type]  # a class that is narrowed can be hashed too
        return {name: _plain(getattr(value, name)) for name in names}
    if isinstance(value, Mapping):
        return {str(key): _plain(one) for key, one in value.items()}
    if isinstance(value, (str, int)):
        return value
    raise TypeError(f"no part of a pack: {kind.__name__}")


@cache
def _names(kind: type) -> tuple[str, ...]:
    return tuple(one.name for one in fields(kind))
