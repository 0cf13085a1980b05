"""Where made files wait between making and writing: in memory, or in the studio's cache folder.

Files are kept by the SHA-256 of their bytes, and checked against it when they are taken out, so
that a damaged or meddled-with store is noticed and never published.
"""

from __future__ import annotations

import os
from collections import OrderedDict
from collections.abc import Collection, Iterable, Iterator, Mapping
from contextlib import suppress
from threading import get_ident
from typing import TYPE_CHECKING, Protocol

from stripewright.digests import digest_of

if TYPE_CHECKING:
    from pathlib import Path


class Damaged(Exception):
    """A kept file is missing or isn't what it was; the store is worth nothing then."""


class Store(Protocol):
    """Something that keeps bytes by their digest."""

    def put(self, data: bytes, path: str = "") -> str:
        """Keep some bytes; gives their digest. What is the site's path may decide for how long."""

    def get(self, digest: str) -> bytes:
        """Take bytes out. Raises Damaged."""

    def has(self, digest: str) -> bool:
        """Whether bytes are kept; not whether they are whole."""


class MemoryStore:
    """Keeps bytes in memory.

    Args:
        most_pages: how many pages are kept, the last asked for; None is all.
    """

    def __init__(self, most_pages: int | None = None) -> None:
        self._kept: dict[str, bytes] = {}
        self._pages: OrderedDict[str, bytes] = OrderedDict()
        self._most_pages = most_pages

    def put(self, data: bytes, path: str = "") -> str:
        """Keep some bytes; gives their digest."""
        digest = digest_of(data)
        if self._most_pages is None or not path.endswith(".html"):
            self._kept.setdefault(digest, data)
            return digest
        self._pages[digest] = data
        self._pages.move_to_end(digest)
        while len(self._pages) > self._most_pages:
            self._pages.popitem(last=False)
        return digest

    def get(self, digest: str) -> bytes:
        """Take bytes out. Raises Damaged."""
        if digest in self._pages:
            self._pages.move_to_end(digest)
            return self._pages[digest]
        try:
            return self._kept[digest]
        except KeyError:
            raise Damaged(digest) from None

    def has(self, digest: str) -> bool:
        """Whether bytes are kept."""
        return digest in self._kept or digest in self._pages

    def sweep(self, wanted: Collection[str]) -> None:
        """Forget everything that isn't wanted."""
        for kept in (self._kept, self._pages):
            for digest in [digest for digest in kept if digest not in wanted]:
                del kept[digest]


class DiskStore:
    """Keeps bytes in files of a folder that can be deleted at any time."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    def path(self, digest: str) -> Path:
        """The file of a digest."""
        return self.folder / digest[:2] / digest[2:]

    def put(self, data: bytes, path: str = "") -> str:  # noqa: ARG002  # on disk there is room for all
        """Keep some bytes; gives their digest. Raises OSError."""
        digest = digest_of(data)
        file = self.path(digest)
        if not file.exists():
            write_whole(file, data)
        return digest

    def get(self, digest: str) -> bytes:
        """Take bytes out, checked. Raises Damaged."""
        try:
            data = self.path(digest).read_bytes()
        except OSError as fault:
            raise Damaged(str(self.path(digest))) from fault
        if digest_of(data) != digest:
            raise Damaged(str(self.path(digest)))
        return data

    def has(self, digest: str) -> bool:
        """Whether bytes are kept; not whether they are whole."""
        return self.path(digest).exists()

    def sweep(self, wanted: Collection[str]) -> None:
        """Forget everything that isn't wanted."""
        for folder in self.folder.iterdir() if self.folder.is_dir() else ():
            if folder.is_symlink() or not folder.is_dir():
                continue
            for path in folder.iterdir():
                if folder.name + path.name not in wanted:
                    path.unlink(missing_ok=True)


def write_whole(path: Path, data: bytes) -> None:
    """Write a file whole or not at all, readable for the same people as others. Raises OSError."""
    path.parent.mkdir(parents=True, exist_ok=True)
    aside = path.parent / f".part-{os.getpid()}-{get_ident()}"
    try:
        aside.unlink(missing_ok=True)  # of a process that had this number and was killed
        with aside.open("xb") as file:
            file.write(data)
        aside.replace(path)
    except BaseException as fault:
        with suppress(OSError):
            aside.unlink()
        if isinstance(fault, OSError) and fault.filename is None:
            fault.filename = str(path)  # a full disk doesn't say which file it had no room for
        raise


class SiteFiles(Mapping[str, bytes]):
    """The site's files by path; each is taken out of its store when it is asked for."""

    def __init__(self, store: Store) -> None:
        self._store = store
        self._digests: dict[str, str] = {}

    def put(self, path: str, data: bytes) -> None:
        """Add a file."""
        self._digests[path] = self._store.put(data)

    def add(self, digests: Mapping[str, str]) -> None:
        """Add files that the store already keeps."""
        self._digests.update(digests)

    def only(self, paths: Iterable[str]) -> SiteFiles:
        """Some of the files."""
        some = SiteFiles(self._store)
        some.add({path: self._digests[path] for path in paths})
        return some

    @property
    def digests(self) -> Mapping[str, str]:
        """Path -> digest."""
        return self._digests

    def __getitem__(self, path: str) -> bytes:
        return self._store.get(self._digests[path])

    def __iter__(self) -> Iterator[str]:
        return iter(self._digests)

    def __len__(self) -> int:
        return len(self._digests)
