"""The running clocks of pieces: faces that wait together, when they open, and their cliffs."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from partsbench.core.finish.answer import Decision
from partsbench.core.finish.clocks import (
    ReadyAt,
    Window,
    readiness,
    said_source,
    window,
)
from partsbench.core.finish.effort import Own, Worked, effort
from partsbench.core.finish.progress import Progress
from partsbench.core.finish.sheets import area_m2
from partsbench.core.finish.steps import Step
from partsbench.core.key_words import choice_word, word_of
from partsbench.core.naming import ALL, together
from partsbench.core.outcomes import Answer
from partsbench.core.piece.parts import Part
from partsbench.core.piece.piece import Piece
from partsbench.core.piece.spot import Spot
from partsbench.core.shown_times import moment
from partsbench.core.wording import notes
from partsbench.services.known.state import FaceState, PartState, PieceState, piece_state
from partsbench.services.rules import answers
from partsbench.services.shop import Shop


@dataclass(frozen=True, slots=True)
class Group:
    """Faces of one piece that have come to one step with one answer, and share its clock.

    until: when the answer changes by itself. warn_at: when work must begin so that it is done
    before the window closes. now: as of when all this is told.
    """

    piece: Piece
    step: Step
    faces: tuple[tuple[PartState, FaceState], ...]
    said: Decision
    window: Window
    work: timedelta | None
    now: datetime

    @property
    def tag(self) -> str:
        return self.piece.tag

    @property
    def names(self) -> tuple[Spot, ...]:
        """`D1`, or `D3 front` where other faces of the part are elsewhere."""
        return brief(self.faces)

    @property
    def where(self) -> str:
        """`Heron D1, D3 (4 edges)`: the same for people."""
        names = brief(self.faces, edges_together=True)
        return f"{self.piece.codename} {together(names, ALL)}"

    @property
    def opens(self) -> datetime | None:
        return self.window.opens.at if self.window.opens else None

    @property
    def closes(self) -> datetime | None:
        """The cliff; None when the window never closes."""
        return self.window.closes.at if self.window.closes else None

    @property
    def warn_at(self) -> datetime | None:
        return self.window.warn_at(self.work or timedelta())

    @property
    def away(self) -> datetime | None:
        """When these faces come back from an outside workshop; None when they are here."""
        return self.said.until if self.said.away else None

    @property
    def minutes(self) -> float | None:
        return self.work.total_seconds() / 60 if self.work else None


@dataclass(frozen=True, slots=True)
class FaceClock:
    """One face for the command line and the bench: its answer, and six times of readiness."""

    face: Spot
    path: str
    step: str
    step_name: str
    said: Decision | None
    opens: datetime | None
    closes: datetime | None
    ready: tuple[ReadyAt, ...]
    now: datetime


def brief(
    faces: Sequence[tuple[PartState, FaceState]], *, edges_together: bool = False
) -> tuple[Spot, ...]:
    """`D1` for all faces of a part that get a finish, else each by itself.

    `edges_together` tells `D1 (4 edges)` where they are all the edges that get a finish.
    """
    found: dict[str, tuple[PartState, list[str]]] = {}
    for part, face in faces:
        found.setdefault(part.part.short, (part, []))[1].append(face.name)
    names: list[Spot] = []
    for short, (part, mine) in found.items():
        whole = [f.name for f in part.faces if f.path.steps]
        edges = [name for name in whole if name.endswith(" edge")]
        if len(mine) == len(whole):
            names.append(Spot(short))
        elif edges_together and len(mine) > 1 and sorted(mine) == sorted(edges):
            names.append(Spot(short, f"({len(mine)} edges)"))
        else:
            names += [Spot(short, face) for face in mine]
    return tuple(names)


def brief_names(state: PieceState, spots: Sequence[Spot]) -> tuple[Spot, ...]:
    """The same for faces of a piece."""
    wanted = set(spots)
    return brief(
        [
            (part, face)
            for part in state.parts.values()
            for face in part.faces
            if part.part.spot(face.name) in wanted
        ]
    )


def groups_of(shop: Shop, state: PieceState, now: datetime, own: Own) -> list[Group]:
    """The faces of a piece by step and answer, those with the soonest end first.

    A step that two finish paths share is one: a drawer is washed once, whatever its faces become.
    """
    same = answers.base(shop, state.piece.tag, now, state)
    windows: dict[tuple[int, str], Window] = {}
    found: dict[tuple[object, ...], list[tuple[PartState, FaceState, Step, Decision, Window]]] = {}
    for part in state.parts.values():
        due = _by_step(part)
        on = answers.ground(shop, state.piece, part, now, same) if due else None
        for step, faces in due.items():
            assert on is not None
            said = answers.answer(on, faces, step, now)
            for face in faces:
                at = (id(face.progress), step.key)
                if at not in windows:
                    windows[at] = window(face.progress, step, same.waits)
                within = windows[at]
                ends = [bound.at if bound else None for bound in (within.opens, within.closes)]
                ends.append(said.until if said.away else None)
                key = (step, said.answer, *map(_minute, ends))
                found.setdefault(key, []).append((part, face, step, said, within))
    made = [_group(state.piece, members, own, now) for members in found.values()]
    return sorted(made, key=_soonest)


def clocks_of(shop: Shop, tag: str, at: datetime | None = None) -> list[FaceClock]:
    """Every face of a piece that gets a finish: its answer now, and when it is ready for what."""
    piece = shop.piece(tag)
    if piece is None:
        return []
    now = at or shop.clock()
    state = piece_state(shop, piece)
    same, found = answers.base(shop, tag, now, state), []
    for part in state.parts.values():
        if not any(f.path.steps for f in part.faces):
            continue
        on = answers.ground(shop, piece, part, now, same)
        found += [_face_clock(shop, on, f, now) for f in part.faces if f.path.steps]
    return found


def _face_clock(
    shop: Shop, on: answers.Ground, face: FaceState, now: datetime
) -> FaceClock:  # fmt: skip
    step = face.progress.next
    said = answers.answer(on, [face], step, now) if step else None
    within = window(face.progress, step, on.waits) if step else None
    return FaceClock(
        on.state.part.spot(face.name),
        face.path.key,
        step.key if step else "",
        step.name if step else "",
        said,
        within.opens.at if within and within.opens else None,
        within.closes.at if within and within.closes else None,
        readiness(face.progress, on.waits),
        now,
    )


def ready_words(ready: ReadyAt, now: datetime) -> str:
    """`tape: Thu 14:20. Stain needs 24 h before tape (your tin card…)`."""
    at = moment(ready.at, now) if ready.at else choice_word("not known")
    if ready.until:
        missed = f"then {ready.missed}" if ready.missed else ""
        at = notes(at, f"until {moment(ready.until, now)}", missed)
    why = ready.because
    why = f"{why} ({said_source(ready.source)})" if ready.source else why
    return f"{word_of(ready.ready)}: {at}. {why}"


def distinct(groups: Iterable[Group]) -> dict[Spot, Progress]:
    """One face for each state that faces of a piece are in: what the schedule is made from."""
    found: dict[tuple[object, ...], tuple[Spot, Progress]] = {}
    for group in groups:
        for part, face in group.faces:
            steps = tuple(s.key for s in face.path.steps if not s.optional)
            marks = tuple((m.step, _minute(m.at)) for m in face.progress.done)
            key = (face.path.key, steps, marks, face.progress.place)
            found.setdefault(key, (part.part.spot(face.name), face.progress))
    return dict(found.values())


def _by_step(part: PartState) -> dict[Step, list[FaceState]]:
    found: dict[Step, list[FaceState]] = {}
    for face in part.faces:
        if face.progress.next:
            found.setdefault(face.progress.next, []).append(face)
    return found


def _group(
    piece: Piece,
    members: list[tuple[PartState, FaceState, Step, Decision, Window]],
    own: Own,
    now: datetime,
) -> Group:
    _, _, step, said, within = members[0]
    faces = tuple((part, face) for part, face, *_ in members)
    work = effort(tuple(worked(piece, step, p.part, f.name) for p, f in faces), own)
    return Group(piece, step, faces, said, within, work, now)


def worked(piece: Piece, step: Step, part: Part, face: str) -> Worked:
    """A step on a face; its area is asked only where a figure is per m²."""
    m2 = area_m2(piece, part, face) if step.minutes_per_m2 else 0.0
    return Worked(step, part.short, face, m2)


def _soonest(group: Group) -> tuple[bool, float, int]:
    """Cliffs first, then what opens next."""
    at = group.closes or group.opens
    rank = (Answer.GO, Answer.LATE, Answer.WAIT, Answer.STOP).index(group.said.answer)
    return group.closes is None, at.timestamp() if at else 0.0, rank


def _minute(at: datetime | None) -> int | None:
    return int(at.timestamp() // 60) if at else None
