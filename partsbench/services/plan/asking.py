"""What is typed at a plan: what if, and promises."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import datetime, time, timedelta

from partsbench.core.finish.durations import parse_duration, say_duration
from partsbench.core.outcomes import Done, Refused
from partsbench.core.plan.shop_words import parse_day, parse_helper
from partsbench.core.plan.what_if import with_helper, without_time
from partsbench.core.plan.workshop import Workshop
from partsbench.core.said_often import no_piece
from partsbench.core.shown_times import hour, long_moment
from partsbench.services.known import climate
from partsbench.services.known.hours import MORNING
from partsbench.services.plan.evening import tonight_begins
from partsbench.services.plan.reading import NOTHING_ASSUMED, Assumed, waits_longer
from partsbench.services.plan.ways import USUAL_HOURS, helper_of, hours_or_usual
from partsbench.services.shop import Shop, find_piece, writing
from partsbench.store import figures
from partsbench.store import pieces as piece_rows
from partsbench.store import promises as rows
from partsbench.store.journal import change, time_text

FORMS = (
    "helper Wren: Sat 9:00 to 13:00",
    "off tonight",
    "off Sat",
    "like Heron",
    "wait clear_water 24 h",
)


@dataclass(frozen=True, slots=True)
class Question:
    """One "what if", understood: how it is told, and what it changes."""

    words: str
    assumed: Assumed = NOTHING_ASSUMED
    change: Callable[[Workshop], Workshop] = lambda work: work


def question(shop: Shop, text: str, now: datetime) -> Question | Refused:
    """`helper …`, `off …`, `like …`, `wait …` as something that can be planned with."""
    word, _, rest = text.strip().partition(" ")
    read = {"helper": _helper, "off": _off, "like": _like, "wait": _wait}.get(word.lower())
    if read is None or not rest.strip():
        return Refused(f"“{text}” cannot be asked; ask as in {'; '.join(FORMS)}.")
    return read(shop, rest.strip(), now)


def _helper(shop: Shop, text: str, now: datetime) -> Question | Refused:
    helper = parse_helper(text)
    if isinstance(helper, str):
        return Refused(helper)
    worker = helper_of(helper, hours_or_usual(shop), now)
    return Question(f"with {text}", change=lambda work: with_helper(work, worker))


def _off(shop: Shop, text: str, now: datetime) -> Question | Refused:
    here = now.astimezone()
    found = parse_day(text, here.date())
    if found is None:
        return Refused(f"“{text}” is no day, as in tonight, Sat or 2026-12-04.")
    day, at = found
    begin = datetime.combine(day, at or time()).astimezone()
    end = datetime.combine(day + timedelta(days=1), time()).astimezone()
    words = f"with {text} off"
    if text.strip().lower() == "tonight":
        begin, end = tonight_begins(shop, now), hours_or_usual(shop).morning(now, MORNING)
        words = f"{words} from {hour(begin)}" if begin > now else words
    if end <= now:
        return Refused(f"{text} is over.")
    stretch = (_minutes(begin - now), _minutes(end - now))
    return Question(words, change=lambda work: without_time(work, stretch))


def _like(shop: Shop, text: str, _: datetime) -> Question | Refused:
    piece = find_piece(shop, text)
    if isinstance(piece, Refused):
        return piece
    return Question(f"with one more like {piece.codename}", Assumed(like=(piece.tag,)))


def _wait(shop: Shop, text: str, now: datetime) -> Question | Refused:
    product, _, length = text.partition(" ")
    wait = parse_duration(length)
    if wait is None:
        return Refused(f"“{length}” is no length of time, as in 24 h.")
    if product not in climate.products():
        return Refused(f"“{product}” is no product; there are {', '.join(climate.products())}.")
    ways = waits_longer(shop, now, product, wait)
    return Question(f"with {product} waiting {say_duration(wait)}", Assumed(ways=ways))


def together(questions: list[Question]) -> Question:
    """Several at once."""
    like = tuple(tag for q in questions for tag in q.assumed.like)
    ways = next((q.assumed.ways for q in reversed(questions) if q.assumed.ways), None)

    def change(work: Workshop) -> Workshop:
        for q in questions:
            work = q.change(work)
        return work

    words = ", ".join(q.words for q in questions)
    return Question(words, replace(NOTHING_ASSUMED, like=like, ways=ways), change)


def day_meant(shop: Shop, text: str, now: datetime) -> datetime | Refused:
    """A day as typed, to the end of its hours of work unless a time was said."""
    found = parse_day(text, now.astimezone().date())
    if found is None:
        return Refused(f"“{text}” is no day, as in Fri, Fri 16:00 or 2026-12-04.")
    day, at = found
    work = hours_or_usual(shop).work
    usual = work.end if work and not work.overnight else USUAL_HOURS.end
    by = datetime.combine(day, at or usual).astimezone()
    return by if by > now else Refused(f"{long_moment(by, now)} is over.")


@writing
def note_promise(shop: Shop, tag: str, by: datetime, worth: float = 10.0) -> Done | Refused:
    """Note the day that a piece is promised for; a promise that it had is replaced."""
    piece = shop.piece(tag)
    key = piece_rows.piece_id(shop.book, tag)
    if piece is None or key is None:
        return Refused(no_piece(tag))
    sentence = f"{piece.codename} promised for {long_moment(by, shop.clock())}"
    with change(shop.book, sentence, shop.clock(), shop.who, tag) as entry:
        figures.put(entry, "promised", {"piece": key}, {"by": time_text(by), "worth": worth})
    return Done(f"{sentence}.", tag)


@writing
def drop_promise(shop: Shop, tag: str) -> Done | Refused:
    """Take a promise back."""
    piece = shop.piece(tag)
    key = piece_rows.piece_id(shop.book, tag)
    if piece is None or key is None:
        return Refused(no_piece(tag))
    if all(p.tag != tag for p in rows.promises(shop.book)):
        return Refused(f"{piece.codename} is not promised.")
    sentence = f"{piece.codename} no longer promised"
    with change(shop.book, sentence, shop.clock(), shop.who, tag) as entry:
        figures.drop(entry, "promised", {"piece": key})
    return Done(f"{sentence}.", tag)


def _minutes(length: timedelta) -> int:
    return max(0, int(length.total_seconds() // 60))
