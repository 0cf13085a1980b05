"""Slugs: names in addresses and of files, on any system, each used once."""

from __future__ import annotations

import re
from pathlib import PurePosixPath
from typing import TYPE_CHECKING

from stripewright.addresses import OWN_PAGES, slugified
from stripewright.catalogue import say
from stripewright.pattern.base import SLUG, AuthorModel, shown
from stripewright.pattern.kinds import KINDS
from stripewright.pattern.settings import Page, Settings
from stripewright.problems import Place, Problem, error

if TYPE_CHECKING:
    from collections.abc import Iterable

    from stripewright.source.document import Document

WINDOWS = frozenset(
    ["con", "prn", "aux", "nul"] + [f"{port}{n}" for port in ("com", "lpt") for n in range(10)]
)
"""Names of devices, that no file may have on Windows, with any extension."""

SITE = frozenset(
    ["index", "assets", "catalogue", "photos", "feed", "sitemap", "robots", "404"]
    + [kind.folder for kind in KINDS]
    + [path.partition("/")[0] for path in OWN_PAGES]
)
"""Names that the site itself uses beside free-standing pages."""


def slug_of(slug: str | None, file: str) -> str:
    """A file's slug: the one it states, or else its name without the ending."""
    return slug or PurePosixPath(file).stem


def slug_in(document: Document) -> str:
    """The slug of a file that no model could be made of: others may link to it."""
    said = document.front.get("slug")
    return slug_of(said if isinstance(said, str) and re.fullmatch(SLUG, said) else None,
                   document.file)  # fmt: skip


def check_slug(slug: str | None, document: Document, model: type[AuthorModel]) -> list[Problem]:
    """What is wrong with the slug that a document has, stated or by its file's name."""
    if issubclass(model, Settings):
        return []
    used = slug_of(slug, document.file)
    place = document.place("slug") if slug else Place(document.file, 1, 1)
    what = say("the slug") if slug else say("the file's name, without its ending,")
    if not re.fullmatch(SLUG, used):
        return [
            error(
                place,
                say("{what} {used} can't stand in an address", what, shown(used)),
                say("rename the file, or add slug: {proposed}", proposed(used)),
            )
        ]
    if len(used) > 80:
        return [
            error(
                place,
                say("{what} has {used} characters; at most 80 fit", what, len(used)),
                "add a shorter slug:",
            )
        ]
    if used in WINDOWS:
        return [
            error(
                place,
                say("{what} {used} can't be a file's name on Windows", what, shown(used)),
                say("add a longer slug, like slug: {used}-pattern", used),
            )
        ]
    if issubclass(model, Page) and used in SITE:
        return [
            error(
                place,
                say("{what} {used} is used by the site itself", what, shown(used)),
                say("add another, like slug: my-{used}", used),
            )
        ]
    return []


def proposed(text: str) -> str:
    """A slug near to a text: accents dropped, everything else that can't stand made a hyphen."""
    return slugified(text.replace("ß", "ss"))[:80].strip("-") or "my-pattern"


def duplicate_slugs(named: Iterable[tuple[str, str]]) -> list[Problem]:
    """Files that would land at one address, told at the later file.

    Args:
        named: each file's name and its slug, of one kind of files. Capitals don't part slugs,
            because they don't part file names everywhere.
    """
    first: dict[str, str] = {}
    problems = []
    several = [(file, slug.casefold()) for file, slug in named]
    taken = {slug for _, slug in several}
    for file, slug in several:
        other = first.setdefault(slug, file)
        if other != file:
            number = next(n for n in range(2, len(several) + 3) if f"{slug}-{n}" not in taken)
            problems.append(
                error(
                    Place(file, 1, 1),
                    say("the slug {slug} is taken by {other}", slug, other),
                    say("give one of them another, like slug: {slug}-{number}", slug, number),
                )
            )
    return problems
