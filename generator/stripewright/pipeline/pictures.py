"""The pictures that a text or a pattern names, taken from the studio's, and a view with them."""

from __future__ import annotations

from types import MappingProxyType
from typing import TYPE_CHECKING

from stripewright.draw.draw import draw_all
from stripewright.figures import Figures
from stripewright.view.make import pattern_view
from stripewright.view.views import PhotoView
from stripewright.words.links import photo_fault
from stripewright.words.markdown import images_in, prose
from stripewright.words.shown import ShownPicture

if TYPE_CHECKING:
    from collections.abc import Mapping

    from stripewright.pattern.pattern import Pattern
    from stripewright.pattern.settings import Settings
    from stripewright.pipeline.output import Sound
    from stripewright.pipeline.photos import CleanPhoto, PhotoLibrary
    from stripewright.problems import Place, Problem
    from stripewright.source.document import Document
    from stripewright.view.views import PatternView


def pictures_named(sound: Sound, document: Document) -> dict[str, Place]:
    """The names of pictures that a pattern shows, and the line of each."""
    named = {
        photo.file: document.place("photos", n, "file")
        for n, photo in enumerate(sound.worked.pattern.photos)
    }
    written = sound.written
    return named | images_in(written.intro, document) | images_in(written.body, document)


def pictures_of(
    sound: Sound, document: Document, shelf: PhotoLibrary
) -> tuple[dict[str, CleanPhoto], list[Problem]]:
    """The pictures that a pattern, or its public twin, shows, by name."""
    return taken_from_shelf(pictures_named(sound, document), shelf)


def taken_from_shelf(
    named: Mapping[str, Place], shelf: PhotoLibrary
) -> tuple[dict[str, CleanPhoto], list[Problem]]:
    """Pictures by name, and what is wrong with those that are named."""
    taken: dict[str, CleanPhoto] = {}
    problems: list[Problem] = []
    for name, place in named.items():
        photo, found = shelf.take(name, place)
        problems += found
        if photo:
            taken[name] = photo
    return taken, problems


def bytes_of(photos: Mapping[str, CleanPhoto]) -> dict[str, bytes]:
    """Pictures as they are published, by name."""
    return {name: photo.data for name, photo in photos.items()}


def published_files(photos: Mapping[str, CleanPhoto]) -> dict[str, bytes]:
    """Path from the site's root -> bytes, of everything that is published of some pictures."""
    return {path: data for photo in photos.values() for path, data in photo.files.items()}


def shown_in_text(photos: Mapping[str, CleanPhoto]) -> dict[str, ShownPicture]:
    """Pictures as a text shows them, by name."""
    return {
        name: ShownPicture(
            photo.shown, photo.width, photo.height, photo.webp_widths, photo.more.colour
        )
        for name, photo in photos.items()
    }


def view_of(
    sound: Sound,
    settings: Settings,
    photos: Mapping[str, CleanPhoto] = MappingProxyType({}),
    *,
    held: str = "",
    pdfs: Mapping[str, Mapping[str, str]] | None = None,
) -> PatternView:
    """A pattern, or its public twin, as it is told, with its drawings and pictures.

    Args:
        sound: the pattern.
        settings: the studio's.
        photos: its pictures by name.
        held: why it is not published yet, or "".
        pdfs: as of `pattern_view`.
    """
    worked, written, drawn = sound
    drawings = draw_all(drawn or worked, written, prefix=worked.slug, figures=Figures.of(settings))
    return pattern_view(
        worked,
        written,
        drawings,
        settings,
        held=held,
        pdfs=pdfs,
        photos=_photo_views(worked.pattern, photos),
        pictures=shown_in_text(photos),
    )


def _photo_views(pattern: Pattern, photos: Mapping[str, CleanPhoto]) -> tuple[PhotoView, ...]:
    """A pattern's own pictures, as published, in its order."""
    return tuple(
        PhotoView(
            one.file,
            photo.shown,
            one.alt,
            photo.width,
            photo.height,
            one.main,
            photo.webp_widths,
            photo.more.colour,
        )
        for one in pattern.photos
        if (photo := photos.get(one.file))
    )


def lost_pictures(document: Document, shelf: PhotoLibrary) -> list[Problem]:
    """What is wrong with the pictures of a pattern that got no further for other mistakes."""
    named: dict[str, Place] = {}
    photos = document.front.get("photos")
    for number, photo in enumerate(photos if isinstance(photos, list) else ()):
        if isinstance(photo, dict) and isinstance(photo.get("file"), str):
            named[photo["file"]] = document.place("photos", number, "file")
    text, _ = prose(document.body, document.file, document.body_line)
    for name, place in images_in(text, document).items():
        if photo_fault(name) is None and "{" not in name:
            named.setdefault(name, place)
    return taken_from_shelf(named, shelf)[1]
