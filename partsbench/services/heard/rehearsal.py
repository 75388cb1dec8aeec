"""A scan and a record in a book that is no file: what the first real one would have to load."""

from __future__ import annotations

import contextlib
from pathlib import Path

from partsbench.core.piece.piece import Piece
from partsbench.services.acts.bench import record
from partsbench.services.books import pieces
from partsbench.services.heard.session import Session
from partsbench.services.shop import Shop, open_shop


def rehearse() -> None:
    """Load what scans need: the rules, the finish paths, the writing of the book."""
    shop = open_shop(Path(":memory:"))
    if not isinstance(shop, Shop):
        return
    with contextlib.closing(shop):
        piece = pieces.lay_out(shop, "Heron", "1", paths=[("paint", ["D1"])])
        if isinstance(piece, Piece):
            label = str(piece.code(piece.parts[0]))
            Session(shop, piece.tag).scan(label)
            record(shop, label, here=piece.tag, confirmed=True)
