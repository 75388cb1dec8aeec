"""Deleting for good: out of the rows, out of the journal, out of the bytes, and proven by reading.

SQLite leaves what was deleted in free pages and in the file of waiting changes. So the book is
written anew and both files are read, byte by byte, for what was deleted.
"""

from __future__ import annotations

import contextlib
import json
import sqlite3
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Final

from partsbench import files
from partsbench.store.book import Book
from partsbench.store.journal import forget_undo
from partsbench.store.schema import APPLICATION_ID
from partsbench.store.waiting import wal_of

CLIENT_FIELDS: Final = ("name", "contact", "address", "note")
SHORTEST: Final = 4
"""Bytes; what is shorter stands in any file by chance."""
BOTH_READ: Final = "another window or command is reading the book"
_MOST_FILES: Final = 1000
_CHUNK: Final = 1 << 20
_MAGIC: Final = b"SQLite format 3\0"


@dataclass(frozen=True, slots=True)
class Forgotten:
    """What became of a deletion.

    left: why bytes of it may still lie in the book's files; "" when they were read and none does.
    copies: names of the books beside this one that still hold it. elsewhere: words of it that
    stand in other records too, which are no client's and were left.
    """

    left: str = ""
    copies: tuple[str, ...] = ()
    elsewhere: tuple[str, ...] = ()


def forget(
    book: Book, codename: str, at: datetime, who: str, tag: str, copies: Path | None = None
) -> Forgotten | None:
    """Deletes a client's row and every trace of it; None when there is none and never was.

    The change cannot be undone, and so nothing before it can: an undo would need what is gone.
    `copies` is where copies of the book go.
    """
    job = book.row("SELECT id FROM job WHERE codename = ?", (codename,))
    assert job is not None, f"no job {codename}"
    words = _words(book, job["id"])
    sentence = f"{codename}: client data deleted"
    if words is None:
        # What an earlier deletion had to leave is cleared when it is asked for again.
        was = book.row("SELECT 1 FROM journal WHERE kind = 'note' AND sentence = ?", (sentence,))
        return Forgotten(_written_anew(book)) if was else None
    book.connection.execute("PRAGMA secure_delete = ON")
    with book.transaction() as db:
        db.execute("DELETE FROM client WHERE job = ?", (job["id"],))
        db.execute(
            f"UPDATE journal_row SET before = NULL, after = NULL WHERE id IN ({_TRACES})",
            (job["id"],),
        )
        forget_undo(book, sentence, at, who, tag)
    elsewhere = tuple(w for w in words if _stands(book, w))
    form = " ".join(r["sql"] for r in book.rows("SELECT sql FROM sqlite_master WHERE sql <> ''"))
    gone = [b for w in words if w not in elsewhere and w not in form for b in _forms(w)]
    why = _written_anew(book)
    left = why
    if gone:
        left = (why or BOTH_READ) if _holds(_bytes_of(book), gone) else ""
    return Forgotten(left, tuple(_copies(book, gone, copies)), elsewhere)


_TRACES = (
    "SELECT id FROM journal_row WHERE tbl = 'client' "
    "AND json_extract(coalesce(after, before), '$.job') = ?"
)


def _words(book: Book, job: int) -> list[str] | None:
    """All that was ever noted of the client of a job, each once; None when nothing was."""
    row = book.row("SELECT * FROM client WHERE job = ?", (job,))
    traces = book.rows(f"SELECT before, after FROM journal_row WHERE id IN ({_TRACES})", (job,))
    noted = [dict(row)] if row else []
    noted += [json.loads(text) for t in traces for text in (t["before"], t["after"]) if text]
    if not noted:
        return None
    return list(dict.fromkeys(n[f] for n in noted for f in CLIENT_FIELDS if n.get(f)))


def _forms(words: str) -> Iterator[bytes]:
    """The bytes by which words stand in a row, and in the journal's JSON."""
    for form in dict.fromkeys((words, json.dumps(words, ensure_ascii=False)[1:-1])):
        if len(form.encode()) >= SHORTEST:
            yield form.encode()


def _written_anew(book: Book) -> str:
    """Writes the book anew, without free pages and with nothing waiting; "" or why it was not."""
    try:
        for sql in ("PRAGMA wal_checkpoint(TRUNCATE)", "VACUUM", "PRAGMA wal_checkpoint(TRUNCATE)"):
            row = book.connection.execute(sql).fetchone()
        return BOTH_READ if row and row[0] else ""
    except sqlite3.Error as error:
        code = getattr(error, "sqlite_errorcode", 0) & 0xFF
        busy = code in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED)
        full = files.FULL if code == sqlite3.SQLITE_FULL else files.why_not_into(book.path.parent)
        return BOTH_READ if busy else full or "the disk could not be written"


def _bytes_of(book: Book) -> Iterator[bytes]:
    """Both files as they lie on the disk."""
    yield from book.raw()
    with contextlib.suppress(FileNotFoundError):
        yield from _pieces(wal_of(book.path))


def _pieces(file: Path) -> Iterator[bytes]:
    with file.open("rb") as opened:
        while piece := opened.read(_CHUNK):
            yield piece


def _holds(pieces: Iterable[bytes], wanted: list[bytes]) -> bool:
    """Whether any of these bytes stands in what is read piece by piece."""
    longest, tail = max(map(len, wanted), default=0), b""
    for piece in pieces:
        seen = tail + piece
        if any(w in seen for w in wanted):
            return True
        tail = seen[-longest:] if longest else b""
    return False


def _stands(book: Book, words: str) -> bool:
    """Whether the words stand in a record that is no client's."""
    for table in book.rows("SELECT name FROM sqlite_master WHERE type = 'table'"):
        columns = [c["name"] for c in book.rows(f'PRAGMA table_info("{table["name"]}")')
                   if c["type"] == "TEXT"]  # fmt: skip
        for column in columns:
            sql = f'SELECT 1 FROM "{table["name"]}" WHERE instr("{column}", ?) LIMIT 1'
            if any(book.row(sql, (form.decode(),)) for form in _forms(words)):
                return True
    return False


def _copies(book: Book, wanted: list[bytes], copies: Path | None) -> Iterator[str]:
    """Books, and what was put aside of one, in the same folder and among the copies that hold any
    of these bytes."""
    beside = book.path.absolute().parent
    mine = {beside / book.path.name, beside / wal_of(book.path).name}
    for folder in dict.fromkeys((beside, copies or beside)):
        with contextlib.suppress(OSError):
            for file in sorted(folder.iterdir())[:_MOST_FILES]:
                if file in mine or not wanted:
                    continue
                with contextlib.suppress(OSError):
                    if file.is_file() and _is_of_a_book(file) and _holds(_pieces(file), wanted):
                        yield file.name if folder == beside else str(file)


def _is_of_a_book(file: Path) -> bool:
    """A book of this program, or what waited beside one."""
    if "-wal" in file.name:
        return True
    with file.open("rb") as opened:
        header = opened.read(100)
    return header.startswith(_MAGIC) and int.from_bytes(header[68:72], "big") == APPLICATION_ID
