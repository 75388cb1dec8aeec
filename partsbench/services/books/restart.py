"""After a window was cut off, by power or a fault: what was done since the last record?

Asked once, wherever somebody looks first: in a new window, on the command line or on paper. A
window that was closed as it should be leaves nothing to ask, and each window has its own mark.
"""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Protocol

from partsbench.core.outcomes import Done
from partsbench.core.shown_times import hour, time_of_day
from partsbench.services.shop import Shop, writing
from partsbench.store.journal import change, newest_record
from partsbench.store.window_marks import cut_off, forget_cut_off, mark_window

POWER_QUESTION = "power cut"
LEAST_GAP = timedelta(minutes=15)
"""Nothing is asked of a shorter gap: in less time hardly a step is begun and ended, a hand can
still tell what it did, and a program that merely fell over is open again sooner."""
LONGEST_GAP = timedelta(days=2)

TimeGap = tuple[datetime, datetime]


class OpenMark(Protocol):
    """What a window holds while it is open on a book."""

    def close(self) -> None:
        """The window is closed as it should be: nothing is left of it."""

    def let_go(self) -> None:
        """What the system does for a program that died."""


def window_opened(shop: Shop) -> OpenMark | None:
    """Mark that a window is open on the book; the caller closes the mark with the window.

    What was cut off before is over with that: ask `after_restart` first.
    """
    forget_cut_off(shop.book.path)
    return mark_window(shop.book.path, shop.clock())


def after_restart(shop: Shop) -> TimeGap | None:
    """The time to ask about since a window was cut off, from its last sign of life to now.

    "Anything done between 14:32 and 15:10?" Its last sign is the newest record, or that it was
    opened. None when no window was cut off or it was asked already, for a book without records,
    and for a gap of less than LEAST_GAP or of days.
    """
    newest, opened = newest_record(shop.book), cut_off(shop.book.path)
    if newest is None or not opened:
        return None
    start, now = max(newest, *opened), shop.clock()
    return (start, now) if LEAST_GAP <= now - start < LONGEST_GAP else None


def was_asked(shop: Shop) -> None:
    """What `after_restart` has to ask was put before somebody; it is not put again."""
    if after_restart(shop):
        forget_cut_off(shop.book.path)


def restart_words(gap: TimeGap) -> str:
    start, end = gap
    return f"Anything done between {time_of_day(start, end)} and {hour(end)}?"


@writing
def answer_restart(shop: Shop, said: str) -> Done:
    """The question after a restart is answered: `nothing`, or in words."""
    from partsbench.store import room as rows

    now = shop.clock()
    words = said.strip() or "nothing"
    with change(shop.book, f"Asked after a restart: {words}", now, shop.who) as entry:
        rows.answer(entry, POWER_QUESTION, words, now, shop.who)
    return Done("Noted. What was done in between can be recorded with its time.")
