"""Changed paths, gathered until the disk is quiet and then handed on once.

An editor may write aside and rename, or empty the file and fill it; a tool may change 200 files at
once. A file that is being written is waited for until it is closed; one that vanished, until it is
back or clearly gone; Git, until it is done. What Git did is then read as a whole: the last of its
changes may be told long after it, on a busy machine.
"""

from __future__ import annotations

import re
import threading
import time
from collections import Counter
from collections.abc import Callable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pathlib import Path

HandOn = Callable[[set["Path | None"]], None]

QUIET_S = 0.01
"""After a file is whole: an editor's next event of the same save comes well before."""
AGAIN_S = 0.06
"""The same, shortly after the last time or among many files: a burst is told once."""
GONE_S = 0.2
"""While a file is gone, or where the system doesn't tell which files are open."""
OPEN_S = 2.0
"""While a file is open."""
_MANY = 8
ALL = 1000
"""So many paths at once are read as everything: the system may have dropped some of the changes."""

_PASSING = re.compile(
    r"^[.#~]|^\d+$|~$|\.(sw[a-z]|te?mp|bak|orig|part|crdownload|lock)$|\.tmp\.|___jb_",
    re.IGNORECASE,
)
"""Names of working and backup files: hidden, #name#, ~name, 4913, name~, .swp, .tmp and so on."""


def is_passing(name: str) -> bool:
    """Whether a file of that name is an editor's or a tool's, not the author's."""
    return _PASSING.search(name) is not None


class Debouncer:
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
        self._thread = threading.Thread(target=self._run, name="debounce", daemon=True)

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

    def anything(self) -> None:
        """Anything may have changed, and the closing of any file may have gone untold."""
        with self._news:
            self._open.clear()
        self.add(None)

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
        many = len(self._quiet) > _MANY or self._last - self._told < 4 * AGAIN_S
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
            if done != self._done or len(paths) > ALL:
                self._done = done
                paths.add(None)
            self._hand_on(paths)
            self._told = time.monotonic()
