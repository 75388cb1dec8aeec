"""A clock that stands still until a test moves it."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

MORNING = datetime(2031, 3, 4, 8, 30, tzinfo=UTC)


class SetClock:
    """Called like the machine's clock; `now` may be set, and `pass_time` moves it on."""

    def __init__(self, now: datetime = MORNING) -> None:
        self.now = now

    def __call__(self) -> datetime:
        return self.now

    def pass_time(self, **how_long: float) -> None:
        """Move on by `hours=2`, `minutes=5` and the like."""
        self.now += timedelta(**how_long)
