"""The journal as a chain: each entry bears a sum over itself and over the one before it.

A disk that turns a bit over in a text goes unnoticed by SQLite; here it breaks the chain at the
entry it fell into. What clients' rows held is left out of the sums: it may be deleted for good, and
a sum over a name and an address could be guessed at afterwards. (SHA-256: FIPS 180-4, by Python.)
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping
from itertools import groupby
from typing import Any

LEFT_OUT = frozenset({"client"})
"""Tables whose rows may be deleted from the journal."""

ENTRY = ("id", "at", "who", "kind", "target", "sentence", "tag", "undo_top", "redo_top",
         "undo_below", "redo_below")  # fmt: skip
_ENTRY = ", ".join(ENTRY)
_ROW = "journal, tbl, row, before, after"


def add_chain(db: Any) -> None:
    """The migration: what is in the journal by then is chained as it stands."""
    db.execute("ALTER TABLE journal ADD COLUMN chain TEXT NOT NULL DEFAULT ''")
    for key, sum_ in list(_sums(db)):
        db.execute("UPDATE journal SET chain = ? WHERE id = ?", (sum_, key))


def seal(db: Any, entry: int) -> None:
    """Gives an entry its sum, when it and its rows are all in. It is the latest one."""
    below = db.execute(
        "SELECT chain FROM journal WHERE id < ? ORDER BY id DESC LIMIT 1", (entry,)
    ).fetchone()
    told = db.execute(f"SELECT {_ENTRY} FROM journal WHERE id = ?", (entry,)).fetchone()
    rows = db.execute(
        f"SELECT {_ROW} FROM journal_row WHERE journal = ? ORDER BY id", (entry,)
    ).fetchall()
    sum_ = _sum(below[0] if below else "", tuple(told), map(tuple, rows))
    db.execute("UPDATE journal SET chain = ? WHERE id = ?", (sum_, entry))


def chained(below: str, entry: Mapping[str, Any], rows: Iterable[Mapping[str, Any]]) -> str:
    """The sum of an entry, upon that of the one before it; both as they stand in the book."""
    told = tuple(entry[name] for name in ENTRY)
    return _sum(below, told, (tuple(row[name] for name in _ROW.split(", ")) for row in rows))


def broken(db: Any) -> list[int]:
    """Ids of the entries that do not fit the one before them, the first one only of each break."""
    has = sums(db)
    return [key for key, sum_ in _sums(db, has) if has[key] != sum_]


def sums(db: Any) -> dict[int, str]:
    """The sum of each entry by its id: up to where two books agree, they had the same history."""
    return dict(db.execute("SELECT id, chain FROM journal").fetchall())


def first(db: Any) -> str:
    """The sum of the first entry: it is the same in all copies of a book, and in no other one."""
    row = db.execute("SELECT chain FROM journal ORDER BY id LIMIT 1").fetchone()
    return str(row[0]) if row else ""


def latest(db: Any) -> str:
    """The sum of the latest entry: of two books that agree in it, neither has more."""
    row = db.execute("SELECT chain FROM journal ORDER BY id DESC LIMIT 1").fetchone()
    return str(row[0]) if row else ""


def _sums(db: Any, has: dict[int, str] | None = None) -> Iterator[tuple[int, str]]:
    """Id and sum of each entry; upon what the one before it bears, where `has` says that."""
    rows = groupby(db.execute(f"SELECT {_ROW} FROM journal_row ORDER BY journal, id"), _first)
    owner, of_owner = next(rows, (None, iter(())))
    below = ""
    for told in db.execute(f"SELECT {_ENTRY} FROM journal ORDER BY id"):
        while owner is not None and owner < told[0]:
            owner, of_owner = next(rows, (None, iter(())))
        own = of_owner if owner == told[0] else ()
        sum_ = _sum(below, tuple(told), map(tuple, own))
        yield told[0], sum_
        below = sum_ if has is None else has[told[0]]


def _first(row: Any) -> Any:
    return row[0]


def _sum(below: str, entry: tuple[Any, ...], rows: Iterable[tuple[Any, ...]]) -> str:
    # Loaded here: it costs more than the rest of opening a book together, and reading needs none.
    from hashlib import sha256

    kept = [row[1:3] if row[1] in LEFT_OUT else row[1:] for row in rows]
    text = json.dumps([below, entry, kept], ensure_ascii=True, separators=(",", ":"))
    return sha256(text.encode()).hexdigest()
