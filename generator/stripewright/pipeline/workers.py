"""Patterns made in several processes; files go into the store, only their digests travel."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stripewright.pipeline.bench import Done, make_one
from stripewright.pipeline.processes import starting, worker_pool

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
    """Make patterns in worker processes; they come in the order of the sources."""
    with worker_pool(workers, _begin, context, shelf, cache) as pool:
        with starting():
            made = pool.map(_make, sources, chunksize=chunk)
        yield from zip(sources, made, strict=True)


def _begin(context: Context, shelf: Shelf, cache: Cache) -> None:
    global _here  # noqa: PLW0603  # a process has no other place to keep what it was started with
    _here = (context, shelf, cache)


def _make(source: SourceFile) -> Done:
    assert _here is not None  # noqa: S101  # the initializer ran
    context, shelf, cache = _here
    return make_one(source, context, shelf, cache.store, cache)
