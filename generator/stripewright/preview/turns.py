"""One thing at a time, and what someone waits for goes first."""

from __future__ import annotations

import threading
import time
from contextlib import contextmanager
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator

_STEP_BACK_S = 0.002
_PATIENCE_S = 0.1
"""A page asked for over and over may not hold the background up for good."""


class Turns:
    """A lock in which work in the background stands aside for saves and open pages."""

    def __init__(self) -> None:
        self._lock = threading.RLock()
        self._count = threading.Lock()
        self._waiting = 0

    @contextmanager
    def first(self) -> Iterator[None]:
        """Hold the lock, before any work in the background."""
        with self._count:
            self._waiting += 1
        try:
            with self._lock:
                yield
        finally:
            with self._count:
                self._waiting -= 1

    @contextmanager
    def after_others(self) -> Iterator[None]:
        """Hold the lock once nobody waits for it, or after a while of standing aside."""
        end = time.monotonic() + _PATIENCE_S
        while self._waiting and time.monotonic() < end:
            time.sleep(_STEP_BACK_S)
        with self._lock:
            yield
