"""Which pieces are in hand: the ones that the journal speaks of lately."""

from __future__ import annotations

from datetime import datetime

from partsbench.store.book import Book
from partsbench.store.journal import time_text

LOOKED_AT = 4000
"""Entries of the journal that are looked through, the newest first."""


def tags_at_work(book: Book, since: datetime, most: int) -> list[str]:
    """Tags of the pieces that something was recorded of since then, the latest first."""
    return [
        r["tag"]
        for r in book.rows(
            "SELECT tag, max(id) AS latest FROM (SELECT id, tag FROM journal WHERE at >= ? "
            "ORDER BY id DESC LIMIT ?) WHERE tag IN (SELECT tag FROM piece) "
            "GROUP BY tag ORDER BY latest DESC LIMIT ?",
            (time_text(since), LOOKED_AT, most),
        )
    ]
