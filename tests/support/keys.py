"""A text field with a burst reader before it, and a scanner and a person who both type into it."""

from __future__ import annotations

from dataclasses import dataclass, field

from partsbench.reading.bursts import BurstReader, KeysHeard, KeyStroke


@dataclass
class Field:
    """What the focus would get, and the scans; the clock is whatever the keys say."""

    reader: BurstReader = field(default_factory=BurstReader)
    text: str = ""
    scans: list[str] = field(default_factory=list)
    codes: list[str] = field(default_factory=list)

    def strike(self, character: str, at: float) -> None:
        """One key, with the timer firing before it where it would."""
        due = self.reader.deadline
        if due is not None and at > due:
            self._take(self.reader.expire(due + 0.001))
        answer = self.reader.feed(KeyStroke(character, at))
        self._take(answer)
        if not answer.taken:
            self.text += character

    def strike_all(self, text: str, start: float = 0.0, gap: float = 0.005) -> float:
        """Strike `text` at an even speed; the time of the last key."""
        for place, character in enumerate(text):
            self.strike(character, start + place * gap)
        return start + (len(text) - 1) * gap

    def rest(self) -> None:
        """Let the timer fire with nothing more coming."""
        due = self.reader.deadline
        if due is not None:
            self._take(self.reader.expire(due + 0.001))

    def _take(self, answer: KeysHeard) -> None:
        self.text += "".join(key.character for key in answer.replay)
        self.scans += [scan.text for scan in answer.scans]
        self.codes += [str(scan.code) for scan in answer.scans]
