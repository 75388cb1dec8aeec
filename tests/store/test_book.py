"""A book is opened or refused with a reason, brought up to date, copied whole, written by one."""

from __future__ import annotations

import hashlib
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from partsbench.core.outcomes import Done, Refused
from partsbench.services.acts import history
from partsbench.services.books import exchange, pieces
from partsbench.services.shop import Shop
from partsbench.store import book as book_module
from partsbench.store.book import Book, BookDamagedError, BookWriteError, open_book
from partsbench.store.journal import change
from partsbench.store.schema import MIGRATIONS
from partsbench.store.waiting import form_of
from tests.store.conftest import NOW
from tests.support.at_bench import record
from tests.support.shops import heron, quill


def add_job(book: Book, codename: str) -> None:
    with change(book, f"Took in {codename}", NOW, "me") as entry:
        entry.insert("job", {"codename": codename, "created_at": "2026-03-14T09:30:00Z"})


def files_of(folder: Path) -> dict[str, str]:
    return {
        f.name: hashlib.sha256(f.read_bytes()).hexdigest() for f in folder.iterdir() if f.is_file()
    }


def refusal(path: Path) -> str:
    """The sentence of a refusal, after making sure that nothing in the folder was touched."""
    before = files_of(path.parent)
    found = open_book(path)
    assert isinstance(found, Refused)
    assert files_of(path.parent) == before
    return found.sentence


def test_a_new_book_keeps_every_promise_of_its_form(book: Book) -> None:
    assert book.row("PRAGMA journal_mode")[0] == "wal"
    assert book.row("PRAGMA synchronous")[0] == 2
    assert book.row("PRAGMA foreign_keys")[0] == 1
    assert book.faults() == []
    tables = book.rows("SELECT name, strict FROM pragma_table_list WHERE schema = 'main'")
    loose = [t["name"] for t in tables if not t["strict"] and not t["name"].startswith("sqlite_")]
    views = {r["name"] for r in book.rows("SELECT name FROM sqlite_master WHERE type = 'view'")}
    assert set(loose) == views


def test_a_book_opened_again_has_what_was_written(path: Path) -> None:
    first = open_book(path)
    assert isinstance(first, Book)
    add_job(first, "Heron")
    first.close()
    again = open_book(path)
    assert isinstance(again, Book)
    assert [r["codename"] for r in again.rows("SELECT codename FROM job")] == ["Heron"]
    again.close()


def test_a_text_file_is_refused_untouched(path: Path) -> None:
    path.write_text("this is a shopping list, not a book; " * 10)
    assert "not a book" in refusal(path)


def test_another_programs_file_is_refused_untouched(path: Path) -> None:
    with closing(sqlite3.connect(path)) as other:
        other.execute("CREATE TABLE recipes (name TEXT)")
        other.commit()
    assert "another program" in refusal(path)


def test_a_newer_book_is_refused_untouched(path: Path, book: Book) -> None:
    book.close()
    with closing(sqlite3.connect(path)) as newer:
        newer.execute(f"PRAGMA user_version = {len(MIGRATIONS) + 1}")
    assert "newer partsbench" in refusal(path)


def test_a_book_that_lost_its_end_is_refused_untouched(path: Path, book: Book) -> None:
    add_job(book, "Heron")
    book.close()
    path.write_bytes(path.read_bytes()[:-5000])
    assert "its end is missing" in refusal(path)


@pytest.mark.parametrize("page", [2, 5, 9])
def test_a_book_with_a_spoilt_page_is_refused_untouched(path: Path, book: Book, page: int) -> None:
    add_job(book, "Heron")
    book.close()
    spoilt = bytearray(path.read_bytes())
    spoilt[page * 4096 : (page + 1) * 4096] = b"\xa5" * 4096
    path.write_bytes(spoilt)
    assert "damaged" in refusal(path)


def test_a_folder_and_a_missing_folder_are_told(tmp_path: Path) -> None:
    assert "folder" in refusal(tmp_path)
    missing = open_book(tmp_path / "nowhere" / "book.partsbench")
    assert isinstance(missing, Refused)
    assert "There is no folder" in missing.sentence


def test_an_older_book_is_brought_up_to_date_and_a_copy_is_kept(
    path: Path, book: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    add_job(book, "Heron")
    book.close()
    added = ("colour of a job", _add_colour)
    monkeypatch.setattr(book_module, "MIGRATIONS", [*MIGRATIONS, added])
    now = open_book(path)
    assert isinstance(now, Book)
    assert now.row("SELECT codename, colour FROM job")["colour"] == "unpainted"
    now.close()
    kept = path.with_name(f"shop.before-{len(MIGRATIONS) + 1}.partsbench")
    with closing(sqlite3.connect(kept)) as copy:
        assert copy.execute("SELECT codename FROM job").fetchall() == [("Heron",)]
        assert form_of(copy.execute("PRAGMA user_version").fetchone()[0]) == len(MIGRATIONS)


def test_a_migration_that_fails_changes_nothing_and_says_where_the_copy_is(
    path: Path, book: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    add_job(book, "Heron")
    book.close()
    half = ("half done", _add_colour_and_fail)
    monkeypatch.setattr(book_module, "MIGRATIONS", [*MIGRATIONS, half])
    fault = open_book(path)
    assert isinstance(fault, Refused)
    assert f"before-{len(MIGRATIONS) + 1}" in fault.sentence
    monkeypatch.undo()
    again = open_book(path)
    assert isinstance(again, Book)
    assert "colour" not in again.row("SELECT * FROM job").keys()  # noqa: SIM118
    again.close()


def test_a_copy_is_whole_while_another_window_writes(path: Path, book: Book) -> None:
    other = open_book(path)
    assert isinstance(other, Book)
    add_job(other, "Heron")
    target = path.with_name("copy.partsbench")
    assert book.save_copy(target) is None
    copy = open_book(target)
    assert isinstance(copy, Book)
    assert [r["codename"] for r in copy.rows("SELECT codename FROM job")] == ["Heron"]
    for opened in (other, copy):
        opened.close()


def test_a_copy_never_goes_over_a_file(path: Path, book: Book) -> None:
    target = path.with_name("copy.partsbench")
    target.write_text("something dear")
    fault = book.save_copy(target)
    assert fault is not None
    assert "there already" in fault.sentence
    assert target.read_text() == "something dear"


def test_a_second_writer_waits_or_is_told_and_nothing_is_lost(path: Path, book: Book) -> None:
    other = open_book(path)
    assert isinstance(other, Book)
    other.connection.execute("PRAGMA busy_timeout = 10")
    with change(book, "Took in Heron", NOW, "me") as entry:
        entry.insert("job", {"codename": "Heron", "created_at": "2026-03-14T09:30:00Z"})
        with pytest.raises(BookWriteError, match="another window"):
            add_job(other, "Quill")
    add_job(other, "Quill")
    assert [r["codename"] for r in book.rows("SELECT codename FROM job")] == ["Heron", "Quill"]
    other.close()


def test_the_version_moves_when_another_window_wrote(path: Path, book: Book) -> None:
    other = open_book(path)
    assert isinstance(other, Book)
    before = book.version()
    add_job(other, "Heron")
    assert book.version() != before
    other.close()


def _add_colour(db: object) -> None:
    db.execute("ALTER TABLE job ADD COLUMN colour TEXT NOT NULL DEFAULT 'unpainted'")  # type: ignore[attr-defined]


def _add_colour_and_fail(db: object) -> None:
    _add_colour(db)
    db.execute("INSERT INTO no_such_table VALUES (1)")  # type: ignore[attr-defined]


def test_what_is_changed_together_is_changed_all_or_not_at_all(shop: Shop) -> None:
    """Several use cases inside, each with an entry of its own; one exception takes all back."""
    first = heron(shop)
    before = list(shop.book.connection.iterdump())
    with pytest.raises(KeyError), shop.all_or_nothing():
        quill(shop)
        record(shop, "D1", here=first.tag)
        raise KeyError("a bug, or bad input")
    assert list(shop.book.connection.iterdump()) == before
    with shop.all_or_nothing():
        quill(shop)
        record(shop, "D1", here=first.tag)
    assert len(history.history(shop)) == 3
    assert isinstance(history.undo(shop), Done)
    assert len(pieces.pieces(shop)) == 2
    assert exchange.check_book(shop) == []


def jobs(book: Book) -> list[str]:
    return [r["codename"] for r in book.rows("SELECT codename FROM job ORDER BY id")]


def test_one_reading_stays_one_until_a_change_begins_and_then_sees_what_others_wrote(
    path: Path, book: Book
) -> None:
    other = open_book(path)
    assert isinstance(other, Book)
    with book.one_reading():
        assert jobs(book) == []
        add_job(other, "Quill")
        assert jobs(book) == [], "no question is put twice"
        with change(book, "Took in Heron", NOW, "me") as entry:
            assert jobs(book) == ["Quill"], "a change stands on what there is"
            entry.insert("job", {"codename": "Heron", "created_at": "2026-03-14T09:30:00Z"})
        assert jobs(book) == ["Quill", "Heron"]
    other.close()


def test_within_one_reading_what_was_written_past_the_journal_is_read_anew(book: Book) -> None:
    with book.one_reading():
        add_job(book, "Heron")
        assert jobs(book) == ["Heron"]
        with book.transaction() as db:
            db.execute("UPDATE job SET codename = 'Quill'")
        assert jobs(book) == ["Quill"]


def test_within_one_reading_a_change_that_fails_is_not_remembered(book: Book) -> None:
    add_job(book, "Heron")
    with book.one_reading():
        with pytest.raises(ZeroDivisionError), book.transaction() as db:
            db.execute("UPDATE job SET codename = 'Quill'")
            jobs(book)  # what is read here goes with the change
            raise ZeroDivisionError
        assert jobs(book) == ["Heron"]


def test_letters_that_are_none_met_in_a_change_are_told_as_damage_and_nothing_is_changed(
    book: Book,
) -> None:
    add_job(book, "Heron")
    book.connection.execute("UPDATE job SET codename = CAST(x'ff' AS TEXT)")
    with pytest.raises(BookDamagedError, match="is damaged"), book.transaction() as db:
        db.execute("SELECT codename FROM job").fetchall()
    with pytest.raises(BookDamagedError, match="is damaged"):
        jobs(book)


def test_a_question_that_is_none_is_a_bug_and_no_damage(book: Book) -> None:
    with pytest.raises(sqlite3.OperationalError, match="no such table"):
        book.rows("SELECT * FROM no_such_table")
