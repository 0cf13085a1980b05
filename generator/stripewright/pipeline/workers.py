"""Patterns made in several processes; files go into the store, only their digests travel."""

from __future__ import annotations

from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context
from typing import TYPE_CHECKING

from stripewright.pipeline.bench import Done, make_one

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from stripewright.pipeline.cache import Cache
    from stripewright.pipeline.context import Context
    from stripewright.pipeline.photos import Shelf
    from stripewright.pipeline.sources import SourceFile

_here: tuple[Context, Shelf, Cache] | None = None
"""What this worker makes patterns with; set once, when the process starts."""


def make_many(
    sources: Sequence[SourceFile],
    context: Context,
    shelf: Shelf,
    cache: Cache,
    *,
    workers: int,
    chunk: int,
) -> Iterator[tuple[SourceFile, Done]]:
    """Make patterns in worker processes; they come in the order of the sources.

    Processes are spawned, not forked: the typesetter's threads don't survive a fork.
    """
    with ProcessPoolExecutor(
        workers, get_context("spawn"), initializer=_begin, initargs=(context, shelf, cache)
    ) as pool:
        try:
            yield from zip(sources, pool.map(_make, sources, chunksize=chunk), strict=True)
        except BaseException:
            pool.shutdown(cancel_futures=True)
            raise


def _begin(context: Context, shelf: Shelf, cache: Cache) -> None:
    global _here  # noqa: PLW0603  # a process has no other place to keep what it was started with
    _here = (context, shelf, cache)


def _make(source: SourceFile) -> Done:
    assert _here is not None  # noqa: S101  # the initializer ran
    context, shelf, cache = _here
    return make_one(source, context, shelf, cache.store, cache)
