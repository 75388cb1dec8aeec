"""A book on disk: opened, refused with a reason, copied, checked, and changed in one way only."""

from __future__ import annotations

import contextlib
import os
import shutil
import sqlite3
import tempfile
from collections.abc import Callable, Iterator
from functools import cached_property
from pathlib import Path
from typing import Any

from partsbench import files
from partsbench.core.outcomes import BookDamagedError, Refused
from partsbench.core.said_often import no_folder
from partsbench.core.wording import sentences
from partsbench.store import door
from partsbench.store.copying import copy_whole, give_name
from partsbench.store.holding import BookHold
from partsbench.store.schema import APPLICATION_ID, MIGRATIONS
from partsbench.store.waiting import form_of, put_aside, shm_of, stamped_anew, wal_of

__all__ = ["Book", "BookWriteError", "Refused", "open_book"]

RUNS_BEGIN = (
    "SELECT * FROM (SELECT id, at FROM journal WHERE kind <> 'note' ORDER BY id LIMIT 1) "
    "UNION SELECT id, at FROM journal WHERE clock_set = 1 ORDER BY id"
)
"""The entries at which a run of the clock begins."""
NEWEST = "SELECT id, at, kind, undo_top, redo_top, chain FROM journal ORDER BY id DESC LIMIT 1"
BUSY_SECONDS = 5.0
FOLDED_IN_FROM = 4_000_000
"""Bytes of waiting changes that are put into the book while it is open."""
TAKEN_AWAY = "its file was moved, removed or replaced; close this window and open the book again"
WRITTEN_TO = "another window is writing to this book; try again"
MEMORY = Path(":memory:")


class BookWriteError(Exception):
    """The book cannot be written: another window holds it, or the disk is full or read-only.

    The message says which, for people; nothing was changed.
    """


class Book:
    """One open book. Use it from one thread; reads may use `rows` and `row` at any time.

    `only_read` says why nothing can be written to it, and is empty for most. `told` is what was
    done when it was opened that a person should know.
    """

    def __init__(
        self,
        connection: sqlite3.Connection,
        path: Path,
        only_read: str = "",
        told: tuple[str, ...] = (),
    ) -> None:
        self.connection = connection
        self.path = path
        self.only_read = only_read
        self.told = told
        self.closed = False
        self._hold = BookHold(path)
        self._together = False
        self.along: Callable[[], None] | None = None
        """Called at the end of each transaction that wrote something: what is kept with it."""
        self._kept: dict[tuple[str, tuple[object, ...]], list[sqlite3.Row]] | None = None
        self._kept_at = self._written = self._version = 0

    @contextlib.contextmanager
    def one_reading(self) -> Iterator[None]:
        """Inside, no question is put to the book twice: all answers are of one journal number.

        What is written inside is read anew, and so is all once another program wrote before that.
        """
        if self._kept is not None:
            yield
            return
        self._kept, self._kept_at = {}, 0
        self._kept_at = self.newest()
        try:
            yield
        finally:
            self._kept = None

    def has_read(self, sql: str, values: tuple[object, ...] = ()) -> bool:
        """The answer to that question is at hand within this reading."""
        return self._kept is not None and (sql, values) in self._kept

    def newest(self) -> int:
        """The number of the latest entry of the journal; 0 in a new book."""
        row = self.row(NEWEST)
        return int(row["id"]) if row else 0

    def _read_on(self) -> None:
        """What was read before a change begins still stands, unless another program wrote."""
        if self._kept is None:
            return
        before, self._kept_at = self._kept_at, 0
        self._kept.pop((NEWEST, ()), None)
        self._kept_at = self.newest()
        if self._kept_at != before:
            self._kept = {}

    def wrote(self, table: str, rows: int = 1, still: str = "") -> None:
        """So many rows of a table were put in, altered or taken out in this transaction; the answer
        to the question `still` is as before."""
        self._written += rows
        if self._kept:
            stands = {k: v for k, v in self._kept.items() if table not in k[0] or k[0] == still}
            self._kept = stands

    def entered(self, newest: sqlite3.Row) -> None:
        """The latest entry of the journal is now this one, as NEWEST would find it."""
        if self._kept is not None:
            self._kept[NEWEST, ()] = [newest]
            self._kept_at = newest["id"]

    @cached_property
    def db(self) -> Any:
        """The book as sqlite-utils sees it. Imported when first written to: it takes a while."""
        from sqlite_utils import Database

        return Database(self.connection, execute_plugins=False)

    def rows(self, sql: str, values: tuple[object, ...] = ()) -> list[sqlite3.Row]:
        """What a question is answered with; within one reading it is put to the book once."""
        kept = self._kept.get((sql, values)) if self._kept is not None else None
        if kept is not None:
            return list(kept)
        with self._damage_told():
            found: list[sqlite3.Row] = self.connection.execute(sql, values).fetchall()
        if self._kept is not None:
            self._kept[sql, values] = found
        return list(found)

    def row(self, sql: str, values: tuple[object, ...] = ()) -> sqlite3.Row | None:
        """The first row of the answer; None for none."""
        if self._kept is not None:
            return next(iter(self.rows(sql, values)), None)
        with self._damage_told():
            found: sqlite3.Row | None = self.connection.execute(sql, values).fetchone()
            return found

    @contextlib.contextmanager
    def transaction(self) -> Iterator[Any]:
        """Everything inside happens or nothing does. BookWriteError when it cannot be written."""
        if self._together:
            yield self.db
            return
        if self.only_read:
            raise BookWriteError(self.only_read)
        db = self.db
        before: int | None = None
        try:
            self.connection.execute("BEGIN IMMEDIATE")
            self._version = self._user_version()
            if self._is_another(self._version):
                raise BookWriteError(TAKEN_AWAY)
            self._read_on()
            began = self.connection.total_changes
            done = began - self._written
            yield db
            if self.along and self.connection.total_changes != began:
                self.along()
            if self._kept and self.connection.total_changes - self._written != done:
                self._kept = {}  # something was written that nobody told of
            before = self._stamp()
            self.connection.execute("COMMIT")
        except BaseException as error:
            if self._kept is not None:
                self._kept = {}
            if self.connection.in_transaction:
                self.connection.execute("ROLLBACK")
            if before is not None:
                self._hold.write_version(before)
            why = _why_not_written(error, self.path)
            if why:
                raise BookWriteError(why) from error
            if _is_damage(error):
                raise BookDamagedError(f"{self.path} is damaged: {error}") from error
            raise
        self._fold_in()

    @contextlib.contextmanager
    def together(self) -> Iterator[None]:
        """What is changed inside, in however many changes, is changed by all of them or by none."""
        with self.transaction():
            self._together = True
            try:
                yield
            finally:
                self._together = False

    def lost(self) -> bool:
        """True when the file is no longer the one that was opened, or another was put over it."""
        return self._is_another(self._user_version())

    def _is_another(self, version: int) -> bool:
        there = self._hold.version()
        return there is not None and (self._hold.lost() or there != version)

    @property
    def form(self) -> int:
        """How many migrations the book has been through; within a transaction."""
        return form_of(self._version)

    @form.setter
    def form(self, now: int) -> None:
        self._version += now - self.form

    def _user_version(self) -> int:
        return int(self.connection.execute("PRAGMA user_version").fetchone()[0])

    def _stamp(self) -> int | None:
        """Ties what waits beside the book to it: see `waiting`. Gives what stood in the file before
        when the file was given another stamp."""
        version, renewed = self._version, None
        if self._hold.nothing_waits():
            renewed = self._hold.version()
            version = stamped_anew(version)
            self._hold.write_version(version)
        self.connection.execute(f"PRAGMA user_version = {version}")
        return renewed

    def _fold_in(self) -> None:
        """What waits is put into the book from time to time; when others read, a little later."""
        with contextlib.suppress(OSError, sqlite3.OperationalError):
            if wal_of(self.path).stat().st_size > FOLDED_IN_FROM:
                self.connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")

    def raw(self) -> Iterator[bytes]:
        """The bytes of the file itself, piece by piece, without what waits beside it."""
        return self._hold.pieces()

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

    def save_copy(self, target: Path) -> Refused | None:
        """A whole copy in one piece, also while others write. Never over a file that is there."""
        fault = copy_whole(self.connection, target)
        return Refused(fault) if fault else None

    def close(self) -> None:
        """Closed for good; a book that was taken away under it is left as it lies."""
        self.closed = True
        try:
            lost = self.lost()
        except sqlite3.Error:
            lost = True
        if lost:
            self._hold.close_without_tidying(self.connection)
            return
        self._hold.release()
        self.connection.close()
        self._hold.close()

    @contextlib.contextmanager
    def _damage_told(self) -> Iterator[None]:
        try:
            yield
        except sqlite3.DatabaseError as error:
            if not _is_damage(error):
                raise
            taken = self._hold.lost()
            why = f"is not as it was: {TAKEN_AWAY}" if taken else f"is damaged: {error}"
            raise BookDamagedError(f"{self.path} {why}") from error


def _why_not_written(error: BaseException, path: Path) -> str:
    """The reason in words when it lies with the disk or another window; empty for a bug."""
    if isinstance(error, OSError):
        return files.why(error)
    reasons = {
        sqlite3.SQLITE_BUSY: WRITTEN_TO,
        sqlite3.SQLITE_LOCKED: WRITTEN_TO,
        sqlite3.SQLITE_READONLY: "the book's file is read-only",
        sqlite3.SQLITE_FULL: files.FULL,
        sqlite3.SQLITE_IOERR: "the disk could not be written",
        sqlite3.SQLITE_CANTOPEN: "the disk could not be written",
    }
    code = getattr(error, "sqlite_errorcode", 0) & 0xFF
    if code in (sqlite3.SQLITE_IOERR, sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_READONLY):
        return files.why_not_into(path.parent) or reasons[code]
    return reasons.get(code, "")


def _is_damage(error: BaseException) -> bool:
    """True for a file that SQLite cannot make sense of, and for a text or a JSON that is none."""
    words = str(error) if isinstance(error, sqlite3.OperationalError) else ""
    code = getattr(error, "sqlite_errorcode", None)
    if code is None:
        return "decode" in words
    return "malformed JSON" in words or code & 0xFF in (
        sqlite3.SQLITE_CORRUPT,
        sqlite3.SQLITE_NOTADB,
        sqlite3.SQLITE_IOERR,
    )


def open_book(path: Path) -> Book | Refused:
    """The book at `path`, made new when there is none. Older ones are brought up to date.

    Where nothing can be written beside it, as on a full disk, it is opened to be read.
    """
    if path == MEMORY:
        return _opened(_connect(str(path)), path, ())
    # What waits lies beside the file itself, wherever a link to it is.
    path = files.itself(path)
    fault = door.file_fault(path)
    if fault:
        return fault
    told: list[str] = []
    if not path.exists():
        made = _make_new(path)
        if isinstance(made, Refused):
            return made
        told = made
    looked = door.look(path, len(MIGRATIONS))
    if isinstance(looked, Refused):
        return looked
    beside = [f for f in (wal_of(path), shm_of(path)) if not f.exists()]
    try:
        return _opened(_connect(f"{path.resolve().as_uri()}?mode=rw"), path, (*told, *looked))
    except (sqlite3.Error, UnicodeDecodeError) as error:
        why = _why_not_written(error, path)
        if why == WRITTEN_TO:
            return Refused(f"{path} cannot be opened: {why}.")
        if not why:
            words = " ".join(str(error).split())
            return Refused(f"{path} cannot be opened: {words}. Open a copy of it instead.")
    door.drop_empty(path, beside)
    return _opened_to_read(path, why, (*told, *looked))


def _opened(connection: sqlite3.Connection, path: Path, told: tuple[str, ...]) -> Book | Refused:
    with _closed_when_it_fails(connection):
        # The first read makes the files beside the book, which it then holds on to.
        have = form_of(int(connection.execute("PRAGMA user_version").fetchone()[0]))
    book = Book(connection, path, told=told)
    fault = _bring_up_to_date(book, have) if have < len(MIGRATIONS) else _mixed(book)
    if fault:
        book.close()
        return fault
    return book


def _mixed(book: Book) -> Refused | None:
    """Why a book that another window has open is not the one that lies there."""
    if not book.lost():
        return None
    with contextlib.suppress(sqlite3.Error):
        # Another window may just be giving it its stamp; under the lock for writing it has one.
        book.connection.execute("BEGIN IMMEDIATE")
        try:
            if not book.lost():
                return None
        finally:
            book.connection.execute("ROLLBACK")
    return door.replaced(book.path)


def _opened_to_read(path: Path, why: str, told: tuple[str, ...]) -> Book | Refused:
    """The book as it lies; with what waits beside it from a copy of both elsewhere."""
    try:
        if door.waits_beside(path):
            # What is open is read on without its name; where that cannot be, the folder stays.
            with tempfile.TemporaryDirectory(
                prefix="partsbench-", ignore_cleanup_errors=True
            ) as folder:
                lies = Path(folder) / "book"
                shutil.copyfile(path, lies)
                shutil.copyfile(wal_of(path), wal_of(lies))
                with contextlib.closing(_connect(str(lies))) as folding:
                    folding.execute("PRAGMA wal_checkpoint(TRUNCATE)")
                read = _connect_to_read(lies)
        else:
            read = _connect_to_read(path)
    except (OSError, sqlite3.Error) as error:
        return Refused(f"{path} cannot be opened: {why}; nor elsewhere: {error}.")
    if form_of(int(read.execute("PRAGMA user_version").fetchone()[0])) < len(MIGRATIONS):
        read.close()
        return Refused(f"{path} is of an older form and cannot be brought up to date: {why}.")
    only_read = f"the book can only be read: {why}"
    return Book(read, path, only_read, (*told, f"{path.name} can only be read: {why}."))


def _connect_to_read(path: Path) -> sqlite3.Connection:
    uri = f"{path.resolve().as_uri()}?mode=ro&immutable=1"
    connection = sqlite3.connect(uri, uri=True, isolation_level=None)
    connection.row_factory = sqlite3.Row
    connection.execute("SELECT count(*) FROM sqlite_master").fetchone()
    return connection


def _make_new(path: Path) -> list[str] | Refused:
    """A whole new book gets its name at once, readable by its owner only; what waits there from
    a book that is gone is put aside. Gives what was done about that."""
    if not path.absolute().parent.is_dir():
        return Refused(no_folder(path.parent))
    told = []
    try:
        if door.waits_beside(path):
            told.append(door.foreign_words(path, put_aside(wal_of(path))))
        beside = path.absolute().parent
        with tempfile.TemporaryDirectory(prefix=".partsbench-", dir=beside) as folder:
            draft = Path(folder) / "new"
            os.close(os.open(draft, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600))
            made = _opened(_connect(str(draft)), draft, ())
            if isinstance(made, Refused):
                return Refused(made.sentence.replace(str(draft), str(path)))
            made.close()
            with contextlib.suppress(FileExistsError):
                # Another window may have made it meanwhile; then that is the book.
                give_name(draft, path)
        files.put_on_disk(beside)
    except (OSError, sqlite3.Error) as error:
        why = _why_not_written(error, path.absolute()) or str(error)
        return Refused(f"{path} cannot be made: {why}.")
    return told


def _connect(target: str) -> sqlite3.Connection:
    connection = sqlite3.connect(
        target, timeout=BUSY_SECONDS, isolation_level=None, uri=target.startswith("file:")
    )
    connection.row_factory = sqlite3.Row
    with _closed_when_it_fails(connection):
        connection.execute("PRAGMA foreign_keys = ON")
        connection.execute("PRAGMA journal_mode = WAL")
        # What waits is put into the book by `Book`, which looks first whether it is still the same.
        connection.execute("PRAGMA wal_autocheckpoint = 0")
        # FULL makes each acknowledged change survive a power cut; it costs a fraction of a
        # millisecond.
        connection.execute("PRAGMA synchronous = FULL")
    return connection


@contextlib.contextmanager
def _closed_when_it_fails(connection: sqlite3.Connection) -> Iterator[None]:
    """A connection holds its locks until it is closed: Python frees it some time later."""
    try:
        yield
    except BaseException:
        connection.close()
        raise


def _bring_up_to_date(book: Book, have: int) -> Refused | None:
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
            for _, migrate in MIGRATIONS[book.form :]:
                migrate(db)
            book.connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
            book.form = len(MIGRATIONS)
    except (sqlite3.Error, BookWriteError) as error:
        where = f"A copy from before is at {kept}." if kept else ""
        told = f"{book.path} could not be brought up to date: {error}."
        return Refused(sentences(told, where))
    return None
