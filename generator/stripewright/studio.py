"""Where things are in a studio, and the only place that reads its files.

A studio is a folder:

    content/studio.yaml          the settings
    content/stash.yaml           the yarns that there are, if the author lists them
    content/patterns/*.md        one file a pattern
    content/posts/*.md           the blog
    content/pages/*.md           free-standing pages (about)
    content/sheets/*.md          planning sheets and books of sheets
    content/photos/              pictures that pages show
    themes/NAME/                 the studio's own theme, or files that override a shipped one
    site/                        what `publish` writes
    packs/                       what `packs` and `sheets` write; never part of the site
    packs/versions.json          which versions buyers have; to be kept
    texts/                       what `texts` writes, to paste elsewhere
    .stripewright/               a cache that can be deleted at any time
"""

from __future__ import annotations

import os
import re
import stat
from dataclasses import dataclass
from importlib import resources
from pathlib import Path
from typing import TYPE_CHECKING

from stripewright.catalogue import say

if TYPE_CHECKING:
    from collections.abc import Iterator

SETTINGS = "content/studio.yaml"
STASH = "content/stash.yaml"
DEFAULT_THEME, SHARED = "tideline", "shared"
LEADS_OUT = say("this is a link that leads out of the studio")

_PACKAGE = Path(str(resources.files("stripewright")))


MOST_THEME_BYTES = 32 << 20
"""Bytes of one file of a theme."""


class NotRead(OSError):
    """A file that is left unread; `strerror` says why."""

    def __init__(self, why: str) -> None:
        super().__init__(0, why)


def read_bytes(path: Path, most: int) -> bytes:
    """A file's bytes.

    What is no file (a pipe, a device) is never waited for, and a large one not read at all.

    Raises:
        NotRead: it is no file, or holds more than `most` bytes.
        OSError: the system can't read it.
    """
    flags = os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)
    with open(
        path, "rb", opener=lambda name, _: os.open(name, flags)
    ) as file:  # Path.open takes no opener
        found = os.fstat(file.fileno())
        if not stat.S_ISREG(found.st_mode):
            raise NotRead("it is not a file but a pipe, a device or the like")
        data = file.read(most + 1) if found.st_size <= most else b""
        if max(found.st_size, len(data)) > most:
            size = max(found.st_size, len(data)) / (1 << 20)
            raise NotRead(
                say("it is {size:,.1f} MiB; at most {most} MiB is read", size, most >> 20)
            )
        return data


def is_text(name: str) -> bool:
    """Whether a file's name is text, so that it can be printed, linked and published."""
    return name.isascii() or not any("\ud800" <= letter <= "\udfff" for letter in name)


def shipped_themes() -> Path:
    """The folder of the themes that come with the program: inside a wheel, else the checkout's."""
    inside = _PACKAGE / "_themes"
    return inside if inside.is_dir() else _PACKAGE.parent.parent / "themes"


def starter() -> Path:
    """The folder that `start` copies into a new studio."""
    return _PACKAGE / "starter"


@dataclass(frozen=True, slots=True)
class Studio:
    """A studio's folders, from its root."""

    root: Path

    @property
    def content(self) -> Path:
        """What the author writes."""
        return self.root / "content"

    @property
    def themes(self) -> Path:
        """The studio's own themes and overrides."""
        return self.root / "themes"

    @property
    def site(self) -> Path:
        """Where `publish` writes unless told otherwise."""
        return self.root / "site"

    @property
    def packs(self) -> Path:
        """Where `packs` and `sheets` write: beside the site, never in it."""
        return self.root / "packs"

    @property
    def texts(self) -> Path:
        """Where `texts` writes: beside the site, never in it."""
        return self.root / "texts"

    @property
    def cache(self) -> Path:
        """What may be deleted at any time."""
        return self.root / ".stripewright" / "cache"

    def name_of(self, path: Path) -> str:
        """A file's name in problems: relative to the studio, with forward slashes."""
        inside = path.is_relative_to(self.root)
        name = path.relative_to(self.root).as_posix() if inside else str(path)
        return name if is_text(name) else re.sub("[\ud800-\udfff]", "\ufffd", name)

    def sources(self, kind: str) -> Iterator[Path]:
        """A folder of content: its Markdown files by name, hidden and backup ones left out.

        Raises:
            OSError: the folder is there and can't be read; its patterns are not gone then.
        """
        folder = self.content / kind
        try:
            paths = sorted(folder.iterdir())
        except FileNotFoundError:
            return
        yield from (path for path in paths if self.is_source(path))

    def is_source(self, path: Path) -> bool:
        """Whether a path's name and place are those of a source file of some kind."""
        named = path.suffix == ".md" and not path.name.startswith((".", "#", "_", "~"))
        return named and path.parent.parent == self.content

    def holds(self, path: Path) -> bool:
        """Whether a path, with every link in it followed, is still inside the studio."""
        try:
            return path.resolve().is_relative_to(self.root.resolve())
        except (OSError, RuntimeError):  # links that lead to each other
            return False

    def theme_files(self, name: str) -> dict[str, bytes]:
        """A theme's files by their path inside it, the studio's own files winning one by one.

        Looked through, the later winning: the shipped `shared` folder, the shipped theme (or
        `tideline`, when the theme is the studio's alone), the studio's `shared`, its theme.
        A shipped file that the studio replaced is also there as `shipped/PATH`, so that a
        template can extend the one it stands in for. Empty when no folder of that name exists.
        """
        shipped = shipped_themes()
        if name == SHARED or not any(_is_folder(at / name) for at in (shipped, self.themes)):
            return {}
        base = name if (shipped / name).is_dir() else DEFAULT_THEME
        files: dict[str, bytes] = {}
        for folder in (shipped / SHARED, shipped / base):
            files |= {inside: path.read_bytes() for inside, path in _inside(folder, [])}
        for inside, data in self.own_theme(name)[0]:
            if inside in files:
                files.setdefault(f"shipped/{inside}", files[inside])
            files[inside] = data
        return files

    def own_theme(self, name: str) -> tuple[list[tuple[str, bytes]], list[tuple[Path, str]]]:
        """The studio's own files of a theme, and those that can't be used.

        Returns:
            Path inside the theme and bytes, the later winning; path and reason.
        """
        files: list[tuple[str, bytes]] = []
        faults: list[tuple[Path, str]] = []
        if self.themes.resolve() == shipped_themes().resolve():  # the program's own checkout
            return files, faults
        if not self.holds(self.themes):
            return files, [(self.themes, LEADS_OUT)]
        for folder in (self.themes / SHARED, self.themes / name):
            if not self.holds(folder):
                faults.append((folder, LEADS_OUT))
                continue
            for inside, path in _inside(folder, faults):
                data, wrong = self._own_file(path)
                if wrong:
                    faults.append((path, wrong))
                else:
                    files.append((inside, data))
        return files, faults

    def _own_file(self, path: Path) -> tuple[bytes, str]:
        """A file's bytes, or what is wrong with it."""
        if not is_text(str(path)):
            return b"", say("this name is not UTF-8")
        if not self.holds(path):
            return b"", LEADS_OUT
        try:
            return read_bytes(path, MOST_THEME_BYTES), ""
        except OSError as fault:
            return b"", say("this can't be read: {strerror}", fault.strerror)


def is_named(path: Path) -> bool:
    """Whether there is anything of that name, be it a link to nothing."""
    return path.is_symlink() or path.exists()


def _is_folder(path: Path) -> bool:
    try:
        return path.is_dir()
    except OSError:  # what is around it can't be read
        return False


def _inside(folder: Path, faults: list[tuple[Path, str]]) -> Iterator[tuple[str, Path]]:
    """Each file of a folder by its path inside, sorted; hidden ones and backups left out."""

    def unread(fault: OSError) -> None:
        if isinstance(fault, FileNotFoundError):
            return
        faults.append(
            (Path(fault.filename or folder), say("this can't be read: {strerror}", fault.strerror))
        )

    found: list[tuple[str, Path]] = []
    for around, folders, names in os.walk(folder, onerror=unread):
        # A linked folder is not walked into; it is given as it is, for the reader to judge.
        linked = [name for name in folders if (Path(around) / name).is_symlink()]
        for name in (*names, *linked):
            path = Path(around) / name
            inside = path.relative_to(folder)
            if not any(part.startswith((".", "#")) or part.endswith("~") for part in inside.parts):
                found.append((inside.as_posix(), path))
    yield from sorted(found)
