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


class MarkRefusal(StrEnum):
    """Why a mark may not be made; `ALLOWED` is the empty word, so that `not refusal` means yes."""

    ALLOWED = ""
    UNKNOWN = "this path has no such step"
    FINISHED = "every step of this face is done"
    AHEAD = "a step before it is not done"
    BEHIND = "this step is done already; send the face back to do it again"
    NOT_OPTIONAL = "this step can not be skipped"
    NOT_REACHED = "the face has not come to this step yet"


@dataclass(frozen=True, slots=True)
class Mark:
    """One record on a face: which step, when the work was done (aware, UTC), of what kind.

    An insisted mark stands although the order of the path forbids it: it is what was really done.
    doubt: why that time may be wrong, in words; "" when nothing speaks against it. contradicted:
    another record does; else only the time from then to now is in doubt.
    """

    step: str
    at: datetime
    kind: MarkKind = MarkKind.DONE
    insisted: bool = False
    doubt: str = ""
    contradicted: bool = False


@dataclass(frozen=True, slots=True)
class Progress:
    """Where a face stands. `index` of the `of` steps that are not optional are behind it.

    next: the step that is due, the first that is not optional; None when none is left.
    choices: what may be done now: optional steps on the way, then `next`.
    place: the position in the path's steps that the face has come to.
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
    place: int
    choices: tuple[Step, ...]
    history: tuple[Mark, ...]
    ignored: tuple[Mark, ...]
    sent_back: int

    @property
    def fraction(self) -> float:
        """The part of the path that is behind this face, 0 to 1; 1 for a path without steps."""
        return self.index / self.of if self.of else 1.0

    @property
    def left(self) -> int:
        """How many steps are still to come."""
        return self.of - self.index


def progress(path: FinishPath, marks: Sequence[Mark]) -> Progress:
    """Where the face stands after `marks`, given in the order of recording. Never raises."""
    place = 0
    done: list[Mark] = []
    history: list[Mark] = []
    ignored: list[Mark] = []
    for mark in marks:
        if not _counts(path, place, mark):
            ignored.append(mark)
            continue
        history.append(mark)
        place = _moved(path, place, mark)
        done = _standing(path, done, mark, place)
    due = [i for i, step in enumerate(path.steps) if not step.optional]
    ahead = [i for i in due if i >= place]
    return Progress(
        path=path,
        next=path.steps[ahead[0]] if ahead else None,
        last=history[-1] if history else None,
        done=tuple(done),
        finished=not ahead,
        index=len(due) - len(ahead),
        of=len(due),
        place=place,
        choices=path.steps[place : ahead[0] + 1 if ahead else None],
        history=tuple(history),
        ignored=tuple(ignored),
        sent_back=sum(m.kind is MarkKind.SENT_BACK for m in history),
    )


def may_mark(
    path: FinishPath, marks: Sequence[Mark], step: str, kind: MarkKind = MarkKind.DONE
) -> MarkRefusal:
    """Whether the path's order allows this mark next: an empty Refused, or the reason why not."""
    return _refusal(path, progress(path, marks).place, step, kind)


def least_advanced(faces: Mapping[K, Progress]) -> K | None:
    """The face that a part's status is told from: the smallest part of its path behind it.

    Among equals the one with more steps left, then the first given. None when there is no face.
    """
    if not faces:
        return None
    return min(faces, key=lambda k: (faces[k].finished, faces[k].fraction, -faces[k].left))


def _refusal(path: FinishPath, place: int, key: str, kind: MarkKind) -> MarkRefusal:
    at = path.index(key)
    if at is None:
        return MarkRefusal.UNKNOWN
    if kind is MarkKind.SENT_BACK:
        return MarkRefusal.NOT_REACHED if at >= place else MarkRefusal.ALLOWED
    if place >= len(path.steps):
        return MarkRefusal.FINISHED
    if at < place:
        return MarkRefusal.BEHIND
    if any(not s.optional for s in path.steps[place:at]):
        return MarkRefusal.AHEAD
    if kind is MarkKind.SKIPPED and not path.steps[at].optional:
        return MarkRefusal.NOT_OPTIONAL
    return MarkRefusal.ALLOWED


def _counts(path: FinishPath, place: int, mark: Mark) -> bool:
    """Whether a recorded mark stands: in order, insisted, or only ahead of steps of a case.

    That a face is such a case may have been said later, or the path have had no such step then;
    what was done was done.
    """
    why = _refusal(path, place, mark.step, mark.kind)
    at = path.index(mark.step)
    if why is MarkRefusal.AHEAD and at is not None:
        return mark.insisted or all(s.optional or s.only_when for s in path.steps[place:at])
    return not why or (mark.insisted and at is not None)


def _moved(path: FinishPath, place: int, mark: Mark) -> int:
    """Where the face stands after a mark that counts. Work repeated behind it moves nothing."""
    at = path.index(mark.step) or 0
    if mark.kind is MarkKind.SENT_BACK:
        return min(at, place)
    return max(place, at + 1)


def _standing(path: FinishPath, done: list[Mark], mark: Mark, place: int) -> list[Mark]:
    if mark.kind is MarkKind.SENT_BACK:
        return [m for m in done if (path.index(m.step) or 0) < place]
    return [*done, mark] if mark.kind is MarkKind.DONE else done
