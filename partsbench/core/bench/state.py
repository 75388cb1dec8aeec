"""Where the bench stands: the page in front, what is in the hand, and what is in force."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from enum import StrEnum

from partsbench.core.key_words import face_word
from partsbench.core.verbs import WHOLE_PIECE, Key, Reason, Verb

COUNTS_ONCE = timedelta(seconds=1.5)
"""The same code twice within that time is one scan: a bounce of the trigger."""
ARMED_FOR = timedelta(seconds=60)
"""A second scan or Enter later than that after the first records nothing."""
USUAL_IDLE = timedelta(minutes=3)
"""After so long with nothing scanned, verbs go off and the hand is empty."""


WHATEVER_NEXT = "whatever comes next"
"""What KEEP RECORDING records when no step was chosen."""


class Mode(StrEnum):
    """Whose rules a scan follows: those of the page in front, or of the verb in force."""

    BENCH = "Bench"
    TEARDOWN = "Teardown"
    RETURN = "Return"
    LOAD = "Load"
    OTHER = "another page"
    VERB = "a verb in force"


class Waits(StrEnum):
    """What the label in hand waits for."""

    EMPTY = "nothing in hand"
    SHOWN = "shown"
    ARMED = "armed"
    HELD = "held"
    ASKED = "asked"
    RECORDED = "recorded"
    HOME = "a home waits"
    ELSEWHERE = "of another job"
    STRANGE = "no label of ours"


@dataclass(frozen=True, slots=True)
class Hand:
    """The label that was scanned last and is shown; every record is about it.

    face, step: chosen of it by hand; due: the step in the headline.
    holds: what refused the record, the gravest first; lifted: what was insisted upon, with
    its reason. host: the drawer whose pulls may follow it home; fits: it may be given a fit result.
    """

    waits: Waits = Waits.EMPTY
    code: str = ""
    tag: str = ""
    part: str = ""
    home: int = 0
    since: datetime | None = None
    face: str = ""
    step: str = ""
    due: str = ""
    holds: tuple[str, ...] = ()
    lifted: tuple[tuple[str, str], ...] = ()
    host: str = ""
    fits: bool = False

    @property
    def ours(self) -> bool:
        """A part of the piece at work: small acts may be about it."""
        return bool(self.part) and self.waits not in (Waits.ELSEWHERE, Waits.STRANGE)


@dataclass(frozen=True, slots=True)
class State:
    """All that the machine remembers between two events.

    cup, load, place, person: what was last scanned of each, 0 for none. face: of the wall, for the
    next part. at: the time that was stated for the next record; wet: it is sanded wet. keep_step:
    what KEEP RECORDING records, "" for the next step; run: the codes recorded under it.
    """

    mode: Mode = Mode.BENCH
    here: str = ""
    hand: Hand = Hand()
    verb: Verb | None = None
    reason: Reason | None = None
    face: str = ""
    keep_step: str = ""
    run: tuple[str, ...] = ()
    left_out: tuple[str, ...] = ()
    cup: int = 0
    load: int = 0
    place: int = 0
    person: int = 0
    at: datetime | None = None
    wet: bool = False
    last: datetime | None = None
    last_code: str = ""
    idle: timedelta = USUAL_IDLE

    @property
    def rules(self) -> Mode:
        """Whose rules the next scan of a label follows."""
        if self.verb or self.place:
            return Mode.VERB
        return Mode.BENCH if self.face else self.mode

    @property
    def says(self) -> str:
        """The verb in force for the screen: `ALL EXCEPT`, `SENT BACK: run or sag`; "" for none."""
        if self.place and self.verb is None:
            return "PLACE"
        if self.verb is None:
            return ""
        more = [self.reason.name] if self.reason else []
        if self.keeps:
            more = [self.keep_step.replace("_", " ") or WHATEVER_NEXT]
        return ": ".join((self.verb.name, *more))

    @property
    def expects(self) -> str:
        """What the next scan of a part does, while something is in force: `SANDED: each part
        scanned now is recorded so.`; "" when nothing is."""
        if self.verb is None and not self.place:
            return only(self.face) if self.face else ""
        key, name = self.verb.key if self.verb else None, self.says.replace(": ", ", ")
        if key is Key.INSIST and self.hand.waits is Waits.HELD:
            what = f"“{self.hand.holds[0]}”" if self.hand.holds else "what was refused"
            return f"{name}: scan why, and {what} is lifted."
        if key in (Key.INSIST, Key.SEND_BACK) and self.reason is None:
            return f"{name}: scan why."
        return f"{name}: {_EXPECTS.get(key, _RECORDED)}"

    @property
    def keeps(self) -> bool:
        """KEEP RECORDING is in force."""
        return self.verb is not None and self.verb.key is Key.KEEP

    def asks_of_load(self, code: str) -> bool:
        """This label was left out of the load last, and the load then asked what has to be so."""
        asked = self.hand.waits is Waits.ASKED and self.hand.code == load_code(self.load)
        return asked and code in self.left_out[-1:]


def load_code(number: int) -> str:
    """What stands for a load where else the code of a part stands."""
    return f"load {number}"


def only(face: str) -> str:
    """What a face of the wall does, in words."""
    if face == WHOLE_PIECE:
        return "Of the whole piece that the next part is of."
    return f"Only the {face_word(face)} of the next part."


def quiet(state: State) -> State:
    """Nothing in force and no label in hand; person, cup and load stay."""
    return replace(
        empty(state), verb=None, reason=None, face="", keep_step="", run=(), left_out=(), place=0
    )


def disarmed(state: State) -> State:
    """Nothing waits for a second scan, Enter or a reason; what is shown stays shown."""
    hand = state.hand
    if hand.waits in (Waits.ARMED, Waits.HELD, Waits.ASKED):
        hand = replace(hand, waits=Waits.SHOWN, holds=(), lifted=())
    elif hand.waits is Waits.HOME:
        hand = Hand()
    return replace(state, hand=hand)


def empty(state: State) -> State:
    """Nothing in the hand."""
    return replace(state, hand=Hand())


def grown_old(state: State, now: datetime) -> State:
    """The hand as the passing of time leaves it."""
    hand = state.hand
    if hand.since is None:
        return state
    age = now - hand.since
    if age >= state.idle and hand.waits in (Waits.HELD, Waits.HOME):
        return disarmed(state)
    if age >= ARMED_FOR and hand.waits in (Waits.ARMED, Waits.ASKED):
        return disarmed(state)
    return state


_RECORDED = "each part scanned now is recorded so."
_EXPECTS = {
    None: "each part scanned now is put there.",
    Key.INSIST: "the next part scanned is recorded all the same.",
    Key.SEND_BACK: "each part scanned now goes back.",
    Key.SKIP: "of each part scanned now the next step is left out.",
    Key.EXCEPT: "each part scanned now is left out; END records the others.",
    Key.NO_MASK: "each part scanned now needs no cover.",
    Key.OLD_FINISH: "said of each part scanned now; after WHOLE PIECE, of all of its piece.",
    Key.TRIED_READY: "each part scanned now was tried and is ready for its next step.",
    Key.TRIED_NOT: "each part scanned now was tried and is not ready for its next step.",
    Key.PIECE: "the piece of the next part is at work.",
}
