"""Who a job is for: kept apart from parts, never printed on a label, and can be deleted."""

from __future__ import annotations

from collections.abc import Iterator

from partsbench.core.outcomes import Done, HalfDone, Refused
from partsbench.services.books.copies import folder_of
from partsbench.services.shop import Shop, find_piece, writing
from partsbench.store import clients as rows
from partsbench.store import forgetting
from partsbench.store.forgetting import Forgotten


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
    """Delete a client's data for good, from the journal too; the history of the parts stays.

    `HalfDone` when its bytes could not be wiped from the book's files, or were not seen to be.
    """
    piece = find_piece(shop, asked)
    if isinstance(piece, Refused):
        return piece
    name = piece.codename
    done = forgetting.forget(shop.book, name, shop.clock(), shop.who, piece.tag,
                            folder_of(shop))  # fmt: skip
    if done is None:
        return Refused(f"No client is noted for {name}.")
    if done.left:
        return HalfDone(
            f"{name}: client data deleted, but traces may still lie in the book's files: "
            f"{done.left}. Then delete them once more, and they are wiped."
        )
    said = f"{name}: client data deleted; the parts' history stays. No byte of them is left in it."
    return Done(" ".join((said, *_left_words(done))), piece.tag)


def _left_words(done: Forgotten) -> Iterator[str]:
    """What the deletion did not reach."""
    if done.elsewhere:
        words = ", ".join(f"“{w[:40]}”" for w in done.elsewhere)
        yield f"{words} stands in other records too, and was left there."
    if done.copies:
        yield f"Other books still hold them: {', '.join(done.copies)}."
    yield "Copies that were saved before keep them: delete those too."


def client_of(shop: Shop, codename: str) -> dict[str, str]:
    """What is noted of a job's client; empty when nothing is."""
    return rows.get(shop.book, codename)
