"""Times that the computer's clock told wrong: what is in doubt, and what somebody says it was."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from partsbench.core import clock_runs as rules
from partsbench.core.clock_runs import TimeDoubt, Why
from partsbench.core.finish.cups import Cup, StoredCup
from partsbench.core.finish.holds import SAY_WHEN
from partsbench.core.finish.masks import Mask
from partsbench.core.journal_lines import JournalLine
from partsbench.core.outcomes import Done, Refused
from partsbench.core.shown_times import moment
from partsbench.core.stated_time import parse_time
from partsbench.services.shop import Shop, writing
from partsbench.store import clock_runs as rows
from partsbench.store import journal
from partsbench.store.journal import change
from partsbench.store.records import StoredMark

AS_NOTED = "as noted"
"""What is said when the noted times are right after all."""


@dataclass(frozen=True, slots=True)
class TimeQuestion:
    """Entries that follow each other and whose times are in doubt; one answer settles them all."""

    ids: tuple[int, ...]
    first: JournalLine
    last: JournalLine
    why: str

    def sentence(self, now: datetime) -> str:
        """What is asked, in words."""
        count = len(self.ids)
        these = f"These {count} records are" if count > 1 else "This record is"
        when = moment(self.last.at, now)
        return f"{these} in doubt: {self.why}. When was it: {self.last.sentence} (noted {when})?"


def doubts(shop: Shop) -> tuple[TimeDoubt, ...]:
    """What of the journal is in doubt as things stand now."""
    return rules.in_doubt(rows.runs(shop.book), shop.clock())


def clock_words(shop: Shop) -> str:
    """What is wrong with the computer's clock now; "" when nothing is known."""
    return rules.clock_fault(rows.runs(shop.book), shop.clock())


def with_doubts(shop: Shop, marks: list[StoredMark]) -> list[StoredMark]:
    """The same marks, each with why its time may be wrong."""
    why = _why(shop, "mark", [m.id for m in marks])
    now = shop.clock()
    return [_doubted(m, why[m.id], now) if m.id in why else m for m in marks]


def masks_with_doubts(shop: Shop, masks: list[Mask]) -> list[Mask]:
    """The same masks, each with why the time at which it went on may be wrong."""
    why = _why(shop, "mask", [int(m.key) for m in masks])
    now = shop.clock()
    return [
        replace(m, doubt=_noted(m.on, why[int(m.key)], now)) if int(m.key) in why else m
        for m in masks
    ]


def cup_with_doubt(shop: Shop, cup: StoredCup) -> Cup:
    """The mix, with why the time at which it was made may be wrong."""
    why = _why(shop, "cup", [cup.id]).get(cup.id)
    return replace(cup.cup, doubt=_noted(cup.cup.made, why, shop.clock())) if why else cup.cup


def _why(shop: Shop, table: str, keys: Sequence[int]) -> dict[int, Why]:
    found = doubts(shop) if keys else ()
    return {key: d.why for d in found for key in rows.rows_of(shop.book, d, table, keys)}


def _noted(at: datetime, why: Why, now: datetime) -> str:
    return f"it is noted for {moment(at, now)}, but {why.value}"


def _doubted(mark: StoredMark, why: Why, now: datetime) -> StoredMark:
    return replace(mark, doubt=_noted(mark.at, why, now), contradicted=why is not Why.WENT_ON)


def doubt_words(shop: Shop) -> str:
    """How many records are in doubt, for the day; "" for none."""
    count = sum(rows.count_of(shop.book, doubt) for doubt in doubts(shop))
    these = f"The times of {count} records are" if count > 1 else "The time of 1 record is"
    return f"{these} in doubt, since the computer's clock was wrong. {SAY_WHEN}." if count else ""


def clock_set(shop: Shop) -> dict[int, str]:
    """Where the history shows that the clock was set: the first entry after it, and how it went."""
    return rules.set_words(rows.runs(shop.book))


def time_questions(shop: Shop) -> list[TimeQuestion]:
    """What is to be asked until somebody says it, oldest first."""
    found = []
    for doubt in doubts(shop):
        ids = rows.entries_of(shop.book, doubt)
        if ids:
            first, last = _line(shop, ids[0]), _line(shop, ids[-1])
            found.append(TimeQuestion(tuple(ids), first, last, doubt.why.value))
    return found


def _line(shop: Shop, entry: int) -> JournalLine:
    (found,) = journal.of_ids(shop.book, [entry])
    return found


@writing
def say_time(shop: Shop, entry: int, text: str) -> Done | Refused:
    """What time it really was when a doubtful entry of the journal was made, or `as noted`.

    The others that were made while the clock ran on move by as much. It can be undone.
    """
    asked = next((q for q in time_questions(shop) if entry in q.ids), None)
    if asked is None:
        return Refused(f"No time of record {entry} is in doubt.")
    noted = _line(shop, entry).at
    now = shop.clock()
    found = noted if text.strip().lower() == AS_NOTED else parse_time(text, now)
    if isinstance(found, Refused):
        return found
    if found < rules.NO_BOOK_YET:
        return Refused(f"{moment(found, now)} was before this program was made.")
    shift = timedelta(seconds=round((found - noted).total_seconds()))
    if asked.last.at + shift > now:
        return Refused(
            f"Then the last of these records was made {moment(asked.last.at + shift, now)}, "
            "which is still to come; nothing was changed."
        )
    return _said(shop, asked, noted, shift, now)


def _said(
    shop: Shop, asked: TimeQuestion, noted: datetime, shift: timedelta, now: datetime
) -> Done:
    count = f"{len(asked.ids)} records" if len(asked.ids) > 1 else "1 record"
    was = f"it was {moment(noted + shift, now)}" if shift else "the time was right"
    sentence = f"{count} noted from {moment(asked.first.at, now)} on: {was}"
    with change(shop.book, sentence, now, shop.who, asked.last.tag) as made:
        rows.say(shop.book, made, asked.ids, shift)
    return Done(f"{sentence}.", asked.last.tag)
