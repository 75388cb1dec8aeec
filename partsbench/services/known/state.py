"""Where a piece stands: each face on its path, each part in or out of its home. All computed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from enum import StrEnum

from partsbench.core.finish.path import FinishPath, Step
from partsbench.core.finish.progress import Mark, MarkKind, Progress, least_advanced, progress
from partsbench.core.finish.sheets import seams_of
from partsbench.core.key_words import choice_word
from partsbench.core.piece.codes import Family
from partsbench.core.piece.parts import Home, HomeKind, Part
from partsbench.core.piece.piece import Piece
from partsbench.services.known import facts
from partsbench.services.known.clock_doubt import with_doubts
from partsbench.services.shop import Shop
from partsbench.store import pieces as piece_rows
from partsbench.store import records
from partsbench.store.facts import Facts
from partsbench.store.records import FitNoted, MoveKind, PartMove, StoredMark

SEATED = frozenset({Family.DRAWER, Family.DOOR, Family.LEG})
"""What fills a home: one to a home. Runners, shelves and the like share the opening with it."""


_Alike = dict[tuple[int, tuple[tuple[object, ...], ...]], Progress]
"""Identity of a path (which its progress keeps alive) and marks → the progress."""


class Where(StrEnum):
    """Where a part is, as far as the records tell."""

    IN = "in the piece"
    OUT = "out"
    HOME = "home"
    WRONG = "in a wrong home"
    STAYS = "stays"


@dataclass(frozen=True, slots=True)
class FaceState:
    """A face and how far it has come."""

    name: str
    path: FinishPath
    progress: Progress
    marks: tuple[StoredMark, ...] = ()


@dataclass(frozen=True, slots=True)
class PartState:
    """A part, its faces, its movements, and where it is now.

    `seat` is the number of the home it sits in, 0 when it sits in none. `moved` is the latest
    movement of its own; `place` the place in the shop it was last put to, while it is out.
    """

    part: Part
    faces: tuple[FaceState, ...]
    where: Where
    seat: int = 0
    place: str = ""
    moved: PartMove | None = None
    was_out: bool = False
    fit: FitNoted | None = None

    @property
    def least(self) -> FaceState | None:
        """The least advanced face that gets a finish; None when none does."""
        finishing = {f.name: f.progress for f in self.faces if f.path.steps}
        name = least_advanced(finishing)
        return next((f for f in self.faces if f.name == name), None)

    @property
    def lane(self) -> tuple[FaceState, ...]:
        """The faces that are worked together: those on the path and step of the least advanced."""
        least = self.least
        if least is None:
            return ()
        return tuple(
            f
            for f in self.faces
            if f.path.key == least.path.key and f.progress.next == least.progress.next
        )

    def worked(self, face: str) -> tuple[FaceState, ...]:
        """The faces that a record would go to: the one chosen, or those worked together."""
        return tuple(f for f in self.faces if f.name == face) if face else self.lane

    def options(self, face: str) -> tuple[Step, ...]:
        """The steps that may be recorded now: optional ones first, then the one that is due."""
        steps = [step for each in self.worked(face) for step in each.progress.choices]
        return tuple(dict.fromkeys(steps))

    @property
    def next_step(self) -> Step | None:
        return self.least.progress.next if self.least else None

    @property
    def status(self) -> str:
        """The least advanced face in words: `Wash and rinse next`, `finished`, `no finish`."""
        least = self.least
        if least is None:
            return choice_word("no finish planned")
        if least.progress.next is None:
            return choice_word("finished")
        return f"{least.progress.next.name} next"

    @property
    def last_seen(self) -> tuple[datetime, str] | None:
        """When the part was last dealt with, and how."""
        seen = [(m.at, m.id, m.step.replace("_", " ")) for f in self.faces for m in f.marks]
        if self.moved:
            seen.append((self.moved.at, self.moved.id, movement_words(self.moved)))
        return max(seen)[::2] if seen else None


@dataclass(frozen=True, slots=True)
class PieceState:
    """A piece with the state of each present part, by short number."""

    piece: Piece
    parts: Mapping[str, PartState]

    def of(self, short: str) -> PartState:
        return self.parts[short]

    def seated(self) -> dict[int, str]:
        """Which part sits in which home now, as far as scans tell."""
        return {s.seat: s.part.short for s in self.parts.values() if s.seat}


def movement_words(movement: PartMove) -> str:
    if movement.kind is MoveKind.PLACE:
        return f"at {movement.place}"
    return "taken out" if movement.kind is MoveKind.OUT else "brought home"


def part_state(shop: Shop, piece: Piece, part: Part) -> PartState:
    """The state of one part, read alone: what a scan needs."""
    key = piece_rows.part_id(shop.book, piece.tag, part.family, part.number)
    assert key is not None
    marks = with_doubts(shop, records.marks(shop.book, 0, key))
    moves = records.movements(shop.book, 0, key)
    parent = piece.part(part.parent) if part.parent else None
    host = part_state(shop, piece, parent) if parent and not moves else None
    faces = _faces(shop, piece, part, facts.of_piece(shop, piece.tag), marks, {})
    return _state(part, faces, moves, host, None)


def piece_state(shop: Shop, piece: Piece) -> PieceState:
    """The state of every present part of a piece."""
    key = piece_rows.piece_id(shop.book, piece.tag)
    assert key is not None
    marks: dict[str, list[StoredMark]] = {}
    for mark in with_doubts(shop, records.marks(shop.book, key)):
        marks.setdefault(mark.part, []).append(mark)
    moves: dict[str, list[PartMove]] = {}
    for move in records.movements(shop.book, key):
        moves.setdefault(move.part, []).append(move)
    fits = records.fits(shop.book, key)
    known = facts.of_piece(shop, piece.tag)
    states: dict[str, PartState] = {}
    alike: _Alike = {}

    def build(part: Part) -> PartState:
        if part.short not in states:
            own = moves.get(part.short, [])
            parent = piece.part(part.parent) if part.parent else None
            host = build(parent) if parent and not own else None
            faces = _faces(shop, piece, part, known, marks.get(part.short, []), alike)
            states[part.short] = _state(part, faces, own, host, fits.get(part.short))
        return states[part.short]

    return PieceState(piece, _one_to_a_seat({p.short: build(p) for p in piece.present}))


def _one_to_a_seat(states: dict[str, PartState]) -> dict[str, PartState]:
    """The latest part scanned into a home is the one that sits there; an earlier one is out."""
    latest: dict[int, PartState] = {}
    for state in states.values():
        rival = latest.get(state.seat)
        if state.seat and (rival is None or _moved_after(state, rival)):
            latest[state.seat] = state
    return {
        short: state
        if not state.seat or latest[state.seat] is state
        else replace(state, where=Where.OUT, seat=0)
        for short, state in states.items()
    }


def _moved_after(a: PartState, b: PartState) -> bool:
    return a.moved is not None and (b.moved is None or a.moved.id > b.moved.id)


def _faces(
    shop: Shop,
    piece: Piece,
    part: Part,
    known: Facts,
    marks: Sequence[StoredMark],
    alike: _Alike,
) -> tuple[FaceState, ...]:
    """Each face on its path, with the steps that its facts and seams ask for."""
    found = seams_of(piece, part)
    faces = []
    for face in part.faces:
        own = tuple(m for m in marks if m.face == face.name) if marks else ()
        path = facts.suited(shop, part, face, known, found, own)
        faces.append(FaceState(face.name, path, _progress(path, own, alike), own))
    return tuple(faces)


def _progress(path: FinishPath, marks: Sequence[StoredMark], alike: _Alike) -> Progress:
    """Faces on one path with the same marks share one progress, so that they can be told alike."""
    key = (id(path), tuple((m.step, m.at, m.kind, m.insisted, m.doubt) for m in marks))
    if key not in alike:
        steps = [
            Mark(m.step, m.at, MarkKind(m.kind), m.insisted, m.doubt, m.contradicted) for m in marks
        ]
        alike[key] = progress(path, steps)
    return alike[key]


def _state(
    part: Part,
    faces: tuple[FaceState, ...],
    moves: Sequence[PartMove],
    host: PartState | None,
    fit: FitNoted | None,
) -> PartState:
    latest = moves[-1] if moves else None
    where, seat = _where(part, latest, host)
    place = latest.place if latest and latest.kind is MoveKind.PLACE and not latest.home else ""
    if host and not latest:
        place = host.place
    return PartState(
        part,
        faces,
        where,
        seat,
        place,
        latest,
        any(m.kind is not MoveKind.HOME for m in moves),
        fit,
    )


def _where(part: Part, latest: PartMove | None, host: PartState | None) -> tuple[Where, int]:
    if part.home.kind is HomeKind.STAYS:
        return Where.STAYS, 0
    if latest is None:
        return (host.where if host and host.where is not Where.WRONG else Where.IN), 0
    seat = latest.home if part.family in SEATED else 0
    if latest.kind is MoveKind.HOME:
        return Where.HOME, seat
    if latest.kind is MoveKind.PLACE and latest.home:
        return Where.WRONG, seat
    return Where.OUT, 0


def homes_to_fill(piece: Piece) -> dict[str, Home]:
    """The parts that fill an opening or stand at a corner, with their homes."""
    kinds = (HomeKind.OPENING, HomeKind.CORNER)
    return {p.short: p.home for p in piece.present if p.home.kind in kinds and p.family in SEATED}
