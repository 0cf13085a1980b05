"""Saves, as editors make them -> the paths that changed, told once each time the disk is quiet.

An editor may write aside and rename, or empty the file and fill it; a tool may change 200 files at
once. A file that is being written is waited for until it is closed; one that vanished, until it is
back or clearly gone; Git, until it is done. What Git did is then read as a whole: the last of its
changes may be told long after it, on a busy machine.
"""

from __future__ import annotations

import os
import re
import threading
import time
from collections import Counter
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from watchdog.events import FileSystemEvent, FileSystemEventHandler

    from stripewright.studio import Studio

HandOn = Callable[[set["Path | None"]], None]

QUIET_S = 0.01
"""After a file is whole: an editor's next event of the same save comes well before."""
AGAIN_S = 0.06
"""The same, shortly after the last time or among many files: a burst is told once."""
GONE_S = 0.2
"""While a file is gone, or where the system doesn't tell which files are open."""
OPEN_S = 2.0
"""While a file is open."""
MANY = 8
LOCKED_S = 10.0
"""A Git lock older than this is a leftover and no longer waited for."""

_PASSING = re.compile(
    r"^[.#~]|^\d+$|~$|\.(sw[a-z]|te?mp|bak|orig|part|crdownload|lock)$|\.tmp\.|___jb_",
    re.IGNORECASE,
)
"""Names of working and backup files: hidden, #name#, ~name, 4913, name~, .swp, .tmp and so on."""


def is_passing(name: str) -> bool:
    """Whether a file of that name is an editor's or a tool's, not the author's."""
    return _PASSING.search(name) is not None


class Gatherer:
    """Gathers changed paths and hands them on when it is quiet, on a thread of its own.

    Args:
        hand_on: told the paths; None among them means that anything may have changed.
        tool: None while a tool is in the middle of something; else what differs after it was.
    """

    def __init__(self, hand_on: HandOn, tool: Callable[[], object]) -> None:
        self._hand_on = hand_on
        self._tool = tool
        self._done = tool()
        self._news = threading.Condition()
        self._quiet: dict[Path | None, float] = {}
        """How long it has to be quiet for each path that changed."""
        self._unsure: set[Path | None] = set()
        """Those of them that may be half written, if they are open."""
        self._open: Counter[Path | None] = Counter()
        self._last = 0.0
        self._told = 0.0
        self._stopped = False
        self._thread = threading.Thread(target=self._run, name="gather", daemon=True)

    def start(self) -> None:
        """Begin."""
        self._thread.start()

    def stop(self) -> None:
        """End; returns when the thread is gone."""
        with self._news:
            self._stopped = True
            self._news.notify()
        self._thread.join()

    def add(self, path: Path | None, quiet_s: float = QUIET_S, *, whole: bool = True) -> None:
        """A path changed; it may be told after so long a quiet, or if not whole, once closed."""
        with self._news:
            self._quiet[path] = quiet_s
            (self._unsure.discard if whole else self._unsure.add)(path)
            self._last = time.monotonic()
            self._news.notify()

    def opened(self, path: Path) -> None:
        """Somebody opened a file, to read or to write."""
        with self._news:
            self._open[path] += 1

    def closed(self, path: Path) -> None:
        """Somebody closed a file."""
        with self._news:
            self._open[path] -= 1
            if self._open[path] <= 0:
                del self._open[path]
            if path in self._unsure:
                self._news.notify()

    def _due(self) -> float:
        """When the gathered paths may be handed on."""
        many = len(self._quiet) > MANY or self._last - self._told < 4 * AGAIN_S
        open_s = 0.0 if self._unsure.isdisjoint(self._open) else OPEN_S
        return self._last + max(*self._quiet.values(), open_s, AGAIN_S if many else QUIET_S)

    def _run(self) -> None:
        while True:
            with self._news:
                while not self._stopped and not self._quiet:
                    self._news.wait()
                if self._stopped:
                    return
                wait = self._due() - time.monotonic()
                if wait > 0:
                    self._news.wait(wait)
                    continue
            done = self._tool()
            if done is None:
                time.sleep(QUIET_S)
                continue
            with self._news:
                if self._due() > time.monotonic():
                    continue
                paths, self._quiet, self._unsure = set(self._quiet), {}, set()
            if done != self._done:
                self._done = done
                paths.add(None)
            self._hand_on(paths)
            self._told = time.monotonic()


class Watch:
    """Watches a studio's content and themes."""

    def __init__(self, studio: Studio, hand_on: HandOn) -> None:
        from watchdog.observers import Observer  # noqa: PLC0415  # only the preview pays for it

        self._studio = studio
        self._observer = Observer()
        self._gatherer = Gatherer(hand_on, self._git)
        self._watched: set[Path] = set()
        self._opening_is_told = False

    def start(self) -> None:
        """Begin to watch; changes from now on are told."""
        self._observer.start()
        self._watch(self._studio.root, recursive=False)
        self._watch_folders()
        self._gatherer.start()

    def stop(self) -> None:
        """End; returns when all threads are gone."""
        self._observer.stop()
        self._observer.join()
        self._gatherer.stop()

    def _watch(self, folder: Path, *, recursive: bool) -> None:
        handler = _handler(self)
        self._observer.schedule(handler, str(folder), recursive=recursive)

    def _watch_folders(self) -> None:
        """Watch content and themes, once they are there."""
        for folder in (self._studio.content, self._studio.themes):
            if folder not in self._watched and folder.is_dir() and self._studio.holds(folder):
                self._watched.add(folder)
                self._watch(folder, recursive=True)

    def _git(self) -> float | None:
        """When Git last wrote its index; None while it is at work."""
        for folder in (self._studio.root, *self._studio.root.parents):
            git = folder / ".git"
            if git.is_dir():
                locked = _written(git / "index.lock")
                return None if time.time() - locked < LOCKED_S else _written(git / "index")
        return 0.0

    def took(self, event: FileSystemEvent) -> None:
        """One event of the file system."""
        kind, folder = event.event_type, event.is_directory
        source = Path(os.fsdecode(event.src_path))
        if kind == "opened":
            self._opening_is_told = True
            self._gatherer.opened(source)
        elif kind in ("closed", "closed_no_write"):
            self._gatherer.closed(source)
            if kind == "closed":
                self._path_changed(source, kind, folder=folder)
        elif kind == "moved":
            target = Path(os.fsdecode(event.dest_path))
            # Moved to a backup's name, the file is about to come back.
            gone_s = GONE_S if is_passing(target.name) else QUIET_S
            self._path_changed(source, "deleted", gone_s, folder=folder)
            self._path_changed(target, "created", folder=folder)
        else:
            # Told as modified but not open, a file has another owner, right or time.
            touched = kind == "modified" and self._opening_is_told
            quiet_s = QUIET_S if touched else GONE_S
            self._path_changed(source, kind, quiet_s, folder=folder, whole=kind == "deleted")

    def _path_changed(
        self, path: Path, kind: str, quiet_s: float = QUIET_S, *, folder: bool, whole: bool = True
    ) -> None:
        watched = (self._studio.content, self._studio.themes)
        if path in watched:
            if kind == "deleted":
                self._watched.discard(path)
            self._watch_folders()
            if kind != "modified":
                self._gatherer.add(None)
        elif not any(path.is_relative_to(parent) for parent in watched) or is_passing(path.name):
            return
        elif folder:
            if kind != "modified":
                self._gatherer.add(None)
        else:
            self._gatherer.add(path, quiet_s, whole=whole)


def _written(path: Path) -> float:
    try:
        return path.stat().st_mtime
    except OSError:
        return 0.0


def _handler(watch: Watch) -> FileSystemEventHandler:
    from watchdog import events  # noqa: PLC0415  # as above

    class Handler(events.FileSystemEventHandler):
        def on_any_event(self, event: FileSystemEvent) -> None:
            watch.took(event)

    return Handler()
