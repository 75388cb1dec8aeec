"""The journal of a book played again on an empty one: it must come to the same rows."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from partsbench.store import journal
from partsbench.store.book import Book, open_book

_OWN = ("journal", "journal_row", "sqlite_sequence")


def tables(book: Book) -> list[str]:
    """The tables whose rows the journal keeps. Devices are let in and thrown out; they are none."""
    found = book.rows("SELECT name FROM sqlite_master WHERE type = 'table' ORDER BY name")
    return [r["name"] for r in found if r["name"] not in _OWN and "device" not in r["name"]]


def rows(book: Book) -> dict[str, list[tuple[Any, ...]]]:
    """Every row of every such table."""
    return {
        table: [tuple(r) for r in book.rows(f"SELECT * FROM {table} ORDER BY id")]
        for table in tables(book)
    }


def replayed(book: Book, empty: Path) -> dict[str, list[tuple[Any, ...]]]:
    """The rows that the journal of `book` comes to when it is played from its beginning."""
    fresh = open_book(empty)
    assert isinstance(fresh, Book)
    # What was done in one entry may only be whole at its end; the rows are checked afterwards.
    fresh.connection.execute("PRAGMA foreign_keys = OFF")
    for entry in reversed(journal.entries(book, limit=10**6)):
        undone = entry.kind == "undo"
        key = entry.id if entry.kind == "do" else entry.target
        if key is None:
            continue
        changed = journal.changed_rows(book, key)
        for table, row, before, after in reversed(changed) if undone else changed:
            _put(fresh, table, row, before if undone else after)
    assert fresh.faults() == []
    found = rows(fresh)
    fresh.close()
    return found


def _put(book: Book, table: str, key: int, row: dict[str, Any] | None) -> None:
    book.connection.execute(f"DELETE FROM {table} WHERE id = ?", (key,))
    if row is not None:
        marks = ",".join("?" * len(row))
        names = ",".join(row)
        book.connection.execute(
            f"INSERT INTO {table} ({names}) VALUES ({marks})", tuple(row.values())
        )
