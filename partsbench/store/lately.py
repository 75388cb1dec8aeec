"""What was recorded lately in the whole shop, whatever the piece."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from partsbench.core.piece.codes import Family, short_number
from partsbench.store.book import Book
from partsbench.store.journal import text_time, time_text


@dataclass(frozen=True, slots=True)
class RecentStep:
    """A step recorded lately, of any piece."""

    tag: str
    codename: str
    part: str
    face: str
    path: str
    step: str
    at: datetime


def batches(
    book: Book, since: datetime, until: datetime
) -> list[tuple[RecentStep, tuple[str, ...]]]:
    """Steps done in that time, of all pieces, oldest first: each part once for what was recorded
    of it at one moment, on its last face, and the names of all of them."""
    return [
        (_seen(r), tuple(r["faces"].split("\n")))
        for r in book.rows(
            "SELECT tag, codename, family, part.number, face.name, path, step, mark.at, "
            "group_concat(face.name, char(10)) AS faces, max(mark.id) FROM mark "
            "JOIN face ON face.id = mark.face JOIN part ON part.id = face.part "
            "JOIN piece ON piece.id = part.piece JOIN job ON job.id = piece.job "
            "WHERE mark.at >= ? AND mark.at <= ? AND mark.kind = 'done' "
            "GROUP BY mark.at, part.id, step ORDER BY mark.at, min(mark.id)",
            (time_text(since), time_text(until)),
        )
    ]


def newest_marks(
    book: Book, steps: Collection[str], since: datetime, until: datetime
) -> list[RecentStep]:  # fmt: skip
    """When each of these steps was last done on each part in that time, path by path (face "")."""
    asked = ",".join("?" * len(steps))
    return [
        _seen(r)
        for r in book.rows(
            "SELECT tag, codename, family, part.number, '' AS name, path, step, max(mark.at) AS at "
            "FROM mark JOIN face ON face.id = mark.face JOIN part ON part.id = face.part "
            "JOIN piece ON piece.id = part.piece JOIN job ON job.id = piece.job "
            "WHERE mark.at >= ? AND mark.at <= ? AND mark.kind = 'done' "
            f"AND step IN ({asked}) GROUP BY part.id, path, step",
            (time_text(since), time_text(until), *steps),
        )
    ]


def was_done(book: Book, tag: str, step: str, since: datetime, until: datetime) -> bool:
    """True when a step was done in that time on any face of a piece."""
    row = book.row(
        "SELECT 1 FROM mark JOIN face ON face.id = mark.face JOIN part ON part.id = face.part "
        "JOIN piece ON piece.id = part.piece WHERE mark.at >= ? AND mark.at <= ? "
        "AND mark.kind = 'done' AND step = ? AND tag = ? LIMIT 1",
        (time_text(since), time_text(until), step, tag),
    )
    return row is not None


def newest_of(
    book: Book, steps: Collection[str], since: datetime, until: datetime
) -> datetime | None:
    """When one of these steps was last done in that time, on any piece."""
    asked = ",".join("?" * len(steps))
    row = book.row(
        f"SELECT at FROM mark WHERE at >= ? AND at <= ? AND kind = 'done' AND step IN ({asked}) "
        "ORDER BY at DESC LIMIT 1",
        (time_text(since), time_text(until), *steps),
    )
    return text_time(row["at"]) if row else None


def _seen(row: Any) -> RecentStep:
    return RecentStep(
        row["tag"],
        row["codename"],
        short_number(Family(row["family"]), row["number"]),
        row["name"],
        row["path"],
        row["step"],
        text_time(row["at"]),
    )
