"""All patterns of a studio: taken from the memo, or made one by one or in several processes."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from stripewright.catalogue import N_
from stripewright.pages.feed import MOST_ENTRIES, latest
from stripewright.pipeline.processes import can_be_started_again, cores, starting, worker_pool
from stripewright.pipeline.sources import noting_file

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence

    from stripewright.pages.cards import Card
    from stripewright.pipeline.memo import Kept, Work
    from stripewright.pipeline.progress import Progress
    from stripewright.pipeline.sources import SourceFile

WORTH_A_WORKER, WORTH_A_WORKER_ON_PAPER = 75, 6
"""Patterns to make for each process: fewer are made sooner than another process starts."""
MOST_AT_ONCE = 8
"""Patterns handed to a process at once."""


class Outputs:
    """What sources gave, by name; cards that the feed won't show keep what lists show."""

    def __init__(self) -> None:
        self.by_name: dict[str, Kept] = {}
        self._whole: dict[str, Card] = {}

    def add(self, name: str, made: Kept) -> None:
        """Take in what one source gave."""
        self.by_name[name] = made
        if made.value.card:
            self._whole[name] = made.value.card
        if len(self._whole) > 2 * MOST_ENTRIES:
            for thin in not_in_feed(self._whole):
                card, kept = self._whole.pop(thin), self.by_name[thin]
                self.by_name[thin] = replace(kept, value=replace(kept.value, card=card.listed))


def not_in_feed(cards: Mapping[str, Card]) -> list[str]:
    """The names of cards that the feed won't show."""
    shown = {card.view.slug for card in latest(cards.values())}
    return [name for name, card in cards.items() if card.view.slug not in shown]


def make_all(
    sources: Sequence[SourceFile], work: Work, progress: Progress, workers: int | None = None
) -> list[Kept]:
    """Every pattern's output, in the order of the sources; only what isn't in the memo is made.

    Args:
        sources: the pattern files.
        work: what they are made with.
        progress: told how far it is.
        workers: processes at most; None is as many as there are cores for this program, 1 is this
            process alone.
    """
    done = Outputs()
    missing: list[SourceFile] = []
    for source in sources:
        kept = work.made(source)
        if kept:
            done.add(source.name, kept)
        else:
            missing.append(source)
    progress(N_("patterns"), len(done.by_name), len(sources))
    for source, made in _made(missing, work, workers or cores()):
        done.add(source.name, made)
        progress(N_("patterns"), len(done.by_name), len(sources))
    return [done.by_name[source.name] for source in sources]


def make_others(sources: Iterable[SourceFile], work: Work) -> list[Kept]:
    """The output of every source that is no pattern, here: there are few of them."""
    kept = []
    for source in sources:
        with noting_file(source.name):
            kept.append(work.made(source) or work.make(source))
    return kept


def _made(
    sources: Sequence[SourceFile], work: Work, workers: int
) -> Iterator[tuple[SourceFile, Kept]]:
    worth = WORTH_A_WORKER_ON_PAPER if work.context.options.paper else WORTH_A_WORKER
    workers = min(workers, len(sources) // worth)
    if workers < 2 or not can_be_started_again():
        yield from ((source, _made_by(work, source)) for source in sources)
        return
    # Small shares at the end keep one process from waiting for the other.
    chunk = max(1, min(MOST_AT_ONCE, len(sources) // (4 * workers)))
    yield from make_many(sources, work, workers=workers, chunk=chunk)


_here: list[Work] = []
"""What this worker makes patterns with, one; put here when the process starts."""


def make_many(
    sources: Sequence[SourceFile], work: Work, *, workers: int, chunk: int
) -> Iterator[tuple[SourceFile, Kept]]:
    """Make patterns here and in further processes; they come as they are made."""
    shares = [sources[at : at + chunk] for at in range(0, len(sources), chunk)]
    with worker_pool(workers - 1, _begin, work) as pool:
        with starting():
            tasks = [pool.submit(_make, share) for share in shares]
        # The others start at the front. From the end, this process makes what none has begun.
        while tasks:
            if tasks[0].done() or not tasks[-1].cancel():
                yield from zip(shares.pop(0), tasks.pop(0).result(), strict=True)
            else:
                tasks.pop()
                yield from ((source, _made_by(work, source)) for source in shares.pop())


def _begin(work: Work) -> None:
    _here.append(work)


def _make(share: Sequence[SourceFile]) -> list[Kept]:
    return [_made_by(_here[0], source) for source in share]


def _made_by(work: Work, source: SourceFile) -> Kept:
    with noting_file(source.name):
        return work.make(source)
