"""Which tile shows which part: its key is that of its home, or of a top or body its own number."""

from __future__ import annotations

from partsbench.core.piece.codes import Family, parse_short, short_number
from partsbench.core.piece.parts import HomeKind, Part
from partsbench.core.piece.piece import Piece

PLAIN_TILES = (Family.TOP, Family.CARCASE)


def home_number(key: str) -> int:
    """The number of the opening or corner of a tile `H5`; 0 for other tiles."""
    short = parse_short(key)
    return short[1] if short and short[0] is Family.HOME else 0


def keys_of(piece: Piece) -> list[str]:
    """The keys of the tiles that a piece has."""
    numbers = [o.number for o in piece.front.openings] + [c.number for c in piece.corners]
    keys = [short_number(Family.HOME, n) for n in numbers]
    return keys + [p.short for p in piece.present if p.family in PLAIN_TILES]


def part_of(piece: Piece, key: str) -> Part | None:
    """The part that a tile stands for: what lives in the opening, the leg, top or carcase."""
    number = home_number(key)
    if not number:
        return piece.part(key)
    stays = (p for p in piece.present if p.home.kind is HomeKind.STAYS and p.home.number == number)
    return piece.occupant(number) or next(stays, None)


def tile_key(piece: Piece, part: Part) -> str:
    """The tile that shows a part: its home, itself, or what it sits on; empty when none does."""
    home = part.home
    at_home = home.kind in (HomeKind.OPENING, HomeKind.CORNER, HomeKind.STAYS)
    if home.number and at_home:
        return short_number(Family.HOME, home.number)
    if part.family in PLAIN_TILES:
        return part.short
    host = piece.part(part.parent) if part.parent else None
    if host:
        return tile_key(piece, host)
    return next((p.short for p in piece.present if p.family is Family.CARCASE), "")
