"""The journal as people use it: reading it, undo, redo, and "that was D6, not D5"."""

from __future__ import annotations

from typing import Any

from partsbench.core.finish.progress import Mark, MarkKind, may_mark
from partsbench.core.journal_lines import JournalLine
from partsbench.core.key_words import face_word
from partsbench.core.outcomes import Done, NotYours, Refused
from partsbench.core.piece.parts import Part
from partsbench.core.piece.piece import Piece
from partsbench.core.said_often import no_piece
from partsbench.services.acts.returning import WITH_ITS_HOME, not_its_home, seats
from partsbench.services.known.state import part_state
from partsbench.services.shop import Shop, find_short, writing
from partsbench.store import journal, records, taking_back
from partsbench.store import pieces as piece_rows
from partsbench.store.journal import Change, change
from partsbench.store.records import MoveKind, PartMove


def history(
    shop: Shop, tag: str = "", limit: int = 200, before: int | None = None
) -> list[JournalLine]:
    """Changes, newest first; of one piece when `tag` is given."""
    return journal.entries(shop.book, tag, limit, before)


def last_change(shop: Shop) -> JournalLine | None:
    """The change that an undo would take back."""
    return journal.undoable(shop.book)


def next_redo(shop: Shop) -> JournalLine | None:
    """The change that a redo would do again."""
    return journal.redoable(shop.book)


@writing
def undo(shop: Shop, meant: int = 0) -> Done | Refused:
    """Take the latest change back; it stays in the history.

    `NotYours` where somebody else made it, unless its record is named as the one that is `meant`.
    """
    top = journal.undoable(shop.book)
    if meant and (top is None or top.id != meant):
        return Refused(f"Record {meant} is not the latest change; nothing was undone.")
    if top and top.who != shop.who and not meant:
        who = top.who or "somebody who gave no name"
        return NotYours(
            f"The latest change was made by {who}: {top.sentence}. Take it back all the same?",
            top.id,
        )
    entry = journal.undo(shop.book, shop.clock(), shop.who)
    if entry is None:
        return Refused("There is nothing to undo.")
    return Done(f"{entry.sentence}.", entry.tag)


@writing
def undo_own(shop: Shop) -> Done | Refused:
    """Take back the latest change of the one at the bench, also under changes of others."""
    top, own = journal.undoable(shop.book), taking_back.latest_of(shop.book, shop.who)
    if own is None:
        who = shop.who or "whoever gives no name"
        return Refused(f"There is nothing of {who} to undo.")
    if top and top.id == own.id:
        return undo(shop)
    if not taking_back.take_back(shop.book, own, shop.clock(), shop.who):
        return Refused(f"Others went on from there; it stays as it is: {own.sentence}.")
    return Done(f"Undone: {own.sentence}.", own.tag)


@writing
def redo_own(shop: Shop) -> Done | Refused:
    """Do again what `undo_own` took back last."""
    if journal.redoable(shop.book) is None and taking_back.taken_back_last(shop.book, shop.who):
        said = journal.undo(shop.book, shop.clock(), shop.who)
        assert said is not None
        return Done(f"{said.sentence}.", said.tag)
    return redo(shop)


@writing
def redo(shop: Shop) -> Done | Refused:
    """Do again what was last undone."""
    entry = journal.redo(shop.book, shop.clock(), shop.who)
    if entry is None:
        return Refused("There is nothing to redo.")
    return Done(f"{entry.sentence}.", entry.tag)


@writing
def correct(shop: Shop, tag: str, wrong: str, right: str) -> Done | Refused:
    """The latest record of one part becomes that of another, at its own time."""
    piece = shop.piece(tag)
    if piece is None:
        return Refused(no_piece(tag))
    names = [find_short(piece, name) for name in (wrong, right)]
    for name in names:
        if isinstance(name, Refused):
            return name
    source, target = str(names[0]), str(names[1])
    if source == target:
        return Refused(f"Both are {source}.")
    key = piece_rows.piece_id(shop.book, tag)
    assert key is not None
    ids = records.part_ids(shop.book, key)
    sentence = f"{piece.codename}: that was {target}, not {source}"
    with change(shop.book, sentence, shop.clock(), shop.who, tag) as entry:
        latest = records.latest(shop.book, tag, ids[source])
        if latest is None:
            return Refused(f"Nothing is recorded of {source}.")
        table, rows = latest
        if table == "movement":
            part = piece.part(target)
            assert part is not None
            for row in rows:
                moved = records.movement(shop.book, row)
                entry.update("movement", row, {"part": ids[target], **_seated(piece, part, moved)})
        else:
            fault = _move_marks(shop, entry, piece, rows, ids[target], target)
            if fault:
                return fault
    return Done(f"{sentence}.", tag)


def _seated(piece: Piece, part: Part, moved: PartMove) -> dict[str, Any]:
    """What a movement into a home becomes when it was another part that went there.

    A home that was scanned stays as it was scanned; one taken for granted is the part's own.
    """
    if not moved.home and moved.kind is not MoveKind.HOME:
        return {}
    own = seats(piece, part)
    seat = part.home.number if moved.how != WITH_ITS_HOME else moved.home
    if seat in own:
        return {"kind": MoveKind.HOME.value, "home": seat, "place": ""}
    return {"kind": MoveKind.PLACE.value, "home": seat, "place": not_its_home(seat)}


def _move_marks(
    shop: Shop, entry: Change, piece: Piece, rows: list[int], target_id: int, target: str
) -> Refused | None:
    part = piece.part(target)
    assert part is not None
    state = part_state(shop, piece, part)
    ids = piece_rows.face_ids(shop.book, piece.tag, target_id)
    placed = []
    for row in rows:
        mark = records.mark(shop.book, row)
        face = next((f for f in state.faces if f.name == mark.face), None)
        if face is None:
            return Refused(f"{target} has no face “{face_word(mark.face)}”.")
        own = [Mark(m.step, m.at, MarkKind(m.kind), m.insisted) for m in face.marks]
        no = may_mark(face.path, own, mark.step, MarkKind(mark.kind))
        if no:
            return Refused(f"{part.spot(mark.face)}: {no.value}.")
        placed.append((row, ids[mark.face]))
    for row, face_id in placed:
        entry.update("mark", row, {"face": face_id})
    return None
