"""Taking back a change that others lie above: a change of its own that puts its rows back.

The undo stack stays as it is: what lies above can still be undone, and so can this.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from datetime import datetime
from typing import Any

from partsbench.core.journal_lines import JournalLine
from partsbench.store import journal
from partsbench.store.book import Book
from partsbench.store.journal import Change, change, changed_rows

FARTHEST = 500
"""So many changes are looked through for the latest of one person."""
_OWNERS = {"mark": "face", "movement": "part", "fit": "part", "tried": "face"}
"""What a record is of: a later one of the same stands on it."""
_NUMBERS_STAY = frozenset({"numbers_fixed"})


def latest_of(book: Book, who: str) -> JournalLine | None:
    """The latest change of one person that stands, as far as it is looked for."""
    gone: set[int] = set()
    for entry in _standing(book):
        if entry.target is not None:
            gone.add(entry.target)
        elif entry.who == who and entry.id not in gone:
            return entry
    return None


def take_back(book: Book, entry: JournalLine, at: datetime, who: str) -> bool:
    """Puts the rows of an entry back; False, and nothing is changed, where others stand on it."""
    rows = changed_rows(book, entry.id)
    try:
        with change(book, f"Undone: {entry.sentence}", at, who, entry.tag) as made:
            if any(_is_built_upon(book, *row) for row in rows):
                return False
            made.target = entry.id
            book.connection.execute("PRAGMA defer_foreign_keys = ON")
            for row in reversed(rows):
                _put_back(made, *row)
    except sqlite3.IntegrityError:  # something else is tied to a row that would go
        return False
    return True


def taken_back_last(book: Book, who: str) -> bool:
    """Whether the newest change is that this person took something back."""
    top = journal.undoable(book)
    return top is not None and top.target is not None and top.who == who


def _standing(book: Book) -> Iterator[JournalLine]:
    """The changes on the undo stack, the newest first."""
    top = journal.undoable(book)
    for _ in range(FARTHEST):
        if top is None:
            return
        yield top
        below = book.row("SELECT undo_below FROM journal WHERE id = ?", (top.id,))
        found = journal.of_ids(book, [below[0]]) if below and below[0] is not None else []
        top = found[0] if found else None


def _is_built_upon(book: Book, table: str, key: int, before: Any, after: Any) -> bool:
    """Whether the row is no longer as the entry left it, or a later record stands on it."""
    now = book.row(f"SELECT * FROM {table} WHERE id = ?", (key,))
    if not _as_left(now, after):
        return not _only_numbers(before, after)
    owner = _OWNERS.get(table)
    if owner is None or before is not None or after is None:
        return False
    later = f"SELECT 1 FROM {table} WHERE {owner} = ? AND id > ? LIMIT 1"
    return book.row(later, (after[owner], key)) is not None


def _as_left(now: Any, after: Any) -> bool:
    """A column that a newer form has added is not in what was recorded before."""
    if now is None or after is None:
        return now is after
    return all(now[name] == value for name, value in after.items())


def _put_back(made: Change, table: str, key: int, before: Any, after: Any) -> None:
    if _only_numbers(before, after):
        return
    if before is None:
        made.delete(table, key)
    elif after is None:
        made.insert(table, before)
    else:
        made.update(table, key, {k: v for k, v in before.items() if k != "id"})


def _only_numbers(before: Any, after: Any) -> bool:
    """Numbers that are fixed stay fixed: what others recorded stands on them."""
    if not before or not after:
        return False
    return {k for k in after if before.get(k) != after[k]} == _NUMBERS_STAY
