"""Begun pairs without their end: they stand at the top until they are closed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from partsbench.core.finish.progress import Mark, MarkKind, Progress
from partsbench.core.finish.steps import Operation, Step
from partsbench.core.sources import Source, Status
from partsbench.core.wording import capital


@dataclass(frozen=True, slots=True)
class Pair:
    """An operation that asks for another: until then a loop is open. `holds`: no coat before."""

    begun: Operation
    ends: Operation
    say: str
    holds: bool
    source: Source


_PRACTICE = Source("rule of the trade", Status.COMMON_PRACTICE)
PAIRS = (
    Pair(Operation.WASH, Operation.RINSE, "washed but not rinsed", True, _PRACTICE),
    Pair(Operation.STRIP, Operation.RESIDUE, "stripped, residue not wiped off", True, _PRACTICE),
    Pair(Operation.STAIN, Operation.WIPE, "stained and not wiped", True, _PRACTICE),
    Pair(Operation.MASK, Operation.UNMASK, "masked, tape still on", False, _PRACTICE),
)
RAGS = "oily rags: spread flat, or in water in a closed metal can?"


@dataclass(frozen=True, slots=True)
class Loop:
    """One open loop: on what, in words or "", since when, what was begun, and what closes it."""

    where: str
    since: datetime
    say: str
    ends: Operation | None
    holds: bool = False
    step: str = ""
    tag: str = ""
    parts: tuple[str, ...] = ()
    """The parts of that piece that it stands open on, by their numbers."""

    @property
    def sentence(self) -> str:
        """`D3 front: washed but not rinsed.`"""
        return self.told if self.asks else f"{self.told}."

    @property
    def asks(self) -> bool:
        """Whether it is a question, which only a person can answer."""
        return self.say == RAGS

    @property
    def presses(self) -> bool:
        """Whether it is told before all work that can wait: it holds a coat, or only a person can
        say that it was ended."""
        return self.holds or self.ends is None

    @property
    def told(self) -> str:
        """The same without a full stop."""
        return f"{self.where}: {self.say}" if self.where else capital(self.say)


def open_loops(where: str, now: Progress) -> tuple[Loop, ...]:
    """The pairs begun on one face and not ended, oldest first. What was sent back counts too:

    a wash before a send-back is closed only by a rinse that came after it.
    """
    done = [(m, s) for m in now.history if m.kind is MarkKind.DONE and (s := now.path.step(m.step))]
    found = [loop for pair in PAIRS if (loop := _open(where, pair, done))]
    return tuple(sorted(found, key=lambda loop: loop.since))


def _open(where: str, pair: Pair, done: Sequence[tuple[Mark, Step]]) -> Loop | None:
    begun: Mark | None = None
    for mark, step in done:
        if step.operation is pair.begun:
            begun = mark
        elif step.operation is pair.ends:
            begun = None
    if begun is None:
        return None
    return Loop(where, begun.at, pair.say, pair.ends, pair.holds, begun.step)
