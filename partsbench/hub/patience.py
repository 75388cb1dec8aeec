"""How long a connection may take to ask its first question."""

from __future__ import annotations

from asyncio import Transport
from typing import Any

from uvicorn.protocols.http.h11_impl import H11Protocol

FIRST_WORD = 10.0
"""Seconds: whoever has not asked anything by then only holds the line."""


class Patient(H11Protocol):
    """Closes a connection on which no whole question came within `FIRST_WORD`."""

    def connection_made(self, transport: Transport) -> None:  # type: ignore[override]
        super().connection_made(transport)
        self._first = self.loop.call_later(FIRST_WORD, self._hang_up)

    def connection_lost(self, exc: Exception | None) -> None:
        self._first.cancel()
        super().connection_lost(exc)

    def _hang_up(self) -> None:
        asked: Any = self.cycle
        if asked is None and not self.transport.is_closing():
            self.transport.close()
