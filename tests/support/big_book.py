"""A book of ten years: hundreds of pieces and hundreds of thousands of records, made in one go.

`python -m tests.support.big_book FILE [PIECES] [RECORDS]`. Rows are those that the use cases
write, journal and all; they are put in by plain SQL, which takes seconds where the use cases
would take an hour.
"""

from __future__ import annotations

import json
import random
import sys
from datetime import UTC, datetime, timedelta
from pathlib import Path

from partsbench.core.piece.front import front_from_rows
from partsbench.core.piece.furnish import furnish
from partsbench.core.piece.parts import PAINT, STAIN
from partsbench.core.piece.piece import Piece
from partsbench.services.shop import Shop, open_shop
from partsbench.store import pieces as rows
from partsbench.store.book import Book
from partsbench.store.journal import change, time_text

START = datetime(2016, 3, 1, 8, tzinfo=UTC)
SHAPES = ((2, 2, 3), (3, 3, 3), (1, 2, 2, 2), (4,), (2, 3, 3, 3), (6,) * 10)


def make(path: Path, pieces: int = 500, records: int = 400_000) -> list[str]:
    """The tags of the pieces of a new book at `path`."""
    shop = open_shop(path)
    assert isinstance(shop, Shop), shop
    tags = [_take_in(shop, number) for number in range(pieces)]
    _record(shop.book, records)
    shop.book.connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    shop.close()
    return tags


def _take_in(shop: Shop, number: int) -> str:
    rng = random.Random(number)
    tag = _tag(number)
    front = front_from_rows(SHAPES[number % len(SHAPES)])
    piece = furnish(tag, f"Job {number}", front, legs=4, pulls=2, top=True)
    assert isinstance(piece, Piece)
    for part in piece.parts:
        piece = piece.with_part(part.with_path(rng.choice((PAINT, STAIN))))
    at = START + timedelta(days=number * 7)
    with change(shop.book, f"Took in {piece.codename}", at, "", tag) as entry:
        rows.add(entry, shop.book, piece, at)
    return tag


def _tag(number: int) -> str:
    letters = "ABCDEFGHJK"
    return f"{letters[number // 100 % 10]}{number // 10 % 10}{letters[number % 10]}7"


def _record(book: Book, records: int) -> None:
    """Marks and movements spread over all faces and parts, each with its journal entry."""
    faces = book.rows(
        "SELECT face.id, face.part, piece.tag FROM face JOIN part ON part.id = face.part "
        "JOIN piece ON piece.id = part.piece WHERE path IN (?, ?) ORDER BY piece.id",
        (PAINT, STAIN),
    )
    top = book.row("SELECT max(id) AS id FROM journal")["id"]
    count = 0
    with book.transaction():
        for face in _spread(faces, records):
            count += 1
            key = top + count
            at = time_text(START + timedelta(minutes=count * 10))
            if count % 5:
                table = "mark"
                row = {"face": face["id"], "step": "wash", "kind": "done", "insisted": 0,
                       "at": at, "who": "", "note": ""}  # fmt: skip
            else:
                table = "movement"
                row = {"part": face["part"], "kind": "place", "place": f"rack {count % 40}",
                       "home": 0, "how": "scanned", "at": at, "who": ""}  # fmt: skip
            marks = ",".join("?" * len(row))
            done = book.connection.execute(
                f"INSERT INTO {table} ({','.join(row)}) VALUES ({marks})", tuple(row.values())
            )
            book.connection.execute(
                "INSERT INTO journal (id, at, who, kind, sentence, tag, undo_top, undo_below) "
                "VALUES (?, ?, '', 'do', ?, ?, ?, ?)",
                (key, at, f"{face['tag']} {table} {count}", face["tag"], key, key - 1),
            )
            book.connection.execute(
                "INSERT INTO journal_row (journal, tbl, row, before, after) VALUES (?, ?, ?, ?, ?)",
                (key, table, done.lastrowid, None, json.dumps({"id": done.lastrowid, **row})),
            )


def _spread(faces: list, records: int) -> list:
    return [faces[i * len(faces) // records] for i in range(records)]


if __name__ == "__main__":
    print(*make(Path(sys.argv[1]), *(int(a) for a in sys.argv[2:]))[-3:])
