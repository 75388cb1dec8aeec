"""The day: what to do now and why, what waits and until when, what is open, who lags behind."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from math import inf

from partsbench.core.finish.durations import say_duration
from partsbench.core.finish.facts import PUT_AWAY, YES
from partsbench.core.finish.hands import Hands, fits, hands_for
from partsbench.core.finish.hours import ANY_TIME, Hours
from partsbench.core.finish.loads import Straggler, stragglers
from partsbench.core.finish.loops import Loop
from partsbench.core.outcomes import Answer
from partsbench.core.shown_times import hour, long_moment, moment, time_of_day
from partsbench.core.wording import notes
from partsbench.services.acts import loads
from partsbench.services.books import restart
from partsbench.services.known import work
from partsbench.services.known.clock_doubt import clock_words, doubt_words
from partsbench.services.known.hours import hours_of, now_words
from partsbench.services.known.plan_shown import StepOf, turns
from partsbench.services.known.state import PieceState, piece_state
from partsbench.services.rules import answers, loops
from partsbench.services.rules.blocking import open_words
from partsbench.services.rules.choosing import SOON
from partsbench.services.rules.clocks import Group, distinct, groups_of
from partsbench.services.rules.ends import FaceEnds
from partsbench.services.shop import Shop
from partsbench.services.shown.order_today import order_words
from partsbench.store import at_work

IN_HAND = timedelta(days=45)
MOST_PIECES = 12
OVERTIME = "A window cannot be kept within your hours; the ends are told without them."


@dataclass(frozen=True, slots=True)
class Task:
    """Something that can be done now: on which faces, how long, with which hands, by when.

    ends: when the piece could be finished at best; None when it cannot be told.
    """

    group: Group
    hands: Hands
    ends: datetime | None

    @property
    def sentence(self) -> str:
        """`Heron D1, D3: Sand 220, 12 min.`"""
        minutes, closes = self.group.minutes, self.group.closes
        long = say_duration(timedelta(minutes=minutes)) if minutes else ""
        by = f"before {time_of_day(closes, self.group.now)}" if closes else ""
        return f"{self.group.where}: {notes(self.group.step.name, long, by)}."


@dataclass(frozen=True, slots=True)
class Day:
    """Everything that the Day page and its paper show.

    clocks: every group of faces, cliffs first. alarms: windows that close so soon that the work
    must begin now. said: that the clock was set back, or the question after a restart.
    notes: what the shop's hours say, hardware to order today, and what must not be closed yet.
    """

    at: datetime
    sentence: str
    because: str
    tasks: tuple[Task, ...]
    clocks: tuple[Group, ...]
    alarms: tuple[Group, ...]
    loops: tuple[Loop, ...]
    stragglers: tuple[tuple[str, Straggler], ...]
    ends: Mapping[str, datetime]
    said: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    hours: Hours = ANY_TIME


def day(
    shop: Shop,
    minutes: float | None = None,
    hands: Hands = Hands.CLEAN,
    tags: Sequence[str] = (),
    at: datetime | None = None,
) -> Day:
    """The day as it stands now; `minutes` and `hands` leave out what does not fit.

    `tags` are the pieces looked at: those in hand when none are named.
    """
    now = at or shop.clock()
    states = [s for tag in tags or in_hand(shop, now) if (s := _state(shop, tag))]
    own, waits, hours = work.own_times(shop, now), answers.waits_of(shop, now), hours_of(shop)
    clocks: list[Group] = []
    best_ends = FaceEnds(waits, own, hours)
    ends: dict[str, datetime] = {}
    for state in states:
        groups = groups_of(shop, state, now, own)
        clocks += groups
        end = best_ends.of_groups(groups, now)
        if end:
            ends[state.piece.tag] = end
    going = [g for g in clocks if g.said.answer is Answer.GO]
    quiet = {id(g): at for g in going if (at := _after_quiet(g, now, hours))}
    able = [g for g in going if id(g) not in quiet]
    tasks = _ranked(able, ends, now, best_ends, turns(shop, now))
    fitting = [t for t in tasks if _fits(t, minutes, hands)]
    open_ = loops.of_pieces(shop, states, now)
    later = [(at, g) for g in going if (at := quiet.get(id(g)))]
    other = tasks[0] if tasks and not fitting else None
    sentence, because = _now(fitting, clocks, open_, ends, now, later, other)
    return Day(
        now,
        sentence,
        because,
        tuple(fitting),
        tuple(sorted(clocks, key=_cliff)),
        tuple(g for g in clocks if _is_urgent(g, now)),
        tuple(open_),
        tuple((s.piece.codename, x) for s in states for x in stragglers(loads.hung_of(s))),
        ends,
        tuple(filter(None, (clock_words(shop), doubt_words(shop), _gap(shop)))),
        tuple(_notes(shop, states, now, best_ends)),
        hours,
    )


def _notes(
    shop: Shop, states: Sequence[PieceState], now: datetime, best_ends: FaceEnds
) -> Iterator[str]:
    """What the hours say, what is to be ordered today, and what must not be closed yet."""
    if words := now_words(best_ends.hours, now):
        yield words
    if best_ends.out_of_hours:
        yield OVERTIME
    for state in states:
        if words := order_words(shop, state.piece):
            yield words
        yield from open_words(shop, state, now)


def in_hand(shop: Shop, now: datetime) -> list[str]:
    """Tags of the pieces that something was recorded of lately, and that are not put away."""
    away = at_work.put_away(shop.book, PUT_AWAY, YES)
    return at_work.tags_at_work(shop.book, now - IN_HAND, MOST_PIECES, away)


def _state(shop: Shop, tag: str) -> PieceState | None:
    piece = shop.piece(tag)
    return piece_state(shop, piece) if piece else None


def _ranked(
    groups: Sequence[Group],
    ends: Mapping[str, datetime],
    now: datetime,
    best_ends: FaceEnds,
    planned: Mapping[StepOf, int],
) -> list[Task]:
    """Closing windows first, then what the plan that was shown begins sooner; where there is none,
    what its piece waits for longest, then what is on most faces."""
    tasks = []
    for group in groups:
        own_end = best_ends.of(distinct([group]), now)
        tasks.append((own_end or now, Task(group, hands_for(group.step.operation), own_end)))

    def rank(pair: tuple[datetime, Task]) -> tuple[bool, float, float, float, int]:
        end, task = pair
        turn = planned.get((task.group.tag, task.group.step.key), inf)
        cliff = task.group.closes
        slack = (ends.get(task.group.tag, end) - end).total_seconds()
        closes = cliff.timestamp() if cliff else 0.0
        return cliff is None, closes, turn, slack, -len(task.group.faces)

    return [task for _, task in sorted(tasks, key=rank)]


def _fits(task: Task, minutes: float | None, hands: Hands) -> bool:
    long = task.group.minutes
    in_time = minutes is None or long is None or long <= minutes
    return in_time and fits(task.group.step.operation, hands)


def _now(
    tasks: Sequence[Task],
    clocks: Sequence[Group],
    open_: Sequence[Loop],
    ends: Mapping[str, datetime],
    now: datetime,
    later: Sequence[tuple[datetime, Group]],
    other: Task | None = None,
) -> tuple[str, str]:
    """One sentence of what to do, and why. other: what could be done with other hands or longer."""
    urgent = [t for t in tasks if t.group.closes and t.group.closes - now < SOON]
    if urgent:
        closes = urgent[0].group.closes
        assert closes is not None
        return urgent[0].sentence, f"Its window closes at {hour(closes)}: " \
            f"{urgent[0].group.said.because}."  # fmt: skip
    pressing = [loop for loop in open_ if loop.presses]
    if pressing:
        return pressing[0].sentence, "It was begun and is not ended."
    late = [g for g in clocks if g.said.answer is Answer.LATE]
    if tasks:
        return tasks[0].sentence, _end_words(tasks[0], ends)
    if late:
        return f"{late[0].where}: {late[0].step.name} is late.", late[0].said.because
    if other:
        return "Nothing for such hands in that time.", f"Else: {other.sentence}"
    held = [g for g in clocks if g.said.answer is Answer.STOP]
    if held:
        return f"{held[0].where}: {held[0].step.name} is held.", held[0].said.because
    waiting = [(_until(g), g.said.because, g) for g in clocks
               if g.said.answer is Answer.WAIT and g.said.until]  # fmt: skip
    waiting += [(at, f"{g.step.name} makes noise, and these are quiet hours", g) for at, g in later]
    if waiting:
        at, because, soonest = min(waiting, key=_first)
        return f"Nothing before {moment(at, now)}: then {soonest.where}.", because
    return "Nothing is waiting for you.", ""


def _end_words(task: Task, ends: Mapping[str, datetime]) -> str:
    """The soonest that these faces can be finished, and whether all of the piece is with them. Each
    is reckoned as if it were alone in the shop: the plan, which has but so many hands, is later."""
    whole = ends.get(task.group.tag)
    if task.ends is None or whole is None:
        return ""
    if task.ends >= whole:
        return f"It decides the end: no sooner than {long_moment(whole, task.group.now)}."
    mine, all_of_it = (long_moment(at, task.group.now) for at in (task.ends, whole))
    return f"These are finished no sooner than {mine}, the piece than {all_of_it}."


def _is_urgent(group: Group, now: datetime) -> bool:
    warn = group.warn_at
    return group.said.answer is Answer.GO and warn is not None and warn <= now


def _cliff(group: Group) -> tuple[bool, float]:
    at = group.closes or group.said.until or group.opens
    return group.closes is None, at.timestamp() if at else 0.0


def _first(waiting: tuple[datetime, str, Group]) -> datetime:
    return waiting[0]


def _after_quiet(group: Group, now: datetime, hours: Hours) -> datetime | None:
    """When gun or sander may be heard again for this work; None when it may be done now.

    A window that closes before then is not missed for the sake of quiet: that is for the shop to
    weigh, so the work is shown.
    """
    if hours.quiet is None:
        return None
    length = group.work or timedelta()
    at = replace(hours, work=None).next_start(now, length, group.step.operation)
    if at is None or at == now or (group.closes and group.closes <= at):
        return None
    return at


def _until(group: Group) -> datetime:
    assert group.said.until is not None
    return group.said.until


def _gap(shop: Shop) -> str:
    gap = restart.after_restart(shop)
    return restart.restart_words(gap) if gap else ""
