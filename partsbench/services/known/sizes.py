"""The sizes of a piece: measured for the sums, or said among its facts. One place for both."""

from __future__ import annotations

from partsbench.core.piece.piece import Piece
from partsbench.core.piece.surfaces import DEPTH, THICKNESS, Named, Sizes
from partsbench.services.shop import Shop
from partsbench.store import figures
from partsbench.store.facts import Facts
from partsbench.store.figures import TypedSize

SAID = (("depth mm", DEPTH), ("thickness mm", THICKNESS))


def sizes_of(shop: Shop, piece: Piece, key: int, said: Facts) -> dict[Named, dict[str, TypedSize]]:
    """What was measured of each part and home, as typed; what was only said stands in for it."""
    sizes = figures.sizes(shop.book, key)
    for part in piece.present:
        for fact, what in SAID:
            value = said.of(part.short).get(fact)
            if value and float(value) > 0:
                own = sizes.setdefault((part.family.value, part.number), {})
                own.setdefault(what, TypedSize(float(value), f"{value} mm"))
    return sizes


def mm_of(shop: Shop, piece: Piece, key: int, said: Facts) -> Sizes:
    """The same in mm."""
    found = sizes_of(shop, piece, key, said)
    return {named: {what: s.mm for what, s in own.items()} for named, own in found.items()}
