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

from partsbench.core.clock_runs import is_break
from partsbench.core.journal_lines import JournalLine
from partsbench.core.outcomes import BookDamagedError
from partsbench.store.book import NEWEST, RUNS_BEGIN, Book
from partsbench.store.chain import ENTRY, chained, seal

AT_ONCE = 500


def time_text(at: datetime) -> str:
    """UTC text for a book: `2026-11-25T14:20:05Z`. ValueError for a time without a zone."""
    if at.tzinfo is None:
        raise ValueError("a time without its zone cannot be stored")
    return at.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")


@functools.lru_cache(maxsize=4096)
def text_time(text: str) -> datetime:
    return datetime.fromisoformat(text)


@dataclass
class Change:
    """Rows put in, altered and taken out within one change, each kept before and after."""

    book: Book
    sentence: str
    tag: str = ""
    target: int | None = None
    """The change that this one takes back, if it does."""
    rows: list[tuple[str, int, dict[str, Any] | None, dict[str, Any] | None]] = field(
        default_factory=list
    )

    def insert(self, table: str, row: Mapping[str, Any]) -> int:
        """Puts a row in and gives its id."""
        return self.insert_all(table, [row])[0]

    def insert_all(self, table: str, rows: Sequence[Mapping[str, Any]]) -> list[int]:
        """Puts rows of equal columns in, in order, and gives their ids."""
        made = _put_all(self.book, table, rows)
        self.rows += [(table, row["id"], None, row) for row in made]
        return [row["id"] for row in made]

    def update(self, table: str, key: int, values: Mapping[str, Any]) -> None:
        before = _row(self.book.db, table, key)
        _alter(self.book, table, key, values)
        self.rows.append((table, key, before, _row(self.book.db, table, key)))

    def delete(self, table: str, key: int) -> None:
        before = _row(self.book.db, table, key)
        _take_out(self.book, table, key)
        self.rows.append((table, key, before, None))


@contextlib.contextmanager
def change(book: Book, sentence: str, at: datetime, who: str, tag: str = "") -> Iterator[Change]:
    """One change of the book. Inside, `sentence` may still be set; a change of no row leaves none.

    BookWriteError when the book cannot be written; then nothing was changed.
    """
    with book.transaction():
        made = Change(book, sentence, tag)
        yield made
        if made.rows:
            _keep(book, made, time_text(at), who)


def _keep(book: Book, made: Change, at: str, who: str) -> None:
    """The entry of a change, with its rows, chained to the one before it."""
    newest = book.row(NEWEST)
    key = newest["id"] + 1 if newest else 1
    rows = [
        {"journal": key, "tbl": table, "row": row, "before": _json(before), "after": _json(after)}
        for table, row, before, after in made.rows
    ]
    entry = dict.fromkeys(ENTRY) | {
        "id": key, "at": at, "who": who, "kind": "do", "sentence": made.sentence, "tag": made.tag,
        "target": made.target, "undo_top": key,
        "undo_below": newest["undo_top"] if newest else None,
    }  # fmt: skip
    entry["chain"] = chained(newest["chain"] if newest else "", entry, rows)
    entry["clock_set"] = _clock_set(book, text_time(at))
    names = ", ".join(f'"{name}"' for name in entry)
    row = book.db.execute(
        f"INSERT INTO journal ({names}) VALUES ({', '.join('?' * len(entry))}) "
        "RETURNING id, at, kind, undo_top, redo_top, chain",
        tuple(entry.values()),
    ).fetchone()
    runs_on = newest and newest["kind"] != "note" and not entry["clock_set"]
    book.wrote("journal", still=RUNS_BEGIN if runs_on else "")
    _put_all(book, "journal_row", rows)
    book.entered(row)


def undo(book: Book, at: datetime, who: str) -> JournalLine | None:
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
        book.wrote("journal")
        return _entry(book, made)


def redo(book: Book, at: datetime, who: str) -> JournalLine | None:
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
        book.wrote("journal")
        return _entry(book, made)


def undoable(book: Book) -> JournalLine | None:
    """The change that an undo would take back."""
    top = _tops(book)[0]
    return None if top is None else _entry(book, top)


def redoable(book: Book) -> JournalLine | None:
    """The change that a redo would do again."""
    top = _tops(book)[1]
    return None if top is None else _entry(book, top)


def note(book: Book, sentence: str, at: datetime, who: str, tag: str = "") -> None:
    """An entry that changes no row, as for data taken out for good. Call inside a transaction."""
    undo_top, redo_top = _tops(book)
    made = _enter(book, "note", sentence, at, who, tag, undo_top=undo_top, redo_top=redo_top)
    seal(book.db, made)
    book.wrote("journal")


def add_old_notes(book: Book, rows: Iterable[Mapping[str, Any]], tag: str) -> None:
    """Entries of another book (`at`, `who`, `sentence`), to be read and not undone. Inside a
    change or a transaction."""
    undo_top, redo_top = _tops(book)
    links = {"undo_top": undo_top, "redo_top": redo_top}
    for row in rows:
        seal(book.db, _put(book, "journal", {**row, "kind": "note", "tag": tag, **links}))
        book.wrote("journal")


def forget_undo(book: Book, sentence: str, at: datetime, who: str, tag: str = "") -> None:
    """A note after which earlier changes can no longer be undone. Call inside a transaction."""
    seal(book.db, _enter(book, "note", sentence, at, who, tag))


def entries(
    book: Book, tag: str = "", limit: int = 200, before: int | None = None
) -> list[JournalLine]:
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


def of_ids(book: Book, keys: Sequence[int]) -> list[JournalLine]:
    """The entries of these ids, in their order."""
    found = (book.row(f"{_COLUMNS} WHERE id = ?", (key,)) for key in keys)
    return [_as_entry(row) for row in found if row]


def changed_rows(book: Book, entry: int) -> list[tuple[str, int, Any, Any]]:
    """Table, row id, row before and row after of each row that an entry changed."""
    return [
        (r["tbl"], r["row"], _parsed(r["before"]), _parsed(r["after"]))
        for r in book.rows("SELECT * FROM journal_row WHERE journal = ? ORDER BY id", (entry,))
    ]


_COLUMNS = "SELECT id, at, who, kind, sentence, tag, target FROM journal"


def _entry(book: Book, key: int) -> JournalLine:
    return _as_entry(_found(book, f"{_COLUMNS} WHERE id = ?", key))


def _found(book: Book, sql: str, entry: int) -> Any:
    row = book.row(sql, (entry,))
    if row is None:
        raise BookDamagedError(f"{book.path} is damaged: entry {entry} of its history is not there")
    return row


def _as_entry(row: Any) -> JournalLine:
    return JournalLine(
        row["id"],
        text_time(row["at"]),
        row["who"],
        row["kind"],
        row["sentence"],
        row["tag"],
        row["target"],
    )


def _tops(book: Book) -> tuple[int | None, int | None]:
    row = book.row(NEWEST)
    return (row["undo_top"], row["redo_top"]) if row else (None, None)


def _clock_set(book: Book, at: datetime) -> int:
    """1 when the clock was set since the entry before: notes of a piece that was taken in bear the
    times of another book, and do not count."""
    last = book.row(NEWEST)
    if last and last["kind"] == "note":
        last = book.row("SELECT at FROM journal WHERE kind <> 'note' ORDER BY id DESC LIMIT 1")
    return int(is_break(text_time(last["at"]) if last else None, at))


def _enter(
    book: Book, kind: str, sentence: str, at: datetime, who: str, tag: str, **links: int | None
) -> int:
    was_set = kind != "note" and _clock_set(book, at)
    row = {"at": time_text(at), "who": who, "kind": kind, "sentence": sentence, "tag": tag}
    return _put(book, "journal", row | {"clock_set": int(was_set)} | links)


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
            _take_out(book, table, key)
        elif old is None:
            _put(book, table, new)
        else:
            _alter(book, table, key, {k: v for k, v in new.items() if k != "id"})


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


def _put(book: Book, table: str, row: Mapping[str, Any]) -> int:
    """Puts a row in and gives its id."""
    return int(_put_all(book, table, [row])[0]["id"])


def _put_all(book: Book, table: str, rows: Sequence[Mapping[str, Any]]) -> list[dict[str, Any]]:
    """Puts rows of equal columns in, and gives them as they stand, in order.

    In plain SQL: sqlite-utils looks at the schema each time.
    """
    found: list[dict[str, Any]] = []
    for first in range(0, len(rows), AT_ONCE):
        some = rows[first : first + AT_ONCE]
        names = ", ".join(f'"{name}"' for name in some[0])
        marks = ", ".join([f"({', '.join('?' * len(some[0]))})"] * len(some))
        values = [value for row in some for value in row.values()]
        done = book.db.execute(f"INSERT INTO {table} ({names}) VALUES {marks} RETURNING *", values)
        made = [dict(zip(row.keys(), tuple(row), strict=True)) for row in done.fetchall()]
        book.wrote(table, len(made))
        found += sorted(made, key=_id)
    return found


def _id(row: Mapping[str, Any]) -> int:
    return int(row["id"])


def _alter(book: Book, table: str, key: int, values: Mapping[str, Any]) -> None:
    names = ", ".join(f'"{name}" = ?' for name in values)
    book.db.execute(f"UPDATE {table} SET {names} WHERE id = ?", (*values.values(), key))
    book.wrote(table)


def _take_out(book: Book, table: str, key: int) -> None:
    book.db.execute(f"DELETE FROM {table} WHERE id = ?", (key,))
    book.wrote(table)


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


def newest_record(book: Book) -> datetime | None:
    """The time of the newest entry of the journal."""
    row = book.row("SELECT at FROM journal ORDER BY id DESC LIMIT 1")
    return text_time(row["at"]) if row else None
