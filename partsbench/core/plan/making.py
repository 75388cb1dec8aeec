"""From faces on their finish paths to stints: the batches in which they are worked, and the waits
between them as the finish rules tell them."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta
from math import ceil, floor

from partsbench.core.finish.clocks import standing_steps, window
from partsbench.core.finish.effort import Own, Worked, effort, faces_apart
from partsbench.core.finish.hours import LOUD
from partsbench.core.finish.loads import SPRAYED
from partsbench.core.finish.one_go import in_one_go
from partsbench.core.finish.progress import Mark, MarkKind, Progress, progress
from partsbench.core.finish.schedule import late_anyway, remaining
from partsbench.core.finish.steps import Operation, PathKind, Per, Step
from partsbench.core.finish.waits import Wait, WaitFigures, waits_into
from partsbench.core.piece.spot import Spot
from partsbench.core.plan.workshop import Lag, Stint

DUST, FUMES, SPRAY = "dust", "fumes", "spray"
USES = {
    Operation.SAND: DUST,
    Operation.SCRAPE: DUST,
    Operation.STRIP: FUMES,
    **dict.fromkeys(SPRAYED, SPRAY),
}
"""What a step makes of its room; what is not named here disturbs nobody."""

LONGEST_GO = 180
"""Minutes; a batch that takes longer is worked in two."""

SLOWER = 1.5
"""Hands are not always as quick as planned: so much slower they still keep a window."""

WET = frozenset({Operation.WASH, Operation.RINSE})
"""A part is wet whole, also where nobody has said how long that takes."""

LATELY = 16
"""So many lags are looked at for one that is the same: two faces that go on together."""

UNTOLD = 5
"""Minutes for work whose length nobody knows yet."""


@dataclass(frozen=True, slots=True)
class Bundle:
    """Faces of one piece that stand alike and go the same way: what a batch is made from.

    faces: (part, face, m²). back: when they come back from an outside workshop, or the wait that
    the bench tells is over, and why. turned: their part is turned over before a coat, by two.
    """

    piece: str
    codename: str
    faces: tuple[tuple[str, str, float], ...]
    at: Progress
    back: datetime | None = None
    turned: bool = False
    why: str = ""

    @property
    def parts(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(part for part, _, _ in self.faces))


@dataclass(frozen=True, slots=True)
class Ways:
    """How this shop works: whose figures, which room for what, what a cup holds and a m² takes.

    ml_per_m2: of a step, 0 where nothing is known of its film. mix: what must be alike to go into
    one cup. turning: minutes to turn a carcase, 0 where nobody asked for it.
    """

    waits: WaitFigures
    own: Own
    rooms: Mapping[str, str] = field(default_factory=lambda: dict.fromkeys(USES.values(), "shop"))
    ml_per_m2: Callable[[Step], float] = lambda _: 0.0
    cup_ml: float = float("inf")
    rack_m2: float | None = None
    turning: int = 0


@dataclass(frozen=True, slots=True)
class Made:
    """The stints of some bundles with their lags; of: (piece, face, step) → stint;
    steps: the step of each stint, by its key.

    said: windows that are over, and what is done instead.
    """

    stints: tuple[Stint, ...]
    lags: tuple[Lag, ...]
    of: Mapping[tuple[str, Spot, str], str]
    said: tuple[str, ...]
    steps: Mapping[str, Step]


def make(bundles: Sequence[Bundle], ways: Ways, now: datetime) -> Made:
    """Everything that is left to do on these faces."""
    making = _Making(ways, now)
    for bundle in bundles:
        for batch in _batches(bundle, ways):
            making.add(batch)
    stints, lags = tuple(making.stints.values()), tuple(making.lags)
    return Made(stints, lags, making.of, tuple(dict.fromkeys(making.said)), making.steps)


def mix_of(piece: str, path_kind: PathKind, step: Step) -> str:
    """What must be alike to go into one cup: a colour is the piece's own, and so is a tinted coat;
    what is clear or primes goes on every piece."""
    if step.operation not in SPRAYED:
        return ""
    own = step.tinted or step.operation is Operation.COLOUR
    mix = step.product or step.operation.value
    mix = f"{mix} tinted" if step.tinted else mix
    return f"{mix} of {piece}" if own else mix


def _batches(bundle: Bundle, ways: Ways) -> Iterator[Bundle]:
    """The faces in as few batches as their windows, the cup, the rack and one's arms allow."""
    steps = remaining(bundle.at)
    count = len(bundle.parts)
    pieces = max((_times(bundle, step, ways) for step in steps), default=1)
    pieces = min(max(pieces, 1), count)
    for n in range(pieces):
        mine = set(bundle.parts[n * count // pieces : (n + 1) * count // pieces])
        yield replace(bundle, faces=tuple(f for f in bundle.faces if f[0] in mine))


def _times(bundle: Bundle, step: Step, ways: Ways) -> int:
    """Into how many batches this step asks the faces to be parted."""
    at_once = in_one_go(bundle.at.path, step, ways.waits, ways.own)
    m2 = sum(area for _, _, area in bundle.faces)
    asked = [_minutes(bundle, step, ways) / LONGEST_GO]
    if at_once:
        asked.append(_apart(bundle) / max(1, floor(at_once / SLOWER)))
    if step.operation in SPRAYED:
        asked.append(m2 * ways.ml_per_m2(step) / ways.cup_ml)
        if ways.rack_m2:
            asked.append(m2 / ways.rack_m2)
    return ceil(max(asked) - 1e-6)


def _apart(bundle: Bundle) -> int:
    """How many faces are worked by themselves."""
    return sum(
        faces_apart(face for part, face, _ in bundle.faces if part == mine) for mine in bundle.parts
    )


def _minutes(bundle: Bundle, step: Step, ways: Ways) -> int:
    """Hands-on minutes for the batch, without setting up and cleaning the gun."""
    work = effort([Worked(step, part, face, m2) for part, face, m2 in bundle.faces], ways.own)
    minutes = work.total_seconds() / 60 if work else 0.0
    if step.operation in SPRAYED:
        minutes -= step.minutes_per_batch or 0.0
    return ceil(minutes - 1e-6) if minutes > 0 else UNTOLD


class _Making:
    """The stints and lags of one batch after another."""

    def __init__(self, ways: Ways, now: datetime) -> None:
        self.ways, self.now = ways, now
        self.stints: dict[str, Stint] = {}
        self.lags: list[Lag] = []
        self.of: dict[tuple[str, Spot, str], str] = {}
        self.said: list[str] = []
        self.goes: dict[tuple[str, str, str], str] = {}
        """(piece, part, step) → the stint in which the whole part gets it, whatever its faces."""
        self.parts: dict[str, frozenset[str]] = {}
        self.steps: dict[str, Step] = {}

    def add(self, batch: Bundle) -> None:
        """The steps that are left on a batch, one after another."""
        at, also = _mended(batch, self.ways.waits, self.now, self.said)
        done = {step.key: mark for mark, step in standing_steps(at)}
        before = [step for _, step in standing_steps(at)]
        past = late_anyway(at, before, self.now, self.ways.waits)
        keys: dict[str, list[str]] = {}
        last: list[str] = []
        first = True
        for step in remaining(at, also):
            first = first and (step.per is Per.PART or step.operation in WET)
            mine, rest = self._in_one_go(batch, step) if first else ([], batch)
            if rest is not None:
                mine.append(self._new(batch, rest, step, shared=first))
            for key in mine:
                self._wait(batch, key, step, before, done, keys, step.key not in past)
                if not last and batch.back:
                    self._set(_later(self.stints[key], batch.back, self.now, batch.why))
                self._follow(batch, key, step, last)
            for part, face, _ in batch.faces:
                spot = Spot(part, face)
                self.of[batch.piece, spot, step.key] = self._where(batch, part, step, mine)
            before = [*before, step]
            keys[step.key] = last = mine

    def _in_one_go(self, batch: Bundle, step: Step) -> tuple[list[str], Bundle | None]:
        """Stints in which some of these parts get this step anyhow, for other faces; and the faces
        of the others, if any. What is worked by the part, as washing is, is done once for all its
        faces that have come so far."""
        known = {p: k for p in batch.parts if (k := self.goes.get((batch.piece, p, step.key)))}
        faces = tuple(f for f in batch.faces if f[0] not in known)
        rest = replace(batch, faces=faces) if faces else None
        return list(dict.fromkeys(known.values())), rest

    def _new(self, batch: Bundle, rest: Bundle, step: Step, *, shared: bool) -> str:
        """A stint for the faces that no other takes along; shared: others may come with it."""
        key = f"{batch.piece}|{Spot(batch.parts[0], batch.faces[0][1]).key}|{step.key}"
        self.stints[key] = _stint(rest, step, self.ways, key)
        self.parts[key], self.steps[key] = frozenset(rest.parts), step
        if shared:
            self.goes.update({(batch.piece, part, step.key): key for part in rest.parts})
        return key

    def _where(self, batch: Bundle, part: str, step: Step, mine: Sequence[str]) -> str:
        known = self.goes.get((batch.piece, part, step.key), "")
        return known if known in mine else mine[-1]

    def _wait(
        self,
        batch: Bundle,
        key: str,
        step: Step,
        before: Sequence[Step],
        done: Mapping[str, Mark],
        keys: Mapping[str, Sequence[str]],
        in_time: bool,
    ) -> None:
        """What the finish rules ask between this stint and those before it."""
        for wait in waits_into(step, before, self.ways.waits):
            mark = done.get(wait.before.key)
            if mark is not None:
                self._set(_since(self.stints[key], wait, mark.at, self.now, in_time))
                continue
            # The last face waits until the others have had this step, the first until all have had
            # the one before; and each is written down when it is done.
            apart = max(self.stints[key].minutes, _minutes(batch, wait.before, self.ways))
            for other in self._of_same_parts(key, keys[wait.before.key]):
                self._lag(_lag(other, key, wait, apart, in_time))

    def _follow(self, batch: Bundle, key: str, step: Step, last: Sequence[str]) -> None:
        """It comes after the step before it; and where its part is turned over, after that too,
        which waits as the coat itself does: nobody takes hold of what is wet."""
        last = self._of_same_parts(key, last)
        for other in last:
            self._lag(Lag(other, key, 0, None, f"{step.name} comes after it"))
        if batch.turned and step.operation in SPRAYED and self.ways.turning:
            coat = self.stints[key]
            turn = replace(_plain(batch, key), minutes=self.ways.turning, hands=2,
                           soonest=coat.soonest, why_soonest=coat.why_soonest)  # fmt: skip
            self._set(turn)
            for lag in [lag for lag in self.lags if lag.after == key]:
                self._lag(replace(lag, after=turn.key, most=None, why_most=""))
            self._lag(Lag(turn.key, key, 0, None, "it is turned over first"))

    def _of_same_parts(self, key: str, others: Sequence[str]) -> list[str]:
        return [other for other in others if self.parts[other] & self.parts[key]]

    def _set(self, stint: Stint) -> None:
        self.stints[stint.key] = stint

    def _lag(self, lag: Lag) -> None:
        if lag not in self.lags[-LATELY:]:
            self.lags.append(lag)


def _named(batch: Bundle) -> str:
    """`Heron D1, D2, D3…`"""
    names = ", ".join(batch.parts[:3]) + ("…" if len(batch.parts) > 3 else "")
    return f"{batch.codename} {names}"


def _plain(batch: Bundle, key: str) -> Stint:
    where, does = _named(batch), "turn over, two of you"
    return Stint(f"{key}|turn", batch.piece, f"{where}: {does}", 1, "turn", where=where, does=does)


def _stint(batch: Bundle, step: Step, ways: Ways, key: str) -> Stint:
    use, kinds = USES.get(step.operation, ""), {part[:1] for part in batch.parts}
    gun = step.operation in SPRAYED
    m2 = sum(area for _, _, area in batch.faces)
    return Stint(
        key,
        batch.piece,
        f"{_named(batch)}: {step.name}",
        _minutes(batch, step, ways),
        step.operation.value,
        room=ways.rooms.get(use, ""),
        use=use,
        loud=step.operation in LOUD,
        mix=mix_of(batch.piece, batch.at.path.kind, step),
        ml=m2 * ways.ml_per_m2(step) if gun else 0.0,
        m2=m2 if gun and ways.rack_m2 else 0.0,
        lies=_whole(step.earliest or timedelta()) if gun else 0,
        where=_named(batch),
        does=step.name,
        kind=kinds.pop() if len(kinds) == 1 else "",
    )


def _lag(before: str, after: str, wait: Wait, apart: int, in_time: bool) -> Lag:
    least = _whole(wait.earliest) if wait.earliest else 0
    most = None
    if wait.latest is not None and in_time:
        most = max(floor(wait.latest.total_seconds() / 60) - apart, least)
    return Lag(before, after, least, most, wait.why_not_yet(), wait.why_no_longer())


def _since(stint: Stint, wait: Wait, done: datetime, now: datetime, in_time: bool) -> Stint:
    """With what a step that is done already asks: all of it is to be done in time."""
    if wait.earliest is not None:
        stint = _later(stint, done + wait.earliest, now, wait.why_not_yet())
    if wait.latest is not None and in_time:
        by = floor((done + wait.latest - now).total_seconds() / 60) - stint.minutes
        by = max(by, 0)
        if stint.by is None or by < stint.by:
            stint = replace(stint, by=by, why_by=wait.why_no_longer())
    return stint


def _later(stint: Stint, day: datetime, now: datetime, why: str) -> Stint:
    soonest = _whole(day - now)
    return replace(stint, soonest=soonest, why_soonest=why) if soonest > stint.soonest else stint


def _whole(length: timedelta) -> int:
    """Minutes, rounded up."""
    return max(0, ceil(length.total_seconds() / 60))


def _mended(
    batch: Bundle, waits: WaitFigures, now: datetime, said: list[str]
) -> tuple[Progress, frozenset[str]]:
    """Where the faces stand once a window that is over has sent them back; and the steps that
    mend it."""
    at, step = batch.at, batch.at.next
    if step is None:
        return at, frozenset()
    within = window(at, step, waits)
    missed = within.missed
    done = [s for _, s in standing_steps(at)]
    if missed is None or not within.is_late(now) or step.key in late_anyway(at, done, now, waits):
        return at, frozenset()
    said.append(f"{batch.codename} {', '.join(batch.parts)}: {missed.say}")
    place = at.path.index(missed.step)
    if place is not None and place < at.place:
        back = Mark(missed.step, now, MarkKind.SENT_BACK)
        at = progress(at.path, [*at.history, back])
    return at, frozenset({missed.step})
