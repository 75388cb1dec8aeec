"""The codes of the labels in use, read at one go: a ruined label is compared with them."""

from __future__ import annotations

from itertools import chain, islice
from typing import Any

from partsbench.core.piece.codes import Code, Family
from partsbench.store.book import Book

_LATEST = """
SELECT id, tag FROM piece
ORDER BY (SELECT max(id) FROM journal WHERE tag = piece.tag) DESC, id DESC LIMIT ?
"""
_THINGS = """
SELECT family, number, coalesce(
    (SELECT max(generation) FROM label
     WHERE piece = ?1 AND label.family = thing.family AND label.number = thing.number), 'A'
) AS generation
FROM (
    SELECT family, number FROM part WHERE piece = ?1 AND retired = ''
    UNION ALL SELECT 'H', number FROM opening WHERE piece = ?1
    UNION ALL SELECT 'H', number FROM corner WHERE piece = ?1
) AS thing
"""


def current_codes(book: Book, most: int) -> list[str]:
    """At most so many codes of parts and homes, those of the piece last spoken of first."""
    pieces = book.rows(_LATEST, (most,))
    return list(islice(chain.from_iterable(_codes(book, piece) for piece in pieces), most))


def _codes(book: Book, piece: Any) -> list[str]:
    things = book.rows(_THINGS, (piece["id"],))
    return [
        str(Code(piece["tag"], Family(r["family"]), r["number"], r["generation"])) for r in things
    ]
