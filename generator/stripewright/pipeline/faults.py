"""What failed while a page was made, told as a problem so that it shows and the page stays."""

from __future__ import annotations

from traceback import walk_tb
from typing import TYPE_CHECKING

from stripewright.pages.theme import TEMPLATES
from stripewright.paper.engine import NotSet
from stripewright.problems import Place, Problem, error

if TYPE_CHECKING:
    from stripewright.studio import Studio


def told(fault: Exception, what: str, studio: Studio) -> Problem:
    """A fault as a problem.

    Args:
        fault: what was raised: a theme's template with a mistake in it, a file that went while it
            was read, or a bug of ours.
        what: the file or page that was being made.
        studio: where the templates are looked for.
    """
    from jinja2 import TemplateError, TemplateSyntaxError  # noqa: PLC0415  # only when serving

    if isinstance(fault, NotSet) and fault.file:
        place = _of_studio(fault.file, fault.line, studio)
        return error(place, f"this print template can't be set: {fault.message}",
                     "mend it, or remove it to print by the shipped one")  # fmt: skip
    if isinstance(fault, TemplateSyntaxError):
        place = _of_studio(TEMPLATES + (fault.name or what), fault.lineno, studio)
        return error(place, f"this template can't be read: {fault.message}")
    place = _in_template(fault, studio) or Place(what)
    if isinstance(fault, TemplateError):
        return error(place, f"a template of the theme fails here: {fault.message}")
    if isinstance(fault, OSError):
        return error(Place(what), f"this can't be read: {fault.strerror or fault}", "save it again")
    return error(place, f"stripewright failed on this: {fault!r}",
                 "`stripewright proof` keeps the full trace for a report")  # fmt: skip


def _in_template(fault: Exception, studio: Studio) -> Place | None:
    """The line of the studio's own template that failed: one fault then, on however many pages."""
    lines = [(frame.f_code.co_filename, line) for frame, line in walk_tb(fault.__traceback__)]
    places = [_of_studio(file, line, studio) for file, line in lines if file.startswith(TEMPLATES)]
    return places[-1] if places and places[-1].file.startswith("themes/") else None


def _of_studio(template: str, line: int, studio: Studio) -> Place:
    """A line of a template, in the studio's own file if it has one of that name."""
    own = next((studio.name_of(path) for path in sorted(studio.themes.glob(f"*/{template}"))), None)
    return Place(own or template, line)
