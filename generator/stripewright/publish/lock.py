"""One publish at a time in a folder."""

from __future__ import annotations

import os
import time
from contextlib import contextmanager
from typing import TYPE_CHECKING

from stripewright.problems import Place, Refused, error

try:
    import fcntl
except ImportError:  # Windows has no locks on folders; there, two at once are the user's to avoid
    fcntl = None  # type: ignore[assignment]

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

PATIENCE_S = 10.0
_LOOK_AGAIN_S = 0.05


@contextmanager
def only_one(folder: Path, patience_s: float = PATIENCE_S) -> Iterator[None]:
    """Hold a folder for one run; the system lets go of it however the run ends.

    Args:
        folder: it must be there. The lock leaves nothing in it.
        patience_s: how long another run is waited for.

    Raises:
        Refused: another run still holds it.
    """
    if fcntl is None:
        yield
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        end = time.monotonic() + patience_s
        while not _taken(handle):
            if time.monotonic() >= end:
                raise Refused(
                    [
                        error(
                            Place(str(folder)),
                            "another run is writing here",
                            "wait until it is done, then start again",
                        )
                    ]
                )
            time.sleep(_LOOK_AGAIN_S)
        yield
    finally:
        os.close(handle)


def _taken(handle: int) -> bool:
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        return False
    return True
