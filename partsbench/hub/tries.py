"""Tries at pairing are slowed: each wrong one makes the next wait twice as long."""

from __future__ import annotations

from dataclasses import dataclass, field

FREE = 3
"""So many wrong ones cost nothing: a code that was too old, a slip."""
LONGEST = 300.0
"""Seconds; where the waits grow no further."""
MOST_KEPT = 1000


@dataclass
class Tries:
    """Wrong tries by address; times are seconds of a clock that never goes back."""

    wrong: dict[str, tuple[int, float]] = field(default_factory=dict)

    def wait(self, address: str, now: float) -> float:
        """How many seconds this address has to wait; 0 when it may try."""
        count, last = self.wrong.get(address, (0, now))
        if count < FREE:
            return 0.0
        pause = min(2.0 ** (count - FREE + 1), LONGEST)
        return max(0.0, last + pause - now)

    def failed(self, address: str, now: float) -> None:
        count, _ = self.wrong.pop(address, (0, now))
        self.wrong[address] = (count + 1, now)
        while len(self.wrong) > MOST_KEPT:
            self.wrong.pop(next(iter(self.wrong)))

    def succeeded(self, address: str) -> None:
        self.wrong.pop(address, None)
