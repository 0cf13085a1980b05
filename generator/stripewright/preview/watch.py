"""Watches a studio's folders, and goes on doing so when they are removed, replaced or moved.

The system's watches hang on folders, not on their names: made anew under the same name, a folder
is not watched. So whenever a folder came or went, and whenever one is another than before (looked
at every `LOOK_S`, for what the system doesn't tell: a studio renamed, a link that leads elsewhere),
all watches are made anew and everything is read again.
"""

from __future__ import annotations

import os
import threading
import time
from pathlib import Path
from stat import S_IFMT
from typing import TYPE_CHECKING

from stripewright.catalogue import say
from stripewright.preview.debounce import GONE_S, QUIET_S, Debouncer, HandOn, is_passing
from stripewright.preview.git import GitState
from stripewright.problems import Place, Problem, error

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from watchdog.events import FileSystemEvent, FileSystemEventHandler
    from watchdog.observers.api import BaseObserver

    from stripewright.studio import Studio

LOOK_S = 0.5
"""How often it is seen to that the folders are still those that are watched."""
SETTLE_S = 0.02
"""After a folder came or went: others may follow."""

Identity = tuple[int, ...] | None
"""What tells a folder from another of its name; None where there is none."""


class Watch:
    """Watches a studio's content and themes.

    Args:
        studio: what is watched; it may come and go.
        hand_on: told the paths that changed; None among them means that anything may have.
        trouble: told why folders can't be watched; None once they can.
    """

    def __init__(
        self, studio: Studio, hand_on: HandOn, trouble: Callable[[Problem | None], None]
    ) -> None:
        self._studio = studio
        self._areas = (studio.content, studio.themes)
        self._trouble = trouble
        self._debouncer = Debouncer(hand_on, GitState(studio.root))
        self._observer: BaseObserver | None = None
        self._watched: dict[Path, Identity] = {}
        self._opening_is_told = False
        self._differs = threading.Event()
        self._stopped = False
        self._thread = threading.Thread(target=self._run, name="watch", daemon=True)

    def start(self) -> None:
        """Begin to watch; changes from now on are told. Raises OSError."""
        self._renew()
        self._debouncer.start()
        self._thread.start()

    def stop(self) -> None:
        """End; returns when all threads are gone."""
        self._stopped = True
        self._differs.set()
        self._thread.join()
        self._close(self._observer)
        self._debouncer.stop()

    # ---- the watches --------------------------------------------------------------------------

    def _run(self) -> None:
        failed = False
        while True:
            told = self._differs.wait(LOOK_S)
            if self._stopped:
                return
            if not told and not failed and self._as_before():
                continue
            time.sleep(SETTLE_S)
            self._differs.clear()
            try:
                self._renew()
            except OSError as fault:
                failed = True
                self._trouble(_unwatched(self._studio, fault))
            else:
                if failed:
                    self._trouble(None)
                failed = False
            self._debouncer.anything()

    def _as_before(self) -> bool:
        alive = self._observer is not None and self._observer.is_alive()
        return alive and all(_identity(path) == was for path, was in self._watched.items())

    def _renew(self) -> None:
        """Watch what is there now; what changed before that has to be read."""
        from watchdog.observers import Observer

        self._watched = {path: _identity(path) for path in (self._studio.root, *self._areas)}
        observer = Observer()
        try:
            observer.start()
            if self._watched[self._studio.root]:
                self._schedule(observer, self._studio.root, recursive=False)
            for area in self._areas:
                if area.is_dir() and self._studio.holds(area):
                    self._schedule(observer, area, recursive=True)
                    for folder in self._folders(area, (area.resolve(),)):
                        self._watched[folder] = _identity(folder)
                        if folder.is_symlink():
                            self._schedule(observer, folder, recursive=True)
        except (FileNotFoundError, NotADirectoryError):
            pass  # it went away meanwhile, so that the next look finds it another than before
        except OSError:
            self._close(observer)
            raise
        old, self._observer = self._observer, observer
        self._close(old)

    def _schedule(self, observer: BaseObserver, folder: Path, *, recursive: bool) -> None:
        real = folder.resolve()
        observer.schedule(_handler(self, real, folder), str(real), recursive=recursive)

    def _folders(self, folder: Path, above: tuple[Path, ...]) -> Iterator[Path]:
        """All folders in one, those that links inside the studio lead to as well."""
        try:
            inside = sorted(entry.name for entry in os.scandir(folder) if entry.is_dir())
        except OSError:
            return  # as above
        for path in (folder / name for name in inside):
            real = path.resolve()
            if real not in above and self._studio.holds(path):
                yield path
                yield from self._folders(path, (*above, real))

    @staticmethod
    def _close(observer: BaseObserver | None) -> None:
        if observer is not None:
            observer.stop()
            observer.join()

    # ---- what happens in them -----------------------------------------------------------------

    def took(self, event: FileSystemEvent, named: Callable[[bytes | str], Path]) -> None:
        """One event of the file system; `named` gives a path the studio's name for it."""
        kind, folder = event.event_type, event.is_directory
        source = named(event.src_path)
        if kind == "opened":
            self._opening_is_told = True
            self._debouncer.opened(source)
        elif kind in ("closed", "closed_no_write"):
            self._debouncer.closed(source)
            if kind == "closed":
                self._path_changed(source, kind, folder=folder)
        elif kind == "moved":
            target = named(event.dest_path)
            # Moved to a backup's name, the file is about to come back.
            gone_s = GONE_S if is_passing(target.name) else QUIET_S
            self._path_changed(source, "deleted", gone_s, folder=folder)
            self._path_changed(target, "created", folder=folder)
        else:
            # Told as modified but not open, a file has another owner, right or time.
            touched = kind in ("modified", "attrib") and self._opening_is_told
            quiet_s = QUIET_S if touched else GONE_S
            self._path_changed(source, kind, quiet_s, folder=folder, whole=kind == "deleted")

    def _path_changed(
        self, path: Path, kind: str, quiet_s: float = QUIET_S, *, folder: bool, whole: bool = True
    ) -> None:
        came_or_went = kind in ("created", "deleted")
        if path in self._watched:
            # Also where a file or a link stands now: the name is that of a watched folder.
            if came_or_went:
                self._differs.set()
        elif not any(path.is_relative_to(area) for area in self._areas) or is_passing(path.name):
            return
        elif folder:
            if came_or_went:
                self._differs.set()
        else:
            if came_or_went and path.is_dir():  # a link to a folder
                self._differs.set()
            self._debouncer.add(path, quiet_s, whole=whole)


def _identity(path: Path) -> Identity:
    """Two folders of one name differ in it; so does a link from what it leads to."""
    try:
        led_to, itself = path.stat(), path.lstat()
    except OSError:
        return None
    return led_to.st_dev, led_to.st_ino, S_IFMT(led_to.st_mode), itself.st_ino


def _unwatched(studio: Studio, fault: OSError) -> Problem:
    name = studio.name_of(Path(fault.filename)) if fault.filename else "content"
    return error(
        Place(name),
        say("this can't be watched for saves: {strerror}", fault.strerror or fault),
        "what was saved last shows once it can be; it is tried over and over",
    )


def _handler(watch: Watch, real: Path, folder: Path) -> FileSystemEventHandler:
    from watchdog import events

    def named(told: bytes | str) -> Path:
        path = Path(os.fsdecode(told))
        return folder / path.relative_to(real) if path.is_relative_to(real) else path

    class Handler(events.FileSystemEventHandler):
        def on_any_event(self, event: FileSystemEvent) -> None:
            watch.took(event, named)

    return Handler()
