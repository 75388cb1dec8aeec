"""Rows: the day that a piece is promised for; and the plan that was shown last, to go on from."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from partsbench.store.book import Book
from partsbench.store.journal import Change, text_time, time_text

COLUMNS = {"days": ("by", "worth")}


@dataclass(frozen=True, slots=True)
class PromiseRow:
    """A promise as the book has it: tag, until when, and what it is worth."""

    tag: str
    by: datetime
    worth: float


def promises(book: Book) -> list[PromiseRow]:
    """Every promise, the soonest first."""
    rows = book.rows(
        "SELECT tag, by, worth FROM promised JOIN piece ON piece.id = promised.piece "
        "ORDER BY by, tag"
    )
    return [PromiseRow(r["tag"], text_time(r["by"]), r["worth"]) for r in rows]


def show(book: Book, at: datetime, plan: str) -> None:
    """Keep the plan that was shown. It is worked out from the records, so that it is no record
    itself: it stands in no history and is not undone."""
    with book.transaction() as db:
        db.execute(
            "INSERT INTO plan_shown VALUES (1, ?, ?) ON CONFLICT (id) DO UPDATE SET "
            "at = excluded.at, plan = excluded.plan",
            (time_text(at), plan),
        )
        book.wrote("plan_shown")


def shown(book: Book) -> tuple[datetime, str] | None:
    """The plan that was shown last, and when it was made; None when there is none."""
    row = book.row("SELECT at, plan FROM plan_shown")
    return None if row is None else (text_time(row["at"]), row["plan"])


def exported(book: Book, piece: int) -> dict[str, Any]:
    """The promise of a piece: one row, or none."""
    rows = book.rows("SELECT by, worth FROM promised WHERE piece = ?", (piece,))
    return {"days": [{"by": r["by"], "worth": r["worth"]} for r in rows]}


def take_in(change: Change, book: Book, piece: int, doc: Mapping[str, Any]) -> None:
    """ValueError for a time that is none."""
    for row in doc["days"]:
        text_time(row["by"])
    rows = [{"piece": piece, **{c: r[c] for c in COLUMNS["days"]}} for r in doc["days"]]
    change.insert_all("promised", rows)
