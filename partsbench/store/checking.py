"""A thorough check of a book: its file, its form, its history played back, every reader asked.

What is recorded stands twice, in its row and in the journal. The journal is a chain, so that a
change in it shows; played back, it must give the rows as they are, so that a change there shows.
"""

from __future__ import annotations

import contextlib
import sqlite3
from collections.abc import Callable, Iterator
from typing import Any, Final

from partsbench.core.clock_runs import is_break
from partsbench.core.outcomes import BookDamagedError
from partsbench.store import (
    exchange,
    facts,
    figures,
    mixes,
    pieces,
    plain,
    records,
    room,
    schema,
    tin_cards,
    tries,
)
from partsbench.store.book import Book
from partsbench.store.chain import LEFT_OUT, broken
from partsbench.store.journal import changed_rows, entries, text_time

MOST_TOLD: Final = 200
"""So many faults are told, then how many more there are is not looked for."""
_JOURNAL: Final = ("journal", "journal_row")
_NOT_RECORDED: Final = frozenset({"device", "device_act"})
"""Tables that are written without the journal: an undo must not let a device in again."""
_MOMENTS: Final = frozenset({"at", "begun", "ended"})


def faults(book: Book) -> list[str]:
    """What is wrong with a book, the first fault first; [] when nothing any command reads is."""
    told: list[str] = []
    for check in (_file, _form, _texts, _times, _chain, _clock, _links, _playback, _readers):
        with _told_by(told, "the book"):
            for fault in check(book):
                told.append(fault)
                if len(told) >= MOST_TOLD:
                    return told
    return list(dict.fromkeys(told))


@contextlib.contextmanager
def _told_by(told: list[str], what: str) -> Iterator[None]:
    """A reader that stumbles tells what it stumbled over; that is what it is asked for."""
    try:
        yield
    except BookDamagedError as error:
        told.append(str(error))
    except (sqlite3.Error, LookupError, ValueError, TypeError, ArithmeticError, AttributeError,
            AssertionError) as error:  # fmt: skip
        if not told:
            told.append(f"{what} cannot be read: {error or type(error).__name__}")


def _file(book: Book) -> Iterator[str]:
    yield from book.faults()


def _form(book: Book) -> Iterator[str]:
    """Tables, indexes and views are those of the form."""
    sql = "SELECT name, sql FROM sqlite_master WHERE sql IS NOT NULL"
    with contextlib.closing(sqlite3.connect(":memory:")) as fresh:
        for _, migrate in schema.MIGRATIONS:
            migrate(fresh)
        want = dict(fresh.execute(sql).fetchall())
    have = {r["name"]: r["sql"] for r in book.rows(sql)}
    for name in sorted(want.keys() | have.keys()):
        if want.get(name) != have.get(name):
            if name not in have:
                yield f"{name} is missing from the form of the book"
            elif name in want:
                yield f"the form of {name} is spoilt"
            else:
                yield f"{name} does not belong to the form of the book"


def _texts(book: Book) -> list[str]:
    """Every text is one."""
    found: list[str] = []
    tables, usual = _tables(book), book.connection.text_factory
    book.connection.text_factory = bytes
    try:
        for table, columns in tables.items():
            # An index may not be asked here: it may be what is spoilt.
            for row in book.connection.execute(f'SELECT * FROM "{table}" NOT INDEXED'):
                for column, value in zip(columns, tuple(row), strict=True):
                    if isinstance(value, bytes) and not _is_text(value):
                        found.append(f"row {row[0]} of {table}: {column} holds what is no text")
    finally:
        book.connection.text_factory = usual
    return found


def _is_text(value: bytes) -> bool:
    try:
        value.decode()
    except UnicodeDecodeError:
        return False
    return True


def _times(book: Book) -> Iterator[str]:
    for table, columns in _tables(book).items():
        for column in columns:
            moment = column in _MOMENTS or column.endswith("_at")
            if not moment and column != "day":
                continue
            sound = plain.is_moment if moment else plain.is_day
            for row in book.rows(f'SELECT rowid, "{column}" FROM "{table}"'):
                if row[1] not in (None, "") and not sound(row[1]):
                    yield f"row {row[0]} of {table}: {column} is {_short(row[1])}, which is no time"


def _chain(book: Book) -> Iterator[str]:
    for key in broken(book.connection):
        yield _of_entry(book, key, f"entry {key} of the history is not as it was written")


def _clock(book: Book) -> Iterator[str]:
    """Where the times of the history jump is marked, and nowhere else."""
    before = None
    for row in book.rows("SELECT id, at, clock_set FROM journal WHERE kind <> 'note' ORDER BY id"):
        at = text_time(row["at"])
        if is_break(before, at) != bool(row["clock_set"]):
            yield f"entry {row['id']} of the history tells wrongly whether the clock was set"
        before = at


def _links(book: Book) -> Iterator[str]:
    """Undo and redo name entries that are there."""
    ids = {r["id"] for r in book.rows("SELECT id FROM journal")}
    for row in book.rows("SELECT * FROM journal ORDER BY id"):
        for link in ("target", "undo_top", "redo_top", "undo_below", "redo_below"):
            if row[link] is not None and row[link] not in ids:
                yield f"entry {row['id']} of the history names entry {row[link]}, which is gone"


def _playback(book: Book) -> Iterator[str]:
    """The rows are those that the journal gives, from the first entry to the last."""
    tables = _tables(book)
    given: dict[tuple[str, int], tuple[Any, int]] = {}
    of_target: dict[int, list[tuple[str, int, Any, Any]]] = {}
    for entry in book.rows("SELECT id, kind, target FROM journal ORDER BY id"):
        done = entry["id"] if entry["kind"] == "do" else entry["target"]
        if entry["kind"] == "note" or done is None:
            continue
        rows = of_target.setdefault(done, changed_rows(book, done))
        if entry["kind"] == "do" and not rows:
            yield _of_entry(book, done, f"entry {done} of the history has lost its rows")
        for table, key, before, after in reversed(rows) if entry["kind"] == "undo" else rows:
            if table not in tables:
                yield f"entry {done} of the history names a table “{table}”"
            given[table, key] = (before if entry["kind"] == "undo" else after, entry["id"])
    for table in tables:
        if table not in _JOURNAL and table not in _NOT_RECORDED:
            yield from _compared(book, table, given)


def _compared(
    book: Book, table: str, given: dict[tuple[str, int], tuple[Any, int]]
) -> Iterator[str]:
    there = {r["id"]: r for r in book.rows(f'SELECT * FROM "{table}"')}
    for key, row in there.items():
        said, entry = given.get((table, key), (None, 0))
        if said is None:
            if table not in LEFT_OUT:
                yield f"row {key} of {table} is in the book but not in its history"
            continue
        for column, value in said.items():
            if column not in row.keys() or row[column] != value:  # noqa: SIM118
                found = row[column] if column in row.keys() else None  # noqa: SIM118
                yield _of_entry(
                    book,
                    entry,
                    f"row {key} of {table}: {column} is {_short(found)}, and was recorded as "
                    f"{_short(value)}",
                )
    for (of, key), (said, entry) in given.items():
        if of == table and said is not None and key not in there:
            yield _of_entry(book, entry, f"row {key} of {table} was recorded and is not there")


def _readers(book: Book) -> Iterator[str]:
    """Whatever a command may read is read once; what stumbles is told."""
    told: list[str] = []
    for what, read in _shop_readers():
        with _told_by(told, what):
            read(book)
    for row in book.rows("SELECT id, tag FROM piece ORDER BY id"):
        for what, of_piece in _piece_readers():
            with _told_by(told, f"{what} of piece {row['tag']}"):
                of_piece(book, row["id"], row["tag"])
    yield from told


def _shop_readers() -> list[tuple[str, Callable[[Book], object]]]:
    return [
        ("the list of pieces", pieces.listed),
        ("the history", lambda b: entries(b, limit=-1)),
        ("the places", lambda b: (records.places(b), room.places(b))),
        ("the people", lambda b: room.people(b, here=False)),
        ("the settings", figures.habits),
        ("the finish paths", room.own_paths),
        ("the tins", lambda b: (tin_cards.listed(b), figures.tins(b))),
        ("the cups", lambda b: mixes.cups(b, limit=-1)),
        ("the power cuts", room.power_cuts),
        ("what was tried", tries.newest),
        ("what was sold", figures.sold),
    ]


def _piece_readers() -> list[tuple[str, Callable[[Book, int, str], object]]]:
    of_rows: dict[str, Callable[[Book, int], object]] = {
        "the marks": records.marks,
        "the movements": records.movements,
        "the fits": records.fits,
        "the labels": records.labels_printed,
        "the facts": facts.facts,
        "the masks": facts.masks,
        "what was tried": tries.of_piece,
        "the sizes": figures.sizes,
        "the weight": figures.weight,
        "the woods": figures.woods,
        "the hardware": figures.hardware,
        "the holes": figures.holes,
        "the pulls to choose from": figures.candidates,
        "the vetoes": figures.vetoes,
        "the orphans": figures.orphans,
        "the costs": figures.money,
        "the hours": lambda b, key: (figures.work(b, key), figures.corrected(b, key)),
        "the tins used": figures.tin_uses,
    }
    return [
        ("the front and parts", lambda b, _, tag: pieces.load(b, tag)),
        *((what, lambda b, key, _, read=read: read(b, key)) for what, read in of_rows.items()),
        # What would not be taken in again is told as well.
        ("the export", lambda b, _, tag: exchange.check(exchange.export(b, tag))),
    ]


def _tables(book: Book) -> dict[str, list[str]]:
    return {
        r["name"]: [c["name"] for c in book.rows(f'PRAGMA table_info("{r["name"]}")')]
        for r in book.rows(
            "SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite_%'"
        )
    }


def _of_entry(book: Book, key: int, fault: str) -> str:
    """A fault with the entry it is of, `… (entry 12, “Heron D1: washed”)`, as far as that can be
    read."""
    with contextlib.suppress(BookDamagedError, sqlite3.Error):
        row = book.row("SELECT sentence FROM journal WHERE id = ?", (key,))
        if row:
            return f"{fault} (entry {key}, {_short(row['sentence'])})"
    return fault


def _short(value: object, most: int = 60) -> str:
    text = str(value)
    return f"“{text[:most]}…”" if len(text) > most else f"“{text}”"
