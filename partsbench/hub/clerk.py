"""The one who has the book: a thread of its own that opens it, asks it and writes to it."""

from __future__ import annotations

import asyncio
import contextlib
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import TypeVar

from partsbench.core.outcomes import Done, Refused
from partsbench.hub.hand import DeviceHand
from partsbench.services.heard import devices
from partsbench.services.heard.devices import Device
from partsbench.services.shop import Shop, open_shop

T = TypeVar("T")


@dataclass
class Counter:
    """The open book, and the hand of each device that is at the bench."""

    shop: Shop
    hands: dict[int, DeviceHand] = field(default_factory=dict)

    def hand(self, device: Device) -> DeviceHand:
        found = self.hands.get(device.id)
        if found is None:
            found = self.hands[device.id] = DeviceHand(self.shop, device)
        found.device = device
        return found

    def throw_out(self, number: int) -> Done | Refused:
        said = devices.throw_out(self.shop, number)
        if isinstance(said, Done):
            self.hands.pop(number, None)
        return said


class Clerk:
    """Asks come in from any thread and are done one after the other."""

    def __init__(self, book: Path, clock: Callable[[], datetime], who: str = "") -> None:
        self._book = book
        self._clock = clock
        self._who = who
        self._worker = ThreadPoolExecutor(1, thread_name_prefix="hub-book")
        self._counter: Counter | None = None

    def open(self) -> Refused | None:
        """Open the book; why it cannot be."""
        return self._worker.submit(self._open).result()

    def _open(self) -> Refused | None:
        shop = open_shop(self._book, self._clock, self._who)
        if isinstance(shop, Refused):
            return shop
        self._counter = Counter(shop)
        return None

    async def ask(self, work: Callable[[Counter], T]) -> T:
        """What the work gives, done in the thread that has the book."""
        return await asyncio.get_running_loop().run_in_executor(self._worker, self._do, work)

    def ask_now(self, work: Callable[[Counter], T]) -> T:
        """The same for whoever may wait: the window and the command line."""
        return self._worker.submit(self._do, work).result()

    def _do(self, work: Callable[[Counter], T]) -> T:
        assert self._counter is not None, "the book is not open"
        return work(self._counter)

    def close(self) -> None:
        """What was begun is ended, then the book is closed."""

        def closed() -> None:
            if self._counter is not None:
                self._counter.shop.close()
                self._counter = None

        with contextlib.suppress(RuntimeError):  # it was closed before
            self._worker.submit(closed).result()
        self._worker.shutdown()
