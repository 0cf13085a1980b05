"""What failed while a page was made, told as a problem so that it shows and the page stays."""

from __future__ import annotations

import re
from traceback import walk_tb
from typing import TYPE_CHECKING

from stripewright.catalogue import N_, say
from stripewright.pages.theme import TEMPLATES
from stripewright.paper.engine import NotSet
from stripewright.problems import Place, Problem, error

if TYPE_CHECKING:
    from stripewright.studio import Studio


def problem_of_fault(fault: Exception, what: str, studio: Studio) -> Problem:
    """A fault as a problem.

    Args:
        fault: what was raised: a theme's template with a mistake in it, a file that went while it
            was read, or a bug of ours.
        what: the file or page that was being made.
        studio: where the templates are looked for.
    """
    from jinja2 import TemplateError, TemplateSyntaxError

    if isinstance(fault, NotSet) and fault.file:
        place = _of_studio(fault.file, fault.line, studio)
        return error(
            place,
            say("this print template can't be set: {message}", fault.message),
            "mend it, or remove it to print by the shipped one",
        )
    if isinstance(fault, TemplateSyntaxError):
        place = _of_studio(TEMPLATES + (fault.name or what), fault.lineno, studio)
        said, hint = in_plain_words(fault.message or "")
        return error(place, say("this template can't be read: {said}", said), hint)
    own = _in_template(fault, studio)
    place = own or Place(what)
    if isinstance(fault, TemplateError) or own:
        said, hint = in_plain_words(str(fault))
        return error(place, say("a template of the theme fails here: {said}", said), hint)
    if isinstance(fault, OSError):
        return error(
            Place(what),
            say("this can't be read: {strerror}", fault.strerror or fault),
            "save it again",
        )
    return error(
        place,
        say("stripewright failed on this: {fault!r}", fault),
        "`stripewright proof` keeps the full trace for a report",
    )


def of_theme(fault: Exception, studio: Studio) -> bool:
    """Whether a fault is the theme's author's to mend, and no bug of ours."""
    from jinja2 import TemplateError

    return isinstance(fault, TemplateError | NotSet) or _in_template(fault, studio) is not None


_PLAIN: tuple[tuple[str, str, str], ...] = (
    (r"needs to be closed is '(\w+)'",
     N_("a {{% {one} %}} is never closed"),
     N_("end it with {{% end{one} %}}")),
    (r"unknown tag 'end(\w+)'",
     N_("{{% end{one} %}} ends nothing here"),
     N_("begin with {{% {one} ... %}}, or take it out")),
    (r"unknown tag '(\w+)'",
     N_("there is no tag {{% {one} %}}"),
     N_("there are block, extends, include, if, for, set, macro, import")),
    (r"expected 'end of print statement'|unexpected '}'",
     N_("a {{ is not closed"),
     N_("write {{ name }}, with two braces at each end")),
    (r"end of statement block', got '='",
     N_("one = stands where things are compared"),
     N_("write == to compare")),
    (r"expected token '([^']+)', got '([^']+)'",
     N_("{other} stands where {one} should be"),
     N_("look at the tag that begins here")),
    (r"unexpected char (.+) at \d+",
     N_("{one} opens or stands here by mistake"),
     N_("close each quote")),
    (r"end of comment",
     N_("a {# is not closed"),
     N_("end the comment with #}")),
    (r"'([^']+)' is undefined",
     N_("there is nothing called {one}"),
     N_("`stripewright explain templates` lists what templates are")),
    (r"has no (?:attribute|element) '?([^']+?)'?$",
     N_("what it asks for has no {one}"),
     N_("compare it with the shipped template's names")),
    (r"No (filter|test) named '([^']+)'",
     N_("there is no {one} called {other}"),
     N_("look at its spelling")),
    (r"^(?:templates/)?([\w./-]+\.(?:html|xml|txt|typ))$",
     N_("there is no template {one}"),
     N_("extend or include one that is there, like base.html")),
    (r"division by zero",
     N_("something is divided by nothing"),
     N_("ask before whether it is there")),
)  # fmt: skip
"""How Jinja puts a mistake, how we do, and what to do about it."""


def in_plain_words(said: str) -> tuple[str, ...]:
    """What a template's mistake is, and what would be right."""
    for pattern, message, hint in _PLAIN:
        if found := re.search(pattern, said):
            parts = dict(zip(("one", "other"), found.groups(), strict=False))
            return tuple(say(text, **parts if "{o" in text else {}) for text in (message, hint))
    return said.rstrip("."), ""


def _in_template(fault: Exception, studio: Studio) -> Place | None:
    """The line of the studio's own template that failed: one fault then, on however many pages."""
    lines = [(frame.f_code.co_filename, line) for frame, line in walk_tb(fault.__traceback__)]
    places = [_of_studio(file, line, studio) for file, line in lines if file.startswith(TEMPLATES)]
    return places[-1] if places and places[-1].file.startswith("themes/") else None


def _of_studio(template: str, line: int, studio: Studio) -> Place:
    """A line of a template, in the studio's own file if it has one of that name."""
    own = next((studio.name_of(path) for path in sorted(studio.themes.glob(f"*/{template}"))), None)
    return Place(own or template, line)
