"""A piece walked through the use cases while the clock moves: every answer is written down."""

from __future__ import annotations

import os
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import timedelta
from pathlib import Path
from typing import Any

from partsbench.core.outcomes import Answer, Done, Outcome, Refused
from partsbench.paper.proof import verdict
from partsbench.services.acts import bench
from partsbench.services.known.state import FaceState, PieceState, piece_state
from partsbench.services.rules import loops
from partsbench.services.shop import Shop
from partsbench.services.shown.proof import proof_content
from tests.support.clock import SetClock

UPDATE = "PARTSBENCH_GOLDEN"
"""Set to `write`, stories write down what is said now, to be read by eye before it is kept."""

MINUTES = 2
Said = Outcome | Done | Refused


@dataclass
class Walk:
    """One piece at the bench. `lines` is the story as it is kept, `refused` what was held."""

    shop: Shop
    clock: SetClock
    tag: str
    lines: list[str] = field(default_factory=list)
    heard: list[Outcome] = field(default_factory=list)
    """Refusals so far: one that is no other is written down once."""
    mended: list[tuple[str, str, str]] = field(default_factory=list)
    """What came too late: part, step, and the step that it went back to."""
    refused: list[tuple[str, str, tuple[str, ...]]] = field(default_factory=list)

    def state(self) -> PieceState:
        piece = self.shop.piece(self.tag)
        assert piece is not None
        return piece_state(self.shop, piece)

    def faces(self, short: str) -> list[FaceState]:
        return [f for f in self.state().of(short).faces if f.path.steps]

    def marks(self) -> int:
        (count,) = self.shop.book.row("SELECT count(*) FROM mark")
        return int(count)

    def say(self, did: str, said: Said) -> Said:
        """Write down what was done, and what it was answered with."""
        self.lines.append(f"{self.clock.now:%a %d %H:%M}  {did}")
        self.lines += [f"    {line}" for line in words(said)]
        return said

    def look(self, short: str, **how: Any) -> Outcome:
        seen = bench.look(self.shop, short, here=self.tag, **how)
        self.say(f"look {_what(short, how)}", seen)
        return seen

    def record(self, short: str, **how: Any) -> Outcome:
        """One try at the step that is due; what is held is kept in `refused`, and left no mark."""
        before = self.marks()
        said = bench.record(self.shop, short, here=self.tag, **how)
        assert isinstance(said, Outcome), said
        lines = len(self.lines)
        self.say(f"record {_what(short, how)}", said)
        if not said.recorded:
            if said in self.heard:
                del self.lines[lines:]
            self.heard.append(said)
            assert self.marks() == before, said
            if said.held:
                self.refused.append((short, said.step or "", said.held))
        return said

    def confirmed(self, short: str, **how: Any) -> Outcome:
        """The same as somebody does who reads what is asked first, and then says that it is so."""
        said = self.record(short, **how)
        return self.record(short, confirmed=True, **how) if said.unconfirmed else said

    def mend(self, seen: Outcome) -> None:
        """A window was missed: back to the step that the answer names, on the faces it is about."""
        for face in seen.faces:
            back = bench.send_back(self.shop, seen.part, seen.recover, "missed window",
                                   here=self.tag, face=face)  # fmt: skip
            assert self.say(f"back {seen.part} {face} to {seen.recover}", back)
            assert isinstance(back, Outcome) and back.recorded, back
        self.mended.append((seen.part, seen.step or "", seen.recover))

    def rags(self) -> None:
        """The question about oily rags is answered where it is open."""
        if loops.rags(self.shop, self.clock.now):
            self.say("rags spread flat", loops.answer_rags(self.shop, loops.FLAT))

    def due(self, shorts: list[str]) -> Iterator[tuple[str, str]]:
        """Part and face of everything that still has a step."""
        for short in shorts:
            for face in self.faces(short):
                if not face.progress.finished:
                    yield short, face.name

    def until(self, when: Any) -> None:
        self.clock.now = max(self.clock.now, when)

    def work(self) -> None:
        """What a record takes."""
        self.clock.now += timedelta(minutes=MINUTES)


def _what(short: str, how: dict[str, Any]) -> str:
    face, step = how.get("face", ""), how.get("step", "")
    given = [f"{short} {face}".strip()]
    given += [f"step {step}"] if step else []
    given += ["wet"] if how.get("wet") else []
    given += [f"with cup {how['cup'].number}"] if how.get("cup") else []
    given += ["confirmed"] if how.get("confirmed") else []
    insist = how.get("insist")
    if isinstance(insist, dict):
        given += [f"insisting: {rule}: {why}" for rule, why in insist.items()]
    elif insist:
        given += [f"insisting: {insist}"]
    return ", ".join(given)


def words(said: Said) -> Iterator[str]:
    """The word, the step, what holds it by its rules, and every sentence."""
    if isinstance(said, Refused):
        yield f"refused: {said.sentence}"
        return
    if isinstance(said, Done):
        yield f"done: {said.sentence}"
        return
    held = f" held by {', '.join(said.held)}" if said.held else ""
    until = f" until {said.until:%a %d %H:%M}" if said.until else ""
    shown = "recorded" if said.recorded else said.answer.value
    yield f"{shown} {said.step or '-'}{until}{held}: {said.sentence}"
    if said.answer is not Answer.GO and said.because:
        yield f"because {said.because}"
    yield from (f"mind: {warning}" for warning in said.warnings)


def proven(walk: Walk) -> tuple[bool, str]:
    """What the proof sheet says of the piece: whether it is complete, and its sentence."""
    return verdict(proof_content(walk.shop, walk.state()))


def golden(story: str, lines: list[str]) -> None:
    """The story is told as it was when somebody read it; how it differs is shown otherwise."""
    told = "\n".join(lines) + "\n"
    kept = Path(__file__).parent.parent / "stories" / "three_pieces" / "golden" / f"{story}.txt"
    if os.environ.get(UPDATE) == "write":
        kept.write_text(told, encoding="utf-8")
    assert told.splitlines() == kept.read_text(encoding="utf-8").splitlines(), (
        f"told otherwise than in {kept.name}; {UPDATE}=write writes it anew, to be read by eye"
    )
