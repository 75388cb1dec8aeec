"""Parts that are alike come home by count: which of them is which does not matter."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from partsbench.core.naming import ALL, together
from partsbench.core.outcomes import Done, Refused
from partsbench.core.piece.alike import alike_words
from partsbench.core.piece.parts import Part
from partsbench.core.said_often import STILL_TO_COME
from partsbench.services.acts.returning import Missing, missing
from partsbench.services.known.state import PieceState, Where, piece_state
from partsbench.services.rules.marking import fix_numbers
from partsbench.services.shop import Shop, find_piece, find_short, writing
from partsbench.store import pieces as piece_rows
from partsbench.store import records
from partsbench.store.journal import change
from partsbench.store.records import MoveKind

BY_COUNT = "by count"


@dataclass(frozen=True, slots=True)
class AlikeLeft:
    """Parts that are alike, and not all home yet: `names` is `P1–P12`, `kind` is `any pull`, and
    `short` is one of them. `home` of `of` are home."""

    short: str
    names: str
    kind: str
    home: int
    of: int


def alike_left(state: PieceState, left: list[Missing] | None = None) -> list[AlikeLeft]:
    """What may come home by count, in the order in which it is missing."""
    found: dict[str, AlikeLeft] = {}
    for part in (each.part for each in (missing(state) if left is None else left)):
        mates = state.piece.alike_to(part)
        if len(mates) < 2 or part.group in found:
            continue
        home = sum(state.of(p.short).where is Where.HOME for p in mates)
        kind = alike_words(state.piece, part)
        found[part.group] = AlikeLeft(part.short, _names(mates), kind, home, len(mates))
    return list(found.values())


@writing
def count_home(
    shop: Shop, tag: str, asked: str, count: int, *, at: datetime | None = None
) -> Done | Refused:
    """Record that so many of the parts alike to one are home now, those counted before among them.

    What is over the count stays missing; a count below what is home already is refused.
    """
    piece = find_piece(shop, tag)
    if isinstance(piece, Refused):
        return piece
    short = find_short(piece, asked)
    if isinstance(short, Refused):
        return short
    part = piece.part(short)
    assert part is not None
    mates = piece.alike_to(part)
    if len(mates) < 2:
        return Refused(f"{short} is alike to no other part: scan it home by itself.")
    now = shop.clock()
    if at and at > now:
        return Refused(STILL_TO_COME)
    with change(shop.book, "", now, shop.who, piece.tag) as entry:
        state = piece_state(shop, piece)
        back = [p for p in mates if state.of(p.short).where is Where.HOME]
        left = [p for p in mates if p not in back]
        if not len(back) < count <= len(mates):
            return Refused(_why_not(mates, len(back), count))
        fix_numbers(shop, entry, piece)
        key = piece_rows.piece_id(shop.book, piece.tag)
        assert key is not None
        ids = records.part_ids(shop.book, key)
        taken = set(state.seated())
        for each in left[: count - len(back)]:
            free = sorted({p.home.number for p in mates} - taken)
            seat = free[0] if free else 0
            taken.add(seat)
            records.add_movements(
                entry, [ids[each.short]], kind=MoveKind.HOME, at=at or now, who=shop.who,
                home=seat, how=BY_COUNT,
            )  # fmt: skip
        said = f"{_names(mates)}: {count} of {len(mates)} are home"
        entry.sentence = f"{piece.codename} {said}, counted"
    rest = len(mates) - count
    return Done(f"{said}. {rest} still missing." if rest else f"{said}.", piece.tag)


def missing_words(state: PieceState, found: list[Missing] | None = None) -> list[str]:
    """What is missing, a line each; of parts that are alike how many are, whichever they be."""
    groups: dict[tuple[str, str], list[Missing]] = {}
    for each in missing(state) if found is None else found:
        own = each.part.group or each.part.short
        groups.setdefault((own, each.why if each.part.group else ""), []).append(each)
    return [_missing(state, group) for group in groups.values()]


def _missing(state: PieceState, group: list[Missing]) -> str:
    part = group[0].part
    mates = state.piece.alike_to(part)
    if len(mates) < 2:
        return group[0].sentence
    kind = alike_words(state.piece, part)
    return f"{_names(mates)} ({kind}): {len(group)} of {len(mates)} missing, {group[0].why}"


def _names(mates: tuple[Part, ...]) -> str:
    return together((p.short for p in mates), ALL)


def _why_not(mates: tuple[Part, ...], back: int, count: int) -> str:
    names, of = _names(mates), len(mates)
    if count > of:
        return f"{names} are {of}; {count} of them cannot be home."
    if back == of:
        return f"All of {names} are home already."
    return f"{back} of {names} are home already; say how many are home now, {back + 1} to {of}."
