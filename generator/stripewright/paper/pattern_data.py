"""A pattern's view as the data that the print template sets, its figures as they stand."""

from __future__ import annotations

from dataclasses import fields, replace
from datetime import date
from functools import cache, lru_cache, partial
from typing import TYPE_CHECKING, Any
from urllib.parse import urljoin, urlsplit

from stripewright.addresses import pattern_path, shown_path
from stripewright.catalogue import _, spoken
from stripewright.figures import Figures
from stripewright.paper import markdown
from stripewright.phrases import Measure, Phrase
from stripewright.view.plain import plain_data

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    from stripewright.paper.picture import PrintPhoto
    from stripewright.pattern.settings import Settings
    from stripewright.view.views import PatternView, SizeChoiceView
    from stripewright.words.written import PatternText, Step, StepGroup, StripeRun

PrintData = dict[str, Any]

UNDATED = date(2000, 1, 1)
"""PDF/UA wants a date; a draft has none, and the clock is never asked."""

DARK, LIGHT = "#16181b", "#ffffff"
"""The two inks of a letter on a yarn's colour."""


@cache
def letter_on(colour: str) -> str:
    """The better of dark and light on a colour, by WCAG 2.2 contrast."""
    from coloraide import Color

    behind = Color(colour)
    return max((DARK, LIGHT), key=lambda ink: behind.contrast(ink, method="wcag21"))


def pattern_data(
    view: PatternView, written: PatternText, settings: Settings, pictures: Mapping[str, PrintPhoto]
) -> PrintData:
    """Everything that the pattern's print template shows.

    Args:
        view: the pattern as it is told, with its drawings.
        written: the same pattern's words, for the author's own text.
        settings: the studio's.
        pictures: those of the pattern and its text, by file name.
    """
    figures = Figures.of(settings)
    address = pattern_address(settings, view.slug)
    print_data = partial(markdown.print_data, link=linker(address), pictures=pictures)

    changed = view.updated or view.published
    return {
        **document_data(_named(view), date.fromisoformat(changed) if changed else None, settings),
        **_plain(replace(view, groups=(), shown_steps={}, size_choices=())),
        "document": _named(view),
        "base_said": view.base_title or _("As written"),
        "kind_said": _(view.kind),
        "level_said": _(view.level),
        "updated": _day(view.updated, figures),
        "corrections": [{"day": _day(c.date, figures), "text": c.text} for c in view.corrections],
        **_inks(view),
        "groups": _groups(view),
        "size_choices": [
            _choice(choice) | {"body": print_data(text.before), "after": print_data(text.after)}
            for choice in view.size_choices
            if (text := written.sizes.get(choice.key))
        ],
        "address": address or "",
        "qr": qr(address) if address else "",
        "photos": _photos(view, pictures),
        "intro": print_data(written.intro),
        "body": print_data(written.before),
        "after": print_data(written.after),
    }


def _day(iso: str | None, figures: Figures) -> str:
    return figures.day(date.fromisoformat(iso)) if iso else ""


def _photos(view: PatternView, pictures: Mapping[str, PrintPhoto]) -> list[PrintData]:
    return [
        {"svg": shown.svg, "alt": photo.alt, "main": photo.main, "shape": shown.shape}
        for photo in view.photos
        if (shown := pictures.get(photo.file))
    ]


def _inks(view: PatternView) -> PrintData:
    """The inks of letters on yarns, by letter; of colourways' by colour."""
    of_ways = (yarn for way in view.colourways for yarn in way.materials)
    return {
        "inks": {yarn.letter: letter_on(yarn.colour) for yarn in view.numbers.materials},
        "way_inks": {yarn.colour: letter_on(yarn.colour) for yarn in of_ways},
    }


def _choice(choice: SizeChoiceView) -> PrintData:
    plain = _plain(replace(choice, groups=(), shown_steps={}))
    return {**plain, "groups": _groups(choice)}


def _named(view: PatternView) -> str:
    """What the document is called."""
    if not view.only:
        return view.title
    return _("{pattern}, {size}", pattern=view.title, size=view.only)


@cache
def _names(kind: type) -> tuple[str, ...]:
    return tuple(one.name for one in fields(kind) if not one.name.endswith("_html"))


def _plain(value: Any) -> Any:
    """A view as the template has it: measures and phrases as text; HTML is for pages alone."""
    return plain_data(value, _names, {Measure: str, Phrase: str})


def document_data(title: str, day: date | None, settings: Settings) -> PrintData:
    """What every printed document says of itself."""
    shown = day or UNDATED
    return {
        "title": title,
        "studio": settings.title,
        "maker": settings.maker,
        **languages(settings.language),
        "date": [shown.year, shown.month, shown.day],
    }


def languages(language: str) -> PrintData:
    """The language of the program's words, and of the author's, as print templates want it."""
    lang, _dash, region = spoken().tag.partition("-")
    own_lang, _dash, own_region = language.partition("-")
    if language == "en":
        own_lang, own_region = lang, region
    return {
        "lang": lang,
        "region": region or None,
        "own_lang": own_lang,
        "own_region": own_region or None,
    }


def pattern_address(settings: Settings, slug: str) -> str | None:
    """Where the pattern's page stands on the web, if the studio says where it is."""
    return settings.address + shown_path(pattern_path(slug)) if settings.address else None


def linker(address: str | None) -> Callable[[str], str]:
    """Makes links whole, from the page that they stand on; those that paper can't follow are ""."""

    def whole(target: str) -> str:
        found = urljoin(address, target) if address else target
        return found if urlsplit(found).scheme in ("https", "http", "mailto") else ""

    return whole


@lru_cache(maxsize=4)
def qr(address: str) -> str:
    """The address as a QR code, in SVG: error correction M, quiet zone of four modules."""
    import segno

    code = segno.make_qr(address, error="m")
    return str(code.svg_inline(border=4, omitsize=True, light="#ffffff"))


def _groups(told: PatternView | SizeChoiceView) -> list[PrintData]:
    return [_group(group, told.shown_steps[group.key]) for group in told.groups]


def _group(group: StepGroup, shown: Sequence[Step | StripeRun]) -> PrintData:
    steps = [{"number": str(one.number), "title": one.title, "text": one.text} for one in shown]
    return {
        "title": group.title,
        "making_up": group.key == "making-up",
        "steps": steps,
        "in_runs": len(steps) < len(group.steps),
    }
