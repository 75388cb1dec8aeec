"""A chest in the middle of its finish, for tests of the clocks, the day and the loads."""

from __future__ import annotations

from datetime import datetime, timedelta

from partsbench.core.finish.loads import Straggler, stragglers
from partsbench.core.outcomes import Outcome
from partsbench.core.piece.piece import Piece
from partsbench.services.acts import loads
from partsbench.services.known import facts
from partsbench.services.known.state import piece_state
from partsbench.services.shop import Shop
from tests.support.at_bench import insist
from tests.support.shops import code, lay_out, made


def two_finishes(shop: Shop) -> Piece:
    """D1 to D3 painted, D4 stained over a conditioner that wants its wipe within minutes."""
    piece = made(lay_out(shop, "Heron", "2 2", paths=[("paint", ["D1", "D2", "D3"]),
                                                       ("stain", ["D4"])]))  # fmt: skip
    facts.say(shop, piece.tag, "conditioner", "oil", ["D4"])
    facts.say(shop, piece.tag, "old finish", "none")
    return piece


def do(
    shop: Shop,
    piece: Piece,
    short: str,
    *steps: str,
    at: datetime | None = None,
    every: float = 0,
    face: str = "",
) -> Outcome:
    """Record steps on a part, or one face of it, one after another, whatever the rules say,
    `every` hours apart."""
    said: Outcome | None = None
    when = at or shop.clock()
    for step in steps:
        said = insist(shop, code(piece, short), here=piece.tag, at=when, step=step, face=face)
        assert isinstance(said, Outcome) and said.recorded, (short, step, said)
        when += timedelta(hours=every)
    assert said is not None
    return said


def stragglers_of(shop: Shop, tag: str) -> tuple[Straggler, ...]:
    """Faces behind their siblings."""
    piece = shop.piece(tag)
    assert piece is not None
    return stragglers(loads.hung_of(piece_state(shop, piece)))
