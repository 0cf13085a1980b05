"""Saves, as editors make them -> the paths that changed, told once each time the disk is quiet.

An editor may write aside and rename, or empty the file and fill it; a tool may change 200 files at
once. A file that is being written is waited for until it is closed; one that vanished, until it is
back or clearly gone.
"""

from __future__ import annotations

import os
import re
import threading
import time
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
OPEN_S = 0.2
"""While a file is open or gone."""
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
        busy: whether a tool is known to be in the middle of something.
    """

    def __init__(self, hand_on: HandOn, busy: Callable[[], bool]) -> None:
        self._hand_on = hand_on
        self._busy = busy
        self._news = threading.Condition()
        self._whole: dict[Path | None, bool] = {}
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

    def add(self, path: Path | None, *, whole: bool) -> None:
        """A path changed; `whole` when it is known to be closed."""
        with self._news:
            self._whole[path] = whole
            self._last = time.monotonic()
            self._news.notify()

    def _due(self) -> float:
        """When the gathered paths may be handed on."""
        if not all(self._whole.values()):
            return self._last + OPEN_S
        many = len(self._whole) > MANY or self._last - self._told < 4 * AGAIN_S
        return self._last + (AGAIN_S if many else QUIET_S)

    def _run(self) -> None:
        while True:
            with self._news:
                while not self._stopped and not self._whole:
                    self._news.wait()
                if self._stopped:
                    return
                wait = self._due() - time.monotonic()
                if wait > 0:
                    self._news.wait(wait)
                    continue
            if self._busy():
                time.sleep(QUIET_S)
                with self._news:
                    # The last of a tool's changes are told after it is done: quiet begins then.
                    self._last = time.monotonic()
                continue
            with self._news:
                if self._due() > time.monotonic():
                    continue
                paths, self._whole = set(self._whole), {}
            self._hand_on(paths)
            self._told = time.monotonic()


class Watch:
    """Watches a studio's content and themes."""

    def __init__(self, studio: Studio, hand_on: HandOn) -> None:
        from watchdog.observers import Observer  # noqa: PLC0415  # only the preview pays for it

        self._studio = studio
        self._observer = Observer()
        self._gatherer = Gatherer(hand_on, self._git_is_at_work)
        self._watched: set[Path] = set()

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

    def _git_is_at_work(self) -> bool:
        for folder in (self._studio.root, *self._studio.root.parents):
            lock = folder / ".git/index.lock"
            try:
                return time.time() - lock.stat().st_mtime < LOCKED_S
            except OSError:
                if (folder / ".git").is_dir():
                    return False
        return False

    def took(self, event: FileSystemEvent) -> None:
        """One event of the file system."""
        kind = event.event_type
        if kind in ("opened", "closed_no_write"):
            return  # our own reading
        source = Path(os.fsdecode(event.src_path))
        folder = event.is_directory
        if kind != "moved":
            self._path_changed(source, kind, folder=folder, whole=kind == "closed")
            return
        target = Path(os.fsdecode(event.dest_path))
        # Moved to a backup's name, the file is about to come back.
        self._path_changed(source, "deleted", folder=folder, whole=not is_passing(target.name))
        self._path_changed(target, "created", folder=folder, whole=True)

    def _path_changed(self, path: Path, kind: str, *, folder: bool, whole: bool) -> None:
        watched = (self._studio.content, self._studio.themes)
        if path in watched:
            if kind == "deleted":
                self._watched.discard(path)
            self._watch_folders()
            if kind != "modified":
                self._gatherer.add(None, whole=True)
        elif not any(path.is_relative_to(parent) for parent in watched) or is_passing(path.name):
            return
        elif folder:
            if kind != "modified":
                self._gatherer.add(None, whole=True)
        else:
            self._gatherer.add(path, whole=whole)


def _handler(watch: Watch) -> FileSystemEventHandler:
    from watchdog import events  # noqa: PLC0415  # as above

    class Handler(events.FileSystemEventHandler):
        def on_any_event(self, event: FileSystemEvent) -> None:
            watch.took(event)

    return Handler()
