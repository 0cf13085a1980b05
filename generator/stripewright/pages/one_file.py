"""A page of the site -> one file that needs nothing else and asks nothing of anyone.

Styles, scripts, fonts and pictures are put into it, by whatever name the theme calls them; its own
policy lets only these run and forbids every request. What can't come with it goes: links that
were relative lead to the site where its address is known, and are plain text where it is not.
"""

from __future__ import annotations

import base64
import re
from hashlib import sha256
from html import escape
from html.parser import HTMLParser
from typing import TYPE_CHECKING

from stripewright.addresses import media_type
from stripewright.pages.links import STYLE_LINK, absolute, named_by, target
from stripewright.pages.shapes import drawn_once

if TYPE_CHECKING:
    from collections.abc import Mapping

_IMPORT = re.compile(r"@import\b[^;]*;")
_SCHEME = re.compile(r"[A-Za-z][A-Za-z0-9+.-]*:|//")
_POLICY = "content-security-policy"
_NOTHING = "data:,"


def one_file(page: bytes, path: str, files: Mapping[str, bytes], address: str | None) -> bytes:
    """A page as one file.

    Args:
        page: the page, as the site has it.
        path: where it stands there, from the site's root.
        files: path from the site's root -> bytes, of the styles, scripts, fonts and pictures.
        address: the site's, ending in a slash; None when unknown.
    """
    made = _OneFile(path, files, address)
    made.feed(drawn_once(page.decode("utf-8")))
    made.close()
    return made.text().encode("utf-8")


def policy_hash(text: str) -> str:
    """What a content security policy calls an inline style or script by (CSP level 2)."""
    return "sha256-" + base64.b64encode(sha256(text.encode("utf-8")).digest()).decode("ascii")


_LATER = ("data-script", "data-steps", "data-numbers")
"""Where a tool says what it asks for, in the order in which it runs."""


class _OneFile(HTMLParser):
    """Lets everything through as it is written, but for the tags that ask for something."""

    def __init__(self, path: str, files: Mapping[str, bytes], address: str | None) -> None:
        super().__init__(convert_charrefs=False)
        self._path, self._files, self._address = path, files, address
        self._out: list[str] = []
        self._policy_at: int | None = None
        self._styles: list[str] = []
        self._scripts: list[str] = []
        self._dropping = ""
        self._inline: str | None = None

    def text(self) -> str:
        """The page, its policy filled in."""
        if self._policy_at is not None:
            runs = " ".join(f"'{policy_hash(text)}'" for text in self._scripts) or "'none'"
            styles = " ".join(f"'{policy_hash(text)}'" for text in self._styles) or "'none'"
            policy = (
                f"default-src 'none'; script-src {runs}; style-src {styles}; img-src data:; "
                "font-src data:; base-uri 'none'; form-action 'none'"
            )
            self._out[self._policy_at] = (
                f'<meta http-equiv="Content-Security-Policy" content="{policy}">'
            )
        return "".join(self._out)

    # ---- what the files hold -------------------------------------------------------------------

    def _data(self, path: str) -> str | None:
        data = self._files.get(path)
        if data is None:
            return None
        return f"data:{media_type(path)};base64,{base64.b64encode(data).decode('ascii')}"

    def _style(self, link: str) -> str | None:
        path = target(link, self._path)
        data = self._files.get(path)
        if data is None:
            return None

        def inside(found: re.Match[str]) -> str:
            link = named_by(found)
            if link.startswith(("data:", "#")):
                return found[0]
            carried = None if _SCHEME.match(link) else self._data(target(link, path))
            return f'url("{carried or _NOTHING}")'

        text = STYLE_LINK.sub(inside, _IMPORT.sub("", data.decode("utf-8")))
        return text.replace("</style", "<\\/style")

    def _script(self, link: str) -> str | None:
        data = self._files.get(target(link, self._path))
        if data is None:
            return None
        text = data.decode("utf-8")
        # The three ways in which a script's text could end or confuse the element that holds it.
        text = re.sub(r"</(?=script)", r"<\\/", text, flags=re.IGNORECASE)
        return re.sub(r"<(?=!--|script)", r"\\x3c", text, flags=re.IGNORECASE)

    # ---- the tags ------------------------------------------------------------------------------

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Let a tag through, changed where it asks for something."""
        if self._dropping:
            return
        given = dict(attrs)
        act = {
            "link": self._link,
            "script": self._run,
            "meta": self._meta,
            "img": self._image,
            "a": self._anchor,
            "style": self._own_style,
            "source": self._none,
            "div": self._later,
        }.get(tag)
        written = self.get_starttag_text() or ""
        self._out.append(written if act is None else act(given, written))

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Such a tag holds nothing: it is let through like the others."""
        self.handle_starttag(tag, attrs)

    def handle_endtag(self, tag: str) -> None:
        """End what is left out, and note what a style of the page's own was."""
        if self._dropping:
            if tag == self._dropping:
                self._dropping = ""
            return
        if tag == "style" and self._inline is not None:
            self._styles.append(self._inline)
            self._inline = None
        if tag == "body" and self._scripts:
            self._out += [f"<script>{text}</script>\n" for text in self._scripts]
        self._out.append(f"</{tag}>")

    def _none(self, _given: Mapping[str, str | None], _written: str) -> str:
        return ""

    def _link(self, given: Mapping[str, str | None], _written: str) -> str:
        link, kinds = given.get("href") or "", (given.get("rel") or "").split()
        if "stylesheet" in kinds and not _SCHEME.match(link):
            style = self._style(link)
            if style is None:
                return ""
            self._styles.append(style)
            media = given.get("media")
            return f"{_tag('style', {'media': media} if media else {})}{style}</style>"
        if "icon" in kinds and (data := self._data(target(link, self._path))):
            return f'<link rel="icon" href="{data}">'
        return ""  # feeds, other languages and the like are the site's

    def _run(self, given: Mapping[str, str | None], written: str) -> str:
        if given.get("type") == "application/json":
            return written  # the page's own words: nothing of it runs
        self._dropping = "script"
        link = given.get("src") or ""
        if link and not _SCHEME.match(link):
            script = self._script(link)
            if script is not None:
                self._scripts.append(script)
        return ""

    def _later(self, given: Mapping[str, str | None], written: str) -> str:
        """Scripts that a tool asks for when it is first opened are there from the beginning."""
        later = [given[name] for name in _LATER if given.get(name)]
        if not later:
            return written
        self._scripts += [script for link in later if (script := self._script(link or ""))]
        rest = {key: value for key, value in given.items() if (value or "") not in later}
        return _tag("div", rest)

    def _own_style(self, _given: Mapping[str, str | None], written: str) -> str:
        self._inline = ""
        return written

    def _meta(self, given: Mapping[str, str | None], written: str) -> str:
        if (given.get("http-equiv") or "").lower() == _POLICY:
            self._policy_at = len(self._out)
        return "" if given.get("property") else written  # only for who shows links to the site

    def _image(self, given: Mapping[str, str | None], _written: str) -> str:
        link = given.get("src") or ""
        if not link.startswith("data:"):
            link = (not _SCHEME.match(link) and self._data(target(link, self._path))) or ""
        if not link:
            return escape(given.get("alt") or "")
        kept = {name: value for name, value in given.items() if name not in ("srcset", "sizes")}
        return _tag("img", {**kept, "src": link})

    def _anchor(self, given: Mapping[str, str | None], written: str) -> str:
        link = given.get("href")
        if link is None or link.startswith("#") or _SCHEME.match(link):
            return written
        path, _, fragment = link.partition("#")
        leads_to = target(path, self._path)
        at = f"#{fragment}" if fragment else ""
        if leads_to == self._path:
            return _tag("a", {**given, "href": at or "#main"})
        to = absolute(self._address, leads_to)
        rest = {name: value for name, value in given.items() if name not in ("href", "type", "rel")}
        return _tag("a", {"href": to + at, "rel": "noopener", **rest} if to else rest)

    # ---- everything else, as it is written ------------------------------------------------------

    def _let(self, text: str) -> None:
        if not self._dropping:
            self._out.append(text)

    def handle_data(self, data: str) -> None:
        """Text, of the page or of a style."""
        if self._inline is not None:
            self._inline += data
        self._let(data)

    def handle_entityref(self, name: str) -> None:
        """`&name;`."""
        self._let(f"&{name};")

    def handle_charref(self, name: str) -> None:
        """`&#39;`."""
        self._let(f"&#{name};")

    def handle_comment(self, data: str) -> None:
        """Comments are for who reads the site's source."""

    def handle_decl(self, decl: str) -> None:
        """`<!DOCTYPE html>`."""
        self._let(f"<!{decl}>")


def _tag(name: str, attributes: Mapping[str, str | None]) -> str:
    parts = (
        key if value is None else f'{key}="{escape(value)}"' for key, value in attributes.items()
    )
    return f"<{' '.join([name, *parts])}>"
