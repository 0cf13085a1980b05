"""Connections that are kept busy without a request are closed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from uvicorn.protocols.http.h11_impl import H11Protocol

if TYPE_CHECKING:
    import asyncio

HEADERS_S = 10.0
"""How long a request's head may take, from the connection or from its first byte."""


class TimedRequests(H11Protocol):
    """HTTP whose requests have to come in time, however slowly their bytes drip."""

    _limit: asyncio.TimerHandle | None = None

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]
        """Somebody connected: a request is expected."""
        super().connection_made(transport)
        self._expect()

    def data_received(self, data: bytes) -> None:
        """Part of a request came."""
        super().data_received(data)
        if self.cycle is not None and not self.cycle.response_complete:
            self._expect_nothing()  # it is whole, and being answered
        elif self._limit is None:
            self._expect()

    def connection_lost(self, exc: Exception | None) -> None:
        """The connection is closed."""
        self._expect_nothing()
        super().connection_lost(exc)

    def _expect(self) -> None:
        self._limit = self.loop.call_later(HEADERS_S, self.transport.close)

    def _expect_nothing(self) -> None:
        if self._limit is not None:
            self._limit.cancel()
            self._limit = None
