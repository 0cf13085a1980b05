"""What the preview sets beside a page: problems, marks, and the numbers of the pattern."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from posixpath import dirname, join, normpath
from typing import TYPE_CHECKING

from stripewright.catalogue import plain, plural, spoken, tell
from stripewright.problems import has_errors
from stripewright.view.numbers import numbers

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from jinja2 import Environment

    from stripewright.preview.units import Shown
    from stripewright.problems import Problem

HERE = Path(__file__).parent
MOST_ELSEWHERE = 5
"""Problems of other files that a page names; the rest are counted."""

_POLICY = re.compile(rb'(<meta http-equiv="Content-Security-Policy" content=")([^"]*)(")')
_PICTURE = re.compile(rb'(<img\b[^>]*?\ssrc=")([^"?#:]+)(")')


@dataclass(frozen=True, slots=True)
class Beside:
    """What is said beside one page.

    Attributes:
        path: the page's path from the site's root.
        here: problems of the file that the page is made of.
        errors: errors of other files.
        others: how many problems other files have in all.
        made, total: how many patterns are made, of how many.
        file: the source file of a pattern's page.
        shown: the pattern, when it could be drawn.
        buyer: whether a paid pattern is shown as its buyers see it.
    """

    path: str
    here: tuple[Problem, ...]
    errors: tuple[Problem, ...]
    others: int
    made: int
    total: int
    file: str = ""
    shown: Shown | None = None
    buyer: bool = False

    @property
    def told(self) -> tuple[Problem, ...]:
        """Problems named in the strip: all of this page's file, the errors of a few others."""
        return (*self.here, *self.errors[:MOST_ELSEWHERE])

    @property
    def more(self) -> int:
        """How many problems there are that the strip doesn't name."""
        return len(self.here) + self.others - len(self.told)

    @property
    def broken(self) -> bool:
        """Whether what was saved last could not be drawn."""
        return self.shown is not None and has_errors(self.here)


@lru_cache(maxsize=1)
def templates() -> Environment:
    """The preview's own, and the easel's; they tell in the locale spoken."""
    import jinja2

    folders = (HERE / "templates", HERE / "easel" / "templates")
    jinja = jinja2.Environment(
        loader=jinja2.FileSystemLoader(folders),
        autoescape=True,
        undefined=jinja2.StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    jinja.policies["ext.i18n.trimmed"] = True
    jinja.add_extension("jinja2.ext.i18n")
    jinja.install_gettext_callables(plain, plural, newstyle=True)  # type: ignore[attr-defined]  # the extension's
    jinja.filters["told"] = tell
    return jinja


def set_beside(page: bytes, beside: Beside, stamps: Mapping[str, str]) -> bytes:
    """A page with the preview's script, style, strip and numbers in it.

    The page's content security policy lets them work, as that of the page of what isn't there would
    not. Pictures get a fingerprint in their address, so that a changed one is fetched again.
    """
    root = "/-/"
    head = (
        f'<script defer src="{root}preview.js"></script>'
        f'<link rel="stylesheet" href="{root}preview.css">'
    ).encode()
    shown = beside.shown
    told = numbers(shown.worked, shown.context.settings) if shown else None
    foot = templates().get_template("beside.html").render(b=beside, n=told).encode()
    page = _stamped(page, beside.path, stamps)
    page = _POLICY.sub(_letting_in, page, count=1)
    page = re.sub(rb"<head[^>]*>", lambda tag: tag[0] + head, page, count=1)
    before, end, after = page.rpartition(b"</body>")
    return before + foot + end + after if end else page + foot


def _letting_in(match: re.Match[bytes]) -> bytes:
    directives = [part.split() for part in match[2].decode(errors="replace").split(";")]
    policy = {name: values for name, *values in filter(None, directives)}
    for name in ("script-src", "style-src", "connect-src"):
        values = policy.get(name, policy.get("default-src", ["'self'"]))
        if not {"'self'", "*"}.intersection(values):
            policy[name] = [*(value for value in values if value != "'none'"), "'self'"]
    told = "; ".join(" ".join([name, *values]) for name, values in policy.items())
    return match[1] + told.encode() + match[3]


def _stamped(page: bytes, path: str, stamps: Mapping[str, str]) -> bytes:
    folder = dirname(path)

    def stamp(match: re.Match[bytes]) -> bytes:
        address = match[2].decode(errors="replace")
        found = stamps.get(normpath(join(folder, address)))
        return match[1] + match[2] + (f"?v={found}".encode() if found else b"") + match[3]

    return _PICTURE.sub(stamp, page)


def whole_page(title: str, template: str, path: str, **values: object) -> bytes:
    """A page of the preview's own."""
    page = templates().get_template(template)
    return page.render(title=title, path=path, lang=spoken().tag, **values).encode()


def by_file(problems: Iterable[Problem]) -> dict[str, list[Problem]]:
    """Problems grouped by the file they are in, in order."""
    grouped: dict[str, list[Problem]] = {}
    for problem in problems:
        grouped.setdefault(problem.place.file, []).append(problem)
    return grouped
