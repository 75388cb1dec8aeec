"""Random shops for the bench machine: events in any order, answers of any kind, and what must hold.

The oracle knows three things only: which label was scanned or chosen last, when, and whether it was
of the piece at work.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from random import Random

from partsbench.core.bench.events import (
    Act,
    Answered,
    Event,
    Hit,
    Kind,
    OfTheWall,
    Passed,
    Push,
    Pushed,
    Scanned,
    Snapshot,
    Took,
    Turned,
    Undone,
    What,
)
from partsbench.core.bench.machine import happens
from partsbench.core.bench.state import ARMED_FOR, COUNTS_ONCE, USUAL_IDLE, Mode, State
from partsbench.core.outcomes import Answer, Hold, Outcome, Tone
from partsbench.core.verbs import REASONS, VERBS, Key, Sort, WallCode

HERE, THERE = "K7Q4", "XE9Q"
PARTS = ("D1", "D2", "D3", "P1", "L1")
RECORDS = frozenset(
    {What.RECORD, What.SKIP, What.SEND_BACK, What.OUT, What.HOME, What.STAYS, What.FIT, What.PUT,
     What.NO_MASK, What.OLD_FINISH, What.TRIED}
)  # fmt: skip
SO = "now the part."
"""A reason that was scanned: nothing is put away by it."""


def ours(short: str) -> Hit:
    sits = frozenset({f"{HERE}-D1"}) if short == "P1" else frozenset[str]()
    return Hit(Kind.PART, f"{HERE}-{short}", HERE, short, int(short[1]), sits, True,
               short[0] == "D")  # fmt: skip


def home(number: int) -> Hit:
    return Hit(Kind.HOME, f"{HERE}-H{number}", HERE, "", number)


def foreign(short: str) -> Hit:
    code = f"{THERE}-{short}"
    said = Outcome(Answer.OTHER_JOB, Tone.FOREIGN, "of another job", tag=THERE, part=short,
                   code=code)  # fmt: skip
    return Hit(Kind.ELSEWHERE, code, THERE, short, says=said)


def strange() -> Hit:
    said = Outcome(Answer.STOP, Tone.UNKNOWN, "no code", code="????")
    return Hit(Kind.STRANGE, "????", says=said)


@dataclass
class Oracle:
    """What a record may be about: the label in the hand of the person."""

    code: str = ""
    at: datetime | None = None
    ours: bool = False
    insisted: bool = False


@dataclass
class RandomBench:
    """Feeds a machine with random events; `faults` says in words what must never be."""

    seed: int
    state: State = field(default_factory=lambda: State(here=HERE))
    now: datetime = datetime(2031, 3, 4, 8, 0, tzinfo=UTC)
    faults: list[str] = field(default_factory=list)
    seen: Counter[str] = field(default_factory=Counter)

    def __post_init__(self) -> None:
        self.rng = Random(self.seed)
        self.oracle = Oracle()
        self.bounced = False

    def run(self, events: int) -> None:
        for _ in range(events):
            self.now += timedelta(seconds=self.rng.choice((0.3, 1, 2, 2, 5, 5, 20, 61, 181)))
            self.step(*self.event())

    def event(self) -> tuple[Event, Snapshot]:
        draw = self.rng.random()
        if draw < 0.5:
            hit = self.label()
            on = frozenset({f"{HERE}-P1"}) if hit.part == "D1" else frozenset[str]()
            code = self.state.hand.code
            pair = {f"{HERE}-D2", f"{HERE}-P1"} == {hit.code, code}
            wrong = (f"{HERE}-P1", f"{HERE}-D2") if pair else ()
            sees = Snapshot(1, hit, on & {code}, mismatch=wrong)
            return Scanned(self.rng.random() < 0.7), sees
        if draw < 0.65:
            push = self.rng.choice(list(Push))
            text = {Push.IDLE: "3", Push.REASON: "tried", Push.FACE: "front"}.get(push, "")
            hit = ours(self.rng.choice(PARTS))
            done = self.rng.random() < 0.2
            return Pushed(push, text), Snapshot(1, hit, to_pull=ours("D2"), complete=done)
        if draw < 0.85:
            return OfTheWall(self.wall()), Snapshot()
        return self.rng.choice((
            Passed(), Undone(), Turned(self.rng.choice(list(Mode)[:5]), HERE), Took(load=7),
        )), Snapshot()  # fmt: skip

    def label(self) -> Hit:
        draw = self.rng.random()
        if draw < 0.7:
            return ours(self.rng.choice(PARTS))
        if draw < 0.8:
            return home(self.rng.randint(1, 3))
        return foreign(self.rng.choice(PARTS)) if draw < 0.93 else strange()

    def wall(self) -> WallCode:
        sort = self.rng.choice((Sort.VERB, Sort.VERB, Sort.REASON, Sort.FACE, Sort.CUP, Sort.PLACE))
        of = {Sort.VERB: VERBS, Sort.REASON: REASONS}.get(sort)
        return WallCode(sort, self.rng.choice(of).number if of else self.rng.randint(1, 20))

    def step(self, event: Event, sees: Snapshot) -> None:
        # Time passes first, as the window's beat lets it.
        self.state, off = happens(self.state, Passed(), self.now)
        self._puts_away(off)
        before, since = self.state, self.state.hand.since
        self.bounced = sees.hit is not None and self._bounces(event, sees.hit)
        self._person_does(event, sees)
        self.state, acts = happens(before, event, self.now, sees)
        self._check(before, since, event, acts, sees)
        self._puts_away(() if isinstance(event, Scanned) else acts)
        for act in acts:
            if act.what in (What.HOME, What.LOAD_DONE, What.OUT):
                # Of a part and its home the part is shown after it; of a load the load; what was
                # pulled next is.
                self.oracle = Oracle(act.code, self.now, ours=True)
            if act.what not in (What.SAY, What.VERB_ON, What.VERB_OFF):
                took = Took(here=THERE) if act.what is What.PIECE else Took()
                heard = Answered(act, self.said(act), took)
                self.state, more = happens(self.state, heard, self.now)
                if more:
                    self.faults.append(f"an answer led to {more}")
        if self.state.here != HERE:
            self.state, _ = happens(self.state, Turned(self.state.mode, HERE), self.now)
            self.oracle = Oracle()

    def _puts_away(self, acts: tuple[Act, ...]) -> None:
        """A verb that comes or goes puts away what the page showed."""
        for act in acts:
            insists = act.verb is not None and act.verb.key is Key.INSIST
            on = act.what is What.VERB_ON and not insists and not act.says.endswith(SO)
            if on or act.what in (What.VERB_OFF, What.PLACE):
                self.oracle = Oracle()

    def said(self, act: Act) -> Outcome:
        """What a book that may say anything says."""
        if act.answer:
            return act.answer
        short = act.code.split("-")[-1] if act.code.startswith(HERE) else ""
        draw = self.rng.random()
        held = (Hold("not dry yet", "because"),) if 0.5 < draw < 0.7 else ()
        ask = 0.7 < draw < 0.8
        done = act.what not in (What.SHOW, What.WHERE_HOME, What.HOME_WAITS, What.GO_TO) and (
            not held and not ask
        )
        return Outcome(
            Answer.WAIT if held else Answer.GO,
            Tone.CONFIRM if ask else Tone.ASK,
            "said",
            tag=HERE,
            part=short,
            code=act.code,
            step="wash" if draw < 0.9 else None,
            holds=held,
            checks=("so?",) if ask else (),
            recorded=done,
        )

    def _person_does(self, event: Event, sees: Snapshot) -> None:
        """What the person has in the hand after this, whatever the machine thinks."""
        rules = self.state.rules
        pressed = {Push.TURN_TO: True, Push.CHOOSE: rules in (Mode.TEARDOWN, Mode.VERB),
                   Push.TICK: rules is Mode.LOAD}  # fmt: skip
        of_label = isinstance(event, Scanned) or (
            isinstance(event, Pushed) and pressed.get(event.push, False)
        )
        puts_down = {Push.LEAVE, Push.KEEP}
        if rules in (Mode.TEARDOWN, Mode.RETURN) and (self.oracle.ours or not self.oracle.code):
            puts_down.add(Push.REST)
        if isinstance(event, Pushed) and event.push in puts_down:
            self.oracle = Oracle()
        if of_label and sees.hit and not self._bounces(event, sees.hit):
            mine = sees.hit.kind in (Kind.PART, Kind.HOME)
            self.oracle = Oracle(sees.hit.code, self.now, mine)

    def _bounces(self, event: Event, hit: Hit) -> bool:
        """The trigger read what it had just read: no scan of its own."""
        before = self.state
        if not isinstance(event, Scanned) or not event.trigger or before.last is None:
            return False
        return before.last_code == hit.code and self.now - before.last < COUNTS_ONCE

    def _check(
        self,
        before: State,
        since: datetime | None,
        event: Event,
        acts: tuple[Act, ...],
        sees: Snapshot,
    ) -> None:
        records = [a for a in acts if a.what in RECORDS or a.what is What.LOAD_DONE]
        self.seen.update(a.what.value for a in acts)
        if len(records) > 1:
            self.faults.append(f"{event} recorded twice: {records}")
        for act in (a for a in records if a.what is not What.LOAD_DONE):
            self._check_record(before, since, event, act, sees)

    def _check_record(
        self, before: State, since: datetime | None, event: Event, act: Act, sees: Snapshot
    ) -> None:
        pulled = act.what in (What.OUT, What.STAYS) and isinstance(event, Pushed)
        no_stranger = self.oracle.ours or not self.oracle.code
        if pulled and no_stranger and sees.to_pull and act.code == sees.to_pull.code:
            return  # the next to pull is what the page shows largest
        if act.what is What.HOME and act.onto:
            if self.oracle.code not in (act.code, act.onto):
                self.faults.append(f"{act} is about neither of the two labels scanned")
        elif act.code != self.oracle.code:
            self.faults.append(f"{act} after {event}, with {self.oracle.code} in the hand")
        if not self.oracle.ours and act.what is not What.PUT:
            self.faults.append(f"{act} after {event}, with a stranger in the hand")
        old = since is not None and self.now - since >= ARMED_FOR
        by_verb = before.verb or before.place or before.mode is Mode.TEARDOWN
        again = act.what is What.RECORD and not act.insists and not by_verb
        if again and old and act.confirmed and before.hand.waits.value in ("armed", "asked"):
            self.faults.append(f"{act} {self.now - since} after it was shown")
        idle = before.last is not None and self.now - before.last >= USUAL_IDLE
        if act.verb is not None and idle and before.verb is not None:
            self.faults.append(f"{act} after the idle time")
        if self.bounced:
            self.faults.append(f"{act} by a bounce")
