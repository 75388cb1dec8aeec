"""One plan from one order of the work: each thing as soon as it can be, behind what is placed.

What a latest end ties together is placed together: where the second would come too late, the first
is put off until both fit (a serial schedule with putting off, as for projects with least and
longest waits).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence, Set
from heapq import heapify, heappop, heappush
from itertools import combinations

from partsbench.core.plan.floor import Cluster, Floor, Unit
from partsbench.core.plan.slots import LOOK, first, starts
from partsbench.core.plan.workshop import Booked, ShopPlan

MOST_PUT_OFF = 80
"""So often the first of a cluster is put off before its latest end is given up."""

MOST_TURNED_BACK = 150
"""So often a whole pass goes back; after that latest ends are missed, and the plan is a bad one."""

Cup = tuple[int, tuple[int, ...], float, tuple[str, str], int]
"""A load so far: end of its spraying, by whom, ml used, room and use, number."""


class Table:
    """What is placed so far, and who and what is taken when."""

    __slots__ = (
        "cups",
        "floor",
        "gun",
        "joined",
        "load",
        "loads",
        "loud",
        "missed",
        "plain",
        "rack",
        "rooms",
        "start",
        "who",
    )

    def __init__(self, floor: Floor) -> None:
        count = len(floor.stints)
        self.floor = floor
        self.plain = list(floor.plain)
        self.loud = list(floor.loud)
        self.gun = 0
        self.rooms: dict[tuple[str, str], int] = {}
        self.rack: list[tuple[int, int, float]] = []
        self.start = [-1] * count
        self.who: list[tuple[int, ...]] = [()] * count
        self.load = [0] * count
        self.loads = 0
        self.cups: dict[str, list[Cup]] = {}
        self.missed: list[tuple[int, int]] = []
        self.joined = 0

    def copy(self) -> Table:
        other = Table.__new__(Table)
        other.floor = self.floor
        other.plain = list(self.plain)
        other.loud = list(self.loud)
        other.gun = self.gun
        other.rooms = dict(self.rooms)
        other.rack = list(self.rack)
        other.start = list(self.start)
        other.who = list(self.who)
        other.load = list(self.load)
        other.loads = self.loads
        other.cups = {mix: list(cups) for mix, cups in self.cups.items()}
        other.missed = list(self.missed)
        other.joined = self.joined
        return other

    def ready(self, unit: Unit) -> int:
        """The soonest start that waits and days allow."""
        soonest = max(unit.soonest, unit.before)
        stints, start = self.floor.stints, self.start
        for i, offset in zip(unit.members, unit.offsets, strict=True):
            for a, least, _ in self.floor.into[i]:
                soonest = max(soonest, start[a] + stints[a].minutes + least - offset)
        return soonest

    def latest(self, unit: Unit) -> tuple[int | None, int, int]:
        """The latest start, and by which two stints (the same twice: by its own day)."""
        by, a_, b_ = unit.by, unit.members[0], unit.members[0]
        stints, start = self.floor.stints, self.start
        for i, offset in zip(unit.members, unit.offsets, strict=True):
            for a, _, most in self.floor.into[i]:
                if most is not None and start[a] >= 0:
                    at = start[a] + stints[a].minutes + most - offset
                    if by is None or at < by:
                        by, a_, b_ = at, a, i
        return by, a_, b_

    def find(self, unit: Unit, soonest: int) -> tuple[int, tuple[int, ...]] | None:
        """The soonest start from then on, and by whom; None within the horizon."""
        base = self.gun if unit.mix else 0
        if unit.where[1]:
            base |= self.rooms.get(unit.where, 0)
        hands = self.loud if unit.loud else self.plain
        busy = [(w, hands[w]) for w in unit.able]
        length = unit.before + unit.length + unit.after
        at = soonest - unit.before
        while at < self.floor.horizon:
            found = self._within(unit, base, busy, length, at)
            if found:
                return found[0] + unit.before, found[1]
            at += LOOK
        return None

    def _within(
        self,
        unit: Unit,
        base: int,
        busy: Sequence[tuple[int, int]],
        length: int,
        at: int,
    ) -> tuple[int, tuple[int, ...]] | None:
        rack = self._rack_starts(unit, at) if unit.lying else -1
        if not rack:
            return None
        free = [(w, starts(base | taken, at, length) & rack) for w, taken in busy]
        best: tuple[int, tuple[int, ...]] | None = None
        if unit.crew == 1:
            for w, bits in free:
                if bits and (best is None or first(bits) + at < best[0]):
                    best = first(bits) + at, (w,)
            return best
        for some in combinations(free, unit.crew):
            bits = -1
            for _, each in some:
                bits &= each
            if bits and (best is None or first(bits) + at < best[0]):
                best = first(bits) + at, tuple(w for w, _ in some)
        return best

    def _rack_starts(self, unit: Unit, at: int) -> int:
        """Starts of set-up at which what is sprayed finds its place on the rack."""
        found = -1
        for offset, length, _, m2 in unit.lying:
            found &= self._rack_free(at + unit.before + offset, length, m2)
        return found

    def _rack_free(self, begin: int, length: int, wanted: float) -> int:
        """Bit i: from `begin + i` on, so many m² are free for so long."""
        room = self.floor.shop.rack_m2 or 0.0
        events: list[tuple[int, float]] = []
        for start, end, m2 in self.rack:
            if end > begin and start < begin + LOOK + length:
                events += ((max(start, begin), m2), (end, -m2))
        full, used, since = 0, 0.0, begin
        for minute, m2 in sorted(events):
            if used + wanted > room + 1e-9 and minute > since:
                full |= ((1 << (minute - since)) - 1) << (since - begin)
            used, since = used + m2, minute
        return starts(full, 0, length)

    def put(self, unit: Unit, at: int, who: tuple[int, ...]) -> None:
        """Place a unit; a load of the gun opens a cup that others may join."""
        if unit.mix:
            self.loads += 1
            cup = (at + unit.length, who, unit.ml, unit.where, self.loads)
            self.cups.setdefault(unit.mix, []).append(cup)
        self._note(unit, at, who, self.loads if unit.mix else 0)
        self._take(unit, at - unit.before, at + unit.length + unit.after, who)

    def _note(self, unit: Unit, at: int, who: tuple[int, ...], load: int) -> None:
        for i, offset in zip(unit.members, unit.offsets, strict=True):
            self.start[i], self.who[i], self.load[i] = at + offset, who, load
        for offset, length, m2, _ in unit.lying:
            self.rack.append((at + offset, at + offset + length, m2))

    def _take(self, unit: Unit, begin: int, end: int, who: tuple[int, ...]) -> None:
        if end <= begin:
            return
        bits = ((1 << (end - begin)) - 1) << begin
        for w in who:
            self.plain[w] |= bits
            self.loud[w] |= bits
        if unit.mix:
            self.gun |= bits
        for other, from_it, to_it in self.floor.others.get(unit.where, ()):
            low = max(0, begin - from_it)
            span = ((1 << (end + to_it - low)) - 1) << low
            self.rooms[other] = self.rooms.get(other, 0) | span

    def join(self, unit: Unit, ready: int, latest: int | None, before: int) -> bool:
        """Put the unit into a cup that is still open, where its spraying then begins before
        `before`; False where no cup can be lengthened by it."""
        for place, (end, who, ml, where, load) in enumerate(self.cups.get(unit.mix, ())):
            if end < ready or end > before or (latest is not None and end > latest):
                continue
            if ml + unit.ml > self.floor.shop.gun.cup_ml + 1e-9 or where != unit.where:
                continue
            if len(who) != unit.crew or not set(who) <= set(unit.able):
                continue
            begin = end + unit.after
            busy = self.gun | self.rooms.get(unit.where, 0)
            for w in who:
                busy |= self.loud[w] if unit.loud else self.plain[w]
            if (busy >> begin) & ((1 << unit.length) - 1):
                continue
            if unit.lying and not self._rack_starts(unit, end - unit.before) & 1:
                continue
            self.cups[unit.mix][place] = (end + unit.length, who, ml + unit.ml, where, load)
            self._note(unit, end, who, load)
            self._take(unit, begin, begin + unit.length, who)
            self.joined += 1
            return True
        return False

    def plan(self) -> ShopPlan:
        """What is on the table as a plan."""
        stints, workers = self.floor.stints, self.floor.shop.workers
        placed = [
            Booked(
                stint.key,
                self.start[i],
                self.start[i] + stint.minutes,
                tuple(workers[w].name for w in self.who[i]),
                self.load[i],
            )
            for i, stint in enumerate(stints)
        ]
        missed = dict.fromkeys((stints[a].key, stints[b].key) for a, b in self.missed)
        return ShopPlan(tuple(sorted(placed, key=lambda p: (p.start, p.end))), tuple(missed))


Late = tuple[int, int, int]
"""The two stints of a latest end that cannot be kept, and by how many minutes."""

NEVER = 10**9
"""By so many minutes, where there is no time for it at all."""


class _Pass:
    """One pass over everything: of what may be placed, always what has the lowest rank.

    Where a latest end cannot be kept, the pass goes back to where its first stint was placed, puts
    that off, and goes on from there.
    """

    def __init__(
        self,
        floor: Floor,
        clusters: Sequence[Cluster],
        rank: Sequence[float],
        join_late: int,
        lower: Mapping[int, int],
    ) -> None:
        self.clusters, self.rank, self.join_late = clusters, rank, join_late
        self.table = Table(floor)
        self.urgent: set[int] = set()
        self.following: list[list[int]] = [[] for _ in clusters]
        for c, cluster in enumerate(clusters):
            for before in cluster.waits_for:
                self.following[before].append(c)
        self.ranked = [min(rank[i] for unit in c.units for i in unit.members) for c in clusters]
        self._begin()
        self.of = {i: c for c, each in enumerate(clusters) for u in each.units for i in u.members}
        self.lower = dict(lower)
        self.steps: list[tuple[int, Table, list[int], list[tuple[float, int]]]] = []
        self.turned_back = 0

    def _begin(self) -> None:
        self.left = [len(c.waits_for) for c in self.clusters]
        self.free = [(self.ranked[c], c) for c, count in enumerate(self.left) if not count]
        heapify(self.free)

    def run(self) -> Table:
        while self.free:
            _, c = heappop(self.free)
            before = self.table
            hold = self.turned_back < MOST_TURNED_BACK
            placed = place_cluster(
                before.copy(),
                self.clusters[c].units,
                self.rank,
                self.join_late,
                self.lower,
                hold,
                self.urgent,
            )
            if isinstance(placed, Table):
                self.steps.append((c, before, list(self.left), list(self.free)))
                self.table = placed
                self._release(c)
            else:
                self._turn_back(placed, c)
        return self.table

    def _release(self, c: int) -> None:
        for after in self.following[c]:
            self.left[after] -= 1
            if not self.left[after]:
                heappush(self.free, (self.ranked[after], after))

    def _turn_back(self, late: Late, c: int) -> None:
        """To before the first of the two was placed, which is put off by the minutes; the second
        then comes right behind it. What has a day of its own comes before everything else."""
        a, b, minutes = late
        self.turned_back += 1
        if a == b or self.of[a] == c:
            self.urgent.add(a)
            self.ranked[c] = -float("inf")
            self.table, self.steps = self.steps[0][1] if self.steps else self.table, []
            self._begin()
            return
        start = self.table.start[a]
        while True:
            before_c, before, left, free = self.steps.pop()
            if before_c == self.of[a]:
                break
        self.table, self.left = before, left
        self.lower = {**self.lower, a: start + minutes}
        self.ranked[c] = min(self.ranked[c], self.ranked[before_c])
        self.free = [(self.ranked[k], k) for _, k in free if k != before_c]
        self.free.append((self.ranked[before_c], before_c))
        heapify(self.free)


def place_all(
    floor: Floor,
    clusters: Sequence[Cluster],
    rank: Sequence[float],
    join_late: int = 0,
    lower: Mapping[int, int] | None = None,
) -> Table:
    """Place everything in the order of its rank.

    rank: by stint; that of the first of a cluster counts. join_late: minutes by which a stint may
    start later for the sake of a cup that stands ready. lower: stints that are to start no sooner.
    """
    return _Pass(floor, clusters, rank, join_late, lower or {}).run()


def place_cluster(
    table: Table,
    units: Sequence[Unit],
    rank: Sequence[float],
    join_late: int,
    lower: Mapping[int, int],
    hold: bool,
    urgent: Set[int] = frozenset(),
) -> Table | Late:
    """Place units that are tied together, each as soon as all can be kept; gives the new table.

    With `hold`, a latest end that hangs on a stint placed before is not given up but told.
    """
    order = _in_turn(table.floor, units, rank) if len(units) > 1 else units
    own = {i: k for k, unit in enumerate(order) for i in unit.members}
    put_off = [max((lower.get(i, 0) - o for i, o in zip(u.members, u.offsets, strict=True)))
               for u in order]  # fmt: skip
    at_first = list(put_off)
    kept: list[Table] = [table]
    tries, k = 0, 0
    while k < len(order):
        now = kept[k].copy() if len(order) > 1 else kept[k]
        late = _place(now, order[k], put_off[k], join_late, hold=hold and tries < MOST_PUT_OFF)
        if late is None:
            kept[k + 1 :] = [now]
            k += 1
            continue
        a, _, minutes = late
        back = own.get(a, -1)
        if minutes == NEVER or tries >= MOST_PUT_OFF:
            # No day keeps it: placed as soon as can be, and told as missed.
            put_off, kept, k, tries = list(at_first), [table], 0, MOST_PUT_OFF
            continue
        if back < 0:
            return late
        if back == k and (hold and a not in urgent):
            return late  # a day of its own: it must have its turn before others
        if back == k:  # nothing can help
            now = kept[k].copy()
            _place(now, order[k], put_off[k], join_late)
            kept[k + 1 :] = [now]
            k += 1
            continue
        tries += 1
        offset = order[back].offsets[order[back].members.index(a)]
        start = kept[back + 1].start[a] - offset
        put_off[back] = max(put_off[back], start + minutes)
        put_off[back + 1 :] = at_first[back + 1 :]
        k = back
    return kept[-1]


def _place(table: Table, unit: Unit, lower: int, join_late: int, hold: bool = False) -> Late | None:
    """Put a unit where it can be soonest. With `hold`, one that would be too late is not put:
    then the two stints of the latest end that it misses, and by how many minutes."""
    ready = max(table.ready(unit), lower)
    latest, a, b = table.latest(unit)
    found = table.find(unit, ready)
    if found is None and hold:
        return a, b, NEVER
    at = found[0] if found else table.floor.horizon
    if unit.mix and table.join(unit, ready, latest, at + join_late):
        return None
    if latest is not None and at > latest:
        if hold:
            return a, b, at - latest
        table.missed.append((a, b))
    if found is None:
        table.missed.append((unit.members[0], unit.members[0]))
        at = max(at, max(table.start) + 24 * 60)
    table.put(unit, at, found[1] if found else unit.able[: unit.crew])
    return None


def _in_turn(floor: Floor, units: Sequence[Unit], rank: Sequence[float]) -> list[Unit]:
    """The order within a cluster: by rank, but what must soon follow comes right behind."""
    of = {i: u for u, unit in enumerate(units) for i in unit.members}
    left = [0] * len(units)
    after: list[set[int]] = [set() for _ in units]
    for i, u in of.items():
        for b, _, _ in floor.out[i]:
            v = of.get(b)
            if v is not None and v != u and v not in after[u]:
                after[u].add(v)
                left[v] += 1
    ranks = [min(rank[i] for i in unit.members) for unit in units]
    free = [(float("inf"), ranks[u], u) for u in range(len(units)) if not left[u]]
    heapify(free)
    tight = [float("inf")] * len(units)
    found = []
    while free:
        _, _, u = heappop(free)
        found.append(units[u])
        for i in units[u].members:
            for b, _, most in floor.out[i]:
                v = of.get(b)
                if v is not None and v != u and most is not None:
                    tight[v] = min(tight[v], most)
        for v in after[u]:
            left[v] -= 1
            if not left[v]:
                heappush(free, (tight[v], ranks[v], v))
    return found
