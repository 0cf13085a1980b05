"""What a pack or a page tells, part by part, as digests: to say what a newer one has otherwise.

They are of what is told, not of files: a compressor's or a typesetter's next version gives other
bytes of the same words, and a program that has learned to tell more gives no other content.
"""

from __future__ import annotations

import json
import re
from dataclasses import dataclass, fields, replace
from functools import cache
from typing import TYPE_CHECKING, Any

from stripewright.catalogue import N_
from stripewright.digests import digest_of
from stripewright.view.plain import plain_data

if TYPE_CHECKING:
    from collections.abc import Mapping

    from stripewright.pattern.sheets import Sheets
    from stripewright.view.numbers import Numbers
    from stripewright.view.plain import Ways
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

WAY = 1
"""Which way parts are made of a view: the next one when `_parts`, or what stands for a drawing, is
made otherwise. Packs made in another way can't be compared."""

_SIGNIFICANT = 9
"""Figures of a number that count: more than is told, fewer than machines differ in."""
_SHORT = 16
"""Digits of a digest that is only compared with the one of a run before."""
_TITLES = re.compile(r"<(title|desc)\b[^>]*>.*?</\1>", re.DOTALL)
_LABELS = re.compile(r">([^<>]*[^<>\s][^<>]*)<")
_COLOURS = re.compile(r"#[0-9a-fA-F]{6}\b")
_OWN_NAME = "own"
_OF_YARN = frozenset({"yarn", "colour", "what"})
"""What a row of a plan says of its yarn, besides its letter."""


@dataclass(frozen=True, slots=True)
class _WithoutYarn:
    """A size's numbers, without what its yarns are called and what they look like."""

    numbers: Numbers


@dataclass(frozen=True, slots=True)
class Contents:
    """What a pack or a page tells.

    Attributes:
        parts: part (`PART_WORDS`) -> what it tells.
    """

    parts: Mapping[str, Any]

    @property
    def fields(self) -> dict[str, str]:
        """The kinds of things that it tells, and the names of the fields of each."""
        reader = _Reader()
        for value in self.parts.values():
            reader.plain(value)
        return dict(sorted(reader.seen.items()))

    def digests(self, fields: Mapping[str, str] | None = None) -> dict[str, str]:
        """The digest of each part.

        Args:
            fields: those that count, as `fields` says them; all when None. With those of an older
                pack the digests can be compared with its own, whatever the program has learned to
                tell since. A part in which it told what the program tells no more is left out.
        """
        found = {}
        for name, value in self.parts.items():
            reader = _Reader(fields)
            plain = reader.plain(value)
            if not reader.lost:
                found[name] = digest_of(_canonical(plain))
        return found


def pattern_contents(view: PatternView, pictures: Mapping[str, bytes]) -> Contents:
    """What a pattern's pack tells.

    Args:
        view: the pattern, as its buyers see it.
        pictures: file name -> bytes of its photos and of the pictures in its text.
    """
    drawings = view.drawings.everything() if view.drawings else ()
    return Contents(
        _parts(view, pictures) | {"drawings": [_labels_and_colours(one.svg) for one in drawings]}
    )


def page_parts(view: PatternView, pictures: Mapping[str, bytes]) -> dict[str, str]:
    """The digest of each part of a pattern's page and of the files beside it.

    Args:
        view: the pattern, or its public twin.
        pictures: as of `pattern_contents`.
    """
    drawings = view.drawings.everything() if view.drawings else ()
    told = _parts(view, pictures) | {
        "drawings": [_shapes(one.svg, view.slug) for one in drawings],
        "price": view.offer,
        "dates": [view.published, view.updated, view.version, view.held],
        "files": {name: _own_file(path, view.slug) for name, path in view.pdfs.items()},
    }
    return {name: value[:_SHORT] for name, value in Contents(told).digests().items()}


def _parts(view: PatternView, pictures: Mapping[str, bytes]) -> dict[str, Any]:
    sizes = view.size_choices
    ways = (*view.colourways, *(way for one in sizes for way in one.colourways))
    told = [view.numbers, *(one.numbers for one in sizes)]
    return {
        "numbers": [_WithoutYarn(one) for one in told],
        "yarn": [[(one.materials, one.cost, one.clashes) for one in told],
                 [(one.title, one.materials, one.cost) for one in ways]],
        "steps": [view.groups, [one.groups for one in sizes]],
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


def sheets_contents(sheets: Sheets, licence: str) -> Contents:
    """What a pack of planning sheets tells: of each sheet what its author said."""
    said = [one.model_dump(mode="json", exclude_defaults=True) for one in sheets.sheets]
    return Contents({"sheets": said, "words": [sheets.title, sheets.summary], "licence": licence})


def digest_of_parts(parts: Mapping[str, str]) -> str:
    """The digest of all parts."""
    return digest_of(_canonical(parts))


def differing(before: Mapping[str, str], now: Mapping[str, str]) -> tuple[str, ...]:
    """The parts that two packs have otherwise, in the order that they are told in.

    A part that only one of them knows can't be compared.
    """
    both = before.keys() & now.keys()
    return tuple(name for name in PART_WORDS if name in both and before[name] != now[name])


def look_of(files: Mapping[str, bytes], tokens: Mapping[str, str]) -> str:
    """The digest of a theme with a studio's own tokens."""
    return digest_of(_canonical([{path: digest_of(data) for path, data in files.items()}, tokens]))


def _picture(photo: PhotoView) -> tuple[Any, ...]:
    return (photo.file, photo.alt, photo.width, photo.height, photo.main)


def _own_file(path: str, slug: str) -> str:
    """What a file beside a page is called, without its pattern's name."""
    return path.rpartition("/")[2].removeprefix(slug)


def _labels_and_colours(svg: str) -> list[Any]:
    """What a drawing says; where it stands is how the program lays it out, and follows from it."""
    shown = _TITLES.sub("", svg)
    return [_LABELS.findall(shown), sorted({*_COLOURS.findall(shown)})]


def _shapes(svg: str, slug: str) -> str:
    """The digest of a drawing without its titles, which are words, and its pattern's name."""
    shown = _TITLES.sub("", svg)
    for before in "\"#' ":
        shown = shown.replace(f"{before}{slug}-", f"{before}{_OWN_NAME}-")
    return digest_of(shown.encode())


def _canonical(plain: Any) -> bytes:
    return json.dumps(plain, ensure_ascii=True, sort_keys=True).encode()


class _Reader:
    """Frozen data as what JSON knows, numbers rounded alike on every machine.

    Args:
        fields: kind -> the names of the fields that count; all when None.

    Attributes:
        seen: kind -> the names of its fields, of all that was read.
        lost: whether some field that counts isn't there any more.
    """

    def __init__(self, fields: Mapping[str, str] | None = None) -> None:
        self._fields = None if fields is None else {k: v.split() for k, v in fields.items()}
        self.seen: dict[str, str] = {}
        self.lost = False

    def plain(self, value: Any) -> Any:
        """The same as lists, texts and dictionaries."""
        # Handed on rather than kept: a reader that held itself would wait for the collector.
        ways: Ways = {float: _rounded, _WithoutYarn: self._without_yarn}
        return plain_data(value, self._counting, ways)

    def _without_yarn(self, value: _WithoutYarn) -> Any:
        bare = replace(value.numbers, materials=(), cost=None, clashes=())
        return plain_data(bare, self._but_of_yarn, {float: _rounded})

    def _but_of_yarn(self, kind: type) -> tuple[str, ...]:
        return tuple([name for name in self._counting(kind) if name not in _OF_YARN])

    def _counting(self, kind: type) -> tuple[str, ...]:
        """The fields of a kind that are there and count."""
        names = _names(kind)
        self.seen[kind.__name__] = " ".join(names)
        if self._fields is None:
            return names
        counting = self._fields.get(kind.__name__, ())
        self.lost = self.lost or not {*counting} <= {*names}
        return tuple(name for name in names if name in counting)


def _rounded(value: float) -> str:
    return f"{value:.{_SIGNIFICANT}g}"


@cache
def _names(kind: type) -> tuple[str, ...]:
    return tuple(one.name for one in fields(kind))
