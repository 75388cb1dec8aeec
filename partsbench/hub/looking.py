"""Pictures from phones: their size is looked at first, then our own reader reads them."""

from __future__ import annotations

import asyncio
from concurrent.futures import ThreadPoolExecutor
from typing import Any

from partsbench.core.outcomes import Refused
from partsbench.hub.before_phone import BeforePhone
from partsbench.hub.clerk import Clerk
from partsbench.hub.jpeg import size_of
from partsbench.services.heard import reading
from partsbench.services.heard.camera import CROWDED

MOST_PIXELS = 3_000_000
"""Of a frame: more than the live picture of a phone has."""
MOST_PIXELS_OF_A_PHOTOGRAPH = 30_000_000
LONGEST_SIDE = 10_000
MOST_WAITING = 4
"""Photographs that may wait for the one who reads them by all means."""


class Eyes:
    """Reads frames at once, and photographs one after the other."""

    def __init__(self) -> None:
        self._quick = ThreadPoolExecutor(2, thread_name_prefix="hub-frame")
        self._slow = ThreadPoolExecutor(1, thread_name_prefix="hub-picture")
        self._waiting = 0
        self._before: dict[int, BeforePhone] = {}

    async def glance(self, data: bytes, device: int, now: float) -> dict[str, Any] | Refused:
        """The codes that a decoder reads in a frame, each with its corners in pixels, and those of
        them that count; `now` in s."""
        fault = too_large(data, MOST_PIXELS)
        if fault:
            return fault
        loop = asyncio.get_running_loop()
        seen = await loop.run_in_executor(self._quick, reading.glance_plainly, data, "The frame")
        if seen.fault:
            return Refused(seen.fault)
        before = self._before.setdefault(device, BeforePhone())
        return {
            "codes": list(seen.texts),
            "corners": [s.corners for s in seen.symbols],
            "counts": before.look(seen.texts, now),
            "hint": CROWDED if before.crowded else "",
        }

    async def look(self, data: bytes, clerk: Clerk) -> dict[str, Any] | Refused:
        """The codes in a photograph; what is only likely is told apart, to be confirmed."""
        fault = too_large(data, MOST_PIXELS_OF_A_PHOTOGRAPH)
        if fault:
            return fault
        if self._waiting >= MOST_WAITING:
            return Refused("Other photographs are being read: send it again in a moment.")
        self._waiting += 1
        try:
            book = await clerk.ask(lambda at: reading.codes_in_use(at.shop))
            loop = asyncio.get_running_loop()
            glance = await loop.run_in_executor(
                self._slow, reading.glance_at_picture, data, "The photograph", book
            )
            seen = await clerk.ask(lambda at: reading.sort_out(at.shop, glance))
        finally:
            self._waiting -= 1
        if seen.fault:
            return Refused(seen.fault)
        return {
            "codes": [*seen.codes, *seen.strangers],
            "probable": [{"code": p.code, "sentence": p.sentence} for p in seen.probable],
        }

    def close(self) -> None:
        self._quick.shutdown(cancel_futures=True)
        self._slow.shutdown(cancel_futures=True)


def too_large(data: bytes, most: int) -> Refused | None:
    """Why a picture is not opened at all; None when it may be."""
    size = size_of(data)
    if size is None:
        return Refused("That is no JPEG picture.")
    width, height = size
    if width * height > most or max(size) > LONGEST_SIDE:
        return Refused(f"A picture of {width} × {height} pixels is not opened.")
    return None
