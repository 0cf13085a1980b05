"""Every call that publishing makes to the file system, each a numbered step for tests to break.

A test's own `Disk` overrides `step` to count, to kill the process or to raise, and so can stop a
publish at any point it may ever stop at.
"""

from __future__ import annotations

import errno
import os
import stat
import sys
from typing import TYPE_CHECKING

from stripewright.catalogue import say
from stripewright.problems import Place, Problem, error

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

MANY_FILES = 48
"""Files above which one `sync` of the system costs less than a `fsync` each."""

_NOFOLLOW = getattr(os, "O_NOFOLLOW", 0)
_BINARY = getattr(os, "O_BINARY", 0)


class Disk:
    """The file system. No method follows a symbolic link at the end of a path."""

    def step(self, what: str, path: Path) -> None:
        """Called before each step is done; tests override it."""

    def kind(self, path: Path) -> str:
        """What stands at a path: "file", "folder", "link", "other", or "" for nothing."""
        self.step("look", path)
        try:
            mode = path.lstat().st_mode
        except FileNotFoundError:
            return ""
        if stat.S_ISLNK(mode):
            return "link"
        if stat.S_ISDIR(mode):
            return "folder"
        return "file" if stat.S_ISREG(mode) else "other"

    def entries(self, folder: Path) -> list[tuple[str, str]]:
        """Names in a folder with what they are ("file", "folder", "link", "other"), sorted."""
        self.step("list", folder)
        found = []
        with os.scandir(folder) as entries:
            for entry in entries:
                if entry.is_symlink():
                    kind = "link"
                elif entry.is_dir(follow_symlinks=False):
                    kind = "folder"
                else:
                    kind = "file" if entry.is_file(follow_symlinks=False) else "other"
                found.append((entry.name, kind))
        return sorted(found)

    def read(self, path: Path) -> bytes:
        """A file's bytes."""
        self.step("read", path)
        with os.fdopen(os.open(path, os.O_RDONLY | _NOFOLLOW | _BINARY), "rb") as file:
            return file.read()

    def same(self, path: Path, data: bytes) -> bool:
        """Whether a file holds exactly these bytes; its size is asked first."""
        self.step("compare", path)
        with os.fdopen(os.open(path, os.O_RDONLY | _NOFOLLOW | _BINARY), "rb") as file:
            return os.fstat(file.fileno()).st_size == len(data) and file.read() == data

    def make_folder(self, path: Path) -> None:
        """Make one folder whose parent is there."""
        self.step("make folder", path)
        path.mkdir()

    def write(self, path: Path, data: bytes) -> None:
        """Write a file that is not there yet."""
        self.step("create", path)
        flags = os.O_WRONLY | os.O_CREAT | os.O_EXCL | _NOFOLLOW | _BINARY
        with os.fdopen(os.open(path, flags, 0o666), "wb", buffering=0) as file:
            self.step("write", path)
            rest = memoryview(data)
            while rest:
                rest = rest[file.write(rest) :]

    def settle(self, paths: Sequence[Path]) -> None:
        """Return once files or folders are safe from a loss of power."""
        if not paths:
            return
        self.step("settle", paths[0])
        if len(paths) > MANY_FILES and sys.platform == "linux":
            os.sync()  # elsewhere it may return before the bytes are down
            return
        for path in paths:
            if path.is_dir() and os.name == "nt":
                continue  # Windows opens no folders, and needs none settled
            handle = os.open(path, os.O_RDONLY)
            try:
                os.fsync(handle)
            except OSError as fault:
                if fault.errno != errno.EINVAL:  # some network drives know no such thing
                    raise
            finally:
                os.close(handle)

    def move(self, source: Path, target: Path) -> None:
        """Put a file in another's place, at once."""
        self.step("move", target)
        source.replace(target)

    def one_file(self, path: Path, other: Path) -> bool:
        """Whether two names are one and the same file."""
        self.step("compare", path)
        return path.samefile(other)

    def remove(self, path: Path) -> None:
        """Remove a file."""
        self.step("remove", path)
        path.unlink()

    def remove_folder(self, path: Path) -> bool:
        """Remove a folder if nothing is in it; say whether it was."""
        self.step("remove folder", path)
        if any(path.iterdir()):
            return False
        path.rmdir()
        return True


def failure(fault: OSError, place: Place) -> Problem:
    """What the file system refused, as a problem."""
    if fault.errno in (errno.ENOSPC, errno.EDQUOT, errno.EFBIG):
        return error(place, "the disk is full", "nothing is lost: make room, then start again")
    if fault.errno in (errno.EACCES, errno.EPERM, errno.EROFS):
        hint = say("give yourself the right to read and write there, or name another folder")
        return error(place, "this may not be read or written", hint)
    hint = say("nothing is lost: see to the disk, then start again")
    return error(place, say("the disk failed: {strerror}", fault.strerror or fault), hint)
