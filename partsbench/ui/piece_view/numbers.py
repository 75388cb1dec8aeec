"""How large the numbers of a piece are drawn: as evenly as their tiles allow."""

from __future__ import annotations

from collections.abc import Collection

from partsbench.core.piece.drawing import ShapeKind
from partsbench.ui.piece_view.looks import Pattern
from partsbench.ui.piece_view.tile import HIGHEST_NUMBER, LEGS, Tile
from partsbench.ui.theme import CAPITAL_SHARE

EASILY_READ = 18.0
AT_HAND = (Pattern.FILLED, Pattern.NEXT)


def even_numbers(tiles: Collection[Tile]) -> None:
    """All numbers in one size, that of the smallest opening. Where that is too small to read, each
    is as large as its tile allows up to what is easily read: tiles of like size stay alike. Where
    not even that has room for all, only what is at hand has its number."""
    shown = [t for t in tiles if t.kind is ShapeKind.OPENING]
    longest = max((t.look.number for t in shown), key=len, default="")
    widest = "".join("0" if c.isdigit() else c for c in longest)
    fonts = {t: t.number_font(widest, HIGHEST_NUMBER) for t in shown}
    sizes = {t: f.pixelSize() * CAPITAL_SHARE if f else 0.0 for t, f in fonts.items()}
    least = min((size for size in sizes.values() if size), default=HIGHEST_NUMBER)
    for tile in tiles:
        own = sizes.get(tile, HIGHEST_NUMBER)
        tile.most = max(least, min(own, EASILY_READ))
        if not own and tile.look.pattern not in AT_HAND:
            tile.most = 0.0
    legs = [t for t in tiles if t.kind in LEGS]
    tags = [f.pixelSize() for t in legs if (f := t.number_font(t.look.number, t.most))]
    for tile in legs:
        tile.most = min(tags, default=0.0) * CAPITAL_SHARE
