"""Which faces of a part are worked on now, at which step, and whether they may be."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta

from partsbench.core.finish.answer import Decision
from partsbench.core.finish.clocks import window
from partsbench.core.finish.cups import StoredCup
from partsbench.core.finish.path import Step
from partsbench.core.finish.products import COATS
from partsbench.core.finish.steps import Operation
from partsbench.core.outcomes import Answer, Refused
from partsbench.core.said_often import EVERY_STEP_DONE, no_face
from partsbench.services.known.state import FaceState, PartState
from partsbench.services.rules import answers
from partsbench.services.rules.answers import Ground

SOON = timedelta(hours=2)
"""A window that closes within so long is urgent."""


@dataclass(frozen=True, slots=True)
class Wish:
    """What is asked for: one face, a step, the operations of a verb; "" and () for whatever is due.

    insisted: any step of the path may be named. skip: an optional step is to be left out.
    """

    face: str = ""
    step: str = ""
    operations: frozenset[Operation] = frozenset()
    insisted: bool = False
    skip: bool = False
    cup: StoredCup | None = None
    wet: bool = False

    def mix_for(self, step: Step) -> StoredCup | None:
        """The cup, where the step puts something on; sanding uses none."""
        return self.cup if step.operation in COATS else None


@dataclass(frozen=True, slots=True)
class Choice:
    """Faces that are worked together, their step, and the answer for it (None when skipped)."""

    faces: tuple[FaceState, ...]
    step: Step
    said: Decision


def choose(on: Ground, wish: Wish, when: datetime) -> Choice | Refused | None:
    """What to do on a part: of several things the one whose window closes first, then what may be
    done, the least advanced faces first. None when every step is done or none is planned."""
    state = on.state
    faces = _named(state, wish.face)
    if isinstance(faces, Refused):
        return faces
    if not any(f.path.steps for f in faces):
        asked = wish.step or wish.operations
        nothing = Refused("No finish is planned here, so there is no step to record.")
        return nothing if asked else None
    groups = _groups(state, faces, wish)
    if not groups:
        return _why_none(faces, wish)
    found = [
        Choice(
            group,
            step,
            answers.answer(on, group, step, when, cup=wish.mix_for(step), wet=wish.wet),
        )
        for group, step in groups
    ]
    return min(found, key=_rank)


@dataclass(frozen=True, slots=True)
class Urgent:
    """Faces whose next step has a window that closes soon, or has closed."""

    faces: tuple[FaceState, ...]
    step: Step
    closes: datetime


def urgent(on: Ground, but: Iterable[FaceState], now: datetime) -> list[Urgent]:
    """What else on a part must not be forgotten, the soonest first; `but` is told already."""
    told = {face.name for face in but}
    found = []
    for group, step in _groups(on.state, on.state.faces, Wish()):
        ends = {
            face: closes.at
            for face in group
            if (closes := window(face.progress, step, on.waits).closes)
            and closes.at - now < SOON and face.name not in told
        }  # fmt: skip
        if ends:
            found.append(Urgent(tuple(ends), step, min(ends.values())))
    return sorted(found, key=lambda each: each.closes)


def _rank(choice: Choice) -> tuple[int, float]:
    """Sorts what is urgent before what may be done, and that before what must wait."""
    said = choice.said
    until = said.until.timestamp() if said.until else 0.0
    if said.answer is Answer.GO:
        return (0, until) if said.until else (1, 0.0)
    return {Answer.LATE: (2, 0.0), Answer.WAIT: (3, until)}.get(said.answer, (4, 0.0))


def _named(state: PartState, face: str) -> tuple[FaceState, ...] | Refused:
    if not face:
        return state.faces
    chosen = tuple(f for f in state.faces if f.name == " ".join(face.lower().split()))
    if chosen:
        return chosen
    have = [f.name for f in state.faces]
    return Refused(no_face(state.part.short, face, have))


def _groups(
    state: PartState, faces: Iterable[FaceState], wish: Wish
) -> list[tuple[tuple[FaceState, ...], Step]]:
    """Faces of one path that have come to one step, the least advanced group first."""
    groups: dict[tuple[str, str], tuple[list[FaceState], Step]] = {}
    least = state.least
    ordered = sorted(
        (f for f in faces if f.path.steps),
        key=lambda f: (f is not least, f.progress.finished, f.progress.fraction),
    )
    for face in ordered:
        step = _step_of(face, wish)
        if step is not None:
            groups.setdefault((face.path.key, step.key), ([], step))[0].append(face)
    return [
        (tuple(f for f in state.faces if f in members), step) for members, step in groups.values()
    ]


def _step_of(face: FaceState, wish: Wish) -> Step | None:
    """The step that is meant on this face; None when it has not come to it."""
    choices = face.progress.choices
    if wish.step:
        reached = face.path.steps if wish.insisted else choices
        return next((s for s in reached if wish.step in (s.key, s.name)), None)
    if wish.operations:
        offered = [s for s in choices if s.operation in wish.operations]
        return next((s for s in offered if not s.optional), offered[0] if offered else None)
    if wish.skip:
        return choices[0] if choices else None
    return face.progress.next


def _why_none(faces: tuple[FaceState, ...], wish: Wish) -> Refused | None:
    following = next((f.progress.next for f in faces if f.progress.next), None)
    if not wish.step and not wish.operations:
        return None
    if following is None:
        return Refused(EVERY_STEP_DONE)
    if wish.step:
        return Refused(f"{following.name} comes next; “{wish.step}” cannot be recorded yet.")
    return Refused(f"{following.name} comes next; nothing was recorded.")
