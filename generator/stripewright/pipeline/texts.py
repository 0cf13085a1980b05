"""Texts to paste elsewhere: beside a film, in a shop's listing, in a newsletter.

They are written from what everyone may see of a pattern, and looked through like the site is.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from stripewright.catalogue import _, n_, plain, say, speaking
from stripewright.figures import listed
from stripewright.paper.pattern_data import pattern_address
from stripewright.pipeline.context import Options, begin, names_of
from stripewright.pipeline.listing import contents
from stripewright.pipeline.make import work_source
from stripewright.pipeline.photos import PhotoLibrary
from stripewright.pipeline.pictures import pictures_of, view_of
from stripewright.pipeline.sources import noting_file
from stripewright.problems import Place, Problem, Refused, has_errors, in_order, warning
from stripewright.publish.commit import Outcome, commit
from stripewright.publish.guard import find_leaks
from stripewright.studio import SETTINGS
from stripewright.times import clock
from stripewright.view.secrets import secrets_of
from stripewright.view.site import shop_of

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence
    from pathlib import Path

    from stripewright.pattern.settings import Settings, ShopHost
    from stripewright.pipeline.context import Context
    from stripewright.pipeline.make import WorkedSource
    from stripewright.pipeline.output import Sound
    from stripewright.pipeline.photos import CleanPhoto
    from stripewright.studio import Studio
    from stripewright.view.views import ChapterView, PatternView

NAMES = ("film.txt", "listing.txt", "note.txt")
MOST_TITLE = 140
"""Characters of a listing's first line."""
LEAST_CHAPTERS = 3
SPONSORED = 'rel="sponsored'
"""How the author's Markdown marks a link that the maker earns by."""


@dataclass(frozen=True, slots=True)
class Written:
    """A pattern's texts."""

    slug: str
    texts: dict[str, str]
    """By name."""
    outcome: Outcome | None = None


def write_texts(
    studio: Studio, options: Options, only: Sequence[Path] = ()
) -> tuple[list[Written], list[Problem]]:
    """Write the texts of all published patterns, or of the files named, to texts/SLUG.

    Raises:
        Refused: a file has a mistake, or a text would give away what a paid pattern keeps.
    """
    sources, context, problems = begin(studio, options)
    wanted, others = names_of(studio, only, sources, "patterns")
    problems += others
    made: list[Written] = []
    shelf = PhotoLibrary(sources.photos)
    for source in sources.of("patterns"):
        if wanted and source.name not in wanted:
            continue
        with noting_file(source.name):
            done = work_source(source, context.settings)
            sound = done.sound
            if sound is None:
                problems += done.problems
            elif wanted or _is_out(sound, options):
                photos, found = pictures_of(sound, done.document, shelf)
                told_by = context.told_by(done.settings)
                written, told = _of_pattern(done, sound, told_by, photos)
                made.append(written)
                problems += [*found, *told]
    if has_errors(problems):
        raise Refused(in_order(problems))
    if made and context.settings.address is None:
        what = say("the studio has no address, so its texts can't say where a pattern is")
        hint = say("write where the site will stand, like address: https://stripes.example.org/")
        problems.append(warning(Place(SETTINGS), what, hint))
    return [replace(one, outcome=_kept(one, studio)) for one in made], in_order(problems)


def _kept(one: Written, studio: Studio) -> Outcome:
    files = {name: text.encode() for name, text in one.texts.items()}
    return commit(files, studio.texts / one.slug)


def _is_out(sound: Sound, options: Options) -> bool:
    day = sound.worked.pattern.published
    return day is not None and (options.drafts or day <= options.on)


def _of_pattern(
    done: WorkedSource, sound: Sound, context: Context, photos: Mapping[str, CleanPhoto]
) -> tuple[Written, list[Problem]]:
    paid = sound.worked.pattern.access == "paid"
    with speaking(context.settings.words):
        values, problems = _values(done, sound, context, photos)
        texts = {name: _tidy(context.renderer.text(name, t=values)) for name in NAMES}
    if paid:
        files = {f"texts/{done.slug}/{name}": text.encode() for name, text in texts.items()}
        problems += find_leaks(files, [secrets_of(sound.worked, sound.written)])
    return Written(done.slug, texts), problems


def _tidy(text: str) -> str:
    """At most one empty line at a time, and none at the ends."""
    return re.sub(r"\n{3,}", "\n\n", text.strip()) + "\n"


def _values(
    done: WorkedSource, sound: Sound, context: Context, photos: Mapping[str, CleanPhoto]
) -> tuple[dict[str, Any], list[Problem]]:
    """What the templates may show: all of it public."""
    settings = context.settings
    view = view_of(sound.for_everyone, settings)
    shop = shop_of(view.offer.shop, settings.shops) if view.offer else None
    heading, problems = _heading(view, shop, done)
    tags, found = _tags(view, shop, done)
    numbers = view.numbers
    values: dict[str, Any] = {
        "title": view.title,
        "summary": view.summary,
        "where": pattern_address(settings, view.slug) or "",
        "offer": view.offer,
        "numbers": numbers,
        "level": view.level,
        "yarns": [_yarn(yarn) for yarn in numbers.materials],
        "supplies": [
            f"{one.name}: {one.amount}" if one.amount else one.name for one in numbers.supplies
        ],
        "needs_of_sizes": _needs_of_sizes(view),
        "sizes": _sizes(view),
        "chapters": _chapters(view.video.chapters if view.video else ()),
        "cautions": [f"{one.title}: {one.text}" for one in view.cautions],
        "disclosure": _disclosure(view, settings),
        "heading": heading,
        "contents": contents(sound, context, photos),
        "licence": view.licence,
        "tags": tags,
    }
    return values, problems + found


def _disclosure(view: PatternView, settings: Settings) -> str:
    """The line on sponsored links, where the shop or a link of the pattern's texts is one."""
    texts = (view.intro_html, view.body_html, view.after_html)
    linked = any(SPONSORED in text for text in texts)
    return plain(settings.disclosure) if linked or (view.offer and view.offer.sponsored) else ""


def _yarn(yarn: Any) -> str:
    bought = f": {yarn.buy.text}" if yarn.buy else ""
    kind = _("yarn class {number}", number=yarn.weight_class) if yarn.weight_class else ""
    about = ", ".join(filter(None, (kind, yarn.fibre)))
    return f"{yarn.name}{f' ({about})' if about else ''}{bought}"


def _needs_of_sizes(view: PatternView) -> list[str]:
    """What each further size needs otherwise than the written one."""
    own, told = [view.numbers.machine, *map(_yarn, view.numbers.materials)], []
    for one in view.size_choices:
        needs = [one.numbers.machine, *map(_yarn, one.numbers.materials)]
        # A yarn whose balls aren't told, as in a paid pattern's sizes, is the same yarn.
        other = [need for need in needs
                 if not any(has == need or has.startswith(f"{need}: ") for has in own)]  # fmt: skip
        if other:
            told.append(f"{one.title}: {'; '.join(other)}")
    return told


def _sizes(view: PatternView) -> list[str]:
    own = f"{view.base_title or _('As written')}: " if view.size_choices else ""
    numbers = [(view.numbers, own)] + [(one.numbers, f"{one.title}: ") for one in view.size_choices]
    sizes = [
        f"{before}{_('Finished size')}: {size.text}"
        if len(one.sizes) == 1
        else f"{before}{size.title}: {size.text}"
        for one, before in numbers
        for size in one.sizes
    ]
    return sizes + [f"{before}{_('Fits')}: {one.fits}" for one, before in numbers if one.fits]


def _chapters(chapters: Sequence[ChapterView]) -> list[str]:
    """`0:00 Cast on`: the first at 0:00, rising, at least three, or none."""
    rising: list[tuple[int, str]] = []
    for one in sorted(chapters, key=lambda chapter: chapter.at_s):
        if not rising or one.at_s > rising[-1][0]:
            rising.append((one.at_s, one.title))
    if len(rising) < LEAST_CHAPTERS:
        return []
    if rising[0][0] > 0:
        rising.insert(0, (0, _("Begin here")))
    return [f"{clock(at)} {title}" for at, title in rising]


def _heading(
    view: PatternView, shop: ShopHost | None, done: WorkedSource
) -> tuple[str, list[Problem]]:
    """The listing's title line, as much of it as its shop takes."""
    most = min(shop.title_length or MOST_TITLE, MOST_TITLE) if shop else MOST_TITLE
    parts = [
        view.title,
        _("{kind} pattern for a hand-cranked knitting machine", kind=_(view.kind)),
        n_("{number} needle", "{number} needles", view.numbers.needles),
        _(view.level),
    ]
    heading = parts[0]
    for part in parts[1:]:
        if len(f"{heading}, {part}") <= most:
            heading = f"{heading}, {part}"
    if len(heading) <= most:
        return heading, []
    place = done.document.place("title")
    what = _(
        "the title has {number} characters; its shop takes {most}", number=len(heading), most=most
    )
    return heading[: most + 1].rsplit(" ", 1)[0].rstrip(" ,") or heading[:most], [
        warning(place, what, _("it is cut off in listing.txt"))
    ]


def _tags(
    view: PatternView, shop: ShopHost | None, done: WorkedSource
) -> tuple[list[str], list[Problem]]:
    """The tags that its shop takes."""
    tags, problems = list(view.tags), list[Problem]()
    if shop and shop.tag_length:
        long = [tag for tag in tags if len(tag) > shop.tag_length]
        tags = [tag for tag in tags if tag not in long]
        if long:
            problems.append(
                _left_out(done.document.place("tags"), long, _("too long for its shop"))
            )
    if shop and shop.tags is not None and len(tags) > shop.tags:
        left = tags[shop.tags :]
        tags = tags[: shop.tags]
        problems.append(_left_out(done.document.place("tags"), left, _("more than its shop takes")))
    return tags, problems


def _left_out(place: Place, tags: Sequence[str], why: str) -> Problem:
    what = _("tags left out of listing.txt: {tags}", tags=listed(tags))
    return warning(place, what, why)
