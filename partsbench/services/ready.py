"""When faces are ready for what: the six answers as times of day, for the bench."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from partsbench.core.finish.clocks import ReadyAt, readiness
from partsbench.core.finish.products import Ready
from partsbench.services import answers
from partsbench.services.shop import Shop
from partsbench.services.state import FaceState


def ready(shop: Shop, faces: Sequence[FaceState], now: datetime) -> tuple[ReadyAt, ...]:
    """The six answers for faces that are worked together: of each the latest.

    () when nothing on them has to dry. An answer that only the tin knows stays so for all.
    """
    waits = answers.waits_of(shop, now)
    told = [readiness(face.progress, waits) for face in faces if face.path.steps]
    if not any(answer.at or answer.source for each in told for answer in each):
        return ()
    return tuple(_latest([each[place] for each in told]) for place in range(len(Ready)))


def short_time(answer: ReadyAt, now: datetime) -> str:
    """`now`, `14:20`, `Thu 14:20`, or `see tin` when no figure is known."""
    if answer.at is None:
        return "see tin"
    if answer.at <= now:
        return "now"
    at = answer.at.astimezone()
    if at.date() == now.astimezone().date():
        return f"{at:%H:%M}"
    near = (at.date() - now.astimezone().date()).days < 7
    return f"{at:%a %H:%M}" if near else f"{at:%d %b}"


def _latest(found: Sequence[ReadyAt]) -> ReadyAt:
    unknown = next((a for a in found if a.at is None), None)
    return unknown or max(found, key=lambda a: a.at.timestamp() if a.at else 0.0)
