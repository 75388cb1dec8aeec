"""What happens at the bench, and what is to be done: the two sides of the machine."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime
from enum import StrEnum

from partsbench.core.bench.state import Mode
from partsbench.core.outcomes import Outcome
from partsbench.core.verbs import Reason, Verb, WallCode


class Kind(StrEnum):
    """What a label stands for, seen from the piece at work."""

    PART = "part"
    HOME = "home"
    ELSEWHERE = "another job"
    STRANGE = "no label of ours"


@dataclass(frozen=True, slots=True)
class Hit:
    """A scanned label as the book knows it, read once for the event.

    sits_on: codes of the parts that it is brought home on, as a pull on its drawer; `in_load`: it
    belongs to the load that is taken; `fits`: it may be given a fit result when it is home.
    says: the answer to a label that is not ours.
    """

    kind: Kind
    code: str
    tag: str = ""
    part: str = ""
    home: int = 0
    sits_on: frozenset[str] = frozenset()
    in_load: bool = False
    fits: bool = False
    says: Outcome | None = None


@dataclass(frozen=True, slots=True)
class Snapshot:
    """What a decision needs of the book, read once at one journal number.

    hit: the label that the event is about; carried: codes of the parts that are brought home on it;
    mismatch: a part and a drawer it does not sit on, the one in the hand and the other scanned now,
    by their codes; () for none. to_pull: the part that a teardown pulls next.
    complete: everything that came out is home.
    """

    journal: int = 0
    hit: Hit | None = None
    carried: frozenset[str] = frozenset()
    to_pull: Hit | None = None
    complete: bool = False
    mismatch: tuple[()] | tuple[str, str] = ()


class Push(StrEnum):
    """A key or a button."""

    ENTER = "Enter"
    LEAVE = "Esc"
    SKIP = "skip"
    REASON = "a reason"
    CHOOSE = "a press on a part"
    FACE = "a face"
    STEP = "a step"
    WET = "wet"
    AT = "a time"
    KEEP = "keep recording"
    STAYS = "stays in"
    FIT = "how it runs"
    REST = "the rest"
    TICK = "tick"
    TURN_TO = "a part to be shown"
    IDLE = "minutes until a verb goes off"


@dataclass(frozen=True, slots=True)
class Scanned:
    """A label, by a trigger (which may bounce), or typed, or pressed in a drawing."""

    trigger: bool = True


@dataclass(frozen=True, slots=True)
class OfTheWall:
    """A code that is no label."""

    code: WallCode


@dataclass(frozen=True, slots=True)
class Pushed:
    """A key or button, with what was chosen."""

    push: Push
    text: str = ""
    at: datetime | None = None


@dataclass(frozen=True, slots=True)
class Passed:
    """Time went by."""


@dataclass(frozen=True, slots=True)
class Touched:
    """A scan went elsewhere, as an answer to a question: somebody is there."""


@dataclass(frozen=True, slots=True)
class Turned:
    """Another page, or another piece, is in front."""

    mode: Mode
    tag: str


@dataclass(frozen=True, slots=True)
class Undone:
    """A record was taken back or done again: nothing that was shown stands."""


@dataclass(frozen=True, slots=True)
class Took:
    """What came into the hand: the number of a load, cup or place (0: put down), the piece at
    work; None for what stays as it was."""

    here: str | None = None
    load: int | None = None
    cup: int | None = None
    place: int | None = None


@dataclass(frozen=True, slots=True)
class Answered:
    """What an act was answered with."""

    act: Act
    outcome: Outcome
    took: Took = Took()


Event = Scanned | OfTheWall | Pushed | Passed | Touched | Turned | Undone | Took | Answered


class What(StrEnum):
    """What is to be done after an event."""

    SHOW = "show it"
    RECORD = "record it"
    SKIP = "leave the step out"
    SEND_BACK = "send it back"
    LOAD_DONE = "record the load"
    NEXT_LOAD = "take the next load"
    OUT = "it is out"
    STAYS = "it stays in"
    WHERE_HOME = "show its home"
    HOME = "it is home"
    HOME_WAITS = "the home waits"
    FIT = "how it runs"
    REST = "the rest by elimination"
    PROOF = "the proof sheet"
    GO_TO = "go to its piece"
    OLD_FINISH_ASKED = "ask what is on it"
    PUT = "put it there"
    NO_MASK = "no mask needed"
    OLD_FINISH = "say what is on it"
    TRIED = "it was tried"
    PIECE = "take its piece to work"
    UNDO = "undo"
    REDO = "redo"
    RAGS = "rags"
    CUP = "take the cup"
    LOAD = "take the load"
    PERSON = "who is at the bench"
    PLACE = "take the place"
    STRAINED = "the cup is strained"
    CUP_EMPTY = "the cup is empty"
    WORK_STARTS = "work starts"
    WORK_ENDS = "work ends"
    CAMERA = "the camera on or off"
    VERB_ON = "the verb is on"
    VERB_OFF = "the verb is off"
    TELL = "tell what it is"
    SAY = "say why not"


@dataclass(frozen=True, slots=True)
class Act:
    """One thing to do: with which code, verb, reason or number; `says` is for the screen.

    onto: the code or home that a part is brought home to. text: what was chosen.
    """

    what: What
    code: str = ""
    verb: Verb | None = None
    reason: Reason | None = None
    face: str = ""
    step: str = ""
    number: int = 0
    codes: tuple[str, ...] = ()
    onto: str = ""
    text: str = ""
    says: str = ""
    confirmed: bool = False
    """What has to be so first was asked, and this is the answer to it."""
    insists: tuple[tuple[str, str], ...] = ()
    """Hold and reason; a hold "" is the only one there is."""
    answer: Outcome | None = field(default=None, compare=False)
    """For TELL: what the book says of the label."""
