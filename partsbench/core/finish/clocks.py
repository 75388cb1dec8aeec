"""Running waits of a face as times of day: when a step opens, when it closes, what is ready when.

Times are aware and UTC, so a change of the hour moves no wait. A wait counts from the stated time
of the work, never from the moment it was typed in.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta

from partsbench.core.finish.durations import say_duration
from partsbench.core.finish.products import FILM, Ready, Timed, readiness_for
from partsbench.core.finish.progress import Mark, MarkKind, Progress
from partsbench.core.finish.steps import Missed, Step
from partsbench.core.finish.waits import Air, Wait, WaitFigures, wait_over, waits_into
from partsbench.core.key_words import before_word
from partsbench.core.outcomes import Refused
from partsbench.core.sources import Source
from partsbench.core.sums.climate import Limits, stretch
from partsbench.core.sums.shown import Measures


@dataclass(frozen=True, slots=True)
class Bound:
    """One end of a window: the time, the wait that set it, and the mark that it counts from."""

    at: datetime
    wait: Wait
    source: Source | None
    since: Mark | None = None

    @property
    def doubt(self) -> str:
        """Why the time that it counts from may be wrong; "" when nothing speaks against it."""
        return self.since.doubt if self.since else ""

    @property
    def cited(self) -> str:
        return said_source(self.source)


@dataclass(frozen=True, slots=True)
class Window:
    """When a step may be done. No bound: open from the start, or for ever.

    doubts: by the name of a step before it, why the time it was done at may be wrong.
    """

    step: Step
    opens: Bound | None = None
    closes: Bound | None = None
    doubts: Mapping[str, str] = field(default_factory=dict)

    @property
    def missed(self) -> Missed | None:
        return self.closes.wait.missed if self.closes else None

    @property
    def impossible(self) -> bool:
        """True when it closes before it opens: the room, or two tins, leave no time at all."""
        return bool(self.opens and self.closes and self.closes.at < self.opens.at)

    def is_early(self, now: datetime) -> bool:
        return self.opens is not None and now < self.opens.at

    def is_late(self, now: datetime) -> bool:
        return self.closes is not None and now > self.closes.at

    def warn_at(self, work: timedelta) -> datetime | None:
        """When to speak up so that `work` can still be begun and done before the window closes;
        never before what opened the window was done."""
        if self.closes is None:
            return None
        begun = self.closes.at - (self.closes.wait.latest or timedelta())
        return max(begun, self.closes.at - work)


@dataclass(frozen=True, slots=True)
class ReadyAt:
    """One of the six answers. `at` None: nothing has to dry, or only the tin knows; `because` says.

    The newest film must have a figure; of those below, what is known counts.
    """

    ready: Ready
    at: datetime | None
    because: str
    source: Source | None = None
    tried_not: bool = False
    """It was tried last and was not ready, whatever the figures say."""
    until: datetime | None = None
    """The end of a window, after which `missed` must come first."""
    missed: str = ""
    in_doubt: bool = False
    """A wrong clock told the time that it counts from."""


def said_source(source: Source | None) -> str:
    """The source as it is shown beside its figure; "" when there is none."""
    return source.cited if source else ""


def window(now: Progress, step: Step, shop: WaitFigures) -> Window:
    """The window of `step` on this face, from what stands done on it."""
    marks = {m.step: m for m in now.done}
    before = [s for s in (now.path.step(m.step) for m in now.done) if s and s.key != step.key]
    waits = waits_into(step, before, shop)
    opens = [
        _bound(marks[w.before.key], w.earliest, w, w.earliest_source)
        for w in waits
        if w.earliest is not None
    ]
    closes = [
        _bound(marks[w.before.key], w.latest, w, w.latest_source)
        for w in waits
        if w.latest is not None
    ]
    back = film_sent_back(now) if readiness_for(step.operation) else None
    if back:
        mark, film = back
        wait = wait_over(film, step, shop)
        if wait and wait.earliest is not None:
            opens.append(_bound(mark, wait.earliest, wait, wait.earliest_source))
    return Window(
        step,
        max(opens, key=lambda b: b.at, default=None),
        min(closes, key=lambda b: b.at, default=None),
        {b.wait.before.name: b.doubt for b in (*opens, *closes) if b.doubt},
    )


def _bound(mark: Mark, length: timedelta, wait: Wait, source: Source | None) -> Bound:
    """The end of a wait that counts from a mark."""
    return Bound(mark.at + length, wait, source, mark)


def overstayed(now: Progress, shop: WaitFigures) -> timedelta | None:
    """How long after its window had closed the newest standing step was done; None when in time."""
    marks = now.done
    step = now.path.step(marks[-1].step) if marks else None
    if step is None:
        return None
    within = window(replace(now, done=marks[:-1]), step, shop)
    closes = within.closes
    return marks[-1].at - closes.at if closes and within.is_late(marks[-1].at) else None


def film_sent_back(now: Progress) -> tuple[Mark, Step] | None:
    """The newest coat that was sent back and not worked on since: it lies there, and may be wet."""
    for mark in reversed(now.history):
        if mark.kind is not MarkKind.DONE:
            continue
        step = now.path.step(mark.step)
        if mark in now.done or step is None:
            return None
        if step.operation in FILM:
            return mark, step
    return None


def films_on(now: Progress) -> list[tuple[Mark, Step]]:
    """What lies on the face and has to dry, oldest first: also the coat that was sent back."""
    films = [(m, s) for m, s in standing_steps(now) if s.operation in FILM]
    back = film_sent_back(now)
    return [*films, back] if back else films


def readiness(now: Progress, shop: WaitFigures) -> tuple[ReadyAt, ...]:
    """The six answers for a face; each the latest over all that stands on it."""
    films = [(m, s) for m, s in films_on(now) if s.product]
    return tuple(_ready(ready, films, now, shop) for ready in Ready)


def standing_steps(now: Progress) -> list[tuple[Mark, Step]]:
    """The done marks that stand, each with its step."""
    found = [(m, now.path.step(m.step)) for m in now.done]
    return [(m, s) for m, s in found if s is not None]


def _ready(
    ready: Ready, films: Sequence[tuple[Mark, Step]], now: Progress, shop: WaitFigures
) -> ReadyAt:
    answers = [_film_ready(ready, mark, step, shop) for mark, step in films]
    top = answers[-1] if answers else None
    coming = _next_step_ready(ready, now, shop)
    doubtful = next((a for a in (*answers, *coming) if a.in_doubt), None)
    if doubtful:
        return doubtful
    known = [a for a in (*answers, *coming) if a.at is not None]
    if top and top.at is None and ready is not Ready.RECOAT:
        return top
    if not known:
        return top or ReadyAt(ready, None, "nothing on this face has to dry")
    latest = max(known, key=lambda a: a.at or now.done[0].at)
    return replace(latest, until=top.until, missed=top.missed) if top else latest


def _film_ready(ready: Ready, mark: Mark, step: Step, shop: WaitFigures) -> ReadyAt:
    timed = _timed(ready, step, shop)
    factor = shop.air.stretch if shop.water_borne(step) else 1.0
    time = timed.time * factor if timed else None
    if mark.contradicted:
        return _in_doubt(ready, step, mark)
    longer = shop.own_longer(step, ready, time)
    if longer:
        because = f"{step.name} needs {say_duration(longer.time)} before {before_word(ready)}"
        found = ReadyAt(ready, mark.at + longer.time, because, longer.source)
        return _closing(found, timed, mark)
    if timed is None or time is None:
        return ReadyAt(ready, None, f"no figure for {step.name}: read its tin")
    because = f"{step.name} needs {say_duration(time)} before {before_word(ready)}"
    return _closing(ReadyAt(ready, mark.at + time, because, timed.source), timed, mark)


def _in_doubt(ready: Ready, step: Step, mark: Mark) -> ReadyAt:
    return ReadyAt(ready, None, f"{step.name}: {mark.doubt}", in_doubt=True)


def _closing(found: ReadyAt, timed: Timed | None, mark: Mark) -> ReadyAt:
    """With the end of its window, which no air makes later."""
    if timed is None or timed.latest is None:
        return found
    return replace(found, until=mark.at + timed.latest, missed=timed.missed)


def _timed(ready: Ready, step: Step, shop: WaitFigures) -> Timed | None:
    tin = shop.tin(step)
    said = tin.waits.get(ready.value) if tin else None
    if tin and said and said.earliest is not None:
        return Timed(said.earliest, tin.source(ready.value, said.earliest), said.latest)
    product = shop.products.get(step.product)
    return product.times.get(ready) if product else None


def _next_step_ready(ready: Ready, now: Progress, shop: WaitFigures) -> list[ReadyAt]:
    """The path's own wait into a step to come counts as well, as after a rinse before sanding."""
    found = []
    for step in now.choices:
        if readiness_for(step.operation) is ready:
            opens = window(now, step, shop).opens
            if opens and opens.since and opens.since.contradicted:
                found.append(_in_doubt(ready, opens.wait.before, opens.since))
            elif opens:
                found.append(ReadyAt(ready, opens.at, opens.wait.why_not_yet(), opens.source))
    return found


def air(
    limits: Limits, temperature_c: float, humidity: float, measures: Measures = Measures.METRIC
) -> Air | Refused:
    """The room's air as a stretch of water-borne waits; a refusal when it cannot be."""
    found = stretch(limits, temperature_c, humidity)
    if isinstance(found, Refused):
        return found
    return Air(found.factor, found.say(measures), "; ".join(found.sources))
