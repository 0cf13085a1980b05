"""The only place where the preview writes: a pattern's file, whole or not at all.

Written aside, then put in the old one's place, as the publisher does. A file that is another than
the one that was opened stays as it is.
"""

from __future__ import annotations

import stat
import threading
from pathlib import PurePosixPath
from typing import TYPE_CHECKING, Any

from stripewright.catalogue import _
from stripewright.compute.letters import in_order_of_use
from stripewright.digests import digest_of
from stripewright.pattern.slugs import WINDOWS, proposed
from stripewright.preview.easel.compose import composed
from stripewright.preview.easel.rewrite import NotWritten, rewritten
from stripewright.publish.disk import Disk
from stripewright.source.decode import MOST_BYTES

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator, Mapping
    from pathlib import Path

    from stripewright.studio import Studio

PATTERN_FOLDER = "content/patterns/"


class NoSuchFile(Exception):
    """A name that is no pattern file of this studio."""


class Changed(Exception):
    """The file is another than the one that was opened; `data` is what it holds now, or None."""

    def __init__(self, data: bytes | None) -> None:
        super().__init__(_("The file was changed meanwhile."))
        self.data = data


class Keeper:
    """Opens and saves a studio's pattern files; may be called from any thread."""

    def __init__(self, studio: Studio, disk: Disk | None = None) -> None:
        self.studio = studio
        self._disk = disk or Disk()
        self._lock = threading.Lock()

    def path(self, name: str) -> Path:
        """Where a pattern file of this studio is.

        Raises:
            NoSuchFile: the name is none of `content/patterns/`, or a link, or leads elsewhere.
        """
        alone = PurePosixPath(name).name
        path = self.studio.content / "patterns" / alone
        fits = (
            name == PATTERN_FOLDER + alone
            and not set(alone) & set("\\/:\0")
            and alone.isprintable()
        )
        if not fits or not self.studio.is_source(path) or not self.studio.holds(path):
            raise NoSuchFile(_("“{name}” is no pattern file of this studio.", name=name))
        if path.is_symlink():
            raise NoSuchFile(_("“{name}” is a link; only files are opened.", name=name))
        return path

    def open(self, name: str) -> bytes:
        """A pattern file's bytes.

        Raises:
            NoSuchFile: as `path`, or it is not there.
            OSError: it can't be read.
        """
        path = self.path(name)
        if self._disk.kind(path) != "file":
            raise NoSuchFile(_("There is no file “{name}”.", name=name))
        return self._disk.read(path)

    def save(self, name: str, digest: str, wanted: Mapping[str, Any]) -> bytes:
        """Write the values that differ into a file, and give what it holds then.

        Args:
            name: the file's, relative to the studio.
            digest: of the file as it was opened.
            wanted: all of the front matter.

        Raises:
            NoSuchFile: as `path`.
            Changed: the file is another than the one that was opened, or gone.
            NotWritten: what differs can't be changed in place.
            OSError: the disk refused.
        """
        with self._lock:
            path = self.path(name)
            if self._disk.kind(path) != "file":
                raise Changed(None)
            old = self._disk.read(path)
            if digest_of(old) != digest:
                raise Changed(old)
            new = rewritten(old, name, wanted)
            if new != old:
                self._put(path, new, old)
            return new

    def add(self, wanted: Mapping[str, Any], taken: Collection[str]) -> tuple[str, bytes]:
        """Write a new pattern's file under a free name; give the name and what it holds.

        Args:
            wanted: all of the front matter.
            taken: addresses of patterns that there are.

        Raises:
            NotWritten: the values can't be written.
            OSError: the disk refused.
        """
        data = composed(_lettered(wanted))
        with self._lock:
            folder = self.studio.content / "patterns"
            if not self.studio.holds(folder):
                why = _("The folder of patterns is a link that leads out of the studio.")
                raise NoSuchFile(why)
            self._make_folder(folder)
            names = {name.casefold() for name, _ in self._disk.entries(folder)}
            stem = _free(str(wanted.get("title", "")), names, taken)
            name = f"{PATTERN_FOLDER}{stem}.md"
            self._put(self.path(name), data, None)
            return name, data

    def _make_folder(self, folder: Path) -> None:
        for one in (folder.parent, folder):
            if not self._disk.kind(one):
                self._disk.make_folder(one)

    def _put(self, path: Path, data: bytes, old: bytes | None) -> None:
        if len(data) > MOST_BYTES:
            raise NotWritten(_("The file would be larger than a source file may be."))
        aside = path.with_name(f".{path.name}.saving")
        if self._disk.kind(aside):  # left by a save that was killed
            self._disk.remove(aside)
        try:
            self._disk.write(aside, data)
            if old is not None:
                aside.chmod(stat.S_IMODE(path.stat().st_mode))
            self._disk.settle([aside])
            self._last_look(path, old)
            self._disk.move(aside, path)
        except BaseException:
            aside.unlink(missing_ok=True)
            raise
        self._disk.settle([path.parent])

    def _last_look(self, path: Path, old: bytes | None) -> None:
        """Whether the file is still what was changed: an editor may have saved meanwhile."""
        now = self._disk.read(path) if self._disk.kind(path) == "file" else None
        if now != old:
            raise Changed(now)


def _lettered(wanted: Mapping[str, Any]) -> Mapping[str, Any]:
    """A new pattern with its yarns in the order that its stripes use them, as its letters are."""
    yarns, pieces = wanted.get("yarns"), wanted.get("pieces")
    if not isinstance(yarns, dict) or not isinstance(pieces, dict):
        return wanted
    used = [
        word
        for piece in pieces.values()
        if isinstance(piece, dict)
        for word in _words(piece.get("stripes"))
    ]
    return {**wanted, "yarns": in_order_of_use(yarns, used)}


def _words(stripes: object) -> Iterator[str]:
    """The first word of each text in stripes, however deep: a yarn's key, if it is one."""
    if isinstance(stripes, str):
        yield from stripes.split()[:1]
    elif isinstance(stripes, dict):
        for one in stripes.values():
            yield from _words(one)
    elif isinstance(stripes, list):
        for one in stripes:
            yield from _words(one)


def _free(title: str, names: Collection[str], taken: Collection[str]) -> str:
    stem = proposed(title)
    if stem in WINDOWS:
        stem = f"{stem}-pattern"
    number, free = 1, stem
    while f"{free}.md" in names or free in taken:
        number += 1
        free = f"{stem[:70]}-{number}"
    return free
