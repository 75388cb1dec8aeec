"""Sizes taken of a sample's drawers and openings, as a person types them."""

from __future__ import annotations

from partsbench.core.outcomes import Done
from partsbench.core.piece.piece import Piece
from partsbench.services.shop import Shop
from partsbench.services.sums.measure import measure


def taken(shop: Shop, piece: Piece, *sizes: tuple[str, str, str]) -> None:
    """Each (part or home, what, as typed); the test fails with what was refused."""
    for asked, what, text in sizes:
        done = measure(shop, piece.tag, asked, what, text)
        assert isinstance(done, Done), done


def of_drawer(
    shop: Shop, piece: Piece, drawer: str, width: str, height: str, of: tuple[str, str]
) -> None:
    """A drawer and its opening (`of`: width and height), both ends alike."""
    part = piece.part(drawer)
    assert part is not None
    home = f"H{part.home.number}"
    taken(
        shop,
        piece,
        (drawer, "width", width),
        (drawer, "height", height),
        (home, "width", of[0]),
        (home, "height", of[1]),
    )
