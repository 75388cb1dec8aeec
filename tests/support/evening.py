"""Somebody at the bench with a scanner and nothing else: every act is a scan, and is counted."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from datetime import timedelta

from partsbench.core.finish.loads import SPRAYED
from partsbench.core.finish.steps import Operation
from partsbench.core.outcomes import Answer, Outcome, Tone
from partsbench.core.verbs import REASONS, VERBS, Key, Sort, Verb, WallCode
from partsbench.services.heard.session import Session
from partsbench.services.rules.clocks import Group
from partsbench.services.shop import Shop
from partsbench.services.shown import day
from tests.support.clock import SetClock
from tests.support.wall import verb_named

BETWEEN = timedelta(seconds=40)


@dataclass
class Worker:
    """Scans in a shop whose clock is set; `minutes` pass between two scans of parts."""

    shop: Shop
    clock: SetClock
    tag: str
    cups: dict[Operation, int] = field(default_factory=dict)
    scans: int = 0
    said: list[Outcome] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.session = Session(self.shop, self.tag)

    def scan(self, text: str) -> Outcome:
        """One scan, and what it was answered with last."""
        self.scans += 1
        self.clock.now += BETWEEN
        self.said += self.session.scan(text)
        return self.said[-1]

    def twice(self, text: str) -> Outcome:
        """One scan, and a second where the first asks what has to be so."""
        said = self.scan(text)
        return self.scan(text) if said.unconfirmed else said

    def verb(self, name: str) -> Outcome:
        return self.twice(verb_named(name).code)

    def reason(self, name: str) -> Outcome:
        return self.scan(next(r.code for r in REASONS if r.name == name))

    def face(self, name: str) -> Outcome:
        from partsbench.core.verbs import FACES

        return self.scan(str(WallCode(Sort.FACE, FACES.index(name) + 1)))

    def part(self, short: str) -> Outcome:
        piece = self.shop.piece(self.tag)
        assert piece is not None
        part = piece.part(short)
        assert part is not None, short
        return self.twice(str(piece.code(part)))

    def cup(self, number: int) -> None:
        """Take a cup in hand; 0 puts down the one that is."""
        if number:
            self.scan(str(WallCode(Sort.CUP, number)))
        else:
            self.session.state = replace(self.session.state, cup=0)

    def today(self) -> day.Day:
        return day.day(self.shop, tags=[self.tag])

    @property
    def finished(self) -> bool:
        return not self.today().clocks

    def work(self, rounds: int = 1) -> None:
        """Do what the day says, `rounds` times, and wait when there is nothing to do."""
        for _ in range(rounds):
            self._round()

    def _round(self) -> None:
        today = self.today()
        if any("rags" in loop.say for loop in today.loops):
            assert self.verb("RAGS FLAT").tone is Tone.RECORDED
        if today.tasks:
            self._do(self._next(today))
            return
        late = [g for g in today.clocks if g.said.answer is Answer.LATE]
        if late:
            self._mend(late[0])
            return
        waits = [g.said.until for g in today.clocks if g.said.until]
        stops = [(g.where, g.said.because) for g in today.clocks]
        assert waits or not today.clocks, stops
        if waits:
            self.clock.now = max(self.clock.now, min(waits)) + timedelta(seconds=1)

    def _next(self, today: day.Day) -> Group:
        """A window that closes soon; else hands first and the gun last, for a full load."""
        groups = [t.group for t in today.tasks]
        soon = self.clock.now + timedelta(hours=2)
        urgent = [g for g in groups if g.closes and g.closes < soon]
        by_hand = [g for g in groups if g.step.operation not in SPRAYED]
        return (urgent or by_hand or groups)[0]

    def _do(self, group: Group) -> None:
        operation = group.step.operation
        if operation in SPRAYED:
            self.cup(self.cups.get(operation, 0))
            self.verb("NEXT LOAD")
            assert self.verb("END").recorded, self.said[-1]
            return
        assert self.verb(verb_for(operation).name).tone is Tone.VERB_ON
        for short in dict.fromkeys(part.part.short for part, _ in group.faces):
            self.part(short)
        self.verb("VERB OFF")

    def _mend(self, group: Group) -> None:
        """A window was missed: back where its path says, or on to the step that mends it.

        Where a part has other faces behind that step, the faces that are late go back alone.
        """
        shorts = dict.fromkeys(part.part.short for part, _ in group.faces)
        recover = group.said.recover
        assert recover is not None
        progress = group.faces[0][1].progress
        ahead = (progress.path.index(recover.step) or 0) >= progress.place
        if ahead:
            self.verb("SANDED")
        for part, face in () if ahead else group.faces:
            self.verb("SENT BACK")
            self.reason("missed window")
            self.face(face.name)
            assert self.part(part.part.short).recorded, self.said[-1]
            self.verb("VERB OFF")
        for short in shorts if ahead else ():
            self.part(short)
        self.verb("VERB OFF")


def verb_for(operation: Operation) -> Verb:
    """The verb of the wall that records such a step."""
    return next(v for v in VERBS if v.key is Key.DO and operation in v.operations)
