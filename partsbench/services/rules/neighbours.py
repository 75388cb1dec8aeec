"""The faces of other parts that a face meets, and whether the two are together now."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from partsbench.core.finish import facts as rules
from partsbench.core.finish.between import MEETING, Meeting, Together, meetings, together
from partsbench.core.finish.masks import wants_cover
from partsbench.core.finish.steps import NO_STEP_PATHS
from partsbench.core.piece.codes import Family
from partsbench.core.piece.piece import Piece
from partsbench.core.piece.spot import Spot
from partsbench.core.piece.surfaces import Sizes
from partsbench.services.known.state import PartState, Where
from partsbench.services.shop import Shop
from partsbench.store import pieces as piece_rows
from partsbench.store import records
from partsbench.store.facts import Facts
from partsbench.store.records import MoveKind, PartMove

COMES_OUT = frozenset({Family.DRAWER, Family.DOOR})


@dataclass(frozen=True, slots=True)
class Neighbour:
    """A face of another part over a seam; wants_tape while the two are together."""

    meeting: Meeting
    together: Together
    wants_tape: bool


def of_piece(shop: Shop, piece: Piece, known: Facts, sizes: Sizes) -> list[Neighbour]:
    """Every seam between two parts of a piece where two finishes meet, or where the parts are
    together; what is left as found and comes out meets nothing."""
    found = meetings(piece, sizes)
    if not found:
        return []
    key = piece_rows.piece_id(shop.book, piece.tag)
    assert key is not None
    told = _placed(shop, piece, known, found, records.movements(shop.book, key))
    return [n for n in told if n.together is not Together.NO or _both_finished(piece, n.meeting)]


def closed_openings(shop: Shop, piece: Piece) -> set[int]:
    """The openings whose drawer or door is in its place."""
    key = piece_rows.piece_id(shop.book, piece.tag)
    assert key is not None
    latest = {m.part: m for m in records.movements(shop.book, key)}
    return {m.home for m in latest.values() if m.kind is MoveKind.HOME and m.home}


def of_face(
    shop: Shop, piece: Piece, state: PartState, spot: Spot, known: Facts
) -> list[Neighbour]:
    """The seams of one face with other parts; those that want tape."""
    part = state.part
    faces = MEETING.get(part.family, frozenset())
    if spot.face not in faces or (part.family in COMES_OUT and not _sits(state)):
        return []
    mine = [m for m in meetings(piece, of=part) if spot in (m.a, m.b)]
    mine = [m for m in mine if _wants(shop, piece, m, known)]
    if not mine:
        return []
    owners = {m.part for m in mine}
    key = piece_rows.piece_id(shop.book, piece.tag)
    assert key is not None
    row = records.part_ids(shop.book, key)[part.short] if owners == {part.short} else None
    return _placed(shop, piece, known, mine, records.movements(shop.book, key, row))


def _sits(state: PartState) -> bool:
    return state.where in (Where.HOME, Where.STAYS)


def _placed(
    shop: Shop, piece: Piece, known: Facts, found: list[Meeting], moves: Iterable[PartMove]
) -> list[Neighbour]:
    latest = {m.part: m for m in moves}
    told = []
    for meeting in found:
        part, move = piece.part(meeting.part), latest.get(meeting.part)
        assert part is not None
        is_home = move is not None and move.kind is MoveKind.HOME
        where = together(part, move is not None, is_home)
        wants = where is not Together.NO and _wants(shop, piece, meeting, known)
        told.append(Neighbour(meeting, where, wants))
    return told


def _wants(shop: Shop, piece: Piece, meeting: Meeting, known: Facts) -> bool:
    """Whether tape belongs between the two: by their paths, and not said to need none."""
    one, other = (shop.path(_path(piece, spot)) for spot in (meeting.a, meeting.b))
    if not (wants_cover(one, other) or wants_cover(other, one)):
        return False
    spared = any(
        meeting.other(spot) in rules.not_masked(known.of(spot.part, spot.face))
        for spot in (meeting.a, meeting.b)
    )
    return not spared


def _both_finished(piece: Piece, meeting: Meeting) -> bool:
    return not any(_path(piece, spot) in NO_STEP_PATHS for spot in (meeting.a, meeting.b))


def _path(piece: Piece, spot: Spot) -> str:
    part = piece.part(spot.part)
    found = part.face(spot.face) if part else None
    assert found is not None, str(spot)
    return found.path
