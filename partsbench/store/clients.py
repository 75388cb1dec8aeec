"""Who a job is for: the only personal data in a book, kept in one table and deletable for good."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime

from partsbench.store.book import Book
from partsbench.store.forgetting import CLIENT_FIELDS
from partsbench.store.journal import change


def get(book: Book, codename: str) -> dict[str, str]:
    row = book.row(
        "SELECT client.* FROM client JOIN job ON job.id = client.job WHERE codename = ?",
        (codename,),
    )
    return {} if row is None else {field: row[field] for field in CLIENT_FIELDS}


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
