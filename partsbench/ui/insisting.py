"""Insisting on what is held: each hold is read and given a reason of its own, one by one."""

from __future__ import annotations

from dataclasses import dataclass, field

from partsbench.core.outcomes import Hold, Outcome
from partsbench.core.verbs import Key, reasons_for
from partsbench.core.wording import capital, plural, sentences

CHOOSE = "Choose a reason; it stays in the history."


def reasons() -> list[str]:
    """The reasons of the wall, as buttons."""
    return [reason.name for reason in reasons_for(Key.INSIST)]


@dataclass
class Insisting:
    """What was refused, and the reasons given so far, by hold."""

    holds: tuple[Hold, ...] = ()
    reasons: dict[str, str] = field(default_factory=dict)

    def refused(self, outcome: Outcome) -> None:
        """Begin with a refusal; of one that a reason was given for, what is left."""
        self.holds = outcome.holds

    def question(self, what: str) -> str:
        """`Record D1 against “not dry yet”? Wash first needs 12 h. Why? (then 1 more hold)`"""
        if not self.holds:
            return ""
        hold, more = self.holds[0], len(self.holds) - 1
        then = plural(more, "Then 1 more hold.", f"Then {more} more holds.") if more else ""
        asked = f"{what} against “{hold.rule}”?"
        return sentences(asked, _sentence(hold.because), "Why?", then)

    def give(self, reason: str) -> dict[str, str]:
        """A reason for the hold that was asked about; all reasons given so far."""
        if self.holds:
            self.reasons[self.holds[0].rule] = reason
        return self.reasons


def _sentence(text: str) -> str:
    ended = text if text.endswith((".", "?")) else f"{text}."
    return capital(ended)
