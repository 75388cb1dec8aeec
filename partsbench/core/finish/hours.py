"""When work is done in a shop: its hours, and the quiet hours without gun and sander."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, time, timedelta, tzinfo

from partsbench.core.finish.loads import SPRAYED
from partsbench.core.finish.steps import Operation

LOUD = SPRAYED | {Operation.SAND}
"""What is not done in quiet hours: the gun with its compressor, and the sander."""

MOST_DAYS = 60
"""Work that finds no time in so many days finds none."""

_SPAN = re.compile(
    r"(?:from\s+)?(\d{1,2})(?:[:.](\d{2}))?\s*(?:to|until|-|–)\s*(\d{1,2})(?:[:.](\d{2}))?"
)


@dataclass(frozen=True, slots=True)
class DaySpan:
    """From one time of day to another, over midnight when it ends before it begins."""

    start: time
    end: time

    def __str__(self) -> str:
        return f"{self.start:%H:%M} to {self.end:%H:%M}"

    @property
    def overnight(self) -> bool:
        return self.end <= self.start


def parse_span(text: str) -> DaySpan | None:
    """`8:00 to 21:00`, `20-7`; None when it is not written like that, or is no time at all."""
    found = _SPAN.fullmatch(text.strip().lower())
    if found is None:
        return None
    h1, m1, h2, m2 = (int(x or 0) for x in found.groups())
    if max(h1, h2) > 24 or max(m1, m2) > 59 or h1 == 24 or (h2 == 24 and m2):
        return None
    start, end = time(h1, m1), time(h2 % 24, m2)
    return None if start == end else DaySpan(start, end)


@dataclass(frozen=True, slots=True)
class Hours:
    """The hours of work and the quiet ones, in the zone of the shop (None: the machine's).

    work None: at any time. quiet None: never.
    """

    work: DaySpan | None = None
    quiet: DaySpan | None = None
    zone: tzinfo | None = None

    @property
    def any_time(self) -> bool:
        return self.work is None and self.quiet is None

    def fits(self, at: datetime, length: timedelta, operation: Operation) -> bool:
        """Whether work of that length may be begun then."""
        return self.next_start(at, length, operation) == at

    def next_start(self, at: datetime, length: timedelta, operation: Operation) -> datetime | None:
        """The soonest moment from `at` on when the work fits in whole; None when it never does.

        Later asks never get sooner answers, which is what lets a plan rest on it.
        """
        if self.any_time:
            return at
        loud = operation in LOUD and self.quiet is not None
        for open_, close in self._open(at, loud):
            start = max(at, open_)
            if start + length <= close:
                return start
        return None

    def stretches(self, at: datetime, days: int, *, loud: bool) -> list[tuple[datetime, datetime]]:
        """When may be worked (with gun or sander) in the days to come, from `at` on, in order."""
        return [(max(a, at), b) for a, b in self._open(at, loud, days=days)]

    def is_quiet(self, at: datetime) -> bool:
        return self.quiet is not None and not any(
            a <= at < b for a, b in self._open(at, True, worked=False, days=2)
        )

    def is_off(self, at: datetime) -> bool:
        """True outside the hours of work."""
        return self.work is not None and not any(
            a <= at < b for a, b in self._open(at, False, days=2)
        )

    def morning(self, at: datetime, usual: int) -> datetime:
        """When work begins next after tonight: the shop's own hour, or `usual` o'clock."""
        local = at.astimezone(self.zone)
        start = self.work.start if self.work else time(usual)
        next_day = local.date() + timedelta(days=1 if local.time() >= start else 0)
        return self._moment(datetime.combine(next_day, start))

    def _open(
        self, at: datetime, loud: bool, *, worked: bool = True, days: int = MOST_DAYS
    ) -> Iterator[tuple[datetime, datetime]]:
        """The stretches in which work may be done, from the one that `at` lies in on, in order."""
        last: tuple[datetime, datetime] | None = None
        for a, b in self._pieces(at, loud, worked, days):
            if last and a <= last[1]:
                last = (last[0], max(last[1], b))
                continue
            if last and last[1] > at:
                yield last
            last = (a, b)
        if last and last[1] > at:
            yield last

    def _pieces(
        self, at: datetime, loud: bool, worked: bool, days: int
    ) -> Iterator[tuple[datetime, datetime]]:
        """The same day by day, cut where quiet hours lie."""
        today = at.astimezone(self.zone).date()
        for ahead in range(-1, days + 1):
            midnight = datetime.combine(today + timedelta(days=ahead), time())
            for a, b in self._day(midnight, self.work if worked else None):
                if not loud or self.quiet is None:
                    yield a, b
                    continue
                days_near = (midnight + timedelta(days=near) for near in (-1, 0, 1))
                yield from _without(
                    a, b, [q for day in days_near for q in self._day(day, self.quiet)]
                )

    def _day(self, midnight: datetime, span: DaySpan | None) -> list[tuple[datetime, datetime]]:
        if span is None:
            return [(self._moment(midnight), self._moment(midnight + timedelta(days=1)))]
        end = midnight + timedelta(days=1 if span.overnight else 0)
        return [
            (
                self._moment(datetime.combine(midnight, span.start)),
                self._moment(datetime.combine(end, span.end)),
            )
        ]

    def _moment(self, local: datetime) -> datetime:
        """A wall clock's reading as a moment; it holds at the change of the hour too."""
        return local.replace(tzinfo=self.zone) if self.zone else local.astimezone()


ANY_TIME = Hours()
"""A shop that has said nothing of its hours."""


def _without(
    a: datetime, b: datetime, cuts: Sequence[tuple[datetime, datetime]]
) -> Iterator[tuple[datetime, datetime]]:
    """What is left of a stretch when others are cut out; these come in order."""
    for start, end in cuts:
        if end <= a or b <= start:
            continue
        if a < start:
            yield a, start
        a = max(a, end)
    if a < b:
        yield a, b
