"""Each change of a recorded value is found and named, and so is what a reader stumbles over."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import pytest

from partsbench.core.outcomes import BookDamagedError
from partsbench.services.acts import bench, places
from partsbench.services.acts.history import redo, undo
from partsbench.services.books import clients, exchange, pieces
from partsbench.services.shop import Shop, open_shop
from partsbench.store import checking, devices
from partsbench.store.book import Book
from tests.store.conftest import NOW
from tests.support.at_bench import record
from tests.support.clock import SetClock
from tests.support.old_forms import as_before
from tests.support.shops import heron, shop_at


@pytest.fixture
def worked(shop: Shop) -> Shop:
    """A book with a piece, steps, movements, a client, and things undone and done again."""
    piece = pieces.lay_out(shop, "Heron", "2 2", pulls=1, legs=2, paths=[("paint", ["drawers"])])
    assert not isinstance(piece, pieces.Refused)
    record(shop, "D1", here=piece.tag)
    places.put(shop, "rack 2", ["D2"], here=piece.tag)
    clients.set_client(shop, piece.tag, name="Somebody", contact="by pigeon")
    bench.send_back(shop, "D1", "wash", "runs", here=piece.tag)
    undo(shop)
    redo(shop)
    undo(shop)
    record(shop, "D3", here=piece.tag)
    assert checking.faults(shop.book) == []
    return shop


def spoil(shop: Shop, sql: str) -> list[str]:
    """What the check finds after somebody wrote past the journal."""
    shop.book.connection.execute("PRAGMA foreign_keys = OFF")
    shop.book.connection.execute(sql)
    return checking.faults(shop.book)


@pytest.mark.parametrize(
    ("sql", "words"),
    [
        ("UPDATE mark SET at = '2026-03-15T09:30:00Z' WHERE id = 1",
         ["row 1 of mark", "at is “2026-03-15T09:30:00Z”", "recorded as “2031-03-04", "(entry 2"]),
        ("UPDATE part SET name = 'm' || name WHERE id = 2", ["row 2 of part", "name is"]),
        ("UPDATE client SET contact = 'by pidgin'", ["row 1 of client", "“by pigeon”"]),
        ("DELETE FROM movement", ["row 1 of movement was recorded and is not there"]),
        ("INSERT INTO job VALUES (9, 'Stray', '2026-03-14T09:30:00Z')",
         ["row 9 of job is in the book but not in its history"]),
        ("UPDATE journal SET sentence = 'Nothing happened' WHERE id = 2",
         ["entry 2 of the history is not as it was written", "“Nothing happened”"]),
        ("UPDATE journal SET at = '2026-03-14T09:30:01Z' WHERE id = 3", ["entry 3"]),
        ("UPDATE journal_row SET after = replace(after, 'wash', 'wush') WHERE tbl = 'mark'",
         ["entry", "is not as it was written"]),
        ("DELETE FROM journal_row WHERE journal = 2", ["entry 2 of the history"]),
        ("DELETE FROM journal WHERE id = 3", ["entry 4 of the history is not as it was"]),
        ("UPDATE mark SET at = 'noon' WHERE id = 1", ["at is “noon”, which is no time"]),
        ("UPDATE piece SET numbering = 'by moonlight'", ["by moonlight"]),
        ("UPDATE journal_row SET tbl = 'dreams' WHERE id = 1", ["a table “dreams”"]),
        ("UPDATE journal_row SET after = '{' WHERE id = 1", ["a row of its history"]),
        ("UPDATE journal SET undo_top = 99 WHERE id = 5", ["names entry 99, which is gone"]),
        ("UPDATE opening SET grid_column = 7 WHERE id = 1", ["row 1 of opening"]),
        ("DROP VIEW whereabouts", ["whereabouts is missing"]),
        ("CREATE TABLE recipes (id INTEGER PRIMARY KEY)", ["recipes does not belong"]),
    ],
)  # fmt: skip
def test_what_was_changed_past_the_journal_is_named(
    worked: Shop, sql: str, words: list[str]
) -> None:
    found = " | ".join(spoil(worked, sql))
    assert [w for w in words if w not in found] == [], found


def test_bytes_that_are_no_text_are_named(worked: Shop) -> None:
    found = spoil(worked, "UPDATE part SET note = CAST(x'ff41' AS TEXT) WHERE id = 3")
    assert found == ["row 3 of part: note holds what is no text"] or (
        found[0] == "row 3 of part: note holds what is no text"
    )


def test_undo_of_a_row_that_is_not_as_recorded_changes_nothing_and_says_so(worked: Shop) -> None:
    worked.book.connection.execute("DELETE FROM mark WHERE id = (SELECT max(id) FROM mark)")
    before = [tuple(r) for r in worked.book.rows("SELECT * FROM journal")]
    with pytest.raises(BookDamagedError, match="row 10 of mark is not as its history says"):
        undo(worked)
    assert [tuple(r) for r in worked.book.rows("SELECT * FROM journal")] == before


def test_a_lost_entry_below_an_undo_is_told(worked: Shop) -> None:
    book = worked.book
    book.connection.execute("PRAGMA foreign_keys = OFF")
    book.connection.execute("DELETE FROM journal WHERE id = (SELECT undo_top FROM journal "
                            "ORDER BY id DESC LIMIT 1)")  # fmt: skip
    # The latest entry went with it; what lies below names one that is there.
    book.connection.execute("UPDATE journal SET undo_top = 77")
    with pytest.raises(BookDamagedError, match="entry 77 of its history is not there"):
        undo(worked)


def test_a_forgotten_client_leaves_a_sound_chain(worked: Shop) -> None:
    tag = pieces.pieces(worked)[0].tag
    clients.forget_client(worked, tag)
    assert checking.faults(worked.book) == []


def test_what_was_taken_in_is_chained_with_its_history(
    worked: Shop, tmp_path: Path, clock: SetClock
) -> None:
    tag = pieces.pieces(worked)[0].tag
    text = exchange.export(worked, tag)
    assert isinstance(text, str)
    other = open_shop(tmp_path / "other.partsbench", clock, "Finch")
    assert isinstance(other, Shop)
    assert not isinstance(exchange.take_in_export(other, text, "x"), exchange.Refused)
    record(other, "D4", here=tag)
    assert checking.faults(other.book) == []
    found = spoil(other, "UPDATE journal SET who = 'Nobody' WHERE id = 2")
    assert "entry 2 of the history is not as it was written" in found[0]
    other.close()


def test_a_book_of_before_is_chained_as_it_stands(tmp_path: Path, worked: Shop) -> None:
    """The form before the chain: all that was in the journal is under it after the migration."""
    copy, old = tmp_path / "copy.partsbench", tmp_path / "old.partsbench"
    assert worked.book.save_copy(copy) is None
    was = [r["chain"] for r in worked.book.rows("SELECT chain FROM journal ORDER BY id")]
    as_before(copy, "chain of the journal", old)
    opened = open_shop(old)
    assert isinstance(opened, Shop)
    assert [r["chain"] for r in opened.book.rows("SELECT chain FROM journal ORDER BY id")] == was
    assert checking.faults(opened.book) == []
    opened.close()


def test_a_check_of_an_unreadable_book_tells_and_ends(worked: Shop, book_path: Path) -> None:
    worked.close()
    pages = bytearray(book_path.read_bytes())
    with closing(sqlite3.connect(book_path)) as look:
        root = look.execute("SELECT rootpage FROM sqlite_master WHERE name = 'mark'").fetchone()[0]
    pages[(root - 1) * 4096 : root * 4096] = b"\xa5" * 4096
    book_path.write_bytes(pages)
    connection = sqlite3.connect(book_path, isolation_level=None)
    connection.row_factory = sqlite3.Row
    found = checking.faults(Book(connection, book_path))
    assert found
    connection.close()


@pytest.fixture
def book_path(shop: Shop) -> Path:
    return shop.book.path


def test_a_book_of_before_shows_where_its_clock_was_set(tmp_path: Path) -> None:
    """The breaks that an old journal holds are found when its form is brought up to date."""
    clock = SetClock()
    worked = shop_at(tmp_path / "b.partsbench", clock, "Wren")
    piece = heron(worked)
    right = clock.now
    clock.now = datetime(2000, 1, 1, tzinfo=UTC)
    record(worked, "D1", here=piece.tag)
    clock.now = right
    record(worked, "D3", here=piece.tag)
    sets = "SELECT id FROM journal WHERE clock_set = 1 ORDER BY id"
    was = [r["id"] for r in worked.book.rows(sets)]
    assert len(was) == 2
    worked.close()
    old = tmp_path / "old.partsbench"
    as_before(worked.book.path, "runs of the clock", old)
    again = shop_at(old, clock, "Wren")
    assert [r["id"] for r in again.book.rows(sets)] == was
    assert checking.faults(again.book) == []
    again.book.connection.execute("UPDATE journal SET clock_set = 0 WHERE id = ?", (was[0],))
    assert any("whether the clock was set" in f for f in checking.faults(again.book))
    again.close()


def test_devices_are_no_part_of_the_history_and_yet_read(worked: Shop) -> None:
    devices.pair(worked.book, "telephone", "Wren", "ab" * 32, NOW)
    assert checking.faults(worked.book) == []
    found = spoil(worked, "UPDATE device SET paired_at = 'noon'")
    assert "paired_at is “noon”, which is no time" in found[0]


def test_json_that_is_none_is_damage_wherever_it_is_asked_for(worked: Shop) -> None:
    worked.book.connection.execute("UPDATE journal_row SET after = 'x' WHERE after <> ''")
    with pytest.raises(BookDamagedError, match="malformed JSON"):
        worked.book.rows("SELECT json_extract(after, '$.id') FROM journal_row")
