"""What a plan is made of: the work that is left, who does it and where, and what binds it.

Times are whole minutes from the moment that the plan is made for (0: now). A stint is work that is
done in one go: a batch of fronts washed, a load of the gun. Least waits are rounded up before they
come here, latest ends down, so that a plan that keeps the minutes keeps the seconds.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

FromTo = tuple[int, int]
"""From one minute up to another."""


@dataclass(frozen=True, slots=True)
class Stint:
    """Work of one step on faces that are worked together, in one go.

    work: what it is, in the word by which a helper's work is listed. use: what it makes of its
    room while it lasts (dust, spray, fumes); "" disturbs nobody. mix: what is in the gun; "" is no
    work of the gun. ml: what it takes out of the cup. m2 lie on rack or bench from its start until
    `lies` minutes after its end. soonest and by bound its start. where and does: the parts and the
    step, of which the name is made. kind: the letter of its parts, "" where they are of several.
    """

    key: str
    piece: str
    name: str
    minutes: int
    work: str = ""
    hands: int = 1
    room: str = ""
    use: str = ""
    loud: bool = False
    mix: str = ""
    ml: float = 0.0
    m2: float = 0.0
    lies: int = 0
    soonest: int = 0
    by: int | None = None
    why_soonest: str = ""
    why_by: str = ""
    where: str = ""
    does: str = ""
    kind: str = ""


@dataclass(frozen=True, slots=True)
class Lag:
    """From the end of one stint to the start of another: no sooner, no later, and why."""

    before: str
    after: str
    least: int = 0
    most: int | None = None
    why: str = ""
    why_most: str = ""


@dataclass(frozen=True, slots=True)
class Worker:
    """A pair of hands: when it is here, when it may be loud, and the work it is limited to.

    only: () is any work. The stretches are in order and do not touch.
    """

    name: str
    here: tuple[FromTo, ...]
    loud: tuple[FromTo, ...]
    only: tuple[str, ...] = ()

    def may(self, stint: Stint) -> bool:
        return not self.only or stint.work in self.only


@dataclass(frozen=True, slots=True)
class SprayGun:
    """Minutes to set it up and to clean it, for each cup, and what the cup holds, ml."""

    set_up: int = 0
    clean: int = 0
    cup_ml: float = float("inf")


@dataclass(frozen=True, slots=True)
class Promised:
    """When a piece was promised for, and how much a minute late is worth against a minute of the
    shop's own end."""

    piece: str
    by: int
    worth: float = 10.0


@dataclass(frozen=True, slots=True)
class Workshop:
    """Everything that is left to do and all that binds it.

    settles: minutes that a room needs between two uses that do not go together; a pair that is not
    named needs none, but two different uses of one room never lie at the same time. rack_m2: None
    where nobody has said how much lies on it. titles: a piece as people call it.
    """

    stints: tuple[Stint, ...]
    lags: tuple[Lag, ...] = ()
    workers: tuple[Worker, ...] = ()
    gun: SprayGun = SprayGun()
    settles: Mapping[tuple[str, str], int] = field(default_factory=dict)
    rack_m2: float | None = None
    promised: tuple[Promised, ...] = ()
    titles: Mapping[str, str] = field(default_factory=dict)

    @property
    def pieces(self) -> tuple[str, ...]:
        """The pieces that have work left, in the order of their first stint."""
        return tuple(dict.fromkeys(s.piece for s in self.stints))

    def title(self, piece: str) -> str:
        return self.titles.get(piece, piece)


@dataclass(frozen=True, slots=True)
class Booked:
    """A stint on the clock: from, until, by whom, and in which load of the gun (0: none).

    For the gun, set-up lies before the first and cleaning after the last stint of a load.
    """

    stint: str
    start: int
    end: int
    workers: tuple[str, ...]
    load: int = 0


@dataclass(frozen=True, slots=True)
class ShopPlan:
    """Every stint on the clock, the soonest first. missed: lags and stints whose latest end cannot
    be kept, by the keys of the two stints (the same twice for a stint's own)."""

    placed: tuple[Booked, ...]
    missed: tuple[tuple[str, str], ...] = ()

    def at(self) -> dict[str, Booked]:
        return {p.stint: p for p in self.placed}

    def ends(self, shop: Workshop) -> dict[str, int]:
        """When the last stint of each piece is done."""
        by = self.at()
        found: dict[str, int] = {}
        for stint in shop.stints:
            found[stint.piece] = max(found.get(stint.piece, 0), by[stint.key].end)
        return found


MISSED_COSTS = 14 * 24 * 60
"""Minutes that a window which is not kept counts, so that a plan misses one only where it must."""


def cost(shop: Workshop, plan: ShopPlan) -> float:
    """What a plan is judged by, in minutes: the last end, what is late by its worth, and windows
    that are missed."""
    ends = plan.ends(shop)
    late = sum(p.worth * max(0, ends[p.piece] - p.by) for p in shop.promised if p.piece in ends)
    return max(ends.values(), default=0) + late + MISSED_COSTS * len(plan.missed)
