"""Shops for tests, with the invented jobs Heron and Quill."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

from partsbench.core.outcomes import Refused
from partsbench.core.piece.codes import SHEET
from partsbench.core.piece.parts import Part
from partsbench.core.piece.piece import Piece
from partsbench.services.books import pieces
from partsbench.services.books.pieces import take_in
from partsbench.services.shop import Shop, open_shop
from tests.support.clock import SetClock

NEWER = {"age": "newer"}
"""A piece newer than the year that local rules name: its old finish holds nothing up."""


def lay_out(shop: Shop, *what: Any, **how: Any) -> Piece | Refused:
    """`pieces.lay_out`, of a piece whose old finish holds nothing up."""
    how.setdefault("known", NEWER)
    return pieces.lay_out(shop, *what, **how)


def shop_at(path: Path, clock: SetClock | None = None, who: str = "") -> Shop:
    shop = open_shop(path, clock or SetClock(), who)
    assert isinstance(shop, Shop), shop
    return shop


def heron(shop: Shop, *, equal_legs: bool = False) -> Piece:
    """A chest of 2 + 2 + 3 drawers on four legs, D1 and D3 painted, D2 stained, one pull each."""
    return made(
        lay_out(
            shop,
            "Heron",
            "2 2 3",
            title="tall chest",
            legs=4,
            equal_legs=equal_legs,
            pulls=1,
            top=True,
            paths=[("paint", ["D1", "D3"]), ("stain", ["D2", "top"])],
        )
    )


def quill(shop: Shop) -> Piece:
    """Seven drawers numbered exactly like Heron's."""
    return made(lay_out(shop, "Quill", "2 2 3", title="resale chest"))


TALL_CHEST = """
codename = "Heron"
title = "tall chest"
legs = 4
pulls = 1
front.map = ["D1 D1 D2 D2", "G1 G1 D3 D3"]
behind = { G1 = [1, 1] }
fact = [{ key = "age", value = "newer" }]
"""


def tall_chest(shop: Shop, folder: Path) -> Piece:
    """Drawers D1, D2, D3 and a door G1 that hides D4 and D5; four legs, a pull each."""
    file = folder / "tall_chest.toml"
    file.write_text(TALL_CHEST, encoding="utf-8")
    taken_in = take_in(shop, file)
    assert isinstance(taken_in, list), taken_in
    return taken_in[0]


def made(answer: Piece | Refused) -> Piece:
    assert isinstance(answer, Piece), answer
    return answer


def code(piece: Piece, short: str) -> str:
    """The code on the label of a part or, for `H5`, of a home."""
    if short.startswith("H"):
        return str(piece.home_code(int(short[1:])))
    return str(piece.code(_part(piece, short)))


def sheet_code(piece: Piece, short: str) -> str:
    """The code on the drilling sheet of a front."""
    return str(replace(piece.code(_part(piece, short)), generation=SHEET))


def _part(piece: Piece, short: str) -> Part:
    part = piece.part(short)
    assert part is not None, f"{piece.codename} has no {short}"
    return part
