"""A workshop laid out for placing: by number, and what goes together in one go."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from partsbench.core.plan.slots import outside
from partsbench.core.plan.workshop import ShopPlan, Stint, Workshop

Batches = tuple[tuple[int, ...], ...]
"""Stints that are worked in one go, by number: what goes in one cup of the gun, fronts that are
sanded one after another. Those not named go as it comes."""

SPARE_DAYS = 2 * 24 * 60


@dataclass(frozen=True, slots=True, eq=False)
class Unit:
    """What is placed at once: one stint, or a batch of several, one after another.

    begins: of each its number, and its minute from the start of the first. before and after: set-up
    and cleaning. able: who
    may do it. where: room and use. lying: of each that lies on the rack its offset, how long, its
    m², and m² together with those before it. soonest and by bound the start of the first.
    after_start: the stints that it waits for, each with the minutes from its start. windows: of
    each latest end its two stints, and the minutes from the start of the first to that of the unit.
    """

    members: tuple[int, ...]
    begins: tuple[tuple[int, int], ...]
    length: int
    before: int
    after: int
    crew: int
    able: tuple[int, ...]
    loud: bool
    where: tuple[str, str]
    mix: str
    ml: float
    lying: tuple[tuple[int, int, float, float], ...]
    soonest: int
    by: int | None
    after_start: tuple[tuple[int, int], ...]
    windows: tuple[tuple[int, int, int], ...]


@dataclass(frozen=True, slots=True, eq=False)
class Units:
    """Everything that is to be placed, and the numbers of the units that each waits for."""

    units: tuple[Unit, ...]
    waits: tuple[tuple[int, ...], ...]


class Floor:
    """The workshop by number. Everything here stays as it is while plans are made and compared."""

    def __init__(self, shop: Workshop) -> None:
        self.shop = shop
        self.stints = shop.stints
        number = {s.key: i for i, s in enumerate(shop.stints)}
        self.number = number
        self.into: list[list[tuple[int, int, int | None]]] = [[] for _ in shop.stints]
        self.out: list[list[tuple[int, int, int | None]]] = [[] for _ in shop.stints]
        for lag in shop.lags:
            a, b = number[lag.before], number[lag.after]
            least = max(lag.least, self._between(shop.stints[a], shop.stints[b]))
            self.into[b].append((a, least, lag.most))
            self.out[a].append((b, least, lag.most))
        last = max((end for w in shop.workers for _, end in w.here), default=0)
        self.horizon = last + SPARE_DAYS
        self.plain = [outside(w.here, self.horizon) for w in shop.workers]
        self.loud = [outside(w.loud, self.horizon) for w in shop.workers]
        self.able = [
            tuple(i for i, w in enumerate(shop.workers) if w.may(stint)) for stint in shop.stints
        ]
        uses = dict.fromkeys((s.room, s.use) for s in shop.stints if s.room and s.use)
        self.others = {
            (room, use): tuple(
                (other, shop.settles.get((other[1], use), 0), shop.settles.get((use, other[1]), 0))
                for other in uses
                if other[0] == room and other[1] != use
            )
            for room, use in uses
        }
        """Room and use → the other uses of that room, with the minutes between it before, and
        between this one before and it."""
        self.minutes = [s.minutes for s in shop.stints]
        self.order = self._in_order()
        self.of_piece: dict[str, list[int]] = {}
        for i, s in enumerate(shop.stints):
            self.of_piece.setdefault(s.piece, []).append(i)
        self.single = [self.unit((i,)) for i in range(len(shop.stints))]

    def _between(self, a: Stint, b: Stint) -> int:
        """Minutes that lie between two stints of which the second waits for the first, whatever
        else: the gun is cleaned and set up, and the room settles."""
        if a.mix and a.mix == b.mix:
            return 0  # they may be in one cup
        gun = self.shop.gun
        gun_work = (gun.clean if a.mix else 0) + (gun.set_up if b.mix else 0)
        shared = a.room and a.use and b.use and a.room == b.room and a.use != b.use
        if shared:
            return gun_work + self.shop.settles.get((a.use, b.use), 0)
        return gun_work if len(self.shop.workers) == 1 else 0

    def unit(self, members: tuple[int, ...]) -> Unit:
        """These stints as one unit, one after another."""
        first = self.stints[members[0]]
        gun = self.shop.gun if first.mix else None
        begins, at, lying, m2 = [], 0, [], 0.0
        for i in members:
            s = self.stints[i]
            begins.append((i, at))
            if s.m2 and self.shop.rack_m2:
                own = min(s.m2, self.shop.rack_m2)
                m2 += own
                lying.append((at, s.minutes + s.lies, own, m2))
            at += s.minutes
        mine = [(self.stints[i], offset) for i, offset in begins]
        bys = [s.by - offset for s, offset in mine if s.by is not None]
        after, windows = self._bound_to(begins)
        return Unit(
            members,
            tuple(begins),
            at,
            gun.set_up if gun else 0,
            gun.clean if gun else 0,
            first.hands,
            self.able[members[0]],
            any(s.loud for s, _ in mine),
            (first.room, first.use),
            first.mix,
            sum(s.ml for s, _ in mine),
            tuple(lying),
            max(s.soonest - offset for s, offset in mine),
            min(bys, default=None),
            after,
            windows,
        )

    def _bound_to(
        self, begins: Sequence[tuple[int, int]]
    ) -> tuple[tuple[tuple[int, int], ...], tuple[tuple[int, int, int], ...]]:
        """What a unit waits for, and its latest ends, from the starts of other stints."""
        own = {i for i, _ in begins}
        after: dict[int, int] = {}
        windows = []
        for i, offset in begins:
            for a, least, most in self.into[i]:
                if a in own:
                    continue
                over = self.stints[a].minutes - offset
                after[a] = max(after.get(a, over + least), over + least)
                if most is not None:
                    windows.append((a, i, over + most))
        return tuple(after.items()), tuple(windows)

    def joins(self, a: Stint, b: Stint) -> bool:
        """Whether two stints can be sprayed from one cup at all."""
        alike = (a.mix, a.room, a.use, a.hands, a.loud) == (b.mix, b.room, b.use, b.hands, b.loud)
        mine = self.able[self.number[a.key]] == self.able[self.number[b.key]]
        return bool(a.mix) and alike and mine

    def one_cup(self, members: Iterable[int]) -> bool:
        """Whether so much goes into one cup, and finds its place on the rack together."""
        mine = [self.stints[i] for i in members]
        rack = self.shop.rack_m2
        fits = rack is None or sum(s.m2 for s in mine) <= rack + 1e-9
        return fits and sum(s.ml for s in mine) <= self.shop.gun.cup_ml + 1e-9

    def cups(self, plan: ShopPlan) -> Batches:
        """What a plan sprays from each cup, of the stints that are here."""
        found: dict[int, list[int]] = {}
        for p in plan.placed:
            if p.load and p.stint in self.number:
                found.setdefault(p.load, []).append(self.number[p.stint])
        return tuple(tuple(members) for members in found.values())

    def units(self, batches: Batches) -> Units | None:
        """Everything as units; None where these batches would wait for themselves."""
        units, of = self._units(batches)
        waits: list[set[int]] = [set() for _ in units]
        for b, before in enumerate(self.into):
            for a, least, _ in before:
                if of[a] != of[b]:
                    waits[of[b]].add(of[a])
                elif least or units[of[a]].members.index(a) > units[of[b]].members.index(b):
                    return None
        after: list[set[int]] = [set() for _ in units]
        for b, mine in enumerate(waits):
            for a in mine:
                after[a].add(b)
        if _topological(after) is None:
            return None
        return Units(tuple(units), tuple(tuple(sorted(mine)) for mine in waits))

    def _units(self, batches: Batches) -> tuple[list[Unit], list[int]]:
        of = [-1] * len(self.stints)
        units: list[Unit] = []
        for members in batches:
            for i in members:
                of[i] = len(units)
            units.append(self.unit(members))
        for i in range(len(self.stints)):
            if of[i] < 0:
                of[i] = len(units)
                units.append(self.single[i])
        return units, of

    def _in_order(self) -> list[int]:
        """The stints so that each comes after those that it waits for."""
        order = _topological([{b for b, _, _ in out} for out in self.out])
        if order is None:
            raise ValueError("a stint waits for itself")
        return order


def _topological(after: Sequence[Iterable[int]]) -> list[int] | None:
    """An order in which everything comes after what it waits for; None where there is none.

    What becomes free last goes first, so that a chain stays together.
    """
    open_ = [0] * len(after)
    for following in after:
        for v in following:
            open_[v] += 1
    free = [u for u in range(len(after) - 1, -1, -1) if not open_[u]]
    found = []
    while free:
        u = free.pop()
        found.append(u)
        for v in sorted(after[u], reverse=True):
            open_[v] -= 1
            if not open_[v]:
                free.append(v)
    return found if len(found) == len(after) else None
