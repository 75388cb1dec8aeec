"""Books from before the sums get their tables; what stood in them stays; rows refuse nonsense."""

from __future__ import annotations

import sqlite3
from collections.abc import Mapping
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest

from partsbench.store import figures
from partsbench.store.book import Book, BookWriteError, open_book
from partsbench.store.journal import change, redo, undo
from partsbench.store.measuring import add_measuring
from partsbench.store.measuring_out import KEPT
from partsbench.store.schema import APPLICATION_ID, MIGRATIONS
from partsbench.store.waiting import form_of
from tests.store.conftest import NOW

BEFORE = [migrate for _, migrate in MIGRATIONS].index(add_measuring)
"""How many migrations a book has run that knows nothing of the sums."""


def old_book(path: Path) -> None:
    with closing(sqlite3.connect(path)) as db:
        for _, migrate in MIGRATIONS[:BEFORE]:
            migrate(db)
        db.execute(
            "INSERT INTO job (codename, created_at) VALUES ('Heron', '2026-03-14T09:30:00Z')"
        )
        db.execute(
            "INSERT INTO piece (job, tag, columns_mm, rows_mm, numbering, taken_in_at) "
            "VALUES (1, 'K7Q4', '[900]', '[200]', 'by row', '2026-03-14T09:30:00Z')"
        )
        db.execute(f"PRAGMA application_id = {APPLICATION_ID}")
        db.execute(f"PRAGMA user_version = {BEFORE}")
        db.commit()


@pytest.fixture
def brought_up(path: Path) -> Book:
    old_book(path)
    book = open_book(path)
    assert isinstance(book, Book), book
    return book


def test_an_older_book_gets_the_tables_and_keeps_its_rows(brought_up: Book, path: Path) -> None:
    with closing(brought_up) as book:
        assert [r["tag"] for r in book.rows("SELECT tag FROM piece")] == ["K7Q4"]
        for kept in KEPT:
            assert book.rows(f"SELECT * FROM {kept.table}") == []
        assert book.faults() == []
    copies = [f for f in path.parent.iterdir() if ".before-" in f.name]
    assert len(copies) == 1
    with closing(sqlite3.connect(copies[0])) as copy:
        assert form_of(copy.execute("PRAGMA user_version").fetchone()[0]) == BEFORE


SIZE = {"piece": 1, "family": "D", "number": 5, "what": "depth"}


def test_a_row_is_put_changed_undone_and_done_again(brought_up: Book) -> None:
    with closing(brought_up) as book:
        for mm in (400.0, 410.0):
            with change(book, "measured", NOW, "me", "K7Q4") as entry:
                figures.put(entry, "measured", SIZE, {"mm": mm, "typed": f"{mm:g}"})
        assert figures.sizes(book, 1)["D", 5]["depth"].mm == 410.0
        undo(book, NOW, "me")
        assert figures.sizes(book, 1)["D", 5]["depth"].mm == 400.0
        undo(book, NOW, "me")
        assert figures.sizes(book, 1) == {}
        redo(book, NOW, "me")
        assert figures.sizes(book, 1)["D", 5]["depth"].mm == 400.0


def test_dropping_tells_how_many_there_were(brought_up: Book) -> None:
    with closing(brought_up) as book, change(book, "measured", NOW, "me", "K7Q4") as entry:
        figures.put(entry, "measured", SIZE, {"mm": 400.0, "typed": "400"})
        assert figures.drop(entry, "measured", SIZE) == 1
        assert figures.drop(entry, "measured", SIZE) == 0


@pytest.mark.parametrize(
    ("table", "row"),
    [
        ("measured", SIZE | {"mm": 0, "typed": "0"}),
        ("measured", SIZE | {"mm": float("nan"), "typed": "x"}),
        ("measured", SIZE | {"mm": 400, "typed": "400", "piece": 77}),
        ("hole", {"piece": 1, "family": "D", "number": 1, "place": 1, "x_mm": -1, "y_mm": 2,
                  "typed": ""}),
        ("hours_corrected", {"piece": 1, "step": "x", "day": "d", "minutes": 2000}),
        ("orphan", {"piece": 1, "name": "x", "sizes": "{"}),
        ("tin", {"name": "x", "unit": "pints", "holds": 1, "holds_typed": ""}),
    ],
)  # fmt: skip
def test_the_tables_refuse_what_cannot_be(
    brought_up: Book, table: str, row: Mapping[str, Any]
) -> None:
    with closing(brought_up) as book:
        with (
            pytest.raises((sqlite3.IntegrityError, BookWriteError)),
            change(book, "spoilt", NOW, "me") as entry,
        ):
            entry.insert(table, row)
        assert book.rows(f"SELECT * FROM {table}") == []
