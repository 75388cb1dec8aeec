"""Parts that are alike: each may go to any place of its group, and they come home by count."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from partsbench.core.key_words import part_word
from partsbench.core.naming import together
from partsbench.core.outcomes import Refused
from partsbench.core.piece.codes import Family
from partsbench.core.piece.parts import FAMILY_NAMES, HomeKind, Part, family_word
from partsbench.core.piece.piece import Piece
from partsbench.core.said_often import no_part

MAY_BE = frozenset({Family.LEG, Family.PULL, Family.OTHER})
ONLY = "Only legs, pulls, knobs, plates and loose parts such as bolts can be alike"


def set_alike(piece: Piece, shorts: Sequence[str], alike: bool) -> Piece | Refused:
    """The piece with these parts alike, or each with its own place again."""
    chosen = []
    for short in dict.fromkeys(shorts):
        part = piece.part(short)
        if part is None or part.retired:
            return Refused(no_part(short))
        chosen.append(part)
    if alike and (fault := _fault(chosen)):
        return fault
    taken = {p.group for p in piece.parts if p.group and p not in chosen}
    group = _group(chosen, taken) if alike else ""
    parts = [replace(p, group=group) if p in chosen else p for p in piece.parts]
    # Of a group that lost all but one, that one is no longer alike to anything.
    left = Counter(p.group for p in parts if not p.retired)
    return replace(
        piece, parts=tuple(replace(p, group="") if left[p.group] == 1 else p for p in parts)
    )


def alike_words(piece: Piece, part: Part) -> str:
    """What any of them is called: `any leg`, `any pull`."""
    named = {p.name for p in piece.alike_to(part)}
    one = named.pop() if len(named) == 1 and part.home.kind is not HomeKind.CORNER else ""
    return f"any {part_word(one) or family_word(part.family)}"


def _group(chosen: Sequence[Part], taken: set[str]) -> str:
    """A name of the group that no other group has."""
    usual = FAMILY_NAMES[chosen[0].family]
    return usual if usual not in taken else chosen[0].short


def _fault(chosen: Sequence[Part]) -> Refused | None:
    names = together(p.short for p in chosen)
    if len(chosen) < 2:
        return Refused("Choose two or more parts that are alike.")
    if strange := [p.short for p in chosen if p.family not in MAY_BE]:
        return Refused(f"{ONLY}; {together(strange)} has a home of its own.")
    if len({(p.family, p.home.kind) for p in chosen}) > 1:
        return Refused(f"{names} are of different sorts; parts of one sort can be alike.")
    named = {p.name for p in chosen}
    if len(named) > 1 and chosen[0].home.kind is not HomeKind.CORNER:
        return Refused(f"{names} have different names: {', '.join(sorted(named))}.")
    if len({p.faces for p in chosen}) > 1:
        return Refused(f"{names} do not all get the same finish, so they are not alike.")
    return None
