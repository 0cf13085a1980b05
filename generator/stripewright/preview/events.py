"""Tells open pages that something changed, as server-sent events."""

from __future__ import annotations

import asyncio
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import AsyncIterator

RETRY_MS = 400
"""How long a page waits before it connects again."""

STILL_HERE_S = 15.0


class Broadcast:
    """One number, counted up with each change, told to every open page.

    A page that missed some hears the last one; only that there is something new matters.
    """

    def __init__(self) -> None:
        self._loop: asyncio.AbstractEventLoop | None = None
        self._bells: dict[asyncio.Event, str] = {}
        self._version = 0
        self._closed = False

    @property
    def version(self) -> int:
        """How many changes there were."""
        return self._version

    def watched(self) -> set[str]:
        """The pages that are open, as paths from the site's root."""
        return set(self._bells.values())

    def tell(self) -> None:
        """Something changed; may be called from any thread."""
        self._version += 1
        self._ring()

    def close(self) -> None:
        """End every stream; may be called from any thread, and from a signal's handler."""
        self._closed = True
        self._ring()

    def _ring(self) -> None:
        loop = self._loop
        if loop is not None and not loop.is_closed():
            loop.call_soon_threadsafe(self._set_bells)

    def _set_bells(self) -> None:
        for bell in self._bells:
            bell.set()

    async def stream(self, page: str) -> AsyncIterator[bytes]:
        """The events for one open page; the first comes at once."""
        self._loop = asyncio.get_running_loop()
        bell = asyncio.Event()
        self._bells[bell] = page
        try:
            yield f"retry: {RETRY_MS}\n\n".encode()
            told = -1
            while not self._closed:
                if told == self._version:
                    try:
                        await asyncio.wait_for(bell.wait(), STILL_HERE_S)
                    except TimeoutError:
                        yield b": still here\n\n"
                    bell.clear()
                    continue
                told = self._version
                yield f"data: {told}\n\n".encode()
        finally:
            del self._bells[bell]
