"""Taking a piece apart: which part is next, and what is out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from partsbench.core.key_words import choice_word, parts_word
from partsbench.core.naming import ALL, together
from partsbench.core.outcomes import Answer, Outcome, Refused, Tone
from partsbench.core.piece.codes import Family
from partsbench.core.piece.parts import HomeKind, Part, where_to_stick
from partsbench.core.piece.piece import Piece
from partsbench.core.piece.teardown import hint, mind, teardown_order
from partsbench.core.said_often import STILL_TO_COME, next_out, no_piece
from partsbench.core.wording import sentences
from partsbench.services.known.cautions import words as caution_words
from partsbench.services.known.identify import KnownLabel, identify
from partsbench.services.known.state import PartState, PieceState, Where, part_state, piece_state
from partsbench.services.rules.marking import fix_numbers
from partsbench.services.shop import Shop, find_short, writing
from partsbench.store import pieces as piece_rows
from partsbench.store import records
from partsbench.store.journal import change
from partsbench.store.records import MoveKind

STAYS_IN = "stays in"
SMALL_THINGS = "other parts"


@dataclass(frozen=True, slots=True)
class OutCount:
    """`out` of `of` parts of one sort are dealt with."""

    name: str
    out: int
    of: int


@dataclass(frozen=True, slots=True)
class Teardown:
    """How far a teardown has come. `next` is None when everything is out or stays in."""

    next: Part | None
    hint: str
    stick: str
    counts: tuple[OutCount, ...]
    order: tuple[Part, ...]

    @property
    def finished(self) -> bool:
        return self.next is None


def teardown(state: PieceState) -> Teardown:
    """What is out, and what to pull next: hidden drawers after their door, pulls at the end."""
    piece = state.piece
    order = teardown_order(piece)
    waiting = [p for p in order if not _dealt_with(state, p)]
    following = waiting[0] if waiting else None
    return Teardown(
        following,
        mind_words(piece, following) if following else "",
        where_to_stick(following) if following else "",
        _counts(state, order),
        order,
    )


def mind_words(piece: Piece, part: Part) -> str:
    """What to mind when this part comes out; empty when nothing is."""
    return " ".join(filter(None, (hint(piece, part), *caution_words(mind(part)))))


def left_in(state: PieceState) -> tuple[str, ...]:
    """What may all stay on: the small things, once openings, hidden ones and legs are dealt with;
    () while something large is still in."""
    plan = teardown(state)
    if any(c.out != c.of for c in plan.counts if c.name != SMALL_THINGS):
        return ()
    return tuple(p.short for p in plan.order if not _dealt_with(state, p))


@writing
def take_out(
    shop: Shop,
    tag: str,
    texts: Sequence[str | KnownLabel],
    *,
    at: datetime | None = None,
    place: str = "",
) -> Outcome:
    """Record that parts are out, all or none. A part that is out already is left as it is."""
    piece = shop.piece(tag)
    if piece is None:
        return _stop(no_piece(tag))
    chosen: list[Part] = []
    for text in texts:
        known = identify(shop, text, tag)
        if isinstance(known, Outcome):
            return known
        fault = _why_not_out(known)
        if fault:
            return fault
        assert known.part is not None
        chosen.append(known.part)
    now = shop.clock()
    if at and at > now:
        return _stop(STILL_TO_COME)
    with change(shop.book, "", now, shop.who, tag) as entry:
        fresh = [p for p in dict.fromkeys(chosen) if not _is_out(part_state(shop, piece, p))]
        if fresh:
            fix_numbers(shop, entry, piece)
            ids = records.part_ids(shop.book, _key(shop, tag))
            records.add_movements(
                entry,
                [ids[p.short] for p in fresh],
                kind=MoveKind.PLACE if place else MoveKind.OUT,
                at=at or now,
                who=shop.who,
                place=place,
            )
            names = together((p.short for p in fresh), ALL)
            entry.sentence = f"{piece.codename} {names} taken out"
    return _taken_out(shop, piece, chosen, fresh)


@writing
def stays_in(shop: Shop, tag: str, *asked: str) -> Outcome:
    """Record that parts stay in the piece: they are not expected out, and count as home."""
    piece = shop.piece(tag)
    if piece is None:
        return _stop(no_piece(tag))
    staying: list[Part] = []
    for name in asked:
        short = find_short(piece, name)
        if isinstance(short, Refused):
            return _stop(short.sentence)
        staying += [p for p in piece.present if p.short == short]
    now = shop.clock()
    stay = "stays in" if len(staying) == 1 else "stay in"
    said = f"{together((p.short for p in staying), ALL)} {stay}"
    with change(shop.book, f"{piece.codename} {said}", now, shop.who, tag) as entry:
        fix_numbers(shop, entry, piece)
        ids = records.part_ids(shop.book, _key(shop, tag))
        for part in staying:
            records.add_movements(
                entry,
                [ids[part.short]],
                kind=MoveKind.HOME,
                at=now,
                who=shop.who,
                home=part.home.number,
                how=STAYS_IN,
            )
    last = staying[-1].short
    return Outcome(Answer.GO, Tone.RECORDED, f"{said}.", tag=tag, part=last, recorded=True)


def _taken_out(shop: Shop, piece: Piece, chosen: list[Part], fresh: list[Part]) -> Outcome:
    state = piece_state(shop, piece)
    now = teardown(state)
    names = together(p.short for p in fresh or chosen)
    said = f"{names} out." if fresh else f"{names} out already; nothing new was recorded."
    then = next_out(now.next.short if now.next else "")
    last = chosen[-1]
    return Outcome(
        Answer.GO,
        Tone.RECORDED if fresh else Tone.QUIET,
        sentences(said, then),
        because=now.hint,
        tag=piece.tag,
        part=last.short,
        home=last.home.number,
        code=str(piece.code(last)),
        recorded=bool(fresh),
    )


def _why_not_out(known: KnownLabel) -> Outcome | None:
    if known.part is None:
        return _stop("That is the label of a home; scan the part that comes out of it.", known)
    if known.part.home.kind is HomeKind.STAYS:
        return _stop(f"{known.part.short} stays where it stands.", known)
    return None


def _is_out(own: PartState) -> bool:
    """Out by a record of its own; what only travelled with its host is not yet off it."""
    return own.where is Where.OUT and own.moved is not None


def _dealt_with(state: PieceState, part: Part) -> bool:
    own = state.of(part.short)
    return own.was_out or own.moved is not None


def count_word(name: str) -> str:
    """What is counted, in words."""
    return parts_word("leg") if name == "legs" else choice_word(name)


def _counts(state: PieceState, order: tuple[Part, ...]) -> tuple[OutCount, ...]:
    piece = state.piece
    hidden = {o.number for o in piece.front.openings if o.behind is not None}

    def sort_of(part: Part) -> str:
        if part.family in (Family.DRAWER, Family.DOOR):
            return "hidden" if part.home.number in hidden else "openings"
        return "legs" if part.family is Family.LEG else SMALL_THINGS

    counts = []
    for name in ("openings", "hidden", "legs", SMALL_THINGS):
        parts = [p for p in order if sort_of(p) == name]
        if parts:
            out = sum(_dealt_with(state, p) for p in parts)
            counts.append(OutCount(name, out, len(parts)))
    return tuple(counts)


def _key(shop: Shop, tag: str) -> int:
    key = piece_rows.piece_id(shop.book, tag)
    assert key is not None
    return key


def _stop(sentence: str, known: KnownLabel | None = None) -> Outcome:
    return Outcome(
        Answer.STOP,
        Tone.REFUSED,
        sentence,
        tag=known.piece.tag if known else "",
        part=known.part.short if known and known.part else "",
    )
