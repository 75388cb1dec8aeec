"""Which recorded times are in doubt, because the computer's clock was wrong: told from the journal.

Entries are in the order in which they were made, whatever their times say. While the clock runs on,
the time between two of them is right, even where the clock is wrong; once it was set, it is not.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from enum import StrEnum
from itertools import pairwise

from partsbench.core.finish.durations import say_duration
from partsbench.core.shown_times import moment

SLIP = timedelta(minutes=2)
"""A clock that is set right over a network slips by less, and two writers wait for each other."""
STILL = timedelta(days=180)
"""A book that rested for longer is asked once whether its clock is right. Common practice: a clock
without a battery begins years back; no wait of a finish is as long."""
NO_BOOK_YET = datetime(2026, 1, 1, tzinfo=UTC)
"""No book is older than this program."""
STATED_BACK = timedelta(days=2)
"""A time stated as `yesterday 9:05` or `20 min ago` is taken from the clock; an older one is a date
that somebody wrote, and right whatever the clock said."""


class Why(StrEnum):
    """What is wrong with a time."""

    TOO_OLD = "the computer's clock stood before this program was made"
    WENT_BACK = "the computer's clock went back after it"
    HAD_GONE_BACK = "the computer's clock had gone back before it"
    WENT_ON = "the computer's clock went on by more than half a year after it"


@dataclass(frozen=True, slots=True)
class ClockRun:
    """Entries made while the clock ran on: the first and last id, and their times as noted.

    shift: by how much they were moved when somebody said what time it was; None until then.
    """

    first: int
    last: int
    began: datetime
    ended: datetime
    shift: timedelta | None = None

    @property
    def is_said(self) -> bool:
        return self.shift is not None

    @property
    def span(self) -> tuple[datetime, datetime]:
        """Its first and last time, as far as is known now."""
        moved = self.shift or timedelta()
        return self.began + moved, self.ended + moved


@dataclass(frozen=True, slots=True)
class TimeDoubt:
    """Entries of a run whose times are in doubt: those noted after `after` and before `before`."""

    run: ClockRun
    why: Why
    after: datetime | None = None
    before: datetime | None = None

    def covers(self, noted: datetime) -> bool:
        """Whether an entry of this run that is noted for that time is in doubt."""
        late = self.after is None or noted > self.after
        return late and (self.before is None or noted < self.before)


def is_break(before: datetime | None, at: datetime) -> bool:
    """Whether the clock was set between two entries that follow each other, or may have been."""
    return before is not None and not before - SLIP <= at <= before + STILL


def in_doubt(runs: Sequence[ClockRun], now: datetime) -> tuple[TimeDoubt, ...]:
    """The entries whose time from then to `now` is not known, oldest first.

    runs: oldest first. The run that `now` goes on with is as right as `now`; going back from it, a
    run is believed that ends before the next one begins, and not half a year before. What somebody
    said is believed always, and doubts what stands against it.
    """
    goes_on = bool(runs) and not runs[-1].is_said and not is_break(runs[-1].ended, now)
    found: list[TimeDoubt] = []
    bound = now
    for run in reversed(runs):
        began, _ = run.span
        if run.is_said or (goes_on and run is runs[-1]):
            bound = min(bound, began)
            continue
        doubt = _against(run, bound)
        if doubt:
            found.append(doubt)
        if doubt is None or doubt.after is not None:
            bound = min(bound, began)
    known = {d.run.first for d in found}
    found += [d for d in _against_what_was_said(runs, now) if d.run.first not in known]
    return tuple(sorted(found, key=lambda d: d.run.first))


def set_words(runs: Sequence[ClockRun]) -> dict[int, str]:
    """By the first entry of a run: how the clock had been set before it, as it was noted."""
    found = {}
    for before, run in pairwise(runs):
        if is_break(before.ended, run.began):
            on = run.began > before.ended
            length = _length(abs(run.began - before.ended))
            gone_on = f"the clock had gone on by {length}"
            found[run.first] = gone_on if on else f"the clock had gone back by {length}"
    return found


def clock_fault(runs: Sequence[ClockRun], now: datetime) -> str:
    """What is wrong with the computer's clock as it stands now; "" when nothing is known."""
    stands = f"The computer's clock stands at {moment(now, now, year=True)}"
    if now < NO_BOOK_YET:
        return f"{stands}, before this program was made: set it right."
    newest = _newest_believed(runs)
    if newest is None:
        return ""
    if now < newest - SLIP:
        return (
            f"{stands}, {_length(newest - now)} before the last record: set it right. "
            "Waits count from the recorded times and are kept."
        )
    if now > newest + STILL:
        return (
            f"{stands}, {_length(now - newest)} after the last record: is that so? "
            "Else set it right."
        )
    return ""


def _newest_believed(runs: Sequence[ClockRun]) -> datetime | None:
    """The latest time of a record that nothing before it speaks against."""
    newest: datetime | None = None
    was_said = False
    for run in runs:
        began, ended = run.span
        follows = newest is None or began >= newest - SLIP
        near = newest is None or was_said or began <= newest + STILL
        if run.is_said or (began >= NO_BOOK_YET and follows and near):
            newest, was_said = max(newest or ended, ended), run.is_said
    return newest


def _length(length: timedelta) -> str:
    """`3 h 10`, `26 years`."""
    years = length // timedelta(days=365)
    return f"{years} years" if years > 1 else say_duration(length)


def _against(run: ClockRun, bound: datetime) -> TimeDoubt | None:
    """What of a run cannot be, if `bound` came after it."""
    if run.began < NO_BOOK_YET:
        return TimeDoubt(run, Why.TOO_OLD)
    if run.began > bound + SLIP:
        return TimeDoubt(run, Why.WENT_BACK)
    if run.ended > bound + SLIP:
        return TimeDoubt(run, Why.WENT_BACK, after=bound)
    if run.ended + STILL < bound:
        return TimeDoubt(run, Why.WENT_ON)
    return None


def _against_what_was_said(runs: Sequence[ClockRun], now: datetime) -> list[TimeDoubt]:
    """Runs that stand before something that came earlier and of which the time was said.

    A clock that stands before it still runs on as wrong as it did; one that does not was set right
    at a time that the journal does not show.
    """
    found: list[TimeDoubt] = []
    said: datetime | None = None
    for run in runs:
        if run.is_said:
            said = max(said or run.span[1], run.span[1])
        elif said and run.began < said - SLIP and said <= now:
            found.append(TimeDoubt(run, Why.HAD_GONE_BACK, before=said))
    return found
