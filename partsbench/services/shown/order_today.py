"""Hardware that must be ordered today, or it becomes the last thing to arrive."""

from __future__ import annotations

from partsbench.core.finish.facts import ORDERED, YES
from partsbench.core.outcomes import Refused
from partsbench.core.piece.piece import Piece
from partsbench.core.wording import notes
from partsbench.services.known import facts
from partsbench.services.shop import Shop
from partsbench.store import figures
from partsbench.store import pieces as piece_rows


def order_words(shop: Shop, piece: Piece) -> str:
    """`Heron: order 2 pulls and 1 spare today: …`; "" while there is time, or nothing to order.

    It speaks where hardware was counted, a pull of the choice has a lead time, and nobody has said
    that it is ordered. Of several pulls the one that takes longest counts.
    """
    key = piece_rows.piece_id(shop.book, piece.tag)
    assert key is not None
    leads = [c.lead_days for c in figures.candidates(shop.book, key) if c.lead_days is not None]
    if not leads or not figures.hardware(shop.book, key):
        return ""
    if facts.of_piece(shop, piece.tag).of("").get(ORDERED) == YES:
        return ""
    # Only now: most pieces never come to this, and the sums take a while to load.
    from partsbench.services.sums import ordering

    found = ordering.order(shop, piece.tag, lead_days=max(leads))
    today = shop.clock().astimezone().date()
    if isinstance(found, Refused) or found.by is None:
        return ""
    by = found.by
    if by.day > today and not by.passed:
        return ""
    when = f"order {found.what} on {by.day_words}"
    if by.day == today:
        when = f"order {found.what} today"
    comes = notes(f"it takes {max(leads)} days", by.late)
    return f"{piece.codename}: {when}: {comes} ({found.needed.source})."
