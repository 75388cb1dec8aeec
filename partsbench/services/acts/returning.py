"""Bringing every part home: is this its place, what is still missing, and the moves for swaps."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, replace
from datetime import datetime
from enum import StrEnum

from partsbench.core.key_words import word_of
from partsbench.core.naming import ALL, together
from partsbench.core.outcomes import Answer, Done, Outcome, Refused, Tone
from partsbench.core.piece.codes import Family, short_number
from partsbench.core.piece.parts import HomeKind, Part
from partsbench.core.piece.piece import Piece, home_words
from partsbench.core.said_often import STILL_TO_COME, no_piece, still_missing
from partsbench.core.sums.rings import Move, moves, sentence
from partsbench.core.wording import sentences
from partsbench.services.known.identify import KnownLabel, identify
from partsbench.services.known.state import SEATED, PieceState, Where, homes_to_fill, piece_state
from partsbench.services.rules.blocking import left_open
from partsbench.services.rules.closing import too_soon
from partsbench.services.rules.marking import fix_numbers
from partsbench.services.shop import Shop, find_short, writing
from partsbench.store import pieces as piece_rows
from partsbench.store import records
from partsbench.store.journal import change
from partsbench.store.records import SCANNED, MoveKind

ELIMINATION = "by elimination"
WITH_ITS_HOME = "scanned with its home"


class FitResult(StrEnum):
    """How a drawer runs when it is back."""

    FREE = "runs free"
    TIGHT = "tight"
    WAX = "needs wax"
    STICKS = "sticks"


@dataclass(frozen=True, slots=True)
class Missing:
    """A part that is not accounted for, and why."""

    part: Part
    why: str

    @property
    def sentence(self) -> str:
        if self.part.name:
            return f"{self.part.short} ({self.part.called}): {self.why}"
        return f"{self.part.short}: {self.why}"


def missing(state: PieceState) -> list[Missing]:
    """What is still not home; [] when the piece is complete.

    Where any part of a sort came out, every one of that sort has to be scanned home or be told by
    elimination; a sort of which none came out counts as never moved. So does whatever was never
    taken off the part it sits on.
    """
    piece = state.piece
    never_out = not any(s.was_out for s in state.parts.values())
    sorts_out = {s.part.family for s in state.parts.values() if s.was_out}
    found = []
    for part in piece.present:
        own = state.of(part.short)
        if own.where in (Where.HOME, Where.STAYS):
            continue
        if own.where is Where.WRONG:
            assert own.moved is not None
            seat = short_number(Family.HOME, own.moved.home)
            found.append(Missing(part, f"sits in {seat}, lives in {home_words(piece, part)}"))
        elif own.moved is not None:
            where = f"last seen at {own.place}" if own.place else "is out"
            found.append(Missing(part, where))
        elif part.family in SEATED and (never_out or part.family in sorts_out):
            found.append(Missing(part, "was never scanned"))
    return found


def open_fits(state: PieceState) -> list[tuple[Part, str]]:
    """Drawers whose last fit result still wants work."""
    return [
        (s.part, s.fit.result)
        for s in state.parts.values()
        if s.fit and s.fit.result != FitResult.FREE.value
    ]


def moves_home(state: PieceState) -> list[Move[str, int]]:
    """The fewest moves that bring the parts now in wrong homes into their own."""
    seating = state.seated()
    homes = {s: state.of(s).seat for s in seating.values() if state.of(s).where is Where.HOME}
    for short in seating.values():
        if short not in homes:
            homes[short] = _own_seat(state.piece, state.of(short).part, set(homes.values()))
    return moves(seating, homes)


def moves_sentence(state: PieceState) -> str:
    def name(number: int) -> str:
        return short_number(Family.HOME, number)

    return sentence(moves_home(state), home_name=name)


@writing
def bring_home(
    shop: Shop,
    tag: str,
    part_text: str | KnownLabel,
    home_text: str | KnownLabel = "",
    *,
    at: datetime | None = None,
) -> Outcome:
    """Record where a part was put: into the home scanned with it, or its own when none was.

    Right is recorded as home. Wrong is recorded as where it sits, and answered with where it
    lives and what belongs there.
    """
    known = identify(shop, part_text, tag)
    if isinstance(known, Outcome):
        return known
    if known.part is None:
        return _stop(known, "That is the label of a home; scan the part that goes into it.")
    target = identify(shop, home_text, tag) if home_text else None
    if isinstance(target, Outcome):
        return target
    now = shop.clock()
    if at and at > now:
        return _stop(known, STILL_TO_COME)
    piece, part = known.piece, known.part
    with change(shop.book, "", now, shop.who, tag) as entry:
        seat = _seat_meant(known, target, _taken(piece_state(shop, piece), part))
        if isinstance(seat, Refused):
            return _stop(known, seat.sentence)
        right = seat in seats(piece, part)
        fix_numbers(shop, entry, piece)
        key = piece_rows.piece_id(shop.book, tag)
        assert key is not None
        home_name = short_number(Family.HOME, seat) if seat else ""
        records.add_movements(
            entry,
            [records.part_ids(shop.book, key)[part.short]],
            kind=MoveKind.HOME if right else MoveKind.PLACE,
            at=at or now,
            who=shop.who,
            place="" if right else not_its_home(seat),
            home=seat,
            how=WITH_ITS_HOME if target else SCANNED,
        )
        put = "brought home" if right else f"put into {home_name}, not its home"
        entry.sentence = f"{piece.codename} {part.short} {put}"
    state = piece_state(shop, piece)
    said = _answer(state, part, seat, right)
    said = too_soon(shop, state, part, at or now).told(said)
    return left_open(shop, state, part, at or now, said)


@writing
def by_elimination(shop: Shop, tag: str) -> Done | Refused:
    """Accept as home the parts that could go nowhere else; they are marked so on the proof.

    A part is told by elimination when no other part of its sort and size is still missing, and
    nothing else was scanned into its home. Parts that are alike need not be told apart.
    """
    piece = shop.piece(tag)
    if piece is None:
        return Refused(no_piece(tag))
    state = piece_state(shop, piece)
    left = [m.part for m in missing(state)]
    open_homes = [p for p in left if p.family in SEATED or p.group]
    sizes = Counter(_sort_and_size(piece, p) for p in open_homes)
    told = [p for p in open_homes if p.group or sizes[_sort_and_size(piece, p)] == 1]
    told = [p for p in told if _could_be_home(state, p)]
    if not told:
        return Refused(_why_none_told(left, max(sizes.values(), default=0)))
    now = shop.clock()
    names = together((p.short for p in told), ALL)
    key = piece_rows.piece_id(shop.book, tag)
    assert key is not None
    with change(
        shop.book, f"{piece.codename} {names} home by elimination", now, shop.who, tag
    ) as entry:
        fix_numbers(shop, entry, piece)
        ids = records.part_ids(shop.book, key)
        taken = set(state.seated())
        for part in told:
            seat = _own_seat(piece, part, taken)
            taken.add(seat)
            records.add_movements(
                entry,
                [ids[part.short]],
                kind=MoveKind.HOME,
                at=now,
                who=shop.who,
                home=seat,
                how=ELIMINATION,
            )
    return Done(f"{names} home by elimination.", tag)


@writing
def record_fit(shop: Shop, tag: str, asked: str, result: FitResult) -> Done | Refused:
    """How a part runs. What does not run free stays open until it does."""
    piece = shop.piece(tag)
    if piece is None:
        return Refused(no_piece(tag))
    short = find_short(piece, asked)
    if isinstance(short, Refused):
        return short
    part = piece.part(short)
    assert part is not None
    key = piece_rows.part_id(shop.book, tag, part.family, part.number)
    assert key is not None
    now = shop.clock()
    with change(
        shop.book, f"{piece.codename} {short} {word_of(result)}", now, shop.who, tag
    ) as entry:
        fix_numbers(shop, entry, piece)
        records.add_fit(entry, key, result.value, now, shop.who)
    return Done(f"{short} {word_of(result)}.", tag)


def own_home(known: KnownLabel) -> str:
    """The words for a part scanned alone: where it goes."""
    assert known.part is not None
    words = home_words(known.piece, known.part)
    if known.part.home.kind is HomeKind.STAYS:
        return f"{known.part.short} {words}."
    return f"{known.part.short} lives here: {words}."


def _seat_meant(known: KnownLabel, target: KnownLabel | None, taken: set[int]) -> int | Refused:
    """The number of the home meant; 0 for a part whose home is another part or the piece.

    `taken` are the homes that other parts sit in: one of several equals takes a free one.
    """
    piece, part = known.piece, known.part
    assert part is not None
    if target is None:
        return _own_seat(piece, part, taken)
    if target.home and part.home.kind in (HomeKind.OPENING, HomeKind.CORNER):
        return target.home
    if target.home:
        return Refused(f"{part.short} lives {home_words(piece, part)}; scan it alone.")
    assert target.part is not None
    if target.part.short == part.short or sits_on(piece, part, target.part):
        return part.home.number
    if part.home.kind in (HomeKind.OPENING, HomeKind.CORNER):
        return Refused(f"{target.part.short} is a part; scan the home label of the opening.")
    return Refused(
        f"{part.short} does not belong on {target.part.short}; it lives {home_words(piece, part)}."
    )


def sits_on(piece: Piece, part: Part, host: Part) -> bool:
    """True when `host` is what a part without an opening is scanned home with."""
    if part.parent:
        return host.short in {p.parent for p in piece.alike_to(part)}
    on_piece = part.home.kind in (HomeKind.ON_PIECE, HomeKind.STAYS)
    return on_piece and host.family is Family.CARCASE


def sits_on_another(piece: Piece, part: Part, host: Part) -> bool:
    """True when a part was put to a drawer or door, and sits on another one."""
    carries = host.family in SEATED and host.family is not Family.LEG
    return bool(part.parent) and carries and not sits_on(piece, part, host)


def seats(piece: Piece, part: Part) -> set[int]:
    """The homes that are right for a part: its own, or those of its group."""
    return {p.home.number for p in piece.alike_to(part)}


def not_its_home(seat: int) -> str:
    """The place of a part in a home that is not its own."""
    return f"{short_number(Family.HOME, seat)}, not its home"


def _own_seat(piece: Piece, part: Part, taken: set[int]) -> int:
    """The home of a part; of equals the first one free, its own if that is."""
    own = part.home.number
    free = sorted(seats(piece, part) - taken)
    return own if own in free or not free else free[0]


def _taken(state: PieceState, part: Part) -> set[int]:
    return {seat for seat, short in state.seated().items() if short != part.short}


def _why_none_told(left: list[Part], alike: int) -> str:
    names = together(p.short for p in left)
    if not left:
        return "Nothing is missing."
    if alike > 1:
        return f"{names} could sit in each other's homes; scan all but one of each size."
    return f"{names} cannot be told: scan them."


def _could_be_home(state: PieceState, part: Part) -> bool:
    if state.of(part.short).where is Where.WRONG:
        return False
    return bool(seats(state.piece, part) - _taken(state, part))


def _answer(state: PieceState, part: Part, seat: int, right: bool) -> Outcome:
    piece = state.piece
    lives = home_words(piece, part)
    said = Outcome(
        Answer.GO,
        Tone.QUIET,
        "",
        tag=piece.tag,
        part=part.short,
        home=seat,
        code=str(piece.code(part)),
        recorded=True,
    )
    if right:
        left = missing(state)
        rest = still_missing(len(left))
        return replace(said, sentence=f"{part.short} is home. {rest}")
    owner = piece.occupant(seat)
    wants = f"{short_number(Family.HOME, seat)} wants {owner.short}." if owner else ""
    swapped = [m for m in moves_home(state) if m.part == part.short]
    own = f"{part.short} lives {lives}."
    if part.home.number:
        own = f"{part.short} lives in {short_number(Family.HOME, part.home.number)}, {lives}."
    return replace(
        said,
        answer=Answer.STOP,
        tone=Tone.REFUSED,
        sentence=sentences(own, wants),
        because=moves_sentence(state) if swapped else "",
    )


def _sort_and_size(piece: Piece, part: Part) -> tuple[Family, float, float]:
    opening = piece.front.opening(part.home.number)
    if opening is None:
        return part.family, 0.0, 0.0
    _, _, width, height = piece.front.box(opening.span)
    return part.family, round(width), round(height)


def _stop(known: KnownLabel, sentence: str) -> Outcome:
    return Outcome(
        Answer.STOP,
        Tone.REFUSED,
        sentence,
        tag=known.piece.tag,
        part=known.part.short if known.part else "",
    )


def homes_left(state: PieceState) -> dict[int, str]:
    """Number of each home that is still to be filled → the part that it waits for."""
    waiting = {m.part.short for m in missing(state)}
    return {
        home.number: short
        for short, home in homes_to_fill(state.piece).items()
        if short in waiting and home.kind is not HomeKind.STAYS
    }
