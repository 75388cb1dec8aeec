"""When faces could be finished at best: each face, as it stands at a time, is reckoned once."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import datetime

from partsbench.core.finish.effort import Own
from partsbench.core.finish.hours import ANY_TIME, Hours
from partsbench.core.finish.progress import Progress
from partsbench.core.finish.schedule import Network, Schedule, schedule
from partsbench.core.finish.steps import FinishPath
from partsbench.core.finish.stn import Impossible
from partsbench.core.finish.waits import WaitFigures as Waits
from partsbench.core.piece.spot import WHOLE, Spot
from partsbench.services.known import work
from partsbench.services.known.hours import hours_of
from partsbench.services.rules import answers
from partsbench.services.rules.clocks import Group, distinct
from partsbench.services.shop import Shop


class FaceEnds:
    """Without an order across seams no face waits for another, so each is planned alone."""

    def __init__(self, waits: Waits, own: Own, hours: Hours = ANY_TIME) -> None:
        self._waits = waits
        self._own = own
        self.hours = hours
        self.out_of_hours = False
        """True once a plan could not keep the hours without missing a window."""
        self._plans: dict[tuple[object, ...], Schedule | Impossible] = {}
        self._kept: dict[int, FinishPath] = {}
        self._network: Network = {}

    def plan(self, at: Progress, now: datetime) -> Schedule | Impossible:
        """The remaining steps of one face, or why they cannot be."""
        # A path is told by its identity, so it is kept for as long as the plan is.
        self._kept[id(at.path)] = at.path
        key = (id(at.path), at.done, at.place, now)
        if key not in self._plans:
            found = schedule(
                {WHOLE: at},
                now,
                self._waits,
                own=self._own,
                hours=self.hours,
                bounded=False,
                network=self._network,
            )
            self.out_of_hours |= isinstance(found, Schedule) and not found.in_hours
            self._plans[key] = found
        return self._plans[key]

    def of(self, faces: Mapping[Spot, Progress], now: datetime) -> datetime | None:
        """When the last of the faces could be done; None when one of them cannot be."""
        plans = [self.plan(at, now) for at in faces.values()]
        ends = [p.ends for p in plans if isinstance(p, Schedule) and p.ends]
        whole = all(isinstance(p, Schedule) for p in plans)
        return max(ends, default=None) if whole else None

    def of_groups(self, groups: Iterable[Group], now: datetime) -> datetime | None:
        """The same for groups of faces; those at an outside workshop begin when they are back."""
        since: dict[datetime, list[Group]] = {}
        for group in groups:
            since.setdefault(max(now, group.away or now), []).append(group)
        ends = []
        for start, some in since.items():
            faces = distinct(some)
            end = self.of(faces, start)
            if faces and end is None:
                return None
            ends += [end] if end else []
        return max(ends, default=None)


def at_best(shop: Shop, now: datetime) -> FaceEnds:
    """Ends by the shop's own figures: its tins, its air, its pace, its hours."""
    return FaceEnds(answers.waits_of(shop, now), work.own_times(shop, now), hours_of(shop))
