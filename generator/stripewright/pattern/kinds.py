"""The kinds of content: each a folder of files, what stands in their front matter, their pages.

A further kind is a record here, its model beside the others' (`settings.py`; a subclass of `Post`
for texts with a day) and two templates, called by its word and by its folder. Its list in the
menu, links to it, old addresses, feed, tags, sitemap, schema, reference and preview follow.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stripewright import addresses
from stripewright.catalogue import N_
from stripewright.pattern.pattern import Pattern
from stripewright.pattern.settings import Page, Post
from stripewright.pattern.sheets import SheetOf, Sheets

if TYPE_CHECKING:
    from collections.abc import Callable

    from stripewright.pattern.base import AuthorModel


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of content."""

    folder: str
    """Its folder in content and on the site; its list's template is called by it."""
    word: str
    """What names one in texts (`post:first-rows`); the template of its page is called by it."""
    model: type[AuthorModel]
    """What stands in its front matter."""
    told: str
    """What one is, and where, as `explain` says it."""
    schema: str
    """What its schema is asked for by."""
    title: str = ""
    """What its list is called; "" where it has none."""
    in_menu: str = ""
    """What the menu calls its list, where that is shorter."""
    own_page: bool = True
    """Whether each has a page, not only its place in the list."""
    at: Callable[[str], str] = addresses.page_path
    """From a slug to the page where it is shown, for a kind without a folder of its own there."""
    parts: tuple[tuple[str, type[AuthorModel]], ...] = ()
    """What its front matter holds in parts, each with its heading in the reference."""

    def path(self, slug: str) -> str:
        """The page where one is shown, from the site's root."""
        lists_pages = self.listed and self.own_page
        return addresses.in_folder(self.folder, slug) if lists_pages else self.at(slug)

    @property
    def listed(self) -> bool:
        """Whether the site lists it."""
        return bool(self.title)

    @property
    def list_path(self) -> str:
        """The page of its list, from the site's root."""
        return addresses.list_path(self.folder)

    @property
    def dated(self) -> bool:
        """Whether it is made of texts with a day: those have tags, and stand in the feed."""
        return issubclass(self.model, Post)


PATTERNS = Kind(
    "patterns", "pattern", Pattern, N_("a pattern, content/patterns/NAME.md"), "pattern",
    title=N_("Patterns"),
)  # fmt: skip
OTHERS = (
    Kind("posts", "post", Post, N_("a post, content/posts/NAME.md"), "post", title=N_("Posts")),
    Kind("sheets", "sheet", Sheets, N_("planning sheets, content/sheets/NAME.md"), "sheets",
         title=N_("Planning sheets"), in_menu=N_("Sheets"), own_page=False,
         at=lambda _slug: addresses.SHEETS, parts=(("`sheets:`, a list", SheetOf),)),
    Kind("pages", "page", Page, N_("a page, content/pages/NAME.md"), "page"),
)  # fmt: skip
"""Every kind but patterns."""
KINDS = (PATTERNS, *OTHERS)
BY_FOLDER = {kind.folder: kind for kind in KINDS}
BY_WORD = {kind.word: kind for kind in KINDS}
