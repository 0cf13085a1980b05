"""What someone gets who takes a pattern, as a shop's listing tells it."""

from __future__ import annotations

from io import BytesIO
from typing import TYPE_CHECKING

from stripewright.catalogue import _, n_
from stripewright.figures import Figures, listed
from stripewright.pipeline.pictures import bytes_of, view_of

if TYPE_CHECKING:
    from collections.abc import Mapping

    from stripewright.pipeline.context import Context
    from stripewright.pipeline.output import Sound
    from stripewright.pipeline.photos import CleanPhoto
    from stripewright.view.views import PatternView


def contents(sound: Sound, context: Context, photos: Mapping[str, CleanPhoto]) -> list[str]:
    """What buyers get: pages, formats, sizes, languages.

    Args:
        sound: the pattern, whole: its pages are counted where they are set.
        context: what it is made with.
        photos: its pictures by name.
    """
    settings = context.settings
    view = view_of(sound, settings, photos)
    told = _pdfs(sound, view, context, photos)
    if sound.worked.pattern.access == "paid":
        told += [
            _("The whole pattern as one page that needs no connection (HTML)"),
            _("A blank planning sheet as PDF, in A4 and Letter"),
            _("Every drawing as SVG and PNG"),
        ]
        if number := len(view.photos):
            told.append(n_("{number} photo", "{number} photos", number))
        told.append(_("One zip of them all"))
    if view.size_choices:
        sizes = [view.base_title or _("As written"), *(one.title for one in view.size_choices)]
        told.append(_("Sizes: {sizes}", sizes=listed(sizes)))
    return [*told, _("Language: {language}", language=Figures.of(settings).language_name())]


def _pdfs(
    sound: Sound, view: PatternView, context: Context, photos: Mapping[str, CleanPhoto]
) -> list[str]:
    """A line for each PDF of the pattern, with its pages in both sizes of paper."""
    from pypdf import PdfReader

    from stripewright.paper.pattern_pdf import pattern_pdfs

    pictures = bytes_of(photos)
    made = pattern_pdfs(
        sound.worked, view, sound.written, context.settings, context.theme.files, pictures=pictures
    )
    pages = {key: len(PdfReader(BytesIO(data)).pages) for key, data in made.items()}
    return [
        _pdf(view.of_size(size).only if size else "", pages[size, "a4"], pages[size, "letter"])
        for size in sound.worked.printed
    ]


def _pdf(size: str, a4: int, letter: int) -> str:
    if a4 != letter:
        return (
            _(
                "The size {size} as PDF, {a4} pages in A4, {letter} in Letter",
                size=size,
                a4=a4,
                letter=letter,
            )
            if size
            else _("The pattern as PDF, {a4} pages in A4, {letter} in Letter", a4=a4, letter=letter)
        )
    return (
        n_("The size {size} as PDF, {number} page, in A4 and Letter",
           "The size {size} as PDF, {number} pages, in A4 and Letter", a4, size=size)
        if size
        else n_("The pattern as PDF, {number} page, in A4 and Letter",
                "The pattern as PDF, {number} pages, in A4 and Letter", a4)
    )  # fmt: skip
