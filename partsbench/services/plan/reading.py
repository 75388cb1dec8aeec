"""The pieces in hand as a workshop: what is left to do on them, by the finish rules."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from math import ceil

from partsbench.core.finish import facts as fact_rules
from partsbench.core.finish.products import Ready, TinCard, TinWait
from partsbench.core.finish.progress import progress
from partsbench.core.finish.sheets import area_m2
from partsbench.core.finish.steps import Step
from partsbench.core.outcomes import Answer
from partsbench.core.piece.codes import Family
from partsbench.core.piece.piece import Piece
from partsbench.core.piece.spot import Spot
from partsbench.core.plan.making import Bundle, Made, Ways, make
from partsbench.core.plan.workshop import Lag, Promised, Stint, Workshop
from partsbench.core.wording import and_list
from partsbench.services.known import facts, work
from partsbench.services.known.hours import MORNING, hours_of
from partsbench.services.known.state import PieceState, piece_state
from partsbench.services.plan.seams import seam_lags
from partsbench.services.plan.ways import USUAL_HOURS, gun_of, settles_of, ways_of, workers_of
from partsbench.services.rules import loops
from partsbench.services.rules.clocks import Group, groups_of
from partsbench.services.shop import Shop
from partsbench.services.shown import day
from partsbench.store import promises as rows

UNDER = frozenset({"base", "underside", "back"})
"""Faces of a carcase that it is turned over for."""


@dataclass(frozen=True, slots=True)
class Held:
    """Faces that nothing is planned for until somebody answers for them: where and why."""

    tag: str
    where: str
    step: str
    because: str

    @property
    def sentence(self) -> str:
        """`Heron C1: Sand 150 is held, and not planned: …`"""
        return f"{self.where}: {self.step} is held, and not planned: {self.because}."


@dataclass(frozen=True, slots=True)
class InHand:
    """The workshop as it stands at a moment, what of it is held, and what else is to be said.

    faces: key of a stint → the faces that are worked in it; steps: its step. begun: what was begun
    and not ended, which the day tells first, whatever the plan has next.
    """

    at: datetime
    shop: Workshop
    held: tuple[Held, ...]
    notes: tuple[str, ...]
    faces: Mapping[str, tuple[Spot, ...]]
    steps: Mapping[str, Step]
    begun: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Assumed:
    """What is only asked about: pieces more that are like others, by tag; other ways to work."""

    like: tuple[str, ...] = ()
    ways: Ways | None = None


NOTHING_ASSUMED = Assumed()
NOBODY_TURNS = "Turning a carcase takes two, and nobody helps in the weeks to come."


def in_hand(
    shop: Shop,
    now: datetime,
    tags: Sequence[str] = (),
    assumed: Assumed = NOTHING_ASSUMED,
) -> InHand:
    """Everything that is left to do on the pieces in hand, or on those named."""
    reader = Reader(shop, now, tags, assumed)
    while reader.step():
        pass
    return reader.hand()


class Reader:
    """The same read piece by piece, so that a window can answer between two of them."""

    def __init__(
        self,
        shop: Shop,
        now: datetime,
        tags: Sequence[str] = (),
        assumed: Assumed = NOTHING_ASSUMED,
    ) -> None:
        self._shop, self._now = shop, now
        self._own = work.own_times(shop, now)
        self._workers = workers_of(shop, now)
        ways = assumed.ways or ways_of(shop, now)
        self._notes: list[str] = []
        if hours_of(shop).work is None:
            self._notes.append(f"Your hours are not set; {USUAL_HOURS} is taken.")
        if ways.turning and len(self._workers) < 2:
            ways = replace(ways, turning=0)
            self._notes.append(NOBODY_TURNS)
        if words := _alone(shop, now, tags):
            self._notes.append(words)
        self._ways = ways
        self._found = _Found()
        self._states: list[PieceState] = []
        self._left = [(tag, "") for tag in tags or day.in_hand(shop, now)]
        self._left += [(tag, f"{tag}+{n}") for n, tag in enumerate(assumed.like, 1)]
        pieces = [p for tag, _ in self._left if (p := shop.piece(tag))]
        self._named = Counter(p.codename for p in {p.tag: p for p in pieces}.values())

    def step(self) -> bool:
        """Read one piece more; False where none is left."""
        if not self._left:
            return False
        tag, as_if = self._left.pop(0)
        piece = self._shop.piece(tag)
        if piece is not None:
            state = piece_state(self._shop, piece)
            if as_if:
                _once_more(self._shop, state, as_if, self._ways, self._now, self._found)
            else:
                self._states.append(state)
                groups = groups_of(self._shop, state, self._now, self._own)
                title = self._title(piece)
                _of_piece(self._shop, state, title, groups, self._ways, self._now, self._found)
        return True

    def _title(self, piece: Piece) -> str:
        """Its codename; of two with one, as a piece and its mirrored twin, with its tag."""
        twice = self._named[piece.codename] > 1
        return f"{piece.codename} {piece.tag}" if twice else piece.codename

    def hand(self) -> InHand:
        """What was read."""
        shop, now, found = self._shop, self._now, self._found
        promised = tuple(
            Promised(p.tag, minute_of(p.by, now), p.worth)
            for p in rows.promises(shop.book)
            if p.tag in found.titles
        )
        made = Workshop(tuple(found.stints), tuple(found.lags), self._workers, gun_of(shop),
                        settles_of(shop), self._ways.rack_m2, promised, found.titles)  # fmt: skip
        begun = (loop.sentence for loop in loops.of_pieces(shop, self._states, now)
                 if loop.presses)  # fmt: skip
        return InHand(now, made, tuple(found.held), (*self._notes, *found.said),
                      {key: tuple(names) for key, names in found.faces.items()},
                      found.steps, tuple(begun))  # fmt: skip


def _alone(shop: Shop, now: datetime, tags: Sequence[str]) -> str:
    """That other pieces in hand are left out, where some were named."""
    named = dict.fromkeys(tags)
    if not named or all(tag in named for tag in day.in_hand(shop, now)):
        return ""
    names = and_list(piece.codename for tag in named if (piece := shop.piece(tag)))
    return f"This is of {names} alone, as if nothing else were in the shop."


class _Found:
    """What is gathered piece by piece."""

    def __init__(self) -> None:
        self.stints: list[Stint] = []
        self.lags: list[Lag] = []
        self.titles: dict[str, str] = {}
        self.held: list[Held] = []
        self.said: list[str] = []
        self.faces: dict[str, list[Spot]] = {}
        self.steps: dict[str, Step] = {}

    def add(self, tag: str, title: str, made: Made, lags: Sequence[Lag] = ()) -> None:
        if made.stints:
            self.titles[tag] = title
        self.stints += made.stints
        self.lags += [*made.lags, *lags]
        self.said += made.said
        self.steps.update(made.steps)
        for (_, face, _), key in made.of.items():
            self.faces.setdefault(key, []).append(face)


def _of_piece(
    shop: Shop,
    state: PieceState,
    title: str,
    groups: Sequence[Group],
    ways: Ways,
    now: datetime,
    found: _Found,
) -> None:
    tag = state.piece.tag
    bundles = []
    for group in groups:
        if group.said.answer is Answer.STOP:
            why = group.said.because
            found.held.append(Held(tag, group.where, group.step.name, why))
        else:
            bundles += _bundles(state, title, group, ways)
    made = make(bundles, ways, now)
    found.add(tag, title, made, list(seam_lags(shop, state, made)))
    _hardware(shop, state, title, made, now, found)


def _bundles(state: PieceState, title: str, group: Group, ways: Ways) -> list[Bundle]:
    """The faces of a group that go the same way from here on."""
    parted: dict[tuple[object, ...], Bundle] = {}
    until = group.said.until if group.said.answer is Answer.WAIT else None
    for part, face in group.faces:
        area = area_m2(state.piece, part.part, face.name)
        under = bool(ways.turning) and part.part.family is Family.CARCASE and face.name in UNDER
        due = tuple(s.key for s in face.path.steps if not s.optional)
        key = (face.path.key, due, face.progress.place, under)
        one = (part.part.short, face.name, area)
        if key in parted:
            parted[key] = replace(parted[key], faces=(*parted[key].faces, one))
        else:
            why = group.said.because if until else ""
            parted[key] = Bundle(state.piece.tag, title, (one,), face.progress,
                                 until, under, why)  # fmt: skip
    return list(parted.values())


def _once_more(
    shop: Shop, state: PieceState, tag: str, ways: Ways, now: datetime, found: _Found
) -> None:
    """A piece more that is like this one, with nothing done on it yet."""
    parted: dict[tuple[object, ...], Bundle] = {}
    title = f"one more like {state.piece.codename}"
    for part in state.parts.values():
        for face in part.faces:
            if not face.path.steps:
                continue
            one = (part.part.short, face.name, area_m2(state.piece, part.part, face.name))
            key = (face.path.key, tuple(s.key for s in face.path.steps if not s.optional))
            if key in parted:
                parted[key] = replace(parted[key], faces=(*parted[key].faces, one))
            else:
                parted[key] = Bundle(tag, title, (one,), progress(face.path, ()))
    found.add(tag, title, make(list(parted.values()), ways, now))


def _hardware(
    shop: Shop, state: PieceState, title: str, made: Made, now: datetime, found: _Found
) -> None:  # fmt: skip
    """What comes on a day is put on when everything else is done."""
    tag = state.piece.tag
    comes = fact_rules.arrives_on(facts.of_piece(shop, tag).of(""))
    if comes is None:
        return
    at = datetime(comes.year, comes.month, comes.day, MORNING).astimezone()
    if at <= now and not made.stints:
        return
    soonest = max(0, int((at - now).total_seconds() // 60))
    key = f"{tag}||hardware"
    name = f"{title}: put the hardware on"
    found.titles[tag] = title
    found.stints.append(Stint(key, tag, name, 0, "hardware", soonest=soonest,
                              why_soonest="the hardware comes then"))  # fmt: skip
    followed = {lag.before for lag in made.lags}
    found.lags += [
        Lag(s.key, key, 0, None, "every coat comes before it")
        for s in made.stints
        if s.key not in followed
    ]


def minute_of(by: datetime, now: datetime) -> int:
    """The minute of a plan in which a promise ends, so that 18:00 is told as 18:00."""
    return ceil((by - now).total_seconds() / 60)


def waits_longer(shop: Shop, now: datetime, product: str, length: timedelta) -> Ways:
    """The shop's ways if every film of this class of product had to wait so long."""
    ways = ways_of(shop, now)
    tin = ways.waits.tins.get(product) or TinCard("what if", product)
    longer = {r.value: TinWait(length) for r in (Ready.SAND, Ready.RECOAT, Ready.TAPE)}
    tin = replace(tin, waits={**tin.waits, **longer})
    return replace(ways, waits=replace(ways.waits, tins={**ways.waits.tins, product: tin}))
