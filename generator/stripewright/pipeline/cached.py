"""The memo of a publish: the studio's cache, or a folder for this run alone."""

from __future__ import annotations

import tempfile
from contextlib import ExitStack, contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from stripewright.pipeline.cache import DiskMemo
from stripewright.pipeline.store import DiskStore
from stripewright.problems import Refused
from stripewright.publish.lock import only_one
from stripewright.studio import is_named

if TYPE_CHECKING:
    from collections.abc import Iterator

    from stripewright.studio import Studio


@contextmanager
def disk_memo(studio: Studio) -> Iterator[DiskMemo]:
    """The memo for one publish.

    A studio that can't be written to, or whose cache another run is using, gets a folder that is
    thrown away afterwards: slower, and otherwise the same.
    """
    with ExitStack() as stack:
        folder = _own_folder(studio, stack)
        if folder is None:
            away = tempfile.TemporaryDirectory(prefix="stripewright-", ignore_cleanup_errors=True)
            folder = Path(stack.enter_context(away))
        memo = DiskMemo(folder)
        stack.callback(memo.store.close)
        yield memo


def _own_folder(studio: Studio, stack: ExitStack) -> Path | None:
    folder = studio.cache
    if not all(studio.holds(folder / inside) for inside in ("", DiskStore.NAME)):
        return None
    try:
        folder.mkdir(parents=True, exist_ok=True)
        ignored = folder.parent / ".gitignore"
        if not is_named(ignored):
            ignored.write_text("*\n", encoding="utf-8")
        stack.enter_context(only_one(folder, patience_s=0))
    except (OSError, Refused):
        return None
    return folder
