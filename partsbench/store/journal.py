"""The one way in: a change is one transaction and one journal entry with each row before and after.

Undo and redo are entries too. The stacks are chains through the journal, so that they survive a
restart and nothing is ever taken out: each entry holds the tops of both stacks after it; a change
holds what lies below it on the undo stack, an undo what lies below it on the redo stack.
"""

from __future__ import annotations

import contextlib
import functools
import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime
from typing import Any

from partsbench.store.book import Book, BookDamagedError
from partsbench.store.chain import seal


def time_text(at: datetime) -> str:
    """UTC text for a book: `2026-11-25T14:20:05Z`. ValueError for a time without a zone."""
    if at.tzinfo is None:
        raise ValueError("a time without its zone cannot be stored")
    return at.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")


@functools.lru_cache(maxsize=4096)
def text_time(text: str) -> datetime:
    return datetime.fromisoformat(text)


@dataclass(frozen=True, slots=True)
class Entry:
    """One line of the journal."""

    id: int
    at: datetime
    who: str
    kind: str
    sentence: str
    tag: str
    target: int | None


@dataclass
class Change:
    """Rows put in, altered and taken out within one change, each kept before and after."""

    db: Any
    sentence: str
    tag: str = ""
    rows: list[tuple[str, int, dict[str, Any] | None, dict[str, Any] | None]] = field(
        default_factory=list
    )

    def insert(self, table: str, row: Mapping[str, Any]) -> int:
        """Puts a row in and gives its id."""
        key = _put(self.db, table, row)
        self.rows.append((table, key, None, _row(self.db, table, key)))
        return key

    def insert_all(self, table: str, rows: Sequence[Mapping[str, Any]]) -> list[int]:
        """Puts rows of equal columns in, in order, and gives their ids."""
        return [self.insert(table, row) for row in rows]

    def update(self, table: str, key: int, values: Mapping[str, Any]) -> None:
        before = _row(self.db, table, key)
        _alter(self.db, table, key, values)
        self.rows.append((table, key, before, _row(self.db, table, key)))

    def delete(self, table: str, key: int) -> None:
        before = _row(self.db, table, key)
        self.db.table(table).delete(key)
        self.rows.append((table, key, before, None))


@contextlib.contextmanager
def change(book: Book, sentence: str, at: datetime, who: str, tag: str = "") -> Iterator[Change]:
    """One change of the book. Inside, `sentence` may still be set; a change of no row leaves none.

    BookWriteError when the book cannot be written; then nothing was changed.
    """
    with book.transaction() as db:
        made = Change(db, sentence, tag)
        yield made
        if made.rows:
            undo_top, _ = _tops(book)
            entry = _enter(book, "do", made.sentence, at, who, made.tag, undo_below=undo_top)
            db.execute("UPDATE journal SET undo_top = id WHERE id = ?", (entry,))
            for table, key, before, after in made.rows:
                told = {"before": _json(before), "after": _json(after)}
                _put(db, "journal_row", {"journal": entry, "tbl": table, "row": key} | told)
            seal(db, entry)


def undo(book: Book, at: datetime, who: str) -> Entry | None:
    """Takes the latest change back; None when there is none. The entry of the undo is given."""
    with book.transaction():
        undo_top, redo_top = _tops(book)
        if undo_top is None:
            return None
        target = _entry(book, undo_top)
        _apply(book, undo_top, forward=False)
        below = _found(book, "SELECT undo_below FROM journal WHERE id = ?", undo_top)
        made = _enter(
            book,
            "undo",
            f"Undone: {target.sentence}",
            at,
            who,
            target.tag,
            target=undo_top,
            undo_top=below[0],
            redo_top=undo_top,
            redo_below=redo_top,
        )
        seal(book.db, made)
        return _entry(book, made)


def redo(book: Book, at: datetime, who: str) -> Entry | None:
    """Does again what was last undone; None when nothing is, or something new came after it."""
    with book.transaction():
        redo_top = _tops(book)[1]
        if redo_top is None:
            return None
        target = _entry(book, redo_top)
        _apply(book, redo_top, forward=True)
        # Its undo knows what was next on the redo stack; the change itself lies on the undo stack
        # where it lay before.
        lifted = _found(
            book,
            "SELECT redo_below FROM journal WHERE kind = 'undo' AND target = ? "
            "ORDER BY id DESC LIMIT 1",
            redo_top,
        )
        made = _enter(
            book,
            "redo",
            f"Done again: {target.sentence}",
            at,
            who,
            target.tag,
            target=redo_top,
            undo_top=redo_top,
            redo_top=lifted[0],
        )
        seal(book.db, made)
        return _entry(book, made)


def undoable(book: Book) -> Entry | None:
    """The change that an undo would take back."""
    top = _tops(book)[0]
    return None if top is None else _entry(book, top)


def redoable(book: Book) -> Entry | None:
    """The change that a redo would do again."""
    top = _tops(book)[1]
    return None if top is None else _entry(book, top)


def note(book: Book, sentence: str, at: datetime, who: str, tag: str = "") -> None:
    """An entry that changes no row, as for data taken out for good. Call inside a transaction."""
    undo_top, redo_top = _tops(book)
    made = _enter(book, "note", sentence, at, who, tag, undo_top=undo_top, redo_top=redo_top)
    seal(book.db, made)


def add_old_notes(book: Book, rows: Iterable[Mapping[str, Any]], tag: str) -> None:
    """Entries of another book (`at`, `who`, `sentence`), to be read and not undone. Inside a
    change or a transaction."""
    undo_top, redo_top = _tops(book)
    links = {"undo_top": undo_top, "redo_top": redo_top}
    for row in rows:
        seal(book.db, _put(book.db, "journal", {**row, "kind": "note", "tag": tag, **links}))


def forget_undo(book: Book, sentence: str, at: datetime, who: str, tag: str = "") -> None:
    """A note after which earlier changes can no longer be undone. Call inside a transaction."""
    seal(book.db, _enter(book, "note", sentence, at, who, tag))


def entries(book: Book, tag: str = "", limit: int = 200, before: int | None = None) -> list[Entry]:
    """Journal entries, newest first; of one piece when `tag` is given."""
    where, values = ["1"], list[object]()
    if tag:
        where.append("tag = ?")
        values.append(tag)
    if before is not None:
        where.append("id < ?")
        values.append(before)
    sql = f"{_COLUMNS} WHERE {' AND '.join(where)} ORDER BY id DESC LIMIT ?"
    return [_as_entry(row) for row in book.rows(sql, (*values, limit))]


def newest(book: Book) -> int:
    """The number of the latest entry; 0 in a new book."""
    row = book.row("SELECT max(id) AS id FROM journal")
    return int(row["id"] or 0) if row else 0


def changed_rows(book: Book, entry: int) -> list[tuple[str, int, Any, Any]]:
    """Table, row id, row before and row after of each row that an entry changed."""
    return [
        (r["tbl"], r["row"], _parsed(r["before"]), _parsed(r["after"]))
        for r in book.rows("SELECT * FROM journal_row WHERE journal = ? ORDER BY id", (entry,))
    ]


_COLUMNS = "SELECT id, at, who, kind, sentence, tag, target FROM journal"


def _entry(book: Book, key: int) -> Entry:
    return _as_entry(_found(book, f"{_COLUMNS} WHERE id = ?", key))


def _found(book: Book, sql: str, entry: int) -> Any:
    row = book.row(sql, (entry,))
    if row is None:
        raise BookDamagedError(f"{book.path} is damaged: entry {entry} of its history is not there")
    return row


def _as_entry(row: Any) -> Entry:
    return Entry(
        row["id"],
        text_time(row["at"]),
        row["who"],
        row["kind"],
        row["sentence"],
        row["tag"],
        row["target"],
    )


def _tops(book: Book) -> tuple[int | None, int | None]:
    row = book.row("SELECT undo_top, redo_top FROM journal ORDER BY id DESC LIMIT 1")
    return (row["undo_top"], row["redo_top"]) if row else (None, None)


def _enter(
    book: Book, kind: str, sentence: str, at: datetime, who: str, tag: str, **links: int | None
) -> int:
    row = {"at": time_text(at), "who": who, "kind": kind, "sentence": sentence, "tag": tag}
    return _put(book.db, "journal", row | links)


def _apply(book: Book, entry: int, *, forward: bool) -> None:
    """Puts each row of an entry to its state after it (forward) or before it."""
    book.connection.execute("PRAGMA defer_foreign_keys = ON")
    rows, tables = changed_rows(book, entry), _tables(book)
    for table, key, before, after in rows if forward else reversed(rows):
        old, new = (before, after) if forward else (after, before)
        if table not in tables:
            raise BookDamagedError(f"{book.path} is damaged: its history names a table “{table}”")
        _must_stand(book, table, key, old)
        if new is None:
            book.db.table(table).delete(key)
        elif old is None:
            _put(book.db, table, new)
        else:
            _alter(book.db, table, key, {k: v for k, v in new.items() if k != "id"})


def _must_stand(book: Book, table: str, key: int, old: Any) -> None:
    """What is taken back must be as it was recorded; BookDamagedError otherwise."""
    now = book.row(f'SELECT * FROM "{table}" WHERE id = ?', (key,))
    # A column that a newer form has added is not in what was recorded before.
    same = now is None if old is None else now and all(now[k] == old[k] for k in old)
    if not same:
        raise BookDamagedError(
            f"{book.path} is damaged: row {key} of {table} is not as its history says, so nothing "
            "was changed; check-book tells more"
        )


def _tables(book: Book) -> set[str]:
    return {r["name"] for r in book.rows("SELECT name FROM sqlite_master WHERE type = 'table'")}


def _put(db: Any, table: str, row: Mapping[str, Any]) -> int:
    """Puts a row in and gives its id. In plain SQL: sqlite-utils looks at the schema each time."""
    names, marks = ", ".join(f'"{name}"' for name in row), ", ".join("?" * len(row))
    done = db.execute(f"INSERT INTO {table} ({names}) VALUES ({marks})", tuple(row.values()))
    return int(done.lastrowid)


def _alter(db: Any, table: str, key: int, values: Mapping[str, Any]) -> None:
    names = ", ".join(f'"{name}" = ?' for name in values)
    db.execute(f"UPDATE {table} SET {names} WHERE id = ?", (*values.values(), key))


def _row(db: Any, table: str, key: int) -> dict[str, Any]:
    row = db.execute(f"SELECT * FROM {table} WHERE id = ?", (key,)).fetchone()
    if row is None:
        raise BookDamagedError(f"the book is damaged: row {key} of {table} is not there")
    return dict(zip(row.keys(), tuple(row), strict=True))


def _json(row: Mapping[str, Any] | None) -> str | None:
    return None if row is None else json.dumps(row, ensure_ascii=False, separators=(",", ":"))


def _parsed(text: str | None) -> Any:
    try:
        return None if text is None else json.loads(text)
    except ValueError as error:
        raise BookDamagedError(f"the book is damaged: a row of its history: {error}") from error
