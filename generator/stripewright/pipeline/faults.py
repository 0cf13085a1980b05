"""What failed while a page was made, told as a problem so that it shows and the page stays."""

from __future__ import annotations

from typing import TYPE_CHECKING

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

    if isinstance(fault, TemplateSyntaxError):
        place = Place(_template(fault.name or what, studio), fault.lineno)
        return error(place, f"this template can't be read: {fault.message}")
    if isinstance(fault, TemplateError):
        return error(Place(what), f"a template of the theme fails here: {fault.message}")
    if isinstance(fault, OSError):
        return error(Place(what), f"this can't be read: {fault.strerror or fault}", "save it again")
    return error(Place(what), f"stripewright failed on this: {fault!r}",
                 "`stripewright proof` keeps the full trace for a report")  # fmt: skip


def _template(name: str, studio: Studio) -> str:
    """The studio's own file of a template, if it has one."""
    for path in sorted(studio.themes.glob(f"*/templates/{name}")):
        return studio.name_of(path)
    return f"templates/{name}"
