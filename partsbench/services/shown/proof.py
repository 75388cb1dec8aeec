"""The proof sheet of a piece, put together from what was recorded."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from partsbench import files
from partsbench.core.finish.progress import Mark, MarkKind
from partsbench.core.key_words import place_word
from partsbench.core.outcomes import Done, Refused
from partsbench.core.piece.codes import Family, short_number
from partsbench.core.piece.drawing import elevation
from partsbench.core.piece.parts import Part
from partsbench.core.piece.piece import Piece, home_words
from partsbench.core.said_often import no_paper, no_piece
from partsbench.services.acts.returning import ELIMINATION, missing, open_fits
from partsbench.services.known import old_finish
from partsbench.services.known.state import FaceState, PartState, PieceState, Where, piece_state
from partsbench.services.shop import Shop, writing
from partsbench.store.journal import entries, note

if TYPE_CHECKING:
    from partsbench.paper.proof import ProofContent, ProofFace, ProofPart


A_WHOLE_JOB = 5000
"""Entries of one piece that are looked through at most."""


def make_proof(
    shop: Shop, tag: str, with_hidden: bool = True, paper: str = "a4"
) -> bytes | Refused:
    """The proof sheet as PDF; a client's copy, `with_hidden` false, leaves hidden parts off.

    It may be made at any time: a piece that is not complete is proved to be just that.
    """
    from partsbench.paper.column import PAPERS
    from partsbench.paper.proof_sheet import proof_sheet

    piece = shop.piece(tag)
    if piece is None:
        return Refused(no_piece(tag))
    if paper not in PAPERS:
        return Refused(no_paper(paper, PAPERS))
    content = proof_content(shop, piece_state(shop, piece))
    return proof_sheet(content, paper, for_client=not with_hidden)


def save_proof(
    shop: Shop, tag: str, target: Path, with_hidden: bool = True, paper: str = "a4"
) -> Done | Refused:
    """The proof sheet written to a file."""
    made = make_proof(shop, tag, with_hidden, paper)
    if isinstance(made, Refused):
        return made
    fault = files.write(target, made)
    if fault:
        return fault
    return Done(f"Proof sheet written to {target}.", tag)


@writing
def hand_out(shop: Shop, tag: str) -> Done | Refused:
    """Note in the history that the sheet was printed or saved."""
    piece = shop.piece(tag)
    if piece is None:
        return Refused(no_piece(tag))
    with shop.book.transaction():
        note(shop.book, _handed_out(piece), shop.clock(), shop.who, tag)
    return Done(f"{_handed_out(piece)}.", tag)


def was_handed_out(shop: Shop, piece: Piece) -> bool:
    """The sheet was printed or saved, however the piece stood then."""
    said = _handed_out(piece)
    return any(entry.sentence == said for entry in entries(shop.book, piece.tag, limit=A_WHOLE_JOB))


def _handed_out(piece: Piece) -> str:
    return f"{piece.codename}: proof sheet handed out"


@dataclass(frozen=True, slots=True)
class ProofWords:
    """The proof sheet as lines for a screen: whether all is home, what must not be hidden, and each
    part with what was done to its faces."""

    complete: bool
    verdict: str
    reservations: tuple[str, ...]
    parts: tuple[str, ...]


def proof_words(shop: Shop, tag: str) -> ProofWords | Refused:
    """What the proof sheet says now, as the shop may see it: with hidden parts."""
    from partsbench.paper.proof import face_lines, reservations, verdict
    from partsbench.paper.proof_sheet import face_words, part_cells

    piece = shop.piece(tag)
    if piece is None:
        return Refused(no_piece(tag))
    content = proof_content(shop, piece_state(shop, piece))
    complete, said = verdict(content)
    lines = [
        "; ".join([" · ".join(filter(None, part_cells(part))),
                   *(face_words(names, face) for names, face in face_lines(part.faces))])
        for part in content.parts
    ]  # fmt: skip
    return ProofWords(complete, said, tuple(reservations(content)), tuple(lines))


def proof_content(shop: Shop, state: PieceState) -> ProofContent:
    """What the sheet says, with times in the machine's own zone."""
    from partsbench.paper.proof import ProofContent

    piece = state.piece
    whys = {m.part.short: m.why for m in missing(state)}
    wanting = {part.short for part, _ in open_fits(state)}
    return ProofContent(
        piece.codename,
        piece.tag,
        elevation(piece),
        shop.clock().astimezone(),
        shop.who,
        tuple(_part(state, p, whys, wanting) for p in piece.present),
        piece.title,
        tuple(old_finish.for_proof(shop, piece)),
    )


def _part(state: PieceState, part: Part, whys: dict[str, str], wanting: set[str]) -> ProofPart:
    from partsbench.paper.proof import Back, ProofPart

    own = state.of(part.short)
    back = Back.MISSING if part.short in whys else Back.HOME
    if own.where is Where.STAYS:
        back = Back.STAYS
    told = _told_by(state, own)
    moved = told.moved
    is_home = back is Back.HOME and moved is not None
    return ProofPart(
        part.short,
        part.called,
        _home(state, own),
        back,
        _how(own, told) if back is Back.HOME else "",
        _local(moved.at) if moved and is_home else None,
        moved.who if moved and is_home else "",
        own.fit.result if own.fit else "",
        part.short in wanting,
        is_home and moved is not None and moved.how == ELIMINATION,
        whys.get(part.short, ""),
        tuple(_face(f) for f in own.faces if f.path.steps),
        _hidden(state.piece, part),
    )


def _told_by(state: PieceState, own: PartState) -> PartState:
    """The part whose record says where this one is: itself, or what it travels with."""
    while own.moved is None and own.part.parent:
        own = state.of(own.part.parent)
    return own


def _how(own: PartState, told: PartState) -> str:
    if told.moved is None:
        return "not taken out"
    return told.moved.how if told is own else f"with {told.part.short}"


def _home(state: PieceState, own: PartState) -> str:
    """Where it lives; of equals, the corner that it was given."""
    part = own.part
    number = own.seat if part.group and own.seat else part.home.number
    corner = next((c.spot for c in state.piece.corners if c.number == number), "")
    words = (
        f"{place_word(corner)} corner" if part.group and corner else home_words(state.piece, part)
    )
    return f"{short_number(Family.HOME, number)}, {words}" if number else words


def _hidden(piece: Piece, part: Part) -> bool:
    host = piece.part(part.parent) if part.parent else None
    return part.hidden or (host is not None and _hidden(piece, host))


def _face(face: FaceState) -> ProofFace:
    from partsbench.paper.proof import ProofFace

    last, following = face.progress.last, face.progress.next
    stored = next((m for m in reversed(face.marks) if last and m.at == last.at), None)
    return ProofFace(
        face.name,
        face.path.name,
        _last_words(face, last) if last else "",
        _local(last.at) if last else None,
        stored.who if stored else "",
        following.name if following else "",
        last.insisted if last else False,
    )


def _last_words(face: FaceState, last: Mark) -> str:
    step = face.path.step(last.step)
    if step is None:
        return last.step
    if last.kind is MarkKind.SENT_BACK:
        return f"sent back to {step.name}"
    return step.did if last.kind is MarkKind.DONE else f"{step.name} left out"


def _local(at: datetime) -> datetime:
    return at.astimezone()
