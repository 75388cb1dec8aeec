"""A book on disk: opened, refused with a reason, copied, checked, and changed in one way only."""

from __future__ import annotations

import contextlib
import sqlite3
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any

from partsbench.store.holding import Hold
from partsbench.store.schema import APPLICATION_ID, MIGRATIONS

BUSY_SECONDS = 5.0
CHECKED_AT_ONCE = 8_000_000
"""Books up to so many bytes are checked whole when opened, which takes milliseconds."""
TAKEN_AWAY = "its file was moved, removed or replaced; close this window and open the book again"


@dataclass(frozen=True, slots=True)
class BookFault:
    """Why a file cannot be opened as a book. The file was not touched."""

    sentence: str


class BookWriteError(Exception):
    """The book cannot be written: another window holds it, or the disk is full or read-only.

    The message says which, for people; nothing was changed.
    """


class BookDamagedError(Exception):
    """The open book turned out to be damaged while it was read; the message says how."""


class Book:
    """One open book. Use it from one thread; reads may use `rows` and `row` at any time."""

    def __init__(self, connection: sqlite3.Connection, path: Path) -> None:
        self.connection = connection
        self.path = path
        self._hold = Hold(path)

    @cached_property
    def db(self) -> Any:
        """The book as sqlite-utils sees it. Imported when first written to: it takes a while."""
        from sqlite_utils import Database

        return Database(self.connection, execute_plugins=False)

    def rows(self, sql: str, values: tuple[object, ...] = ()) -> list[sqlite3.Row]:
        with _damage_told(self.path):
            return self.connection.execute(sql, values).fetchall()

    def row(self, sql: str, values: tuple[object, ...] = ()) -> sqlite3.Row | None:
        with _damage_told(self.path):
            found: sqlite3.Row | None = self.connection.execute(sql, values).fetchone()
            return found

    @contextlib.contextmanager
    def transaction(self) -> Iterator[Any]:
        """Everything inside happens or nothing does. BookWriteError when it cannot be written."""
        db = self.db
        try:
            self.connection.execute("BEGIN IMMEDIATE")
            if self._hold.lost():
                raise BookWriteError(TAKEN_AWAY)
            yield db
            self.connection.execute("COMMIT")
        except BaseException as error:
            if self.connection.in_transaction:
                self.connection.execute("ROLLBACK")
            why = _why_not_written(error)
            if why:
                raise BookWriteError(why) from error
            if _is_damage(error):
                raise BookDamagedError(f"{self.path} is damaged: {error}") from error
            raise

    def version(self) -> int:
        """A number that moves when another window has changed the book."""
        return int(self.connection.execute("PRAGMA data_version").fetchone()[0])

    def faults(self) -> list[str]:
        """What a thorough check of the whole file finds; [] when it is sound."""
        found = [r[0] for r in self.rows("PRAGMA integrity_check") if r[0] != "ok"]
        found.extend(
            f"a row of {row[0]} belongs to a row of {row[2]} that is not there"
            for row in self.rows("PRAGMA foreign_key_check")
        )
        return found

    def save_copy(self, target: Path) -> BookFault | None:
        """A whole copy in one piece, also while others write. Never over a file that is there."""
        if target.exists():
            return BookFault(f"{target} is there already; choose another name.")
        if not target.parent.is_dir():
            return BookFault(f"There is no folder {target.parent}.")
        try:
            self.connection.execute("VACUUM INTO ?", (str(target),))
        except sqlite3.OperationalError as error:
            return BookFault(f"{target} could not be written: {error}.")
        return None

    def close(self) -> None:
        self._hold.release()
        self.connection.close()
        self._hold.close()


def _why_not_written(error: BaseException) -> str:
    """The reason in words when it lies with the disk or another window; empty for a bug."""
    reasons = {
        sqlite3.SQLITE_BUSY: "another window is writing to this book",
        sqlite3.SQLITE_LOCKED: "another window is writing to this book",
        sqlite3.SQLITE_READONLY: "the book's file is read-only",
        sqlite3.SQLITE_FULL: "the disk is full",
        sqlite3.SQLITE_IOERR: "the disk could not be written",
    }
    code = getattr(error, "sqlite_errorcode", 0)
    return reasons.get(code & 0xFF, "")


@contextlib.contextmanager
def _damage_told(path: Path) -> Iterator[None]:
    try:
        yield
    except sqlite3.DatabaseError as error:
        if _is_damage(error):
            raise BookDamagedError(f"{path} is damaged: {error}") from error
        raise


def _is_damage(error: BaseException) -> bool:
    """True for a file that SQLite cannot make sense of, and for text that is none."""
    code = getattr(error, "sqlite_errorcode", None)
    if code is None:
        return isinstance(error, sqlite3.OperationalError) and "decode" in str(error)
    return code & 0xFF in (sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB, sqlite3.SQLITE_IOERR)


def open_book(path: Path) -> Book | BookFault:
    """The book at `path`, made new when there is none. Older ones are brought up to date."""
    if path.exists() and path.stat().st_size > 0:
        fault = _why_not(path)
        if fault:
            return fault
    elif not path.parent.is_dir():
        return BookFault(f"There is no folder {path.parent}.")
    try:
        connection = _connect(path)
        # The first read makes the files beside the book, which it then holds on to.
        have = int(connection.execute("PRAGMA user_version").fetchone()[0])
        book = Book(connection, path)
    except sqlite3.Error as error:
        return BookFault(f"{path} cannot be opened: {error}.")
    if have < len(MIGRATIONS):
        fault = _bring_up_to_date(book, have)
        if fault:
            book.close()
            return fault
    return book


def _connect(path: Path) -> sqlite3.Connection:
    connection = sqlite3.connect(path, timeout=BUSY_SECONDS, isolation_level=None)
    connection.row_factory = sqlite3.Row
    connection.execute("PRAGMA foreign_keys = ON")
    connection.execute("PRAGMA journal_mode = WAL")
    # FULL makes each acknowledged change survive a power cut; it costs a fraction of a millisecond.
    connection.execute("PRAGMA synchronous = FULL")
    return connection


def _why_not(path: Path) -> BookFault | None:
    """Looks at a file without writing to it."""
    if path.is_dir():
        return BookFault(f"{path} is a folder, not a book.")
    try:
        with path.open("rb") as file:
            header = file.read(100)
    except OSError as error:
        return BookFault(f"{path} cannot be read: {error.strerror}.")
    if not header.startswith(b"SQLite format 3\0"):
        return BookFault(f"{path} is not a book of partsbench.")
    wal = path.with_name(path.name + "-wal")
    pending = wal.exists() and wal.stat().st_size > 0
    if not pending:
        page = int.from_bytes(header[16:18], "big") or 65536
        page = 65536 if page == 1 else page
        if path.stat().st_size < page * int.from_bytes(header[28:32], "big"):
            return BookFault(f"{path} is damaged: its end is missing. Open a copy of it instead.")
        if int.from_bytes(header[68:72], "big") != APPLICATION_ID:
            return BookFault(f"{path} belongs to another program.")
    return _what_is_wrong_inside(path, pending)


def _what_is_wrong_inside(path: Path, pending: bool) -> BookFault | None:
    # Without waiting changes the file is read as it lies, which leaves no trace beside it.
    mode = "mode=ro" if pending else "mode=ro&immutable=1"
    uri = f"{path.resolve().as_uri()}?{mode}"
    try:
        with contextlib.closing(sqlite3.connect(uri, uri=True)) as look:
            if look.execute("PRAGMA application_id").fetchone()[0] != APPLICATION_ID:
                return BookFault(f"{path} belongs to another program.")
            have = look.execute("PRAGMA user_version").fetchone()[0]
            if have > len(MIGRATIONS):
                return BookFault(
                    f"{path} was written by a newer partsbench (its form is {have}, this program "
                    f"knows {len(MIGRATIONS)}). It was not touched; use the newer program."
                )
            look.execute("SELECT count(*) FROM sqlite_master").fetchone()
            if path.stat().st_size <= CHECKED_AT_ONCE:
                found = look.execute("PRAGMA quick_check(1)").fetchone()[0]
                if found != "ok":
                    return BookFault(f"{path} is damaged ({found}). Open a copy of it instead.")
    except sqlite3.DatabaseError as error:
        return BookFault(f"{path} is damaged ({error}). Open a copy of it instead.")
    return None


def _bring_up_to_date(book: Book, have: int) -> BookFault | None:
    """Runs the missing migrations in one transaction, after a copy of an older book is kept."""
    kept = None
    if have:
        kept = book.path.with_name(f"{book.path.stem}.before-{len(MIGRATIONS)}{book.path.suffix}")
        if not kept.exists():
            fault = book.save_copy(kept)
            if fault:
                return fault
    try:
        with book.transaction() as db:
            # Another window may have done it while this one waited.
            now = int(book.connection.execute("PRAGMA user_version").fetchone()[0])
            for _, migrate in MIGRATIONS[now:]:
                migrate(db)
            book.connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
            book.connection.execute(f"PRAGMA user_version = {len(MIGRATIONS)}")
    except (sqlite3.Error, BookWriteError) as error:
        where = f" A copy from before is at {kept}." if kept else ""
        return BookFault(f"{book.path} could not be brought up to date: {error}.{where}")
    return None
