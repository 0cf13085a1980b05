"""Whether Git is at work in a folder, and when it last was."""

from __future__ import annotations

import time
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pathlib import Path

LOCKED_S = 10.0
"""A lock is waited for so long; after that it is a leftover."""


class GitState:
    """Git's work in a folder, or in the one above it that holds the repository."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._lock: tuple[int, float] | None = None
        """The lock that is waited for: when it was written (ns), and when it was first seen."""

    def __call__(self) -> int | None:
        """When Git last wrote its index, in ns; None while it is at work; 0 without Git."""
        git = self._repository()
        if git is None:
            return 0
        return None if self._locked(_written(git / "index.lock")) else _written(git / "index")

    def _repository(self) -> Path | None:
        for folder in (self._folder, *self._folder.parents):
            git = folder / ".git"
            if git.is_dir():
                return git
            if git.is_file():  # a further work tree: the file names the folder
                return folder / _named_in(git)
        return None

    def _locked(self, written: int) -> bool:
        """Whether a lock is to be waited for.

        Its date alone doesn't tell its age: a clock may have been set back since. So it is waited
        for no longer than `LOCKED_S` after it was first seen either.
        """
        if not written:
            self._lock = None
            return False
        now = time.monotonic()
        if self._lock is None or self._lock[0] != written:
            self._lock = written, now
        return time.time() - written / 1e9 < LOCKED_S and now - self._lock[1] < LOCKED_S


def _named_in(file: Path) -> str:
    try:
        return file.read_text(encoding="utf-8", errors="replace").removeprefix("gitdir:").strip()
    except OSError:
        return ".git"  # it went away just now: nothing is found there either


def _written(path: Path) -> int:
    try:
        return path.stat().st_mtime_ns
    except OSError:
        return 0
