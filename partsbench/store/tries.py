"""Rows: films that were tried, ready or not, for one of the six states."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Any

from partsbench.core.finish.own_readiness import Try
from partsbench.core.finish.products import Ready
from partsbench.core.piece.codes import Family, short_number
from partsbench.store.book import Book
from partsbench.store.journal import Change, text_time, time_text

MOST_READ = 400
"""The newest tries count: a shop changes, and an answer must not grow with its years."""

_READ = (
    "SELECT tried.*, family, number, part.piece AS piece FROM tried JOIN face ON "
    "face.id = tried.face JOIN part ON part.id = face.part"
)


def add_try(change: Change, face: int, tried: Try, who: str, note: str) -> None:
    """What was tried stays as it was said: its coat may be sent back, the try was made."""
    change.insert(
        "tried",
        {
            "face": face,
            "ready": tried.ready.value,
            "is_ready": int(tried.is_ready),
            "product": tried.product,
            "tin": tried.tin,
            "film_at": time_text(tried.film_at),
            "at": time_text(tried.at),
            "who": who,
            "note": note,
        },
    )


def newest(book: Book) -> tuple[Try, ...]:
    """The newest tries of the shop, of all pieces, oldest first; a part's number bears its piece's
    row."""
    return tuple(_try(r, f"{r['piece']} ") for r in reversed(_newest(book)))


def _newest(book: Book) -> list[Any]:
    return book.rows(f"{_READ} ORDER BY tried.id DESC LIMIT ?", (MOST_READ,))


def of_piece(book: Book, piece: int) -> tuple[Try, ...]:
    """The tries of a piece, oldest first."""
    rows = _newest(book)
    if len(rows) < MOST_READ:
        return tuple(_try(r) for r in reversed(rows) if r["piece"] == piece)
    rows = book.rows(f"{_READ} WHERE part.piece = ? ORDER BY tried.id", (piece,))
    return tuple(_try(r) for r in rows)


def of_marks(book: Book, marks: Sequence[int]) -> tuple[Try, ...]:
    """The tries of the parts whose faces bear these marks, oldest first."""
    if not marks:
        return ()
    held = ", ".join("?" * len(marks))
    rows = book.rows(
        f"{_READ} WHERE face.part IN (SELECT f.part FROM mark JOIN face AS f ON f.id = mark.face "
        f"WHERE mark.id IN ({held})) ORDER BY tried.id",
        tuple(marks),
    )
    return tuple(_try(r) for r in rows)


def _try(row: Any, before: str = "") -> Try:
    return Try(
        before + short_number(Family(row["family"]), row["number"]),
        Ready(row["ready"]),
        bool(row["is_ready"]),
        row["product"],
        row["tin"],
        text_time(row["film_at"]),
        text_time(row["at"]),
    )


OUT = ("family", "part", "face", "ready", "is_ready", "product", "tin", "film_at", "at", "who",
       "note")  # fmt: skip
COLUMNS = {"films": OUT}


def exported(book: Book, piece: int) -> dict[str, Any]:
    """The tries of a piece, their faces by part and name."""
    rows = book.rows(
        "SELECT tried.*, family, part.number AS part, face.name AS name FROM tried JOIN face ON "
        "face.id = tried.face JOIN part ON part.id = face.part WHERE part.piece = ? "
        "ORDER BY tried.id",
        (piece,),
    )
    return {"films": [{**{c: r[c] for c in OUT}, "face": r["name"]} for r in rows]}


def take_in(change: Change, book: Book, piece: int, doc: Mapping[str, Any]) -> None:
    """Puts the rows of a checked export in. ValueError for what cannot be."""
    for row in doc["films"]:
        Ready(row["ready"])
        if datetime.fromisoformat(row["at"]) < datetime.fromisoformat(row["film_at"]):
            raise ValueError("a film was tried before it was put on")
        face = book.row(
            "SELECT face.id FROM face JOIN part ON part.id = face.part WHERE part.piece = ? "
            "AND family = ? AND part.number = ? AND face.name = ?",
            (piece, row["family"], row["part"], row["face"]),
        )
        if face is None:
            number = f"{row['family']}{row['part']}"
            raise ValueError(f"there is no face {number} {row['face']}")
        plain = {c: row[c] for c in OUT if c not in ("family", "part", "face")}
        change.insert("tried", {"face": face["id"], **plain})
