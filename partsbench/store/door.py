"""What is looked at before a book is opened: the file, what lies beside it, and what is inside."""

from __future__ import annotations

import contextlib
import shutil
import sqlite3
import stat
from collections.abc import Iterator
from pathlib import Path
from typing import Final

from partsbench import files
from partsbench.core.outcomes import Refused
from partsbench.store.holding import nobody_has
from partsbench.store.schema import APPLICATION_ID
from partsbench.store.waiting import (
    HEADER_BYTES,
    form_of,
    free_name,
    look_into,
    put_aside,
    shm_of,
    wal_of,
)

CHECKED_AT_ONCE: Final = 8_000_000
"""Books up to so many bytes are checked whole when opened, which takes milliseconds."""


def file_fault(path: Path) -> Refused | None:
    """What is wrong with the file itself and with those beside it. A missing one is no fault."""
    for file in (path, wal_of(path), shm_of(path)):
        try:
            found = file.stat()
        except FileNotFoundError:
            continue
        except OSError as error:
            return Refused(f"{file} cannot be read: {files.why(error)}.")
        if stat.S_ISDIR(found.st_mode):
            if file == path:
                return Refused(f"{file} is a folder, not a book.")
            beside = "not a file of the book beside it; it stands in the book's way"
            return Refused(f"{file} is a folder, {beside}.")
        if not stat.S_ISREG(found.st_mode):
            return Refused(f"{file} is no plain file, but a device, a pipe or the like.")
    return None


def look(path: Path, newest_form: int) -> list[str] | Refused:
    """Why a file that is there is no sound book; else what was done about what lay beside it.

    Written to is nothing; a file of waiting changes that belongs to another book gets another name.
    """
    try:
        header = _header_of(path)
    except OSError as error:
        return Refused(f"{path} cannot be read: {files.why(error)}.")
    if not header:
        return Refused(
            f"{path} is empty, so it is no book; perhaps a copy did not fit on the disk. "
            "Get a copy back, or take the empty file away."
        )
    if not header.startswith(b"SQLite format 3\0"):
        return Refused(f"{path} is not a book of partsbench.")
    try:
        told = _sort_out(path, header, newest_form) if waits_beside(path) else []
    except OSError as error:
        return Refused(f"{wal_of(path)} cannot be put aside: {files.why(error)}.")
    if not waits_beside(path):
        return _fault_as_it_lies(path, header, newest_form) or told
    fault = inside_fault(path, newest_form, with_waiting=True)
    if fault and look_into(wal_of(path)).belongs_to(header) is False:
        return replaced(path)
    return fault or told


def _fault_as_it_lies(path: Path, header: bytes, newest_form: int) -> Refused | None:
    """What is wrong with a book beside which nothing waits."""

    def looked() -> Refused | None:
        fault = _header_fault(path, header)
        return fault or inside_fault(path, newest_form, with_waiting=False)

    if not looked():
        return None
    # Another program may just have been writing; what is wrong when none does is wrong.
    with nobody_has(path) as free:
        if free and not waits_beside(path):
            header = _header_of(path)
            return looked()
    return inside_fault(path, newest_form, with_waiting=True)


def _header_of(path: Path) -> bytes:
    with path.open("rb") as file:
        return file.read(HEADER_BYTES)


def replaced(path: Path) -> Refused:
    """A window has changes waiting for a book that is no longer the one that lies there."""
    return Refused(
        f"{path} was replaced by another file while a window has it open. Close that window "
        "first; nothing was changed."
    )


def waits_beside(path: Path) -> bool:
    """Whether a file of waiting changes that holds something lies beside a book."""
    try:
        return wal_of(path).stat().st_size > 0
    except OSError:
        return False


def drop_empty(path: Path, files: list[Path]) -> None:
    """Takes away what an opening that failed left beside a book that nobody has open: a file in
    which nothing waits, and one that is made anew at each opening."""
    with nobody_has(path) as free:
        for file in files if free else ():
            with contextlib.suppress(OSError):
                if file == shm_of(path) or file.stat().st_size == 0:
                    file.unlink()


def _header_fault(path: Path, header: bytes) -> Refused | None:
    page = int.from_bytes(header[16:18], "big") or 65536
    page = 65536 if page == 1 else page
    if path.stat().st_size < page * int.from_bytes(header[28:32], "big"):
        return Refused(f"{path} is damaged: its end is missing. Open a copy of it instead.")
    if int.from_bytes(header[68:72], "big") != APPLICATION_ID:
        return Refused(f"{path} belongs to another program.")
    return None


def _sort_out(path: Path, header: bytes, newest_form: int) -> list[str]:
    """Puts what belongs to another book aside, and says so; not while somebody has it open."""
    wal = wal_of(path)
    with nobody_has(path) as free:
        if not free or not waits_beside(path):
            return []
        found = look_into(wal)
        if found.belongs_to(header) is False:
            return [foreign_words(path, put_aside(wal))]
    if inside_fault(path, newest_form, with_waiting=True):
        # By its stamp it may belong to the book; a book that is whole only without it says no.
        whole = not _header_fault(path, header)
        whole = whole and not inside_fault(path, newest_form, with_waiting=False)
        with nobody_has(path) as free:
            return [foreign_words(path, put_aside(wal))] if free and whole else []
    if found.beyond:
        kept = free_name(wal.with_name(f"{wal.name}-spoilt"))
        shutil.copy2(wal, kept)
        last = f"the last {found.beyond}" if found.beyond > 1 else "the last one"
        return [
            f"Of the changes that waited beside {path.name} {last} cannot be read: the writing "
            "was cut off, or the file was damaged. What could be read is in the book; the file is "
            f"kept as {kept.name}."
        ]
    return []


def foreign_words(path: Path, aside: Path) -> str:
    return (
        f"Beside {path.name} lay changes that belong to another book, or to this one as it was "
        f"before a copy was put over it. They were not used, and are kept as {aside.name}."
    )


def inside_fault(path: Path, newest_form: int, *, with_waiting: bool) -> Refused | None:
    """What is wrong inside a book as it lies, with or without the changes that wait beside it."""
    # Without waiting changes the file is read as it lies, which leaves no trace beside it.
    mode = "mode=ro" if with_waiting else "mode=ro&immutable=1"
    try:
        with _looking(f"{path.resolve().as_uri()}?{mode}") as found:
            if found.execute("PRAGMA application_id").fetchone()[0] != APPLICATION_ID:
                return Refused(f"{path} belongs to another program.")
            have = form_of(found.execute("PRAGMA user_version").fetchone()[0])
            if have > newest_form:
                return Refused(
                    f"{path} was written by a newer partsbench (its form is {have}, this program "
                    f"knows {newest_form}). It was not touched; use the newer program."
                )
            found.execute("SELECT count(*) FROM sqlite_master").fetchone()
            if path.stat().st_size <= CHECKED_AT_ONCE:
                said = found.execute("PRAGMA quick_check(1)").fetchone()[0]
                if said != "ok":
                    said = " ".join(said.split())
                    return Refused(f"{path} is damaged ({said}). Open a copy of it instead.")
    except (sqlite3.DatabaseError, UnicodeDecodeError) as error:
        if _cannot_be_looked_at(error):
            return None
        why = " ".join(str(error).split())
        return Refused(f"{path} is damaged ({why}). Open a copy of it instead.")
    return None


def _cannot_be_looked_at(error: Exception) -> bool:
    """Where nothing can be written beside a book, or another window is just tidying it up, the
    opening itself waits or finds another way in."""
    return (getattr(error, "sqlite_errorcode", 0) & 0xFF) in (
        sqlite3.SQLITE_CANTOPEN,
        sqlite3.SQLITE_READONLY,
        sqlite3.SQLITE_FULL,
        sqlite3.SQLITE_BUSY,
    )


@contextlib.contextmanager
def _looking(uri: str) -> Iterator[sqlite3.Connection]:
    with contextlib.closing(sqlite3.connect(uri, uri=True)) as connection:
        yield connection
