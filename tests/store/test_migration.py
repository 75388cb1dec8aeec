"""A real book of the first form comes up to date with everything that was in it."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from partsbench.core.outcomes import Done
from partsbench.services.acts.history import history, redo, undo
from partsbench.services.heard import devices
from partsbench.services.known.state import piece_state
from partsbench.services.shop import Shop, open_shop
from partsbench.store import schema
from partsbench.store.book import Book, open_book
from partsbench.store.waiting import form_of
from tests.support.clock import SetClock

RECORDS = """
INSERT INTO job VALUES (1, 'Heron', '2026-01-05T09:00:00Z');
INSERT INTO piece VALUES (1, 1, 'K7Q4', 'tall chest', '[450, 450]', '[200]', 'by row', 1, '',
  '2026-01-05T09:00:00Z');
INSERT INTO opening VALUES (1, 1, 1, 'drawer', NULL, 0, 0, 1, 1);
INSERT INTO opening VALUES (2, 1, 2, 'drawer', NULL, 1, 0, 1, 1);
INSERT INTO part VALUES (1, 1, 'D', 1, '', '', 'opening', 1, '', '3', '', '', '', 0, 0, '');
INSERT INTO part VALUES (2, 1, 'D', 2, '', '', 'opening', 2, '', '', '', '', '', 0, 0, '');
INSERT INTO face VALUES (1, 1, 'front', 0, 'paint');
INSERT INTO face VALUES (2, 2, 'front', 0, 'stain');
INSERT INTO mark VALUES (1, 1, 'wash', 'done', 0, '2026-01-06T10:00:00Z', 'Wren', '');
INSERT INTO mark VALUES (2, 1, 'rinse', 'done', 0, '2026-01-06T10:05:00Z', 'Wren', 'twice');
INSERT INTO movement VALUES (1, 2, 'place', 'rack 2', 0, 'scanned', '2026-01-06T11:00:00Z', '');
INSERT INTO journal VALUES (1, '2026-01-06T10:05:00Z', 'Wren', 'do', NULL, 'Heron D1 rinsed',
  'K7Q4', 1, NULL, NULL, NULL);
INSERT INTO journal_row VALUES (1, 1, 'mark', 2, NULL, '{"id":2,"face":1,"step":"rinse",
  "kind":"done","insisted":0,"at":"2026-01-06T10:05:00Z","who":"Wren","note":"twice"}');
"""


@pytest.fixture
def old(tmp_path: Path) -> Path:
    """A book as the first form of the program wrote it."""
    path = tmp_path / "old.partsbench"
    with closing(sqlite3.connect(path)) as book:
        name, first = schema.MIGRATIONS[0]
        assert name.startswith("001")
        first(book)
        book.executescript(RECORDS)
        book.execute(f"PRAGMA application_id = {schema.APPLICATION_ID}")
        book.execute("PRAGMA user_version = 1")
        book.commit()
        assert book.execute("PRAGMA foreign_key_check").fetchall() == []
    return path


def opened(path: Path) -> Shop:
    shop = open_shop(path, SetClock(), "me")
    assert isinstance(shop, Shop), shop
    return shop


def test_everything_is_still_there_and_a_copy_from_before_too(old: Path) -> None:
    book = open_book(old)
    assert isinstance(book, Book)
    marks = [tuple(r) for r in book.rows("SELECT step, note, cup, load FROM mark ORDER BY id")]
    assert marks == [("wash", "", None, None), ("rinse", "twice", None, None)]
    assert form_of(book.row("PRAGMA user_version")[0]) == len(schema.MIGRATIONS)
    assert book.faults() == []
    book.close()
    (kept,) = old.parent.glob("*.before-*")
    with closing(sqlite3.connect(kept)) as copy:
        assert form_of(copy.execute("PRAGMA user_version").fetchone()[0]) == 1
        assert copy.execute("SELECT count(*) FROM mark").fetchone() == (2,)


def test_its_faces_stand_where_they_stood(old: Path) -> None:
    shop = opened(old)
    piece = shop.piece("K7Q4")
    assert piece is not None
    state = piece_state(shop, piece)
    front = state.of("D1").faces[0]
    assert front.progress.next is not None
    assert front.progress.next.key == "sand_150"
    assert state.of("D2").place == "rack 2"
    shop.close()


def test_a_record_of_before_is_undone_and_done_again(old: Path) -> None:
    shop = opened(old)
    shop.who = "Wren"
    assert isinstance(undo(shop), Done)
    assert shop.book.row("SELECT count(*) FROM mark")[0] == 1
    assert isinstance(redo(shop), Done)
    row = shop.book.row("SELECT step, note, cup FROM mark WHERE id = 2")
    assert tuple(row) == ("rinse", "twice", None)
    assert [e.kind for e in history(shop)] == ["redo", "undo", "do"]
    shop.close()


def test_tables_of_the_two_forms_hold_the_same(old: Path, tmp_path: Path) -> None:
    """A book brought up to date and one made new have the same tables, columns and views."""
    found = []
    for path in (old, tmp_path / "new.partsbench"):
        book = open_book(path)
        assert isinstance(book, Book)
        found.append(
            {
                r["name"]: [c["name"] for c in book.rows(f"PRAGMA table_info({r['name']})")]
                for r in book.rows("SELECT name FROM sqlite_master WHERE type IN ('table', 'view')")
            }
        )
        book.close()
    assert found[0] == found[1]


def test_devices_can_be_paired_with_a_book_of_the_first_form(old: Path) -> None:
    shop = opened(old)
    made = devices.pair(shop, "tablet", "Tarn")
    assert isinstance(made, devices.Paired)
    assert devices.known_device(shop, made.secret) == made.device
    assert devices.known_device(shop, made.secret[:-1]) is None
    assert [d.name for d in devices.all_devices(shop)] == ["tablet"]
    assert isinstance(devices.throw_out(shop, made.device.id), Done)
    assert devices.known_device(shop, made.secret) is None
    assert shop.book.faults() == []
    shop.close()
