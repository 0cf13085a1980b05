"""Links to paths of the site: relative inside it, absolute where its address is known."""

from __future__ import annotations

import posixpath
import re
import uuid
from dataclasses import dataclass, field
from typing import TYPE_CHECKING
from urllib.parse import quote, unquote, urlsplit

from stripewright.addresses import INDEX, shown_path, slugified
from stripewright.digests import digest_of
from stripewright.pattern.slugs import WINDOWS

if TYPE_CHECKING:
    from collections.abc import Mapping

SHARE_SIZE = (800, 600)
"""Width and height in pixels: the frame of the drawing, one to one. Sites that show such pictures
large ask for 600 by 315 at the least (common practice, no source)."""
_SAFE = "/-._~"
STYLE_LINK = re.compile(
    r"""url\(\s*(?:"([^"]*)"|'([^']*)'|([^"')\s]*))\s*\)|@import\s+(?:"([^"]*)"|'([^']*)')"""
)
"""Where a style names another file. Source: CSS Syntax Module Level 3, url and string tokens."""


def target(link: str, start: str) -> str:
    """The path from the site's root that a relative link leads to.

    Args:
        link: as it is written, perhaps with a query and a fragment.
        start: the path of the file that it stands in, where a link without a path leads.
    """
    bare = unquote(re.split(r"[#?]", link, maxsplit=1)[0])
    return posixpath.normpath(posixpath.join(posixpath.dirname(start), bare)) if bare else start


def named_by(found: re.Match[str]) -> str:
    """The link in a place that `STYLE_LINK` found; "" for an empty one."""
    return next((part for part in found.groups() if part), "")


def tag_slug(tag: str) -> str:
    """A tag as a folder's name; tags that differ in case or accents alone share a page."""
    slug = slugified(tag)
    if slug and slug not in WINDOWS:
        return slug
    return f"tag-{digest_of(tag.strip().casefold().encode())[:8]}"


@dataclass(frozen=True, slots=True)
class Links:
    """Links as one page makes them.

    Attributes:
        here: the page's path from the site's root.
        address: the site's, ending in a slash; None when unknown.
        start: where links start, of a page that is served anywhere: the 404.
        named: plain path -> published path, of files whose names carry a fingerprint.
    """

    here: str
    address: str | None = None
    start: str | None = None
    named: Mapping[str, str] = field(default_factory=dict)

    @property
    def root(self) -> str:
        """What stands before a path from the root."""
        if self.start:
            return self.start
        return "../" * self.here.count("/")

    def to(self, path: str) -> str:
        """A link to a path from the site's root; it names the file, so that it works from disk."""
        return self.root + quote(self.named.get(path, path), _SAFE)

    def absolute(self, path: str) -> str | None:
        """A path's full address, or None when the site's is unknown."""
        return absolute(self.address, path)

    @property
    def canonical(self) -> str | None:
        """This page's own address."""
        return self.absolute(self.here)


def absolute(address: str | None, path: str) -> str | None:
    """A path's full address, without a trailing index.html; None when the site's is unknown."""
    if address is None:
        return None
    return address + quote(shown_path(path), _SAFE)


def entry_id(address: str | None, site: str, path: str, day: str) -> str:
    """An id that lasts for a feed's entry.

    A tag URI (RFC 4151) of the site's host when there is an address, else a UUID of the site's
    title and the path (RFC 4122, version 5).
    """
    stem = path.removesuffix("/" + INDEX)
    host = urlsplit(address).hostname if address else None
    if host:
        return f"tag:{host},{day}:{stem}"
    return f"urn:uuid:{uuid.uuid5(uuid.NAMESPACE_URL, f'{site}/{stem}')}"
