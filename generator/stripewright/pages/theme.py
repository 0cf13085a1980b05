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

from jinja2 import BytecodeCache

if TYPE_CHECKING:
    from collections.abc import Mapping
    from types import CodeType

    from jinja2.bccache import Bucket

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


class _Compiled(BytecodeCache):
    """Templates, compiled once in a process by their name and text.

    What depends on a site is asked for when a page is made (see `Spans.filters`): they serve every
    site, such as the next one of a preview whose settings changed.
    """

    MOST = 500

    def __init__(self) -> None:
        self.kept: dict[tuple[str, str], CodeType | None] = {}

    def load_bytecode(self, bucket: Bucket) -> None:
        bucket.code = self.kept.get((bucket.key, bucket.checksum))

    def dump_bytecode(self, bucket: Bucket) -> None:
        if len(self.kept) == self.MOST:
            self.kept.clear()
        self.kept[bucket.key, bucket.checksum] = bucket.code


COMPILED = _Compiled()
