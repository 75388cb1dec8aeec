"""Which pieces are in hand: the ones that the journal speaks of lately."""

from __future__ import annotations

from collections.abc import Collection
from datetime import datetime

from partsbench.store.book import Book
from partsbench.store.journal import time_text

LOOKED_AT = 4000
"""Entries of the journal that are looked through, the newest first."""


def put_away(book: Book, key: str, yes: str) -> frozenset[str]:
    """Tags of the pieces of which that was said last, as a fact of the whole piece."""
    rows = book.rows(
        "SELECT tag, value FROM fact JOIN piece ON piece.id = fact.piece "
        "WHERE key = ? AND part IS NULL ORDER BY fact.id",
        (key,),
    )
    last = {r["tag"]: r["value"] for r in rows}
    return frozenset(tag for tag, value in last.items() if value == yes)


def tags_at_work(
    book: Book, since: datetime, most: int, without: Collection[str] = ()
) -> list[str]:
    """Tags of the pieces that something was recorded of since then, the latest first. One that was
    taken in with another, as a mirrored twin, is of the entry in which both were."""
    return [
        r["tag"]
        for r in book.rows(
            "WITH lately AS (SELECT id, tag, at FROM journal WHERE at >= ?1 "
            "ORDER BY id DESC LIMIT ?2) "
            "SELECT tag, max(id) AS latest FROM lately WHERE tag IN (SELECT tag FROM piece) "
            "GROUP BY tag UNION ALL "
            "SELECT piece.tag, min(lately.id) FROM piece JOIN lately ON lately.at = taken_in_at "
            "WHERE taken_in_at >= ?1 AND NOT EXISTS (SELECT 1 FROM lately AS own "
            "WHERE own.tag = piece.tag) GROUP BY piece.tag "
            "ORDER BY latest DESC LIMIT ?3",
            (time_text(since), LOOKED_AT, most + len(without)),
        )
        if r["tag"] not in without
    ][:most]
