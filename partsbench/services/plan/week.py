"""The coming week of a plan as lanes: whose hands, the gun, the rooms, and what waits."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from enum import StrEnum

from partsbench.core import shown_times
from partsbench.core.key_words import choice_word
from partsbench.core.plan.bound import Bounds
from partsbench.core.plan.chain import why_not
from partsbench.core.plan.floor import Floor
from partsbench.core.plan.making import DUST, FUMES, SPRAY
from partsbench.core.plan.words import chain_words, when
from partsbench.core.wording import and_list, capital
from partsbench.services.plan.out import gun_loads
from partsbench.services.plan.plans import PlanShown

DAYS = 7
CLOSE = timedelta(minutes=30)
"""What lies so close together is one stretch of the lane: a week shows no shorter pause."""

SHORTEST_WAIT = timedelta(minutes=30)
"""A shorter wait is spent with the next act, and has no place in a week."""

USE_SAID = {DUST: "sanding", FUMES: "stripping", SPRAY: "spraying"}


class LaneKind(StrEnum):
    """What a lane is of."""

    HANDS = "hands"
    GUN = "gun"
    ROOM = "room"
    WAIT = "wait"


@dataclass(frozen=True, slots=True)
class WeekSpan:
    """A stretch on a lane. of: the pieces, or the use of a room; works: what is done, in a word
    each; sentences: each act or wait."""

    starts: datetime
    ends: datetime
    of: tuple[str, ...]
    works: tuple[str, ...]
    sentences: tuple[str, ...]

    @property
    def sentence(self) -> str:
        return " ".join(self.sentences)


@dataclass(frozen=True, slots=True)
class WeekLane:
    """One lane, the soonest stretch first."""

    name: str
    kind: LaneKind
    spans: tuple[WeekSpan, ...]


@dataclass(frozen=True, slots=True)
class DayMark:
    """What ends on a day: a piece that is done, or that is promised; kept: the plan keeps it."""

    day: date
    words: str
    promised: bool = False
    kept: bool = True


@dataclass(frozen=True, slots=True)
class ShopWeek:
    """Seven days from today on, in the time of the shop. then: what comes today after the next act,
    and on which lane."""

    at: datetime
    lanes: tuple[WeekLane, ...]
    marks: tuple[DayMark, ...]
    next_act: str
    then: str = ""

    @property
    def days(self) -> tuple[date, ...]:
        today = self.at.astimezone().date()
        return tuple(today + timedelta(days=n) for n in range(DAYS))

    @property
    def hours(self) -> tuple[int, int]:
        """From the hour in which work begins to that in which it ends, on any of the days."""
        worked = [s for lane in self.lanes if lane.kind is not LaneKind.WAIT for s in lane.spans]
        first, last = 8, 18
        for span in worked:
            start, end = span.starts.astimezone(), span.ends.astimezone()
            first = min(first, start.hour)
            over = end.date() > start.date()
            last = max(last, 24 if over else end.hour + bool(end.minute))
        return first, last


def week_of(shown: PlanShown) -> ShopWeek:
    """The lanes of a plan: hands first, then the gun, the rooms, and the waits by piece."""
    end = shown.at + timedelta(days=DAYS)
    lanes = [*_hands(shown), *_gun(shown), *_rooms(shown), *_waits(shown)]
    kept = [
        replace(lane, spans=tuple(s for s in lane.spans if s.starts < end and s.ends > shown.at))
        for lane in lanes
    ]
    kept = [lane for lane in kept if lane.spans]
    return ShopWeek(shown.at, tuple(kept), tuple(_marks(shown)), next_act(shown), then_act(shown))


def cannot_be_kept(shown: PlanShown) -> tuple[str, ...]:
    """Each promise that no plan keeps, with the chain that makes it so."""
    lost = [p for p in shown.shop.promised if shown.best.proven.ends[p.piece] > p.by]
    if not lost:
        return ()
    bounds = Bounds(Floor(shown.shop))
    proofs = [why_not(bounds, p.piece, p.by, shown.best.proven.ends[p.piece]) for p in lost]
    return tuple(chain_words(proof, shown.shop, shown.at) for proof in proofs if proof)


def _marks(shown: PlanShown) -> Iterator[DayMark]:
    for piece, minute in sorted(shown.ends.items(), key=lambda end: end[1]):
        end = when(shown.at, minute)
        said = f"{shown.shop.title(piece)} done {shown_times.hour(end)}"
        yield DayMark(end.astimezone().date(), said)
    for p in shown.shop.promised:
        by = when(shown.at, p.by)
        said = f"{shown.shop.title(p.piece)} promised {shown_times.hour(by)}"
        yield DayMark(by.astimezone().date(), said, True, shown.ends[p.piece] <= p.by)


def next_act(shown: PlanShown, piece: str = "") -> str:
    """`Next, 14:10: Heron D1: Sand 150`, of the shop or of a piece; "" when nothing is left."""
    of = {s.key for s in shown.shop.stints if not piece or s.piece == piece}
    placed = [p for p in shown.best.plan.placed if p.stint in of]
    if not placed:
        return ""
    first = min(placed, key=lambda p: (p.start, p.end))
    name = next(s.name for s in shown.shop.stints if s.key == first.stint)
    if first.start <= 0:
        return f"Now: {name}"
    return f"Next, {shown_times.time_of_day(when(shown.at, first.start), shown.at)}: {name}"


def then_act(shown: PlanShown) -> str:
    """`Then 14:10, gun: Heron D1, D2: Colour coat 1`: the next other work today, and whose
    it is; "" when nothing more is done today."""
    stints = {s.key: s for s in shown.shop.stints}
    placed = sorted(shown.best.plan.placed, key=lambda p: (p.start, p.end))
    for p in placed[1:]:
        stint, first = stints[p.stint], stints[placed[0].stint]
        at = when(shown.at, p.start).astimezone()
        if at.date() != shown.at.astimezone().date():
            return ""
        if stint.does != first.does and not (p.load and p.load == placed[0].load):
            then = f"Then {shown_times.hour(at)}"
            if p.load:
                return f"{then}, gun: {stint.name}"
            return f"{then}, {and_list(map(choice_word, p.workers))}: {stint.name}"
    return ""


def _hands(shown: PlanShown) -> Iterator[WeekLane]:
    """Whoever has the gun sets it up and cleans it, too."""
    stints = {s.key: s for s in shown.shop.stints}
    at = shown.best.plan.at()
    loads = [(keys[0], span) for keys, span in _loads(shown)]
    for worker in shown.shop.workers:
        spans = [span for key, span in loads if worker.name in at[key].workers]
        for p in shown.best.plan.placed:
            if worker.name in p.workers and not p.load:
                stint = stints[p.stint]
                spans.append(_span(shown, p.start, p.end, (shown.shop.title(stint.piece),),
                                   (stint.work,), stint.name))  # fmt: skip
        yield WeekLane(capital(choice_word(worker.name)), LaneKind.HANDS, _joined(spans))


def _gun(shown: PlanShown) -> Iterator[WeekLane]:
    yield WeekLane("Gun", LaneKind.GUN, _joined(span for _, span in _loads(shown)))


def _loads(shown: PlanShown) -> Iterator[tuple[list[str], WeekSpan]]:
    stints = {s.key: s for s in shown.shop.stints}
    for keys, start, end in gun_loads(shown):
        titles = dict.fromkeys(shown.shop.title(stints[k].piece) for k in keys)
        said = "; ".join(stints[k].name for k in keys)
        yield keys, _span(shown, start, end, tuple(titles), (USE_SAID[SPRAY],), f"gun, {said}")


def _rooms(shown: PlanShown) -> Iterator[WeekLane]:
    stints = {s.key: s for s in shown.shop.stints}
    rooms: dict[str, list[WeekSpan]] = {}
    for p in shown.best.plan.placed:
        stint = stints[p.stint]
        if stint.use:
            use = USE_SAID[stint.use]
            rooms.setdefault(stint.room, []).append(
                _span(shown, p.start, p.end, (use,), (use,), f"{use}, {stint.name}")
            )
    for room, spans in rooms.items():
        yield WeekLane(f"Room: {room}", LaneKind.ROOM, _joined(spans))


def _waits(shown: PlanShown) -> Iterator[WeekLane]:
    stints = {s.key: s for s in shown.shop.stints}
    at = shown.best.plan.at()
    pieces: dict[str, list[WeekSpan]] = {}

    def add(piece: str, start: int, end: int, why: str) -> None:
        if timedelta(minutes=end - start) >= SHORTEST_WAIT:
            title = shown.shop.title(piece)
            waits = f"{title} waits: {why}" if why else f"{title} waits"
            pieces.setdefault(piece, []).append(_span(shown, start, end, (title,), (), waits))

    for lag in shown.shop.lags:
        end = at[lag.before].end
        add(stints[lag.before].piece, end, end + lag.least, lag.why)
    for stint in stints.values():
        add(stint.piece, 0, stint.soonest, stint.why_soonest)
    for piece, spans in pieces.items():
        yield WeekLane(f"{shown.shop.title(piece)} waits", LaneKind.WAIT, _joined(spans))


def _span(
    shown: PlanShown, start: int, end: int, of: tuple[str, ...], works: tuple[str, ...], said: str
) -> WeekSpan:
    starts, ends = when(shown.at, start), when(shown.at, end)
    since, until = shown_times.moment(starts, shown.at), shown_times.moment(ends, shown.at)
    if ends.astimezone().date() == starts.astimezone().date():
        until = shown_times.hour(ends)
    return WeekSpan(starts, ends, of, works, (f"{since} to {until}: {said}.",))


def _joined(spans: Iterable[WeekSpan]) -> tuple[WeekSpan, ...]:
    """Stretches that touch, nearly touch or overlap, as one."""
    found: list[WeekSpan] = []
    for span in sorted(spans, key=lambda s: (s.starts, s.ends)):
        last = found[-1] if found else None
        if last and span.starts <= last.ends + CLOSE:
            found[-1] = WeekSpan(
                last.starts,
                max(last.ends, span.ends),
                _once((*last.of, *span.of)),
                _once((*last.works, *span.works)),
                _once((*last.sentences, *span.sentences)),
            )
        else:
            found.append(span)
    return tuple(found)


def _once(words: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(w for w in words if w))
