"""Pictures in an author's text, as pages show them: several widths, one colour behind."""

from __future__ import annotations

import re
from html import escape, unescape
from typing import TYPE_CHECKING, NamedTuple
from urllib.parse import quote, unquote

if TYPE_CHECKING:
    from collections.abc import Mapping

_IMG = re.compile(r'<img((?: [a-z-]+="[^"]*")+)>')
_ATTRIBUTE = re.compile(r' ([a-z-]+)="([^"]*)"')
_SIZES = "(min-width: 52rem) 38rem, 100vw"
"""As wide as a text runs, at most."""


class ShownPicture(NamedTuple):
    """A picture as it is published; paths are from the site's root, sizes in pixels."""

    path: str
    """Of what any browser reads."""
    width: int
    height: int
    webp: tuple[tuple[str, int], ...] = ()
    """Path and width of the same as WebP, from narrow to wide."""
    colour: str = ""
    """All of it as one colour; "" for nothing behind it."""


def with_widths(html: str, root: str, pictures: Mapping[str, ShownPicture]) -> str:
    """A text's HTML, each of its pictures in the widths that screens ask for.

    Args:
        html: safe, as a serialiser writes it; pictures are `ROOTphotos/NAME`.
        root: the way from the page to the site's root.
        pictures: what is published of each, by its file's name.
    """

    def shown(found: re.Match[str]) -> str:
        given = dict(_ATTRIBUTE.findall(found[1]))
        src = unquote(unescape(given.get("src", "")))
        one = pictures.get(src.removeprefix(f"{root}photos/"))
        return _picture(given, one, root) if one else found[0]

    return _IMG.sub(shown, html) if pictures else html


def _picture(given: Mapping[str, str], one: ShownPicture, root: str) -> str:
    size = {"width": str(one.width), "height": str(one.height)}
    said = {**given, "src": escape(root + quote(one.path))}
    said |= {key: value for key, value in size.items() if key not in given}
    img = "<img" + "".join(f' {name}="{value}"' for name, value in said.items()) + ">"
    if one.webp:
        widths = ", ".join(f"{escape(root + quote(path))} {width}w" for path, width in one.webp)
        img = f'<source type="image/webp" srcset="{widths}" sizes="{_SIZES}">{img}'
    behind = (
        '<svg class="behind" viewBox="0 0 1 1" preserveAspectRatio="none" aria-hidden="true" '
        f'focusable="false"><rect width="1" height="1" fill="{one.colour}"/></svg>'
        if one.colour
        else ""
    )
    return f'<span class="photo in-text">{behind}<picture>{img}</picture></span>'
