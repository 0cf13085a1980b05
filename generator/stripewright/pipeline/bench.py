"""The workbench: makes patterns one by one or in worker processes, and again only what changed."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from stripewright.pages.feed import MOST_ENTRIES, latest
from stripewright.pipeline.cache import Cache, surroundings, sweep
from stripewright.pipeline.make import PatternOutput, held, make_pattern
from stripewright.pipeline.processes import can_be_started_again, cores
from stripewright.pipeline.sources import reading
from stripewright.pipeline.store import DiskStore, MemoryStore, Spool, Store
from stripewright.problems import has_errors

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from pathlib import Path

    from stripewright.pages.cards import Card
    from stripewright.pipeline.context import Context
    from stripewright.pipeline.photos import Shelf
    from stripewright.pipeline.progress import Progress
    from stripewright.pipeline.sources import SourceFile

WORTH_A_WORKER, WORTH_A_WORKER_ON_PAPER = 75, 6
"""Patterns to make for each process: fewer are made sooner than another process starts."""
MOST_AT_ONCE = 8
"""Patterns handed to a process at once."""

Done = tuple[PatternOutput, dict[str, str]]
"""What a source gave, and path -> digest of its files, which stand in the store."""


class _Outputs:
    """What sources gave, by name; cards that the feed won't show keep what lists show."""

    def __init__(self) -> None:
        self.by_name: dict[str, Done] = {}
        self._whole: dict[str, Card] = {}

    def add(self, name: str, made: Done) -> None:
        """Take in what one source gave."""
        self.by_name[name] = made
        if made[0].card:
            self._whole[name] = made[0].card
        if len(self._whole) > 2 * MOST_ENTRIES:
            self._thin_out()

    def _thin_out(self) -> None:
        shown = {card.view.slug for card in latest(self._whole.values())}
        for name, card in [*self._whole.items()]:
            if card.view.slug not in shown:
                del self._whole[name]
                output, files = self.by_name[name]
                self.by_name[name] = replace(output, card=card.listed), files


class Workbench:
    """Where a site's files are made.

    Args:
        folder: the cache: what was made before, and where made files wait; None is memory.
        workers: processes at most; None is as many as there are cores for this program.
    """

    def __init__(self, folder: Path | None = None, workers: int | None = None) -> None:
        self.folder = folder
        self.store: Store = DiskStore(folder / "files") if folder else MemoryStore()
        self.workers = workers or cores()
        self.made = 0
        """Patterns made, not taken from the cache."""
        self._cache: Cache | None = None
        self._keys: set[str] = set()
        self._digests: set[str] = set()

    def make_all(
        self,
        sources: Sequence[SourceFile],
        context: Context,
        shelf: Shelf,
        files: Spool,
        progress: Progress,
    ) -> list[PatternOutput]:
        """Make every pattern; outputs come in the order of the sources, files go into `files`."""
        if self.folder is not None:
            around = surroundings(context)
            self._cache = Cache(self.folder, around, shelf.paths)
        done = _Outputs()
        missing: list[SourceFile] = []
        for source in sources:
            found = self._taken(source, context)
            if found:
                done.add(source.name, found)
            else:
                missing.append(source)
        progress("patterns", len(done.by_name), len(sources))
        for source, made in self._made(missing, context, shelf):
            done.add(source.name, made)
            progress("patterns", len(done.by_name), len(sources))
        self.made += len(missing)
        outputs = []
        for source in sources:
            output, digests = done.by_name[source.name]
            files.add(digests)
            self._digests.update(digests.values())
            outputs.append(output)
        return outputs

    def sweep(self) -> None:
        """Forget what this run had no use for."""
        if self.folder is not None:
            sweep(self.folder, self._keys, self._digests)

    def _taken(self, source: SourceFile, context: Context) -> Done | None:
        if self._cache is None:
            return None
        key = self._cache.key(source)
        kept = self._cache.take(key)
        if kept is None or kept.value.held != held(kept.value.published, context.options):
            return None
        self._keys.add(key)
        return kept.value, dict(kept.files)

    def _made(
        self, sources: Sequence[SourceFile], context: Context, shelf: Shelf
    ) -> Iterator[tuple[SourceFile, Done]]:
        worth = WORTH_A_WORKER_ON_PAPER if context.options.paper else WORTH_A_WORKER
        workers = min(self.workers, len(sources) // worth)
        if self._cache is None or workers < 2 or not can_be_started_again():
            for source in sources:
                yield source, make_one(source, context, shelf, self.store, self._cache)
        else:
            from stripewright.pipeline.workers import make_many  # noqa: PLC0415  # rarely needed

            # Small shares at the end keep one process from waiting for the other.
            chunk = max(1, min(MOST_AT_ONCE, len(sources) // (4 * workers)))
            yield from make_many(sources, context, shelf, self._cache, workers=workers, chunk=chunk)
        if self._cache is not None:
            self._keys |= {self._cache.key(source) for source in sources}


def make_one(
    source: SourceFile, context: Context, shelf: Shelf, store: Store, cache: Cache | None
) -> Done:
    """Make one pattern and put its files into the store; a sound one is kept in the cache."""
    with reading(source.name):
        output = make_pattern(source, context, shelf)
    bare = replace(output, files={})
    if cache is not None and not has_errors(output.problems):
        return bare, dict(cache.keep(cache.key(source), bare, output.files, output.pictures).files)
    return bare, {path: store.put(data) for path, data in output.files.items()}
