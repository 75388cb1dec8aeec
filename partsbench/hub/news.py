"""What was recorded, told to whoever waits for it: one look at the book serves all who wait."""

from __future__ import annotations

import asyncio
from typing import Any

from partsbench.hub.clerk import Clerk, Counter
from partsbench.services.acts.history import history

LONGEST_WAIT = 25.0
"""Seconds; then an empty answer says that the hub is still there."""
BEAT = 0.5
"""Seconds between two looks at the book, while somebody waits: the window writes to it too."""
MOST = 20


class News:
    """Long polling: an answer is given when there is something to tell, or after a while."""

    def __init__(self, clerk: Clerk) -> None:
        self._clerk = clerk
        self._newest = 0
        self._is_over = False
        self._waiting = 0
        self._changed: asyncio.Event | None = None
        self._looker: asyncio.Task[None] | None = None

    def told(self, newest: int) -> None:
        """Something may have been recorded up to that entry."""
        if newest != self._newest and self._changed is not None:
            self._newest = newest
            self._changed.set()
            self._changed = asyncio.Event()

    async def after(self, entry: int, wait: float = LONGEST_WAIT) -> list[dict[str, Any]]:
        """The entries after that one, oldest first; [] when none came within so long."""
        ends = asyncio.get_running_loop().time() + wait
        self._waiting += 1
        try:
            while not self._is_over:
                changed = self._changed = self._changed or asyncio.Event()
                self._look_on()
                found = await self._clerk.ask(lambda at: _entries(at, entry))
                if found:
                    return found
                try:
                    async with asyncio.timeout_at(ends):
                        await changed.wait()
                except TimeoutError:
                    return []
            return []
        finally:
            self._waiting -= 1

    def end(self) -> None:
        """Nobody waits any longer: the hub goes off."""
        self._is_over = True
        if self._changed is not None:
            self._changed.set()

    def _look_on(self) -> None:
        if self._looker is None or self._looker.done():
            self._looker = asyncio.get_running_loop().create_task(self._look())

    async def _look(self) -> None:
        while self._waiting and not self._is_over:
            self.told(await self._clerk.ask(lambda at: at.shop.book.newest()))
            await asyncio.sleep(BEAT)


def _entries(at: Counter, after: int) -> list[dict[str, Any]]:
    if at.shop.book.newest() <= after:
        return []
    found = [e for e in history(at.shop, limit=MOST) if e.id > after]
    return [
        {"id": e.id, "at": e.at.isoformat(), "who": e.who, "sentence": e.sentence, "tag": e.tag}
        for e in reversed(found)
    ]
