"""What lies beside the piece on the Return page, told by sort: `Pulls P1–P10, P13; key K2`."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from partsbench.core.key_words import part_word, parts_word
from partsbench.core.naming import runs
from partsbench.core.piece.codes import Family, short_number
from partsbench.core.piece.parts import FAMILY_NAMES, Part
from partsbench.core.piece.piece import Piece
from partsbench.core.wording import listed
from partsbench.services.acts.returning import Missing, open_fits
from partsbench.services.known.state import SEATED, PieceState, Where

NAMED_EACH = (Family.BAG, Family.OTHER)
"""Sorts of which each has a name of its own, told beside its number."""


def tray_lines(state: PieceState, left: Sequence[Missing]) -> list[str]:
    """What sits wrong, what is not back and where it stands, and what does not run free yet."""
    gone = [m.part for m in left if state.of(m.part.short).where is not Where.WRONG]
    loose = [p for p in gone if p.family not in SEATED and not state.of(p.short).place]
    stand: dict[str, list[Part]] = {}
    for part in gone:
        place = state.of(part.short).place
        if place:
            stand.setdefault(place, []).append(part)
    lines = [
        ("In a wrong home", ", ".join(_sits(state, m.part) for m in left if m.part not in gone)),
        ("Not yet back", by_sort(loose, state.piece)),
        *((f"At {place}", by_sort(parts, state.piece)) for place, parts in stand.items()),
        ("Still to be eased", ", ".join(f"{part.short} {fit}" for part, fit in open_fits(state))),
    ]
    return [f"{title}:  {words}" for title, words in lines if words]


def by_sort(parts: Iterable[Part], piece: Piece | None = None) -> str:
    """`pulls P1–P10, P13; key K2; bags B1 screws of the pulls, B2 hinges`.

    Of parts that are alike only how many, where the piece is given: `3 of 12 pulls, any of them`.
    """
    sorts: dict[tuple[Family, str, str], list[Part]] = {}
    for part in parts:
        name = "" if part.family in NAMED_EACH and not part.group else part.name
        sort = part.family, name or FAMILY_NAMES[part.family], part.group
        sorts.setdefault(sort, []).append(part)
    return "; ".join(_told(*sort, those, piece) for sort, those in sorts.items())


def _told(family: Family, name: str, group: str, parts: list[Part], piece: Piece | None) -> str:
    if group and piece:
        return f"{len(parts)} of {len(piece.alike_to(parts[0]))} {parts_word(name)}, any of them"
    if family in NAMED_EACH:
        which = listed(f"{p.short} {p.name}".strip() for p in parts)
    else:
        which = listed(runs(p.short for p in parts))
    return f"{part_word(name) if len(parts) == 1 else parts_word(name)} {which}"


def _sits(state: PieceState, part: Part) -> str:
    moved = state.of(part.short).moved
    seat = short_number(Family.HOME, moved.home) if moved else ""
    return f"{part.short} sits in {seat}, lives in {short_number(Family.HOME, part.home.number)}"
