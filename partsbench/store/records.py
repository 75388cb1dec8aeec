"""What was done and where things are: marks, movements, fit results and printed labels."""

from __future__ import annotations

import functools
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from typing import Any

from partsbench.core.piece.codes import Family, short_number
from partsbench.store.book import Book
from partsbench.store.journal import Change, text_time, time_text

SCANNED = "scanned"
"""How a movement was told, unless it says otherwise."""


@dataclass(frozen=True, slots=True)
class StoredMark:
    """A step recorded on a face. `kind` is done, skipped or sent back."""

    id: int
    part: str
    face: str
    step: str
    kind: str
    at: datetime
    who: str
    note: str
    insisted: bool = False
    cup: int = 0
    """Row id of the cup that was used, 0 for none."""
    doubt: str = ""
    """Why its time may be wrong, where the clock was; not stored."""
    contradicted: bool = False
    """Another record speaks against it."""


class MoveKind(StrEnum):
    """What a movement did: out of the piece, home into it, or to a place in the shop."""

    OUT = "out"
    HOME = "home"
    PLACE = "place"


@dataclass(frozen=True, slots=True)
class PartMove:
    """A part that moved. `home` is the number of the home it went into, 0 when none."""

    id: int
    part: str
    kind: MoveKind
    place: str
    home: int
    how: str
    at: datetime
    who: str


@dataclass(frozen=True, slots=True)
class FitNoted:
    """How a part ran when it was back."""

    part: str
    result: str
    at: datetime
    who: str


def marks(book: Book, piece: int, part: int | None = None) -> list[StoredMark]:
    """Marks of a piece, or of one of its parts, in the order of recording."""
    where, value = ("part.id = ?", part) if part is not None else ("part.piece = ?", piece)
    return [
        _mark(r)
        for r in book.rows(
            "SELECT mark.*, family, number, face.name AS face_name "
            "FROM part JOIN face ON face.part = part.id JOIN mark ON mark.face = face.id "
            f"WHERE {where} ORDER BY mark.id",
            (value,),
        )
    ]


def movements(book: Book, piece: int, part: int | None = None) -> list[PartMove]:
    """Movements of a piece, or of one of its parts, in the order of recording."""
    where, value = ("part.id = ?", part) if part is not None else ("part.piece = ?", piece)
    return [
        _movement(r)
        for r in book.rows(
            "SELECT movement.*, family, number FROM part "
            f"JOIN movement ON movement.part = part.id WHERE {where} ORDER BY movement.id",
            (value,),
        )
    ]


def movement(book: Book, key: int) -> PartMove:
    """One movement by its row id."""
    found = book.row(
        "SELECT movement.*, family, number FROM movement "
        "JOIN part ON part.id = movement.part WHERE movement.id = ?",
        (key,),
    )
    assert found is not None, f"no movement {key}"
    return _movement(found)


def mark(book: Book, key: int) -> StoredMark:
    """One mark by its row id."""
    found = book.row(
        "SELECT mark.*, family, number, face.name AS face_name FROM mark "
        "JOIN face ON face.id = mark.face JOIN part ON part.id = face.part WHERE mark.id = ?",
        (key,),
    )
    assert found is not None, f"no mark {key}"
    return _mark(found)


def latest(book: Book, tag: str, part: int) -> tuple[str, list[int]] | None:
    """Table and row ids of what was last recorded of a part: marks or a movement that stand."""
    for entry in book.rows(
        "SELECT DISTINCT journal.id FROM journal JOIN journal_row ON journal_row.journal = "
        "journal.id WHERE tag = ? AND tbl IN ('mark', 'movement') ORDER BY journal.id DESC",
        (tag,),
    ):
        for table, owner in (
            ("movement", "SELECT id FROM movement WHERE part = ?"),
            ("mark", "SELECT mark.id FROM mark JOIN face ON face.id = mark.face WHERE part = ?"),
        ):
            rows = book.rows(
                f"SELECT row FROM journal_row WHERE journal = ? AND tbl = ? AND row IN ({owner})",
                (entry["id"], table, part),
            )
            if rows:
                return table, [r["row"] for r in rows]
    return None


def fits(book: Book, piece: int) -> dict[str, FitNoted]:
    """The latest fit result of each part that has one."""
    return {
        _short(r): FitNoted(_short(r), r["result"], text_time(r["at"]), r["who"])
        for r in book.rows(
            "SELECT fit.*, family, number FROM part JOIN fit ON fit.part = part.id "
            "WHERE part.piece = ? ORDER BY fit.id",
            (piece,),
        )
    }


def printed(book: Book, piece: int, family: Family, number: int) -> dict[str, datetime]:
    """When each generation of one label was first printed."""
    return {
        r["generation"]: text_time(r["printed_at"])
        for r in book.rows(
            "SELECT generation, printed_at FROM label WHERE piece = ? AND family = ? "
            "AND number = ? ORDER BY generation",
            (piece, family.value, number),
        )
    }


def labels_printed(book: Book, piece: int) -> set[tuple[Family, int, str]]:
    return {
        (Family(r["family"]), r["number"], r["generation"])
        for r in book.rows("SELECT family, number, generation FROM label WHERE piece = ?", (piece,))
    }


def add_labels(
    change: Change, piece: int, labels: Iterable[tuple[Family, int, str]], at: datetime
) -> None:
    change.insert_all(
        "label",
        [
            {
                "piece": piece,
                "family": family.value,
                "number": number,
                "generation": generation,
                "printed_at": time_text(at),
            }
            for family, number, generation in labels
        ],
    )


def add_marks(
    change: Change,
    faces: Sequence[int],
    *,
    step: str,
    kind: str,
    at: datetime,
    who: str,
    note: str = "",
    insisted: bool = False,
    cup: int | None = None,
    load: int | None = None,
) -> None:
    """A mark on each of the faces (row ids); `cup` and `load` are row ids too."""
    change.insert_all(
        "mark",
        [
            {
                "face": face,
                "step": step,
                "kind": kind,
                "insisted": int(insisted),
                "at": time_text(at),
                "who": who,
                "note": note,
                "cup": cup,
                "load": load,
            }
            for face in faces
        ],
    )


def add_movements(
    change: Change,
    parts: Sequence[int],
    *,
    kind: MoveKind,
    at: datetime,
    who: str,
    place: str = "",
    home: int = 0,
    how: str = SCANNED,
) -> None:
    change.insert_all(
        "movement",
        [
            {
                "part": part,
                "kind": kind.value,
                "place": place,
                "home": home,
                "how": how,
                "at": time_text(at),
                "who": who,
            }
            for part in parts
        ],
    )


def add_fit(change: Change, part: int, result: str, at: datetime, who: str) -> None:
    change.insert("fit", {"part": part, "result": result, "at": time_text(at), "who": who})


def part_ids(book: Book, piece: int) -> dict[str, int]:
    """Short number → row id of all parts of a piece."""
    return {
        _short(r): r["id"]
        for r in book.rows("SELECT id, family, number FROM part WHERE piece = ?", (piece,))
    }


def old_marks(book: Book, mark: str) -> list[tuple[str, str, str]]:
    """(tag, codename, short number) of the parts that an earlier owner marked so."""
    return [
        (r["tag"], r["codename"], _short(r))
        for r in book.rows(
            "SELECT tag, codename, family, number FROM part JOIN piece ON piece.id = part.piece "
            "JOIN job ON job.id = piece.job WHERE old_mark = ? COLLATE NOCASE ORDER BY piece.id",
            (mark,),
        )
    ]


def places(book: Book) -> list[str]:
    """Names of places used so far, the latest first."""
    return [
        r["place"]
        for r in book.rows(
            "SELECT place, max(id) AS latest FROM movement WHERE place <> '' "
            "GROUP BY place COLLATE NOCASE ORDER BY latest DESC LIMIT 50"
        )
    ]


def _mark(row: Any) -> StoredMark:
    return StoredMark(
        row["id"],
        _short(row),
        row["face_name"],
        row["step"],
        row["kind"],
        text_time(row["at"]),
        row["who"],
        row["note"],
        bool(row["insisted"]),
        row["cup"] or 0,
    )


def _movement(row: Any) -> PartMove:
    return PartMove(
        row["id"],
        _short(row),
        MoveKind(row["kind"]),
        row["place"],
        row["home"],
        row["how"],
        text_time(row["at"]),
        row["who"],
    )


def _short(row: Any) -> str:
    return _short_of(row["family"], row["number"])


@functools.cache
def _short_of(family: str, number: int) -> str:
    return short_number(Family(family), number)
