"""What is wrong with the studio's own theme files, all of it before any page is made."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import TYPE_CHECKING

from stripewright.addresses import ASSETS
from stripewright.catalogue import say
from stripewright.figures import listed
from stripewright.pages.assets import AT_ROOT
from stripewright.pages.theme import SHIPPED, TEMPLATES
from stripewright.pipeline.faults import in_plain_words
from stripewright.problems import Place, Problem, did_you_mean, error, warning
from stripewright.studio import SHARED

if TYPE_CHECKING:
    from collections.abc import Iterable

    from jinja2.nodes import Template

    from stripewright.pages.theme import Theme
    from stripewright.studio import Studio

FOLDERS = ("assets", "print", "templates")


def check_theme(studio: Studio, theme: Theme) -> list[Problem]:
    """What can't be read, is in no place that is looked at, or has a mistake in its form."""
    own, faults = studio.own_theme(theme.name)
    problems = [
        error(Place(studio.name_of(path)), what, "put a copy of it here, or take it away")
        for path, what in faults
    ]
    # Those that other templates extend, include or import.
    used = {one for data in theme.under(TEMPLATES).values() for one in _named_in(data) if own}
    # A file of ours that an own one stands in for is still there, under another name.
    shipped = {name.removeprefix(SHIPPED) for name in theme.files if name.startswith(SHIPPED)}
    known = sorted(shipped | (theme.files.keys() - {name for name, _ in own}))
    templates: dict[str, Place] = {}
    mistakes: list[Problem] = []
    for inside in dict.fromkeys(name for name, _ in own):
        place = place_of(studio, theme.name, inside)
        problems += _odd_place(inside, place, known, used)
        problems += _plain_names(theme, inside, place)
        if inside.startswith(TEMPLATES):
            templates[inside[len(TEMPLATES) :]] = place
            mistakes += _unreadable(theme, inside[len(TEMPLATES) :], place)
    if not mistakes:  # else what a template extends may be one that can't be read
        for name, place in templates.items():
            problems += _unshown_blocks(theme, name, place)
    return problems + mistakes


def place_of(studio: Studio, theme: str, inside: str) -> Place:
    """A file of a theme: in the studio's own, where it has one, of the theme first."""
    for name in (theme, SHARED):
        path = studio.themes / name / inside
        if path.is_file():
            return Place(studio.name_of(path))
    return Place(inside)


def _odd_place(inside: str, place: Place, known: Iterable[str], used: set[str]) -> list[Problem]:
    """A file that nothing looks for: most likely misspelt."""
    folder = inside.partition("/")[0]
    if inside in known or inside in used or folder == "assets" or inside == "theme.yaml":
        return []
    if "/" not in inside or folder not in FOLDERS:
        what = say("nothing in a theme looks for this file")
        where = say("a theme has theme.yaml, templates/, assets/ and print/")
        hint = did_you_mean(inside, [*known, "theme.yaml"], where, cutoff=0.7)
    else:
        what = say("no page is made by this file, and no other template names it")
        hint = did_you_mean(inside, known)
    return [warning(place, what, hint)]


def _plain_names(theme: Theme, inside: str, place: Place) -> list[Problem]:
    """Assets that a script or a template names by hand: their published names are others."""
    assets = theme.under(ASSETS)
    names = [name for name in assets if name.endswith((".css", ".js")) and name not in AT_ROOT]
    if inside.startswith(TEMPLATES):
        written = r"""(?<!link\()["'][^"'{}]*assets/(%s)["'?#]"""
        hint = say("write {{ link('assets/%s') }}: its published name carries a fingerprint")
    elif inside.startswith(ASSETS) and inside.endswith(".js"):
        written = r"""["'`](?:[^"'`\s]*/)?(%s)["'`]"""
        hint = say("let the page give its address, as data-script=\"{{ link('assets/%s') }}\"")
    else:
        return []
    found = re.compile(written % "|".join(map(re.escape, names)))
    text = theme.files[inside].decode("utf-8", "replace")
    return [
        warning(
            Place(place.file, text.count("\n", 0, match.start()) + 1),
            say("this names “{match}”, which is published under another name", match[1]),
            hint % match[1],
        )
        for match in found.finditer(text)
    ]


TRANSLATED = "jinja2.ext.i18n"
"""Templates may tell words from the catalogue by `{% trans %}`."""


@lru_cache(maxsize=200)
def _named_in(template: bytes) -> frozenset[str]:
    """The files that a template extends, includes or imports; none of one that can't be read."""
    from jinja2 import Environment, TemplateSyntaxError, meta

    form = Environment(autoescape=True, extensions=[TRANSLATED])
    try:
        tree = form.parse(template.decode("utf-8", "replace"))
    except TemplateSyntaxError:
        return frozenset()
    return frozenset(TEMPLATES + one for one in meta.find_referenced_templates(tree) if one)


def _unreadable(theme: Theme, name: str, place: Place) -> list[Problem]:
    from jinja2 import TemplateSyntaxError

    try:
        _parsed(theme, name)
    except UnicodeDecodeError as fault:
        line = theme.files[TEMPLATES + name].count(b"\n", 0, fault.start) + 1
        what = say("there are bytes here that are not UTF-8")
        return [error(Place(place.file, line), what, "save it as UTF-8")]
    except TemplateSyntaxError as fault:
        said, hint = in_plain_words(fault.message or "")
        return [
            error(
                Place(place.file, fault.lineno),
                say("this template can't be read: {said}", said),
                hint,
            )
        ]
    return []


def _unshown_blocks(theme: Theme, name: str, place: Place) -> list[Problem]:
    """Blocks that the template which this one extends hasn't got: they would be left out."""
    from jinja2 import nodes

    tree = _parsed(theme, name)
    extended = next(tree.find_all(nodes.Extends), None)
    if extended is None or not isinstance(extended.template, nodes.Const):
        return []
    known = _blocks(theme, str(extended.template.value), frozenset({name}))
    return [
        warning(
            Place(place.file, block.lineno),
            say(
                "there is no block {name} in {value}, so this is left out",
                block.name,
                extended.template.value,
            ),
            did_you_mean(
                block.name, sorted(known), say("blocks are {listed}", listed(sorted(known)))
            ),
        )
        for block in tree.body
        if isinstance(block, nodes.Block) and block.name not in known
    ]


def _parsed(theme: Theme, name: str) -> Template:
    from jinja2 import Environment

    form = Environment(
        autoescape=True, trim_blocks=True, lstrip_blocks=True, extensions=[TRANSLATED]
    )
    return form.parse(theme.template(name) or "", name)


def _blocks(theme: Theme, name: str, before: frozenset[str]) -> set[str]:
    """The names of a template's blocks, with those of what it extends."""
    if name in before or theme.template(name) is None:
        return set()
    from jinja2 import nodes

    tree = _parsed(theme, name)
    found = {block.name for block in tree.find_all(nodes.Block)}
    for extended in tree.find_all(nodes.Extends):
        if isinstance(extended.template, nodes.Const):
            found |= _blocks(theme, str(extended.template.value), before | {name})
    return found
