"""What a piece is fitted with beside its drawers: pulls, locks, runners, legs and a top."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from partsbench.core.outcomes import Refused
from partsbench.core.piece.alike import set_alike
from partsbench.core.piece.codes import Family
from partsbench.core.piece.furnish import (
    MOST_LEGS,
    MOST_PULLS,
    add_part,
    numbered_afresh,
    pull_spots,
    with_legs,
    with_top,
    without_part,
)
from partsbench.core.piece.parts import Home, HomeKind, Part
from partsbench.core.piece.piece import Piece
from partsbench.core.said_often import no_part, too_many_legs

FITTINGS = {
    "pull": Family.PULL,
    "knob": Family.PULL,
    "plate": Family.PULL,
    "lock": Family.LOCK,
    "key": Family.LOCK,
    "runner": Family.RUNNER,
}
"""What drawers and doors are fitted with, and the family each is numbered in."""


def set_legs(piece: Piece, legs: int, equal: bool) -> Piece | Refused:
    """Another number of legs, or the same as equals. Refused once numbers are fixed."""
    if not 0 <= legs <= MOST_LEGS:
        return Refused(too_many_legs(legs, MOST_LEGS))
    now = sorted((p for p in piece.present if p.family is Family.LEG), key=_number)
    if len(now) == legs:
        equal = equal and len(now) > 1
        return set_alike(piece, [p.short for p in now], equal)
    if piece.numbers_fixed:
        return Refused("Labels are printed, so legs are added or retired one by one.")
    bare = replace(
        piece, parts=tuple(p for p in piece.parts if p.family is not Family.LEG), corners=()
    )
    return numbered_afresh(with_legs(bare, legs, equal))


def set_top(piece: Piece, top: bool) -> Piece:
    """The piece with a top that comes off, or without one."""
    have = [p for p in piece.present if p.family is Family.TOP]
    if top == bool(have):
        return piece
    if top:
        return with_top(piece)
    for part in have:
        piece = without_part(piece, part.short, "taken off the plan")
    return piece


def set_fittings(
    piece: Piece, hosts: Iterable[str], count: int, name: str = "pull"
) -> Piece | Refused:
    """How many fittings called `name` (a key of FITTINGS) each of some drawers or doors has.

    Pulls, knobs, plates, locks and keys travel with their drawer; runners stay in its opening.
    """
    family = FITTINGS.get(name)
    if family is None:
        return Refused(f"There is no fitting “{name}”; there are {', '.join(FITTINGS)}.")
    if not 0 <= count <= MOST_PULLS:
        return Refused(f"{count} × {name} on each cannot be drawn; 0 to {MOST_PULLS} can.")
    # Numbers are given again once at the end: until then each host must keep its own.
    now = replace(piece, numbers_fixed=True)
    for short in hosts:
        host = now.part(short)
        if host is None or host.retired:
            return Refused(no_part(short))
        fitted = _fitted(now, host, family, name, pull_spots(count))
        if isinstance(fitted, Refused):
            return fitted
        now = fitted
    if piece.numbers_fixed:
        return now
    before = {p.short for p in piece.parts if p.retired}
    parts = tuple(p for p in now.parts if not p.retired or p.short in before)
    return numbered_afresh(replace(now, parts=parts, numbers_fixed=False))


def fittings(piece: Piece, short: str, name: str) -> tuple[Part, ...]:
    """The fittings called `name` that a drawer or door has."""
    host = piece.part(short)
    if host is None:
        return ()
    if FITTINGS.get(name) is Family.RUNNER:
        return tuple(p for p in piece.at_home(host.home.number) if p.family is Family.RUNNER)
    return tuple(p for p in piece.children(short) if p.name == name)


def _fitted(
    piece: Piece, host: Part, family: Family, name: str, spots: Sequence[str]
) -> Piece | Refused:
    if family is Family.RUNNER and host.home.kind is not HomeKind.OPENING:
        return Refused(f"{host.short} lives in no opening, so it has no runners.")
    have = {p.home.spot: p for p in fittings(piece, host.short, name)}
    for spot, part in have.items():
        if spot not in spots:
            piece = without_part(piece, part.short, "taken off the plan")
    for spot in spots:
        if spot in have:
            continue
        home, parent = Home(HomeKind.ON_PART, spot=spot), host.short
        if family is Family.RUNNER:
            home, parent = Home(HomeKind.OPENING, host.home.number, spot), ""
        added = add_part(piece, family, home, name, parent=parent)
        if isinstance(added, Refused):
            return added
        piece = added
    return piece


def _number(part: Part) -> int:
    return part.number
