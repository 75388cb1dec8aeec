"""Who a job is for: the only personal data in a book, kept in one table and deletable for good."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime

from partsbench.store.book import Book
from partsbench.store.journal import change, forget_undo

FIELDS = ("name", "contact", "address", "note")


def get(book: Book, codename: str) -> dict[str, str]:
    row = book.row(
        "SELECT client.* FROM client JOIN job ON job.id = client.job WHERE codename = ?",
        (codename,),
    )
    return {} if row is None else {field: row[field] for field in FIELDS}


def put(
    book: Book, codename: str, values: Mapping[str, str], at: datetime, who: str, tag: str
) -> None:
    with change(book, f"{codename}: client noted", at, who, tag) as entry:
        job = book.row("SELECT id FROM job WHERE codename = ?", (codename,))
        assert job is not None, f"no job {codename}"
        have = book.row("SELECT id FROM client WHERE job = ?", (job["id"],))
        if have:
            entry.update("client", have["id"], values)
        else:
            entry.insert("client", {"job": job["id"], **values})


def forget(book: Book, codename: str, at: datetime, who: str, tag: str) -> bool:
    """Deletes a client's row and every trace of it in the journal; False when there is none.

    The change cannot be undone, and so nothing before it can: an undo would need what is gone.
    """
    row = book.row(
        "SELECT client.id FROM client JOIN job ON job.id = client.job WHERE codename = ?",
        (codename,),
    )
    traces = book.row(
        "SELECT 1 FROM journal_row WHERE tbl = 'client' AND (before IS NOT NULL OR after IS NOT "
        "NULL) AND journal IN (SELECT id FROM journal WHERE tag = ?)",
        (tag,),
    )
    if row is None and traces is None:
        return False
    with book.transaction() as db:
        if row is not None:
            db.table("client").delete(row["id"])
        book.connection.execute(
            "UPDATE journal_row SET before = NULL, after = NULL WHERE tbl = 'client' "
            "AND journal IN (SELECT id FROM journal WHERE tag IN (SELECT tag FROM piece "
            "JOIN job ON job.id = piece.job WHERE codename = ?))",
            (codename,),
        )
        forget_undo(book, f"{codename}: client data deleted", at, who, tag)
    # What was deleted still lies in free pages and in the log until they are written over.
    book.connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    book.connection.execute("VACUUM")
    return True
