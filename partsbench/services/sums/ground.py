"""What every sum of a piece stands on: the piece, its measured sizes, and the shop's settings."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from partsbench.core.outcomes import Refused
from partsbench.core.piece.codes import Family, parse_short
from partsbench.core.piece.parts import Part
from partsbench.core.piece.piece import Piece
from partsbench.core.piece.surfaces import Named, front_size
from partsbench.core.said_often import no_piece
from partsbench.core.sums.units import Measures
from partsbench.services.known.facts import of_piece
from partsbench.services.known.sizes import sizes_of
from partsbench.services.shop import Shop, find_short
from partsbench.services.sums.habits import Habits, habits
from partsbench.store import pieces as piece_rows
from partsbench.store.figures import TypedSize


@dataclass(frozen=True, slots=True)
class SumGround:
    """One piece as the sums see it. `key` is its row in the book."""

    piece: Piece
    key: int
    sizes: Mapping[Named, Mapping[str, TypedSize]]
    habits: Habits
    _mm: dict[Named, dict[str, float]] = field(
        init=False, repr=False, compare=False, default_factory=dict
    )

    @property
    def measures(self) -> Measures:
        return self.habits.measures

    def __post_init__(self) -> None:
        for named, own in self.sizes.items():
            self._mm[named] = {what: size.mm for what, size in own.items()}

    def mm(self) -> Mapping[Named, Mapping[str, float]]:
        """Every size in mm."""
        return self._mm

    def of(self, part: Part) -> Mapping[str, TypedSize]:
        """What was measured of a part."""
        return self.sizes.get((part.family.value, part.number), {})

    def of_opening(self, number: int) -> Mapping[str, TypedSize]:
        return self.sizes.get((Family.HOME.value, number), {})


def ground(shop: Shop, tag: str) -> SumGround | Refused:
    """The piece of that tag with its sizes."""
    piece = shop.piece(tag)
    key = piece_rows.piece_id(shop.book, tag)
    if piece is None or key is None:
        return Refused(no_piece(tag))
    return SumGround(piece, key, sizes_of(shop, piece, key, of_piece(shop, tag)), habits(shop))


def named(piece: Piece, asked: str) -> tuple[Family, int] | Refused:
    """The present part or home (`H3`) that a person wrote."""
    short = parse_short(asked)
    if short and short[0] is Family.HOME:
        numbers = {o.number for o in piece.front.openings} | {c.number for c in piece.corners}
        if short[1] in numbers:
            return short
    part = piece.numbered(*short) if short else None
    if part is None or part.retired:
        return Refused(f"{piece.codename} has no part or home “{asked}”.")
    return part.family, part.number


def front_of(on: SumGround, asked: str) -> tuple[Part, tuple[float, float]] | Refused:
    """The drawer or door that a person wrote, with the width and height of its front in mm."""
    short = find_short(on.piece, asked)
    if isinstance(short, Refused):
        return short
    part = on.piece.part(short)
    assert part is not None
    size = front_size(on.piece, part, on.mm())
    return (part, size) if size else Refused(f"{short} has no front in an opening.")


def fronts(piece: Piece) -> list[Part]:
    """The drawers and doors that live in an opening, in order."""
    kinds = (Family.DRAWER, Family.DOOR)
    return [p for p in piece.present if p.family in kinds and piece.front.opening(p.home.number)]


def drawers(piece: Piece) -> list[Part]:
    return [p for p in fronts(piece) if p.family is Family.DRAWER]
