"""Where made files wait between making and writing: in memory, or in the studio's cache folder.

Files are kept with the SHA-256 of their bytes, and checked against it when they are taken out, so
that a damaged or meddled-with store is noticed and never published.
"""

from __future__ import annotations

import hashlib
import itertools
import os
import tempfile
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from typing import TYPE_CHECKING, Protocol

if TYPE_CHECKING:
    from pathlib import Path


class Damaged(Exception):  # noqa: N818  # says what the store is
    """A kept file is missing or isn't what it was; the store is worth nothing then."""


class Store(Protocol):
    """Something that keeps bytes and says where."""

    def put(self, files: Sequence[bytes]) -> list[Slot]:
        """Keep some files."""

    def get(self, slot: Slot) -> bytes:
        """Take a file out. Raises Damaged."""


@dataclass(frozen=True, slots=True)
class Slot:
    """Where one file is kept.

    Attributes:
        digest: of the file's bytes.
        bundle: the digest of all that was kept with it.
        at: where the file begins in the bundle, in bytes.
        size: of the file, in bytes.
    """

    digest: str
    bundle: str
    at: int
    size: int


def digest_of(data: bytes) -> str:
    """The SHA-256 of some bytes, in hex."""
    return hashlib.sha256(data).hexdigest()


class MemoryStore:
    """Keeps bytes in memory."""

    def __init__(self) -> None:
        self._kept: dict[str, bytes] = {}

    def put(self, files: Sequence[bytes]) -> list[Slot]:
        """Keep some files."""
        slots = [Slot(digest := digest_of(data), digest, 0, len(data)) for data in files]
        for slot, data in zip(slots, files, strict=True):
            self._kept.setdefault(slot.bundle, data)
        return slots

    def get(self, slot: Slot) -> bytes:
        """Take a file out."""
        return self._kept[slot.bundle]


class DiskStore:
    """Keeps bytes in a folder that can be deleted at any time.

    What is put in together stands in one file: making a file takes longer than filling it.
    """

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    def path(self, bundle: str) -> Path:
        """The file of a bundle."""
        return self.folder / bundle[:2] / bundle[2:]

    def put(self, files: Sequence[bytes]) -> list[Slot]:
        """Keep some files in one bundle. Raises OSError."""
        if not files:
            return []
        whole = b"".join(files)
        bundle = digest_of(whole)
        path = self.path(bundle)
        if not path.exists():
            write_whole(path, whole)
        ends = itertools.accumulate(map(len, files))
        return [Slot(digest_of(data), bundle, end - len(data), len(data))
                for data, end in zip(files, ends, strict=True)]  # fmt: skip

    def get(self, slot: Slot) -> bytes:
        """Take a file out, checked. Raises Damaged."""
        path = self.path(slot.bundle)
        try:
            with path.open("rb") as file:
                file.seek(slot.at)
                data = file.read(slot.size)
        except OSError as fault:
            raise Damaged(str(path)) from fault
        if digest_of(data) != slot.digest:
            raise Damaged(str(path))
        return data

    def has(self, bundle: str) -> bool:
        """Whether a bundle is kept; not whether it is whole."""
        return self.path(bundle).exists()

    def sweep(self, wanted: set[str]) -> None:
        """Forget every bundle that isn't wanted."""
        for folder in self.folder.iterdir() if self.folder.is_dir() else ():
            if folder.is_symlink() or not folder.is_dir():
                continue
            for path in folder.iterdir():
                if folder.name + path.name not in wanted:
                    path.unlink(missing_ok=True)


def write_whole(path: Path, data: bytes) -> None:
    """Write a file so that it is there whole or not at all. Raises OSError."""
    path.parent.mkdir(parents=True, exist_ok=True)
    handle, aside = tempfile.mkstemp(dir=path.parent, prefix=".part-")
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
        os.replace(aside, path)  # noqa: PTH105  # mkstemp gives text
    except BaseException as fault:
        with suppress(OSError):
            os.unlink(aside)  # noqa: PTH108  # as above
        if isinstance(fault, OSError) and fault.filename is None:
            fault.filename = str(path)  # a full disk doesn't say which file it had no room for
        raise


class Spool(Mapping[str, bytes]):
    """The site's files by path; each is taken out of its store when it is asked for."""

    def __init__(self, store: Store) -> None:
        self._store = store
        self._slots: dict[str, Slot] = {}

    def put(self, path: str, data: bytes) -> None:
        """Add a file."""
        (self._slots[path],) = self._store.put([data])

    def add(self, slots: Mapping[str, Slot]) -> None:
        """Add files that the store already keeps."""
        self._slots.update(slots)

    def only(self, paths: Iterable[str]) -> Spool:
        """Some of the files."""
        some = Spool(self._store)
        some.add({path: self._slots[path] for path in paths})
        return some

    @property
    def digests(self) -> dict[str, str]:
        """Path -> digest."""
        return {path: slot.digest for path, slot in self._slots.items()}

    def __getitem__(self, path: str) -> bytes:
        return self._store.get(self._slots[path])

    def __iter__(self) -> Iterator[str]:
        return iter(self._slots)

    def __len__(self) -> int:
        return len(self._slots)
