"""Who a job is for: kept apart from parts, never printed on a label, and can be deleted."""

from __future__ import annotations

from partsbench.core.outcomes import Done, Refused
from partsbench.services.shop import Shop, find_piece, writing
from partsbench.store import clients as rows


@writing
def set_client(
    shop: Shop, asked: str, *, name: str = "", contact: str = "", address: str = "", note: str = ""
) -> Done | Refused:
    """Note who a job is for; what is not given is noted as empty."""
    piece = find_piece(shop, asked)
    if isinstance(piece, Refused):
        return piece
    values = {"name": name, "contact": contact, "address": address, "note": note}
    rows.put(shop.book, piece.codename, values, shop.clock(), shop.who, piece.tag)
    return Done(f"{piece.codename}: client noted.", piece.tag)


@writing
def forget_client(shop: Shop, asked: str) -> Done | Refused:
    """Delete a client's data for good, from the journal too; the history of the parts stays."""
    piece = find_piece(shop, asked)
    if isinstance(piece, Refused):
        return piece
    if not rows.forget(shop.book, piece.codename, shop.clock(), shop.who, piece.tag):
        return Refused(f"No client is noted for {piece.codename}.")
    return Done(f"{piece.codename}: client data deleted; the parts' history stays.", piece.tag)


def client_of(shop: Shop, codename: str) -> dict[str, str]:
    """What is noted of a job's client; empty when nothing is."""
    return rows.get(shop.book, codename)
