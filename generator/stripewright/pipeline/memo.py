"""What was made of each source before, so that only what differs is made again.

One memo for every build: `publish` keeps it on disk (`cache`), the preview in memory. An entry is
found by a key over everything that it was made from: the settings, the theme, what was asked for,
and the source file. What the key can't hold (the pictures that the page turned out to show, and
whether its day has come) stands in the entry and is checked when it is taken. Nothing is ever
updated in place, so an entry can be missing but not stale.
"""

from __future__ import annotations

import hashlib
from collections import OrderedDict
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Protocol

from stripewright.digests import digest_of
from stripewright.pattern.kinds import PATTERNS
from stripewright.pipeline.make import WorkedSource, show_source, work_source
from stripewright.pipeline.others import make_other
from stripewright.pipeline.output import Output, held_back
from stripewright.pipeline.stash import may_point_to_stash, stash_stamp
from stripewright.pipeline.store import MemoryStore
from stripewright.problems import has_errors

if TYPE_CHECKING:
    from collections.abc import Collection, Mapping

    from stripewright.pipeline.context import Context
    from stripewright.pipeline.photos import PhotoLibrary
    from stripewright.pipeline.sources import SourceFile
    from stripewright.pipeline.store import Store

LINKED = ("assets/", "root/")
"""Folders of a theme whose files pages link to by name."""
REPLACED = tuple(f"shipped/{folder}" for folder in LINKED)
"""Shipped ones that the studio's own stand in for: no page sees them."""


@dataclass(frozen=True)
class Kept:
    """What was made from one source file.

    Attributes:
        value: all of it but the files.
        files: path -> digest of its bytes in the store.
        pictures: name -> digest of each picture that it shows, as it stands in content/photos.
        linked: the fingerprint of the names by which its page links to styles and scripts.
    """

    value: Output
    files: Mapping[str, str]
    pictures: Mapping[str, str] = field(default_factory=dict)
    linked: str = ""


class Memo(Protocol):
    """Entries by their keys, and the files that they name."""

    @property
    def store(self) -> Store:
        """Where the files are."""

    def find(self, key: str) -> Kept | None:
        """An entry; None when there is none, or none that can be trusted."""

    def keep(self, key: str, kept: Kept) -> None:
        """Keep an entry, whose files are in the store."""

    def sweep(self, keys: Collection[str], digests: Collection[str]) -> None:
        """Forget every other entry and file."""


class MemoryMemo:
    """A memo for as long as a program runs.

    Args:
        most_pages: how many pages are kept, the last asked for; None is all. An entry without its
            page still tells everything else.
        remembers: whether entries are kept at all, or the files alone.
    """

    def __init__(self, most_pages: int | None = None, *, remembers: bool = True) -> None:
        self.store = MemoryStore(most_pages)
        self._remembers = remembers
        self._entries: dict[str, Kept] = {}

    def find(self, key: str) -> Kept | None:
        """An entry."""
        return self._entries.get(key)

    def keep(self, key: str, kept: Kept) -> None:
        """Keep an entry."""
        if self._remembers:
            self._entries[key] = kept

    def sweep(self, keys: Collection[str], digests: Collection[str]) -> None:
        """Forget every other entry and file."""
        self._entries = {key: kept for key, kept in self._entries.items() if key in keys}
        self.store.sweep(digests)


class Work:
    """What sources are made with, and what was made of them before; can be pickled.

    Args:
        context: settings, theme and options.
        shelf: the studio's pictures.
        memo: what was made before.
        most_worked: how many of the last patterns stay worked out, so that another view of one
            needs no second working out.
    """

    def __init__(
        self, context: Context, shelf: PhotoLibrary, memo: Memo, *, most_worked: int = 1
    ) -> None:
        self.context = context
        self.shelf = shelf
        self.memo = memo
        self._around = surroundings(context)
        self._stash = stash_stamp(context.settings.stash)
        self._most_worked = most_worked
        self._worked: OrderedDict[SourceFile, WorkedSource] = OrderedDict()
        self._keys: dict[tuple[str, bool], tuple[SourceFile, str]] = {}

    def __getstate__(self) -> dict[str, object]:
        """Leave behind what is only quicker: a worker begins without."""
        return self.__dict__ | {"_worked": OrderedDict(), "_keys": {}}

    def key(self, source: SourceFile, *, buyer: bool = False) -> str:
        """Where what is made of a source stands."""
        known = self._keys.get((source.name, buyer))
        if known is not None and known[0] is source:
            return known[1]
        name = source.name.encode()
        stash = self._stash if may_point_to_stash(source.data) else ""
        head = f"{self._around}{stash}{buyer:d}{len(name):8}".encode()
        stamp = hashlib.sha256(head + name + source.data)
        for table, data in source.tables:
            stamp.update(f"\0{table}\0{digest_of(data)}".encode())
        key = stamp.hexdigest()
        self._keys[source.name, buyer] = source, key
        return key

    def made(self, source: SourceFile, *, buyer: bool = False, whole: bool = True) -> Kept | None:
        """What was made of a source before, if it still holds.

        Args:
            source: the file.
            buyer: as buyers of a paid pattern see it.
            whole: whether every file has to be there as well.
        """
        kept = self.memo.find(self.key(source, buyer=buyer))
        if kept is None or not self._holds(kept):
            return None
        if whole and not all(map(self.memo.store.has, kept.files.values())):
            return None
        return (
            kept
            if kept.linked == self.context.renderer.assets.stamp
            else self._relinked(kept, self.key(source, buyer=buyer))
        )

    def _relinked(self, kept: Kept, key: str) -> Kept:
        """An entry whose page links to styles and scripts of before, leading to those of now."""
        assets, store, files = self.context.renderer.assets, self.memo.store, dict(kept.files)
        for path, digest in files.items():
            if path.endswith(".html") and store.has(digest):
                files[path] = store.put(assets.relink(store.get(digest)), path)
        now = replace(kept, files=files, linked=assets.stamp)
        self.memo.keep(key, now)
        return now

    def _holds(self, kept: Kept) -> bool:
        value = kept.value
        if any(self.shelf.fingerprint(name) != now for name, now in kept.pictures.items()):
            return False
        broken = has_errors(value.problems)
        return broken or value.held == held_back(value.published, self.context.options)

    def make(self, source: SourceFile, *, buyer: bool = False) -> Kept:
        """Make what a source gives, and keep it."""
        if source.kind != PATTERNS.folder:
            output = make_other(source, self.context, self.shelf)
        else:
            output = show_source(self.worked(source), self.context, self.shelf, buyer=buyer)
        return self.keep(source, output, buyer=buyer)

    def keep(self, source: SourceFile, output: Output, *, buyer: bool = False) -> Kept:
        """Keep what came of a source."""
        store = self.memo.store
        kept = Kept(
            replace(output, files={}),
            {path: store.put(data, path) for path, data in output.files.items()},
            {name: self.shelf.fingerprint(name) for name in output.pictures},
            self.context.renderer.assets.stamp,
        )
        self.memo.keep(self.key(source, buyer=buyer), kept)
        return kept

    def worked(self, source: SourceFile) -> WorkedSource:
        """A pattern worked out; that of the last few is kept."""
        done = self._worked.pop(source, None) or work_source(source, self.context.settings)
        self._worked[source] = done
        while len(self._worked) > self._most_worked:
            self._worked.popitem(last=False)
        return done


def surroundings(context: Context) -> str:
    """A fingerprint of what all pages are made with.

    The day is left to the entries, and of styles and scripts only the plain names: pages link to
    them, and are led to others when they change.
    """
    options = context.options
    stamp = hashlib.sha256(context.settings.model_dump_json().encode())
    stamp.update(repr((options.drafts, options.preview, options.paper)).encode())
    stamp.update(repr((context.site.menu, context.site.lists)).encode())
    for name, data in sorted(context.theme.files.items()):
        linked = name.startswith(LINKED)
        if not name.startswith(REPLACED):
            stamp.update(f"{name}\0{'' if linked else digest_of(data)}\0".encode())
    return stamp.hexdigest()
