"""The site's addresses: every path from its root is put together, and taken apart, here.

Links between pages are relative and always name the file, so that a folder opened from disk works:

    index.html  404.html  feed.xml  sitemap.xml  robots.txt
    patterns/index.html                    the catalogue, and page-2.html ... beside it
    patterns/index.js                      what it is searched by
    patterns/SLUG/index.html               a pattern, with its files beside it:
        numbers.js finished.svg strip.svg share.jpg SLUG-a4.pdf SLUG-letter.pdf
        SLUG-SIZE-a4.pdf SLUG-SIZE-letter.pdf (one PDF a size)
    posts/index.html  posts/SLUG/index.html
    tags/index.html   tags/TAG/index.html  and page-2.html ... beside it
    sheets/index.html sheets/SLUG-a4.pdf sheets/SLUG-letter.pdf
    SLUG/index.html                        free-standing pages (about)
    photos/NAME                            the studio's pictures
    photos/WIDTH/NAME.webp photos/jpeg/NAME.jpg   the same in other widths, and as JPEG
    assets/...                             the theme's styles and scripts
"""

from __future__ import annotations

import re
import unicodedata
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

INDEX = "index.html"
HOME = INDEX
MISSING = "404.html"
FEED = "feed.xml"
ROBOTS = "robots.txt"
SITEMAP = "sitemap.xml"
CATALOGUE = f"patterns/{INDEX}"
SEARCH = "patterns/index.js"
"""What the catalogue is searched by."""
TAGS = f"tags/{INDEX}"
SHEETS = f"sheets/{INDEX}"
OWN_PAGES = (TAGS,)
"""Pages of no kind of content."""
ASSETS = "assets/"

NUMBERS = "numbers.js"
"""What a pattern's page works with for its reader's own machine."""
FINISHED = "finished.svg"
STRIP = "strip.svg"
SHARE = "share.jpg"
"""A pattern's picture for whoever shows a link to it, beside its page."""
PAPERS = (("a4", "A4"), ("letter", "Letter"))
"""Sizes of paper: in file names, and as readers call them."""


_MEDIA_TYPES = {
    "html": "text/html", "css": "text/css", "js": "text/javascript", "txt": "text/plain",
    "xml": "application/xml", "json": "application/json",
    "webmanifest": "application/manifest+json", "svg": "image/svg+xml", "png": "image/png",
    "jpg": "image/jpeg", "jpeg": "image/jpeg", "webp": "image/webp", "avif": "image/avif",
    "gif": "image/gif", "ico": "image/x-icon", "woff2": "font/woff2", "woff": "font/woff",
    "ttf": "font/ttf", "otf": "font/otf",
}  # fmt: skip
"""By the ending of a file's name, the same on every system. Source: the IANA registry."""


def media_type(path: str) -> str:
    """What a file of the site is, as addresses and answers say it."""
    return _MEDIA_TYPES.get(path.rpartition(".")[2].lower(), "application/octet-stream")


def slugified(text: str) -> str:
    """A text as a part of an address: accents dropped, all else that can't stand made a hyphen."""
    plain = unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode().lower()
    return re.sub(r"[^a-z0-9]+", "-", plain).strip("-")


def pattern_path(slug: str, file: str = INDEX) -> str:
    """A pattern's page, or a file beside it."""
    return f"patterns/{slug}/{file}"


def pattern_of(path: str) -> str:
    """The slug of the pattern that a path belongs to; "" for any other path."""
    kind, _, rest = path.partition("/")
    slug, beside, _ = rest.partition("/")
    return slug if kind == "patterns" and beside else ""


def in_folder(folder: str, slug: str) -> str:
    """A page among those of its kind: a post's in `posts`."""
    return f"{folder}/{slug}/{INDEX}"


def list_path(folder: str) -> str:
    """The list of the pages of a kind."""
    return f"{folder}/{INDEX}"


def tag_path(slug: str) -> str:
    """The page of a tag."""
    return f"tags/{slug}/{INDEX}"


def part_path(path: str, number: int) -> str:
    """A part of a long list, from 1: the first is its own page, the others stand beside it."""
    return path if number == 1 else f"{path.removesuffix(INDEX)}page-{number}.html"


def page_path(slug: str) -> str:
    """A free-standing page."""
    return f"{slug}/{INDEX}"


def sheets_path(file: str) -> str:
    """A file of planning sheets."""
    return f"sheets/{file}"


def photo_path(name: str) -> str:
    """A picture of the studio's."""
    return f"photos/{name}"


def width_path(name: str, width: int) -> str:
    """A picture of the studio's in another width, in pixels; no name of an author's has a slash."""
    return f"photos/{width}/{name}.webp"


def fallback_path(name: str) -> str:
    """A picture of the studio's as a JPEG, where it is none itself."""
    return f"photos/jpeg/{name}.jpg"


def photo_of(path: str) -> str:
    """The name of the studio's picture that a path belongs to; "" for any other path."""
    kind, _, rest = path.partition("/")
    folder, _, name = rest.rpartition("/")
    return "" if kind != "photos" else name.rpartition(".")[0] if folder else name


def asset_path(name: str) -> str:
    """A style or script."""
    return f"{ASSETS}{name}"


def pdf_name(slug: str, paper: str, size: str = "") -> str:
    """The name of a PDF in a size of paper, `a4` or `letter`; of one size alone, by its key."""
    return f"{slug}-{size}-{paper}.pdf" if size else f"{slug}-{paper}.pdf"


def pack_page(slug: str) -> str:
    """The name of the page in a pattern's pack."""
    return f"{slug}.html"


def sold_files(slug: str, sizes: Sequence[str] = ()) -> tuple[str, ...]:
    """Names of the files that only buyers of something get; `sizes` are the keys of its sizes."""
    pdfs = (pdf_name(slug, paper, size) for size in ("", *sizes) for paper, _ in PAPERS)
    return (*pdfs, pack_page(slug), f"{slug}.zip")


def shown_path(path: str) -> str:
    """A path as an address ends: without a trailing index.html."""
    return path[: -len(INDEX)] if path == INDEX or path.endswith("/" + INDEX) else path
