"""Rows: where the journal shows that the clock was set, and what was said of the time before."""

from __future__ import annotations

import json
from collections.abc import Sequence
from datetime import datetime, timedelta

from partsbench.core.clock_runs import STATED_BACK, ClockRun, TimeDoubt
from partsbench.store.book import NEWEST, RUNS_BEGIN, Book
from partsbench.store.journal import Change, changed_rows, text_time, time_text

_MADE = "kind <> 'note'"
_NO_END = 2**62

TIMES = {
    "mark": ("at",),
    "movement": ("at",),
    "fit": ("at",),
    "label": ("printed_at",),
    "piece": ("taken_in_at",),
    "job": ("created_at",),
    "cup": ("made_at", "emptied_at"),
    "load": ("made_at", "ended_at"),
    "mask": ("on_at", "off_at"),
    "fact": ("at",),
    "climate": ("at",),
    "power_cut": ("from_at", "to_at"),
    "answered": ("at",),
    "worked": ("at",),
    "tried": ("film_at", "at"),
    "tin_card": ("at",),
    "own_path": ("at",),
    "tin_use": ("at",),
    "sum_of_money": ("at",),
    "work": ("begun", "ended"),
}
"""The columns that hold a moment, of each table that does."""


def runs(book: Book) -> list[ClockRun]:
    """The runs of the clock, oldest first; [] for a book without a journal.

    Notes do not count: the history of a piece that was taken in bears the times of another book.
    """
    begun = book.rows(RUNS_BEGIN)
    if not begun:
        return []
    known = {r["first"]: r["shift_s"] for r in book.rows("SELECT first, shift_s FROM clock_said")}
    newest = book.row(NEWEST)
    if len(begun) == 1 and not known and newest and newest["kind"] != "note":
        # The clock ran on, as it mostly does.
        began, ended = text_time(begun[0]["at"]), text_time(newest["at"])
        return [ClockRun(begun[0]["id"], newest["id"], began, ended, None)]
    firsts = sorted({*(r["id"] for r in begun), *known})
    return [
        _run(book, first, following, known.get(first))
        for first, following in zip(firsts, [*firsts[1:], None], strict=True)
    ]


def _run(book: Book, first: int, following: int | None, shift_s: int | None) -> ClockRun:
    began = book.row("SELECT at FROM journal WHERE id = ?", (first,))
    ended = book.row(
        f"SELECT id, at FROM journal WHERE {_MADE} AND id >= ? AND id < ? ORDER BY id DESC LIMIT 1",
        (first, following or _NO_END),
    )
    assert began is not None and ended is not None, first
    shift = None if shift_s is None else timedelta(seconds=shift_s)
    return ClockRun(first, ended["id"], text_time(began["at"]), text_time(ended["at"]), shift)


def entries_of(book: Book, doubt: TimeDoubt) -> list[int]:
    """Ids of the journal entries in doubt, in order."""
    where, values = _in_doubt(doubt)
    return [r["id"] for r in book.rows(f"SELECT id FROM journal {where} ORDER BY id", values)]


def count_of(book: Book, doubt: TimeDoubt) -> int:
    """How many journal entries are in doubt."""
    where, values = _in_doubt(doubt)
    row = book.row(f"SELECT count(*) AS found FROM journal {where}", values)
    return int(row["found"]) if row else 0


def _in_doubt(doubt: TimeDoubt) -> tuple[str, tuple[object, ...]]:
    """What `TimeDoubt.covers` says, in SQL; noted times are texts of whole seconds."""
    sql = f"WHERE {_MADE} AND id BETWEEN ? AND ?"
    values: list[object] = [doubt.run.first, doubt.run.last]
    if doubt.after is not None:
        sql += " AND at > ?"
        values.append(time_text(doubt.after))
    if doubt.before is not None:
        sql += " AND at <= ?"
        values.append(time_text(doubt.before - timedelta(microseconds=1)))
    return sql, tuple(values)


def rows_of(book: Book, doubt: TimeDoubt, table: str, keys: Sequence[int]) -> set[int]:
    """Which of these rows were put in by an entry in doubt, as far as the clock told their time.

    table: one of TIMES; the time is its first one.
    """
    rows = book.rows(
        f"SELECT r.row, j.at AS noted, json_extract(r.after, '$.{TIMES[table][0]}') AS at "
        # In this order: a run may be the whole history, and the rows are those of one part.
        "FROM json_each(?) k CROSS JOIN journal_row r ON r.tbl = ? AND r.row = k.value "
        "AND r.before IS NULL CROSS JOIN journal j ON j.id = r.journal "
        "WHERE +r.journal BETWEEN ? AND ? AND r.after IS NOT NULL",
        (json.dumps(list(keys)), table, doubt.run.first, doubt.run.last),
    )
    return {
        r["row"]
        for r in rows
        if doubt.covers(text_time(r["noted"]))
        and text_time(r["at"]) >= doubt.run.began - STATED_BACK
    }


def say(book: Book, entry: Change, entries: Sequence[int], shift: timedelta) -> None:
    """The entries become a run of their own whose time was said, and what they noted moves along.

    entries: ids in order, without a gap, of one run.
    """
    run = next(r for r in runs(book) if r.first <= entries[0] <= r.last)
    following = book.row(
        f"SELECT id FROM journal WHERE {_MADE} AND id > ? AND id <= ? ORDER BY id LIMIT 1",
        (entries[-1], run.last),
    )
    _set(book, entry, entries[0], int(shift.total_seconds()))
    if following:
        _set(book, entry, following["id"], None)
    if not shift:
        return
    for key in entries:
        _move(book, entry, key, shift, run.began - STATED_BACK)


def _set(book: Book, entry: Change, first: int, shift_s: int | None) -> None:
    row = book.row("SELECT id FROM clock_said WHERE first = ?", (first,))
    if row:
        entry.update("clock_said", row["id"], {"shift_s": shift_s})
    else:
        entry.insert("clock_said", {"first": first, "shift_s": shift_s})


def _move(book: Book, change: Change, key: int, shift: timedelta, since: datetime) -> None:
    """Moves each moment that this entry wrote, where it still stands and the clock told it."""
    for table, row, before, after in changed_rows(book, key):
        now = book.row(f"SELECT * FROM {table} WHERE id = ?", (row,)) if table in TIMES else None
        if now is None or after is None:
            continue
        moved = {
            column: time_text(text_time(after[column]) + shift)
            for column in TIMES[table]
            if after.get(column) and after[column] != (before or {}).get(column)
            and now[column] == after[column] and text_time(after[column]) >= since
        }  # fmt: skip
        if moved:
            change.update(table, row, moved)
