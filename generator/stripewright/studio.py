"""Where things are in a studio, and the only place that reads its files.

A studio is a folder:

    content/studio.yaml          the settings
    content/patterns/*.md        one file a pattern
    content/posts/*.md           the blog
    content/pages/*.md           free-standing pages (about)
    content/sheets/*.md          planning sheets and books of sheets
    content/photos/              pictures that pages show
    themes/NAME/                 the studio's own theme, or files that override a shipped one
    site/                        what `publish` writes
    packs/                       what `packs` and `sheets` write; never part of the site
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

if TYPE_CHECKING:
    from collections.abc import Iterator

SETTINGS = "content/studio.yaml"
KINDS = ("patterns", "posts", "pages", "sheets")
DEFAULT_THEME = "tideline"

_PACKAGE = Path(str(resources.files("stripewright")))


MOST_THEME_BYTES = 32 << 20
"""Bytes of one file of a theme."""


class NotRead(OSError):  # noqa: N818  # it says what happened; it is no bug
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
            raise NotRead(f"it is {size:,.1f} MiB; at most {most >> 20} MiB is read")
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
    def cache(self) -> Path:
        """What may be deleted at any time."""
        return self.root / ".stripewright" / "cache"

    def name_of(self, path: Path) -> str:
        """A file's name in problems: relative to the studio, with forward slashes."""
        inside = path.is_relative_to(self.root)
        name = path.relative_to(self.root).as_posix() if inside else str(path)
        return name if is_text(name) else re.sub("[\ud800-\udfff]", "\ufffd", name)

    def sources(self, kind: str) -> Iterator[Path]:
        """The Markdown files of one of `KINDS`, sorted by name; hidden and backup ones left out.

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
        """Whether a path's name and folder are those of a source file."""
        named = path.suffix == ".md" and not path.name.startswith((".", "#", "_", "~"))
        return named and path.parent.parent == self.content and path.parent.name in KINDS

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
        files: dict[str, bytes] = {}
        for inside, path in self._theme_paths(name):
            if unread(path, inside) or not path.is_file():
                continue
            if path.is_relative_to(self.themes) and inside in files:
                files.setdefault(f"shipped/{inside}", files[inside])
            files[inside] = read_bytes(path, MOST_THEME_BYTES)
        return files

    def unread_theme_files(self, name: str) -> list[tuple[str, str]]:
        """The files that `theme_files` leaves out, and why each can't be read."""
        found = [(path, unread(path, inside)) for inside, path in self._theme_paths(name)]
        return [(self.name_of(path), why) for path, why in found if why]

    def _theme_paths(self, name: str) -> Iterator[tuple[str, Path]]:
        """What lies in the folders of a theme: its path inside the folder, and on the disk."""
        shipped, own = shipped_themes(), self.themes
        if not (shipped / name).is_dir() and not (own / name).is_dir():
            return
        base = name if (shipped / name).is_dir() else DEFAULT_THEME
        folders = [shipped / "shared", shipped / base]
        if own.resolve() != shipped.resolve():  # else this is the program's own checkout
            folders += [own / "shared", own / name]
        for folder in folders:
            for path in sorted(folder.rglob("*")):
                inside = path.relative_to(folder)
                hidden = any(part.startswith((".", "#")) or part.endswith("~")
                             for part in inside.parts)  # fmt: skip
                if not hidden and (folder.parent == shipped or self.holds(path)):
                    yield inside.as_posix(), path


def unread(path: Path, inside: str) -> str:
    """Why a theme's file can't be read; empty for one that can, and for a folder."""
    if not is_text(inside):
        return "this name is not UTF-8"
    found = path.stat()
    if not stat.S_ISREG(found.st_mode) and not stat.S_ISDIR(found.st_mode):
        return "this is not a file but a pipe, a device or the like"
    large = stat.S_ISREG(found.st_mode) and found.st_size > MOST_THEME_BYTES
    return f"this is larger than {MOST_THEME_BYTES >> 20} MiB" if large else ""
