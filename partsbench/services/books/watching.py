"""What a window asks of the book before anything else: its pieces, and whether it has changed."""

from __future__ import annotations

from partsbench.services.shop import Shop
from partsbench.store import pieces as rows
from partsbench.store.pieces import Listed


def all_pieces(shop: Shop) -> list[Listed]:
    """All pieces of the book, the newest first."""
    return rows.listed(shop.book)


def book_version(shop: Shop) -> int:
    """A number that moves when another window or command has changed the book."""
    return shop.book.version()


def warm_up(shop: Shop) -> None:
    """Load what the first change of the book needs, so that it need not wait for that."""
    _ = shop.book.db
