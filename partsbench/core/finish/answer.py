"""GO, WAIT, LATE or STOP for one step on one face at one time: until when, why, whose figure."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from partsbench.core.finish.advice import WARNINGS
from partsbench.core.finish.checks import checks
from partsbench.core.finish.clocks import Bound, said_source
from partsbench.core.finish.findings import Finding, Level
from partsbench.core.finish.holds import (
    AWAY_RULE,
    EARLY_RULE,
    HOLDS,
    LATE_RULE,
    OTHER_SIDE,
    SAME_WAIT,
    TAPE_SET_RULE,
    findings,
)
from partsbench.core.finish.old_finish import LEAD_CAUTION, LEAD_CLEARED
from partsbench.core.finish.situation import Situation
from partsbench.core.finish.steps import Missed, Step
from partsbench.core.outcomes import Answer

_TIMING = SAME_WAIT | {AWAY_RULE, LATE_RULE, EARLY_RULE, TAPE_SET_RULE}
"""Holds that the clock lifts, or that a step of the path mends."""

RULES = (*HOLDS, *WARNINGS)
WORST_FIRST = {name: place for place, name in enumerate((*(r.name for r in HOLDS), OTHER_SIDE))}
"""Where each hold stands among those that are told together."""
ANY_HOLD = ""
"""The name for the one hold there is, when a reason is given and no hold is named."""


@dataclass(frozen=True, slots=True)
class Decision:
    """What the bench answers. `until` is when it changes by itself; None when it does not.

    recover: for LATE, the step to go to and what to do. findings: all that the rules said; what
    is held may only be recorded when it is insisted upon, what is to be checked when confirmed.
    minds: keys of the cautions of the step on this face.
    """

    answer: Answer
    step: Step
    until: datetime | None
    because: str
    source: str
    findings: tuple[Finding, ...] = ()
    recover: Missed | None = None
    minds: tuple[str, ...] = ()

    @property
    def held(self) -> tuple[Finding, ...]:
        """The findings that refuse the record, the gravest first."""
        return worst_first(f for f in self.findings if f.level is Level.HOLD)

    @property
    def checks(self) -> tuple[Finding, ...]:
        """What is still to be confirmed for this batch."""
        return tuple(f for f in self.findings if f.level is Level.CHECK)

    @property
    def away(self) -> bool:
        """True while the part is at an outside workshop."""
        return self.answer is Answer.WAIT and any(f.rule == AWAY_RULE for f in self.findings)

    @property
    def warnings(self) -> tuple[Finding, ...]:
        return tuple(f for f in self.findings if f.level in (Level.WARN, Level.ADVISE))


def worst_first(held: Iterable[Finding]) -> tuple[Finding, ...]:
    """Holds in the order of their rules; what is no rule of the table comes last."""
    return tuple(sorted(held, key=lambda f: WORST_FIRST.get(f.rule, len(WORST_FIRST))))


def still_held(
    held: Sequence[Finding], insisted: Mapping[str, str]
) -> tuple[tuple[Finding, ...], dict[str, str]]:
    """The holds that nobody insisted upon, and the reasons that count, by rule.

    A reason lifts the hold that it names. One that names none (`ANY_HOLD`) lifts the only hold
    that is left, and nothing where there are several: nobody insists on what was not read.
    """
    rules = list(dict.fromkeys(f.rule for f in held))
    lifted = {rule: insisted[rule] for rule in rules if insisted.get(rule)}
    left = [rule for rule in rules if rule not in lifted]
    if insisted.get(ANY_HOLD) and len(left) == 1:
        lifted[left[0]] = insisted[ANY_HOLD]
    return tuple(f for f in held if f.rule not in lifted), lifted


def decide(s: Situation) -> Decision:
    """The answer for `s.step` on its face at `s.now`.

    A hold that only a person can lift comes first, then a closed window, then a wait. What is to be
    confirmed changes no answer: it is asked before the record.
    """
    found = (*findings(s, RULES), *checks(s))
    return replace(_decided(s, found), minds=minds(s))


def minds(s: Situation) -> tuple[str, ...]:
    """The cautions of the step; nobody is told to wait for a test that was made."""
    told = {LEAD_CAUTION: LEAD_CLEARED} if s.facts.old.cleared else {}
    return tuple(told.get(key, key) for key in s.step.cautions)


def _decided(s: Situation, found: tuple[Finding, ...]) -> Decision:
    window = s.window
    held = worst_first(f for f in found if f.level is Level.HOLD)
    if any(f.rule not in _TIMING for f in held):
        return _stop(s, held, found)
    if s.away and s.now < s.away:
        return _away(s, s.away, found)
    if window.closes and window.is_late(s.now):
        return _late(s, window.closes, found)
    opens = s.tape_opens[1] if s.tape_opens else window.opens
    if opens and s.now < opens.at:
        return _wait(s, opens, found)
    return _go(s, found)


def _stop(s: Situation, held: Sequence[Finding], found: tuple[Finding, ...]) -> Decision:
    """Every hold is named, the gravest first, also those that the clock would lift."""
    because = "; ".join(f.reason for f in held)
    source = "; ".join(dict.fromkeys(said_source(f.source) for f in held))
    return Decision(Answer.STOP, s.step, None, because, source, found)


def _away(s: Situation, back: datetime, found: tuple[Finding, ...]) -> Decision:
    said = next(f for f in found if f.rule == AWAY_RULE)
    opens = s.window.opens
    until = max(back, opens.at) if opens else back
    source = said_source(said.source)
    return Decision(Answer.WAIT, s.step, until, said.reason, source, found)


def _late(s: Situation, closes: Bound, found: tuple[Finding, ...]) -> Decision:
    missed = closes.wait.missed
    because = closes.wait.why_no_longer()
    because = f"{because}. {missed.say}" if missed else because
    return Decision(Answer.LATE, s.step, None, because, closes.cited, found, missed)


def _wait(s: Situation, opens: Bound, found: tuple[Finding, ...]) -> Decision:
    because = opens.wait.why_not_yet()
    if s.tape_opens:
        because = f"{s.tape_opens[0]}: {because}"
    closes = s.window.closes
    if closes and s.window.impossible:
        late = closes.wait.why_no_longer()
        because = f"{because}, yet {late}: it will be too late before it is ready"
    return Decision(Answer.WAIT, s.step, opens.at, because, opens.cited, found)


def _go(s: Situation, found: tuple[Finding, ...]) -> Decision:
    window = s.window
    if window.closes:
        closes = window.closes
        because = closes.wait.why_no_longer()
        return Decision(Answer.GO, s.step, closes.at, because, closes.cited, found)
    if window.opens:
        because = f"{window.opens.wait.why_not_yet()}; that has passed"
        return Decision(Answer.GO, s.step, None, because, window.opens.cited, found)
    return Decision(Answer.GO, s.step, None, "nothing under it has to dry", "", found)
