"""Writing down that a step was done: the marks, and the tape that goes on and off with them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from partsbench.core.finish.masks import Mask
from partsbench.core.finish.progress import MarkKind
from partsbench.core.finish.steps import NO_STEP_PATHS, Operation, PathKind, Step
from partsbench.core.key_words import face_words
from partsbench.core.piece.parts import Part
from partsbench.core.piece.piece import Piece
from partsbench.core.piece.spot import Spot
from partsbench.core.wording import clauses, notes
from partsbench.services.known.state import FaceState
from partsbench.services.rules.answers import Ground
from partsbench.services.shop import Shop
from partsbench.store import facts as fact_rows
from partsbench.store import pieces as piece_rows
from partsbench.store import records
from partsbench.store.journal import Change

_PROTECTED = frozenset({PathKind.STAIN, PathKind.CLEAR})


@dataclass(frozen=True, slots=True)
class Doing:
    """How a step was done: when, with which note, insisted upon or not, from which cup and load.

    sure: what was confirmed with it; kept with the mark, and too long for a sentence.
    """

    at: datetime
    kind: MarkKind = MarkKind.DONE
    note: str = ""
    insisted: bool = False
    cup: int | None = None
    load: int | None = None
    sure: str = ""


@dataclass(frozen=True, slots=True)
class Tape:
    """The tape that a mask is made with, and the longest time it is rated for."""

    name: str = ""
    rating: timedelta | None = None


NO_NAME = Tape()


def fix_numbers(shop: Shop, entry: Change, piece: Piece) -> None:
    """Once something is recorded of a piece, its numbers stay as they are."""
    if not piece.numbers_fixed:
        piece_rows.save(entry, shop.book, replace(piece, numbers_fixed=True))


def mark(
    shop: Shop,
    entry: Change,
    piece: Piece,
    part: Part,
    faces: Sequence[str],
    step: Step,
    how: Doing,
) -> None:
    """Marks on the faces, and a sentence for the journal that can be read."""
    key = piece_rows.part_id(shop.book, piece.tag, part.family, part.number)
    assert key is not None
    ids = piece_rows.face_ids(shop.book, piece.tag, key)
    fix_numbers(shop, entry, piece)
    records.add_marks(
        entry,
        [ids[face] for face in faces],
        step=step.key,
        kind=how.kind.value,
        at=how.at,
        who=shop.who,
        note="; ".join(filter(None, (how.note, how.sure))),
        insisted=how.insisted,
        cup=how.cup,
        load=how.load,
    )
    name, on = f"{piece.codename} {part.short}", face_words(faces)
    did = {
        MarkKind.DONE: f"{name} {step.did} ({on})",
        MarkKind.SKIPPED: f"{name}: left out {step.name} ({on})",
        MarkKind.SENT_BACK: f"{name} sent back to {step.name} ({on})",
    }[how.kind]
    said = notes(did, "insisted" if how.insisted else "")
    said = f"{said}: {how.note}" if how.note else said
    entry.sentence = clauses([entry.sentence, said])


def follow_tape(
    shop: Shop,
    entry: Change,
    on: Ground,
    faces: Iterable[FaceState],
    step: Step,
    how: Doing,
    tape: Tape = NO_NAME,
) -> None:
    """What a mask or its removal means for the other side of the seam.

    Masking writes down what covers what; a face on the other side whose own masking that settles
    is marked as well, and likewise when the tape comes off.
    """
    if how.kind is not MarkKind.DONE:
        return
    names = [on.state.part.spot(f.name) for f in faces]
    if step.operation is Operation.MASK:
        _tape_on(shop, entry, on, names, how, tape)
    elif step.operation is Operation.UNMASK:
        for mask in on.masks:
            if any(name == mask.covers or name in mask.against for name in names):
                fact_rows.take_off(entry, mask, how.at)
    settle(shop, entry, on, step.operation, how, frozenset(names))


def settle(
    shop: Shop, entry: Change, on: Ground, operation: Operation, how: Doing, but: frozenset[Spot]
) -> None:
    """Mark masking, or its removal, on the part's other faces where it is done with this tape."""
    if operation not in (Operation.MASK, Operation.UNMASK):
        return
    key = piece_rows.piece_id(shop.book, on.piece.tag)
    assert key is not None
    masks = fact_rows.masks(shop.book, key, only_on=True)
    for face in on.state.faces:
        name = on.state.part.spot(face.name)
        due = face.progress.next
        step = due if due and due.operation is operation else None
        if step is None or name in but:
            continue
        beside = on.beside[name]
        linked = [o for o in beside if any(_links(m, name, o) for m in masks)]
        is_done = len(linked) == len(beside) if operation is Operation.MASK else not linked
        if beside and is_done:
            mark(shop, entry, on.piece, on.state.part, [face.name], step,
                 replace(how, insisted=False, note=""))  # fmt: skip


def _tape_on(
    shop: Shop, entry: Change, on: Ground, names: Sequence[Spot], how: Doing, tape: Tape
) -> None:
    key = piece_rows.piece_id(shop.book, on.piece.tag)
    assert key is not None
    faces = {on.state.part.spot(f.name): f for f in on.state.faces}
    covers: dict[Spot, list[Spot]] = {}
    for name in names:
        for other in on.beside[name]:
            if any(_links(m, name, other) for m in on.masks):
                continue
            covered, against = _which(faces[name], name, faces[other], other)
            covers.setdefault(covered, []).append(against)
    for covered, sides in covers.items():
        made = Mask("", covered, tuple(dict.fromkeys(sides)), how.at, None, tape.rating, tape.name)
        fact_rows.add_mask(entry, key, made, shop.who)


def _which(one: FaceState, name: Spot, two: FaceState, other: Spot) -> tuple[Spot, Spot]:
    """Which of two faces is covered, and against which.

    Bare and left faces are covered always, the stained or clear side before the painted one.
    """
    if two.path.key in NO_STEP_PATHS:
        return other, name
    if one.path.key in NO_STEP_PATHS:
        return name, other
    if two.path.kind in _PROTECTED and one.path.kind not in _PROTECTED:
        return other, name
    return name, other


def _links(mask: Mask, a: Spot, b: Spot) -> bool:
    return (mask.covers == a and b in mask.against) or (mask.covers == b and a in mask.against)
