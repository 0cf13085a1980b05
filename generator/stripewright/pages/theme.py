"""A theme: templates, styles, scripts and tokens, by their path inside its folder.

theme.yaml           what it is called, and its tokens (see `tokens`)
templates/NAME       Jinja templates of pages, feed, sitemap and robots
assets/NAME          styles and scripts, published under assets/
print/NAME           print templates
shipped/...          the files that the studio's own replaced, so that a template can
                     `{% extends "shipped/pattern.html" %}` the one it stands in for
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping

TEMPLATES = "templates/"
SHIPPED = "shipped/"


@dataclass(frozen=True, slots=True)
class Theme:
    """A theme's files, the studio's own already in place of the shipped ones they override."""

    name: str
    files: Mapping[str, bytes]

    def template(self, name: str) -> str | None:
        """A template's text; `shipped/NAME` is the shipped one, whether replaced or not."""
        if name.startswith(SHIPPED):
            shipped = self.files.get(SHIPPED + TEMPLATES + name[len(SHIPPED) :])
            data = shipped or self.files.get(TEMPLATES + name[len(SHIPPED) :])
        else:
            data = self.files.get(TEMPLATES + name)
        return None if data is None else data.decode("utf-8")

    def source(self, name: str) -> tuple[str, str, None] | None:
        """A template as Jinja loads it, with the name that its tracebacks give it."""
        text = self.template(name)
        return None if text is None else (text, TEMPLATES + name, None)

    def under(self, folder: str) -> dict[str, bytes]:
        """The files of a folder (named with its slash), by their path inside it, sorted."""
        return {
            path[len(folder) :]: data
            for path, data in sorted(self.files.items())
            if path.startswith(folder)
        }
