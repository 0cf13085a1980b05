"""A theme's styles and scripts as they are published.

The name of a style or a script carries a fingerprint of what it holds, and so does the name of
what a style's `url(...)` points to (a font, a texture): `assets/base-1a2b3c4d.css`. A host can tell
browsers to keep such a file for good, and nobody who comes back meets an old style under a new
page. Templates write the plain name: `link('assets/base.css')`. Other files (a picture, something
to download) keep their names, for others may link to them.

Comments and indentation are left out: a phone on the road pays for each.
"""

from __future__ import annotations

import posixpath
import re
from functools import cached_property, lru_cache
from hashlib import sha256
from typing import TYPE_CHECKING
from urllib.parse import quote

from stripewright.addresses import ASSETS, asset_path
from stripewright.pages.links import STYLE_LINK, named_by, target
from stripewright.pages.tokens import tokens_css

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from stripewright.pages.theme import Theme

TOKENS = "tokens.css"
AT_ROOT = ("sw.js",)
"""Scripts that must stand at the site's root: a service worker serves only what lies under it."""
_PATTERN_SCRIPTS = (
    "difference.js", "colours.js", "hatches.js", "copy.js", "ticks.js", "beside.js", "counter.js",
    "signals.js", "own.js",
)  # fmt: skip
"""What a pattern's page runs, in order: one file, for together they pack smaller."""
_TOGETHER = "pattern.js"
_DIGITS = 8
"""Of the fingerprint: two versions of a file share one once in four thousand million times."""

_PRINTED = re.compile(rf"({ASSETS}[^\"'?#\s]*?)-[0-9a-f]{{{_DIGITS}}}(\.\w+)(?=[\"'?#])")


class Assets:
    """The assets of a site.

    Args:
        theme: whose styles and scripts they are.
        tokens: the studio's own values of the theme's tokens.
        lasting: whether their names carry fingerprints; the preview exchanges them under one name.
    """

    def __init__(self, theme: Theme, tokens: Mapping[str, str], *, lasting: bool) -> None:
        self._theme, self._tokens, self._lasting = theme, tokens, lasting

    @cached_property
    def plain(self) -> dict[str, bytes]:
        """Each file under its plain path from the site's root."""
        files = {
            name if name in AT_ROOT else asset_path(name): smaller(name, data)
            for name, data in self._theme.under(ASSETS).items()
        }
        parts = (files.get(asset_path(name)) for name in _PATTERN_SCRIPTS)
        files[asset_path(_TOGETHER)] = b"\n".join(part for part in parts if part)
        files[asset_path(TOKENS)] = tokens_css(self._theme, self._tokens).encode("utf-8")
        return dict(sorted(files.items()))

    @cached_property
    def names(self) -> dict[str, str]:
        """Plain path -> published path, of the files whose names carry a fingerprint."""
        if not self._lasting:
            return {}
        styles = [path for path in self.plain if path.endswith(".css")]
        named = {target for path in styles for target in self._named_in(path)}
        scripts = {path for path in self.plain if path.endswith(".js")}
        lasting = ({*styles} | named | scripts).difference(AT_ROOT)
        return {path: self._published(path) for path in sorted(lasting)}

    @cached_property
    def stamp(self) -> str:
        """One fingerprint of all names."""
        return sha256(repr(self.names).encode("utf-8")).hexdigest()[:_DIGITS]

    def files(self) -> dict[str, bytes]:
        """Each file under its published path."""
        return {
            self.names.get(path, path): self._relinked(path) if path.endswith(".css") else data
            for path, data in self.plain.items()
        }

    def relink(self, page: bytes) -> bytes:
        """A page that was made with other versions of the assets, leading to these."""
        printed = {quote(path): quote(name) for path, name in self.names.items()}

        def now(found: re.Match[str]) -> str:
            return printed.get(found[1] + found[2], found[0])

        return _PRINTED.sub(now, page.decode("utf-8")).encode("utf-8")

    # ---- what styles name -----------------------------------------------------------------------

    def _text(self, path: str) -> str:
        return self.plain[path].decode("utf-8", "surrogateescape")

    def _named_in(self, path: str) -> Iterator[str]:
        """The assets that a style names, as plain paths."""
        for found in STYLE_LINK.finditer(self._text(path)):
            if (named := target(named_by(found), path)) in self.plain:
                yield named

    def _published(self, path: str) -> str:
        """A name with a fingerprint of the file and of all that it leads to."""
        reached, waiting = {path}, [path]
        while waiting:
            one = waiting.pop()
            found = set(self._named_in(one)) if one.endswith(".css") else set()
            waiting += found - reached
            reached |= found
        stamp = sha256()
        for one in (path, *sorted(reached - {path})):
            stamp.update(sha256(self.plain[one]).digest())
        stem, ending = posixpath.splitext(path)
        return f"{stem}-{stamp.hexdigest()[:_DIGITS]}{ending}"

    def _relinked(self, path: str) -> bytes:
        """A style that names the others by their published names."""

        def now(found: re.Match[str]) -> str:
            link = named_by(found)
            name = self.names.get(target(link, path))
            if not link or name is None:
                return found[0]
            bare = re.split(r"[#?]", link, maxsplit=1)[0]
            to = quote(posixpath.relpath(name, posixpath.dirname(path)))
            return found[0].replace(link, to + link[len(bare) :])

        return STYLE_LINK.sub(now, self._text(path)).encode("utf-8", "surrogateescape")


@lru_cache(maxsize=64)
def smaller(name: str, data: bytes) -> bytes:
    """A style or script as it is published; any other file as it is.

    Names stay as they are and licence comments (`/*! ... */`) stay in.
    """
    from rcssmin import cssmin
    from rjsmin import jsmin

    if name.endswith(".js"):
        return jsmin(data, keep_bang_comments=True)  # type: ignore[no-any-return]  # bytes in, bytes out
    if name.endswith(".css"):
        return cssmin(data, keep_bang_comments=True)  # type: ignore[no-any-return]  # as above
    return data
