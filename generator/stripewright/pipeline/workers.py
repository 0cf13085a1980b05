"""Patterns made in several processes; files go into the store, only their digests travel."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stripewright.pipeline.processes import starting, worker_pool
from stripewright.pipeline.sources import noting_file

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from stripewright.pipeline.memo import Kept, Work
    from stripewright.pipeline.sources import SourceFile

_here: Work | None = None
"""What this worker makes patterns with; set once, when the process starts."""


def make_many(
    sources: Sequence[SourceFile], work: Work, *, workers: int, chunk: int
) -> Iterator[tuple[SourceFile, Kept]]:
    """Make patterns in worker processes; they come in the order of the sources."""
    with worker_pool(workers, _begin, work) as pool:
        with starting():
            made = pool.map(_make, sources, chunksize=chunk)
        yield from zip(sources, made, strict=True)


def _begin(work: Work) -> None:
    global _here  # noqa: PLW0603  # a process has no other place to keep what it was started with
    _here = work


def _make(source: SourceFile) -> Kept:
    assert _here is not None  # noqa: S101  # the initializer ran
    with noting_file(source.name):
        return _here.make(source)
