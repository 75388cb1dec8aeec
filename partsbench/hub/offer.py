"""What the QR code on the screen offers: one pairing, for a short while."""

from __future__ import annotations

import secrets
from dataclasses import dataclass

from partsbench.services.heard.devices import sum_of

SECRET_BYTES = 24
"""192 bits."""
LASTS = 600.0
"""Seconds."""


@dataclass
class Offers:
    """The offers that stand; each is kept as a sum and taken once. Times in seconds."""

    base: str
    """`https://192.168.1.5:8467/`"""

    def __post_init__(self) -> None:
        self._open: dict[str, float] = {}

    def make(self, now: float) -> str:
        """The address for a QR code. What stands behind # is sent to nobody by a browser."""
        secret = secrets.token_urlsafe(SECRET_BYTES)
        self._open = {s: until for s, until in self._open.items() if until > now}
        self._open[sum_of(secret)] = now + LASTS
        return f"{self.base}#{secret}"

    def is_open(self, secret: str, now: float) -> bool:
        return self._open.get(sum_of(secret), 0.0) > now

    def take(self, secret: str) -> None:
        """It was paired: the same code does not serve again."""
        self._open.pop(sum_of(secret), None)

    def close_all(self) -> None:
        self._open.clear()
