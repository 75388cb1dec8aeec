"""Pieces that are finished are put away: out of the day, the plan and the board, never lost."""

from __future__ import annotations

from partsbench.core.finish.facts import NO, PUT_AWAY, YES
from partsbench.core.outcomes import Done, Refused
from partsbench.core.piece.spot import WHOLE
from partsbench.core.said_often import no_piece
from partsbench.core.wording import sentences
from partsbench.services.known import facts
from partsbench.services.shop import Shop, writing
from partsbench.services.shown.progress_map import PartStand, progress_map
from partsbench.store import at_work
from partsbench.store.journal import change


def away(shop: Shop) -> frozenset[str]:
    """Tags of the pieces that are put away."""
    return at_work.put_away(shop.book, PUT_AWAY, YES)


@writing
def put_away(shop: Shop, tag: str) -> Done | Refused:
    """Put a piece away. What is left to do on it is told and stays as it is."""
    return _say(shop, tag, YES)


@writing
def take_out_again(shop: Shop, tag: str) -> Done | Refused:
    """Bring a piece back that was put away."""
    return _say(shop, tag, NO)


def _say(shop: Shop, tag: str, answer: str) -> Done | Refused:
    found = progress_map(shop, tag)
    if found is None:
        return Refused(no_piece(tag))
    name = found.piece.codename
    if (tag in away(shop)) is (answer == YES):
        if answer == YES:
            return Refused(f"{name} is put away already.")
        return Refused(f"{name} is not put away.")
    sentence = f"{name} put away" if answer == YES else f"{name} taken out again"
    with change(shop.book, sentence, shop.clock(), shop.who, tag) as entry:
        facts.write(shop, entry, tag, (WHOLE,), PUT_AWAY, answer)
    over = (PartStand.DONE, PartStand.BARE)
    unfinished = any(each.stand not in over for each in found.parts.values())
    left = f"Not every step is done on it: {found.sentence}" if unfinished else ""
    return Done(sentences(f"{sentence}.", left if answer == YES else ""), tag)
