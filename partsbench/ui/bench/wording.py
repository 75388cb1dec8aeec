"""Sentences and times made short enough for one line."""

from __future__ import annotations

import re
from datetime import datetime, timedelta
from math import ceil

from partsbench.core.key_words import large_word
from partsbench.core.outcomes import Answer, Outcome
from partsbench.core.shown_times import time_of_day
from partsbench.ui.bench.shout import WordLook

_LISTED = re.compile(r" ?\(([^()]*)\)")
NAMED_IN_FULL = 2


def brief(sentence: str) -> str:
    """The sentence with long lists in brackets counted: `(front, back, sides)` → `(3 faces)`."""
    return _LISTED.sub(_counted, sentence)


def said_briefly(outcome: Outcome) -> str:
    """The sentence, without the faces where it is said what comes next."""
    return (outcome.beside or outcome.sentence) if outcome.recorded else outcome.sentence


FINISHED = large_word("FINISHED")
SURE = "SURE?"
"""The large word of a question before the first record of a batch: no refusal, and no GO."""


def own_word(outcome: Outcome) -> str:
    """The large word where that of the answer would mislead: no step is left, so GO would send one
    on; or it is only asked what has to be so. "" else."""
    if outcome.unconfirmed:
        return SURE
    return FINISHED if outcome.finished and not outcome.recorded else ""


def look_of(outcome: Outcome) -> WordLook:
    """The look of the large word: what was recorded has one of its own, a question is a wait."""
    if outcome.unconfirmed:
        return WordLook.WAIT
    done = outcome.recorded and outcome.answer is Answer.GO
    return WordLook.DONE if done else WordLook(outcome.answer.value)


def clock_words(at: datetime | None, now: datetime) -> str:
    """The time of day that was stated, with its day when that is not today."""
    return time_of_day(at or now, now)


def wait_words(outcome: Outcome, now: datetime, at_or_by: str = "at") -> str:
    """`3 h 10, at 17:40` until it may be done, `8 min, by 16:20` while it may still be done."""
    if outcome.until is None:
        return ""
    minutes = max(0, ceil((outcome.until - now) / timedelta(minutes=1)))
    hours, rest = divmod(minutes, 60)
    left = f"{hours} h {rest:02d}" if hours else f"{rest} min"
    return f"{left}, {at_or_by} {clock_words(outcome.until, now)}" if minutes else ""


def _counted(found: re.Match[str]) -> str:
    names = found[1].split(", ")
    return found[0] if len(names) <= NAMED_IN_FULL else f" ({len(names)} faces)"
