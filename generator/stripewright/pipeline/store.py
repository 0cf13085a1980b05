"""Where made files wait between making and writing: in memory, or in the studio's cache.

Files are kept by the SHA-256 of their bytes, and checked against it when they are taken out, so
that a damaged or meddled-with store is noticed and never published.
"""

from __future__ import annotations

import errno
import os
import sqlite3
from collections import OrderedDict
from collections.abc import Collection, Iterable, Iterator, Mapping
from contextlib import contextmanager, suppress
from functools import cached_property
from threading import get_ident
from typing import TYPE_CHECKING, Any, Protocol

from stripewright.digests import digest_of

if TYPE_CHECKING:
    from pathlib import Path

_PATIENCE_S = 60.0
"""How long another process that keeps something is waited for."""
_AS_OF_FILES = {
    sqlite3.SQLITE_FULL: errno.ENOSPC,
    sqlite3.SQLITE_IOERR_WRITE: errno.EFBIG,
    sqlite3.SQLITE_CANTOPEN: errno.EACCES,
    sqlite3.SQLITE_READONLY: errno.EACCES,
}
"""What a database refuses, and the system's number for it."""


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
    """Keeps bytes in a database in a folder that can be deleted at any time.

    To make one file takes as long as to write twenty of them into another. What was put is safe
    from a later fault, and seen by other processes, once `commit` was called.
    """

    NAME = "kept.db"

    def __init__(self, folder: Path) -> None:
        self.path = folder / self.NAME

    @cached_property
    def _database(self) -> sqlite3.Connection:
        self.path.parent.mkdir(parents=True, exist_ok=True)
        database = sqlite3.connect(self.path, timeout=_PATIENCE_S)
        # A run that is killed leaves what `get` tells to be damaged at the worst.
        database.execute("PRAGMA journal_mode = MEMORY")
        database.execute("PRAGMA synchronous = OFF")
        database.execute("PRAGMA auto_vacuum = FULL")
        database.execute("CREATE TABLE IF NOT EXISTS kept (name TEXT PRIMARY KEY, data BLOB)")
        return database

    def _asked(self, query: str, *given: object) -> list[Any]:
        """The rows that answer a query. Raises Damaged or OSError."""
        with self._told():
            return self._database.execute(query, given).fetchall()

    @contextmanager
    def _told(self) -> Iterator[None]:
        """What the database refuses, as what it is for a file."""
        try:
            yield
        except sqlite3.Error as fault:
            number = _AS_OF_FILES.get(fault.sqlite_errorcode)
            if number is None:
                raise Damaged(str(self.path)) from fault
            raise OSError(number, os.strerror(number), str(self.path)) from fault

    def find(self, name: str) -> bytes | None:
        """What is kept under a name, unchecked. Raises Damaged."""
        rows = self._asked("SELECT CAST(data AS BLOB) FROM kept WHERE name = ?", name)
        return rows[0][0] if rows else None

    def keep(self, name: str, data: bytes) -> None:
        """Keep bytes under a name. Raises Damaged or OSError."""
        self._asked("INSERT OR REPLACE INTO kept VALUES (?, ?)", name, data)

    def put(self, data: bytes, path: str = "") -> str:  # noqa: ARG002  # on disk there is room for all
        """Keep some bytes; gives their digest. Raises Damaged or OSError."""
        digest = digest_of(data)
        self._asked("INSERT OR IGNORE INTO kept VALUES (?, ?)", digest, data)
        return digest

    def get(self, digest: str) -> bytes:
        """Take bytes out, checked. Raises Damaged."""
        data = self.find(digest)
        if data is None or digest_of(data) != digest:
            raise Damaged(digest)
        return data

    def has(self, digest: str) -> bool:
        """Whether bytes are kept; not whether they are whole."""
        return bool(self._asked("SELECT 1 FROM kept WHERE name = ?", digest))

    def sweep(self, wanted: Collection[str]) -> None:
        """Forget everything that isn't wanted."""
        for (name,) in self._asked("SELECT name FROM kept"):
            if name not in wanted:
                self._asked("DELETE FROM kept WHERE name = ?", name)
        self.commit()

    def commit(self) -> None:
        """See to it that what was put stays. Raises Damaged or OSError."""
        with self._told():
            self._database.commit()

    def close(self) -> None:
        """Let go of the database, and forget what was not committed."""
        if "_database" in self.__dict__:
            self._database.close()
            del self._database


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
