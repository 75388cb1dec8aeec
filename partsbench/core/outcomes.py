"""What the bench can answer. Window, command line and paper all say the same one."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from datetime import datetime
from enum import StrEnum

from partsbench.core.sums.shown import Measures


class Answer(StrEnum):
    """The one large word."""

    GO = "GO"
    WAIT = "WAIT"
    LATE = "LATE"
    STOP = "STOP"
    OTHER_JOB = "OTHER JOB"


class Tone(StrEnum):
    """What is heard: a pattern for each kind of answer, so that nobody need look."""

    RECORDED = "recorded"
    ASK = "ask"
    QUIET = "quiet"
    REFUSED = "refused"
    FOREIGN = "foreign"
    UNKNOWN = "unknown"
    MISREAD = "misread"
    REPLACED = "replaced"
    VERB_OFF = "verb off"
    VERB_ON = "verb on"
    WAIT = "wait"
    LATE = "late"
    HOLD = "hold"
    CONFIRM = "confirm"
    CLOSING = "closing"
    """The program speaks first: a window is about to close."""


@dataclass(frozen=True, slots=True)
class Hold:
    """One rule that refuses a record, and why; a reason that names the rule lifts it alone."""

    rule: str
    because: str


@dataclass(frozen=True, slots=True)
class Outcome:
    """An answer to a scan, a key or a command; nothing is recorded unless `recorded` says so."""

    answer: Answer
    tone: Tone
    sentence: str
    because: str = ""
    source: str = ""
    until: datetime | None = None
    beside: str = ""
    """The sentence for a place where part and faces stand above it already; "" for the same."""
    tag: str = ""
    part: str = ""
    home: int = 0
    faces: tuple[str, ...] = ()
    step: str | None = None
    step_name: str = ""
    cautions: tuple[str, ...] = ()
    code: str = ""
    recorded: bool = False
    holds: tuple[Hold, ...] = ()
    """What refuses the record until it is insisted upon, each by its name, the gravest first."""
    checks: tuple[str, ...] = ()
    """What has to be confirmed before the record, once a batch, in sentences."""
    note: str = ""
    """What the finish path says of the step besides its figures."""
    warnings: tuple[str, ...] = ()
    """What is to be said once and then let pass."""
    recover: str = ""
    """For LATE: the key of the step that mends it."""
    done_at: datetime | None = None
    """For a record: when the work was done, as stated."""
    then: Answer | None = None
    """For a record: the word for the step that is next, which may have to wait."""

    @property
    def held(self) -> tuple[str, ...]:
        """The rules that refuse the record."""
        return tuple(h.rule for h in self.holds)

    @property
    def unconfirmed(self) -> bool:
        """A record was refused for nothing but what was not confirmed yet."""
        return bool(self.checks) and not self.recorded and self.tone is Tone.CONFIRM

    @property
    def finished(self) -> bool:
        """No step is left on the faces of the part: there is nothing to go on with."""
        quiet = self.tone is Tone.QUIET or (self.recorded and self.then is None)
        return quiet and bool(self.part and self.faces) and self.step is None

    @property
    def planless(self) -> bool:
        """A part that gets no finish was shown: there is no step to do or to have done."""
        return self.tone is Tone.QUIET and bool(self.part) and not self.faces and not self.recorded


@dataclass(frozen=True, slots=True)
class Done:
    """A change that is in the book, in a sentence."""

    sentence: str
    tag: str = ""


@dataclass(frozen=True, slots=True)
class Refused:
    """A wish that could not be met: what and where, in a sentence. Nothing was changed.

    about: the one thing of what was typed that is wrong, by its name. us: the sentence in US
    units, where measures stand in it.
    """

    sentence: str
    about: str = field(default="", compare=False, kw_only=True)
    us: str = field(default="", compare=False, kw_only=True)

    def say(self, measures: Measures = Measures.METRIC) -> str:
        return self.us if self.us and measures is Measures.US else self.sentence

    def at(self, place: str) -> Refused:
        """`paths.paint: There is no part D9.` The same, with the place it was met at before it."""
        us = f"{place}: {self.us}" if self.us else ""
        return replace(self, sentence=f"{place}: {self.sentence}", us=us)

    def told_in(self, measures: Measures) -> Refused:
        """The same with its sentence in the shop's units."""
        return replace(self, sentence=self.say(measures))


@dataclass(frozen=True, slots=True)
class HalfDone(Refused):
    """Something was changed, and what is still to be done the sentence says."""


@dataclass(frozen=True, slots=True)
class NotYours(Refused):
    """The latest change was made by somebody else; who names it by its record means it."""

    record: int


class BookDamagedError(Exception):
    """The open book turned out to be damaged while it was read; the message says how."""
