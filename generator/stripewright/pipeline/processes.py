"""Worker processes that end with the program that started them, however that ends."""

from __future__ import annotations

import gc
import os
import signal
import sys
import threading
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from concurrent.futures import ProcessPoolExecutor
    from multiprocessing.connection import Connection
    from types import FrameType

    Handler = Callable[[int, FrameType | None], Any] | int | signal.Handlers | None

ENDING = tuple(
    getattr(signal, name) for name in ("SIGINT", "SIGTERM", "SIGHUP") if hasattr(signal, name)
)
"""Signals that end a program."""


MANY_OBJECTS = 50_000
"""New objects after which garbage is looked for: a pattern leaves few in circles."""


@contextmanager
def collecting_seldom() -> Iterator[None]:
    """Look for circles of garbage more seldom, while many patterns are made."""
    before = gc.get_threshold()
    gc.set_threshold(MANY_OBJECTS, *before[1:])
    try:
        yield
    finally:
        gc.set_threshold(*before)


def cores() -> int:
    """Cores that this program may use; os.cpu_count would count those of others too."""
    affinity = getattr(os, "sched_getaffinity", None)
    return len(affinity(0)) if affinity else os.cpu_count() or 1


def can_be_started_again() -> bool:
    """Whether a worker process finds the program that it belongs to.

    It runs that program's file first, and would wait for ever for one read from standard input.
    """
    path = getattr(sys.modules["__main__"], "__file__", None)
    return path is None or Path(path).is_file()


@contextmanager
def worker_pool(
    workers: int, begin: Callable[..., None] | None = None, *given: Any
) -> Iterator[ProcessPoolExecutor]:
    """Processes to hand work to; after anything but a good end they are gone at once.

    Processes are spawned, not forked: the typesetter's threads don't survive a fork. Each watches
    a pipe whose other end is held here alone. It is closed in the end, by whatever ends this
    program if need be (KILL leaves no time for anything).

    Args:
        workers: how many.
        begin: called in each process before its first task.
        given: what it is called with.
    """
    from concurrent.futures import ProcessPoolExecutor
    from multiprocessing import get_context

    context = get_context("spawn")
    reader, writer = context.Pipe(duplex=False)
    pool = ProcessPoolExecutor(workers, context, _begin, (reader, begin, given))
    with _ended_by_exceptions():
        try:
            yield pool
        except BaseException:
            writer.close()
            # A process that went in the middle of an answer leaves the pool to wait for the rest
            # of it for as long as this end of their pipe is open, too: the library closes none.
            pool._result_queue._writer.close()  # type: ignore[attr-defined]  # noqa: SLF001
            pool.shutdown(cancel_futures=True)
            raise
        finally:
            pool.shutdown(cancel_futures=True)
            writer.close()
            reader.close()


@contextmanager
def starting() -> Iterator[None]:
    """Where a pool is given its tasks, and so starts its processes.

    A process that starts hears no Ctrl-C (a terminal sends it to all of them): this program ends
    it. A signal that would end this program waits until what a process needs to start is sent.
    """
    waiting: list[int] = []
    handlers: dict[int, Handler] = {}
    if threading.current_thread() is threading.main_thread():
        for number in ENDING:
            handlers[number] = signal.getsignal(number)
            if handlers[number] != signal.SIG_IGN:
                signal.signal(number, lambda number, _frame: waiting.append(number))
    masks = hasattr(signal, "pthread_sigmask")
    before = signal.pthread_sigmask(signal.SIG_BLOCK, ENDING) if masks else set()
    try:
        yield
    finally:
        if masks:
            signal.pthread_sigmask(signal.SIG_SETMASK, before)
        for number, handler in handlers.items():
            signal.signal(number, handler)
        for number in waiting[:1]:
            signal.raise_signal(number)


@contextmanager
def _ended_by_exceptions() -> Iterator[None]:
    """Let a signal that would kill this program end it in order; Ctrl-C does already."""
    taken = []
    if threading.current_thread() is threading.main_thread():
        taken = [one for one in ENDING if signal.getsignal(one) == signal.SIG_DFL]
        for number in taken:
            signal.signal(number, _exit)
    try:
        yield
    finally:
        for number in taken:
            signal.signal(number, signal.SIG_DFL)


def _exit(number: int, _frame: FrameType | None) -> None:
    raise SystemExit(128 + number)


def _begin(reader: Connection, begin: Callable[..., None] | None, given: tuple[Any, ...]) -> None:
    """In a worker process: first of all."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    gc.set_threshold(MANY_OBJECTS)
    threading.Thread(target=_end_with, args=(reader,), name="end", daemon=True).start()
    if hasattr(signal, "pthread_sigmask"):
        signal.pthread_sigmask(signal.SIG_UNBLOCK, ENDING)
    if begin:
        begin(*given)


def _end_with(reader: Connection) -> None:
    """End this process, in the middle of whatever it does, when the other one is gone."""
    from multiprocessing.connection import wait

    wait([reader])
    os._exit(1)
