"""Where a face stands on its path, told from the marks recorded; never stored, always computed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from typing import TypeVar

from partsbench.core.finish.steps import FinishPath, Step

K = TypeVar("K")


class MarkKind(StrEnum):
    """What a mark says about its step."""

    DONE = "done"
    SKIPPED = "skipped"
    SENT_BACK = "sent_back"


class Refusal(StrEnum):
    """Why a mark may not be made; `ALLOWED` is the empty word, so that `not refusal` means yes."""

    ALLOWED = ""
    UNKNOWN = "this path has no such step"
    FINISHED = "this face is finished"
    AHEAD = "a step before it is not done"
    BEHIND = "this step is done already; send the face back to do it again"
    NOT_OPTIONAL = "this step can not be skipped"
    NOT_REACHED = "the face has not come to this step yet"


@dataclass(frozen=True, slots=True)
class Mark:
    """One record on a face: which step, when the work was done (aware, UTC), of what kind.

    An insisted mark stands although the order of the path forbids it: it is what was really done.
    """

    step: str
    at: datetime
    kind: MarkKind = MarkKind.DONE
    insisted: bool = False


@dataclass(frozen=True, slots=True)
class Progress:
    """Where a face stands. `index` steps of `of` are behind it.

    next: the step that is due; None when finished. An optional one may be skipped.
    choices: what may be done now without skipping by hand: `next` and, while they are optional,
        those after it up to the first that is not.
    last: the newest mark that counted, of any kind.
    done: the marks of steps done that still stand, in order; done work that was sent back is in
        `history`, which keeps every mark that counted.
    ignored: marks that the path has no place for (unknown step, out of order, not insisted).
    """

    path: FinishPath
    next: Step | None
    last: Mark | None
    done: tuple[Mark, ...]
    finished: bool
    index: int
    of: int
    choices: tuple[Step, ...] = ()
    history: tuple[Mark, ...] = ()
    ignored: tuple[Mark, ...] = ()
    sent_back: int = 0

    @property
    def fraction(self) -> float:
        """The part of the path that is behind this face, 0 to 1; 1 for a path without steps."""
        return self.index / self.of if self.of else 1.0

    @property
    def left(self) -> int:
        """How many steps are still to come."""
        return self.of - self.index

    def last_done(self, *keys: str) -> Mark | None:
        """The newest standing mark of a step done; of these steps only, when keys are given."""
        return next((m for m in reversed(self.done) if not keys or m.step in keys), None)


def progress(path: FinishPath, marks: Sequence[Mark]) -> Progress:
    """Where the face stands after `marks`, given in the order of recording. Never raises."""
    index = 0
    done: list[Mark] = []
    history: list[Mark] = []
    ignored: list[Mark] = []
    for mark in marks:
        if _refusal(path, index, mark.step, mark.kind) and not _insists(path, mark):
            ignored.append(mark)
            continue
        history.append(mark)
        index = _moved(path, index, mark)
        done = _standing(path, done, mark, index)
    steps = path.steps
    return Progress(
        path=path,
        next=steps[index] if index < len(steps) else None,
        last=history[-1] if history else None,
        done=tuple(done),
        finished=index >= len(steps),
        index=index,
        of=len(steps),
        choices=_choices(path, index),
        history=tuple(history),
        ignored=tuple(ignored),
        sent_back=sum(m.kind is MarkKind.SENT_BACK for m in history),
    )


def may_mark(
    path: FinishPath, marks: Sequence[Mark], step: str, kind: MarkKind = MarkKind.DONE
) -> Refusal:
    """Whether the path's order allows this mark next: an empty Refusal, or the reason why not."""
    return _refusal(path, progress(path, marks).index, step, kind)


def least_advanced(faces: Mapping[K, Progress]) -> K | None:
    """The face that a part's status is told from: the smallest part of its path behind it.

    Among equals the one with more steps left, then the first given. None when there is no face.
    """
    if not faces:
        return None
    return min(faces, key=lambda k: (faces[k].finished, faces[k].fraction, -faces[k].left))


def _choices(path: FinishPath, index: int) -> tuple[Step, ...]:
    found: list[Step] = []
    for step in path.steps[index:]:
        found.append(step)
        if not step.optional:
            break
    return tuple(found)


def _refusal(path: FinishPath, index: int, key: str, kind: MarkKind) -> Refusal:
    at = path.index(key)
    if at is None:
        return Refusal.UNKNOWN
    if kind is MarkKind.SENT_BACK:
        return Refusal.NOT_REACHED if at >= index else Refusal.ALLOWED
    if index >= len(path.steps):
        return Refusal.FINISHED
    if at < index:
        return Refusal.BEHIND
    if any(not s.optional for s in path.steps[index:at]):
        return Refusal.AHEAD
    if kind is MarkKind.SKIPPED and not path.steps[at].optional:
        return Refusal.NOT_OPTIONAL
    return Refusal.ALLOWED


def _insists(path: FinishPath, mark: Mark) -> bool:
    return mark.insisted and path.index(mark.step) is not None


def _moved(path: FinishPath, index: int, mark: Mark) -> int:
    """Where the face stands after a mark that counts. Work repeated behind it moves nothing."""
    at = path.index(mark.step) or 0
    if mark.kind is MarkKind.SENT_BACK:
        return min(at, index)
    return max(index, at + 1)


def _standing(path: FinishPath, done: list[Mark], mark: Mark, index: int) -> list[Mark]:
    if mark.kind is MarkKind.SENT_BACK:
        return [m for m in done if (path.index(m.step) or 0) < index]
    return [*done, mark] if mark.kind is MarkKind.DONE else done
