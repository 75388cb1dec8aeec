"""The same code twice within a moment counts once: a trigger held down, a label seen by chance."""

from __future__ import annotations

from dataclasses import dataclass, field

# Long enough for a bouncing trigger, short enough that a second scan on purpose is not lost.
COUNTS_ONCE = 1.5


@dataclass(slots=True)
class Repeats:
    """Remembers when each code last counted. Times are seconds on a monotonic clock."""

    _counted: dict[str, float] = field(default_factory=dict)

    def counts(self, code: str, at: float) -> bool:
        """True when this sight of the code is a scan of its own, and not the last one again.

        The time runs from the last sight that counted: a bounce does not put off the second scan.
        """
        self._counted = {c: t for c, t in self._counted.items() if at - t < COUNTS_ONCE}
        if code in self._counted:
            return False
        self._counted[code] = at
        return True

    def forget(self) -> None:
        """Let every code count again, for example after an undo."""
        self._counted.clear()
