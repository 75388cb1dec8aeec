"""When faces are ready for what: the six answers as times of day, for the bench."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta

from partsbench.core.finish.clocks import ReadyAt, readiness
from partsbench.core.finish.durations import say_duration
from partsbench.core.finish.holds import TRIED
from partsbench.core.finish.own_readiness import BEFORE, Try
from partsbench.core.finish.products import Ready
from partsbench.core.shown_times import day, time_of_day
from partsbench.services.known.state import FaceState
from partsbench.services.rules import answers, own_waits
from partsbench.services.shop import Shop


def ready(shop: Shop, faces: Sequence[FaceState], now: datetime) -> tuple[ReadyAt, ...]:
    """The six answers for faces that are worked together: of each the latest.

    () when nothing on them has to dry. An answer that only the tin knows stays so for all.
    """
    waits = answers.waits_of(shop, now)
    told = [readiness(face.progress, waits) for face in faces if face.path.steps]
    if not any(answer.at or answer.source for each in told for answer in each):
        return ()
    held = own_waits.held_by_try(shop, faces)
    latest = (_latest([each[place] for each in told]) for place in range(len(Ready)))
    return tuple(_as_tried(answer, held.get(answer.ready)) for answer in latest)


def _as_tried(answer: ReadyAt, tried: Try | None) -> ReadyAt:
    """The answer where the film was tried after it should have been ready, and was not."""
    if tried is None or (answer.at is not None and answer.at > tried.at):
        return answer
    length = say_duration(tried.at - tried.film_at)
    because = f"tried {length} after the coat, not ready {BEFORE[answer.ready]}: try it again"
    return ReadyAt(answer.ready, None, because, TRIED, tried_not=True)


def short_time(answer: ReadyAt, now: datetime) -> str:
    """`now`, `14:20`, `Thu 14:20`; `not yet` when it was tried last and was not ready, `see tin`
    when no figure is known."""
    if answer.at is None:
        return "not yet" if answer.tried_not else "see tin"
    if answer.at <= now:
        return "now"
    near = answer.at - now < timedelta(days=6)
    return time_of_day(answer.at, now) if near else day(answer.at, now)


def _latest(found: Sequence[ReadyAt]) -> ReadyAt:
    unknown = next((a for a in found if a.at is None), None)
    return unknown or max(found, key=lambda a: a.at.timestamp() if a.at else 0.0)
