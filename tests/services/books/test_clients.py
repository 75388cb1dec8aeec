"""A client's data can be deleted for good while the history of the parts stays."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from partsbench.core.outcomes import Done, HalfDone, Refused
from partsbench.core.piece.piece import Piece
from partsbench.services.acts import history
from partsbench.services.books import clients, copies, exchange, pieces
from partsbench.services.shop import Shop
from partsbench.store.forgetting import _holds
from tests.support.at_bench import record
from tests.support.shops import heron, quill

SECRET = "Quince-Tree-Lane-7"


def test_deleted_data_is_in_no_byte_of_the_book(shop: Shop, book_path: Path) -> None:
    piece = heron(shop)
    record(shop, "D1", here=piece.tag)
    clients.set_client(shop, piece.tag, name="N. Example", address="first")
    clients.set_client(shop, piece.tag, name="N. Example", address=SECRET)
    assert clients.client_of(shop, "Heron")["address"] == SECRET
    assert isinstance(clients.forget_client(shop, piece.tag), Done)
    assert clients.client_of(shop, "Heron") == {}
    shop.book.connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    for file in book_path.parent.iterdir():
        assert SECRET.encode() not in file.read_bytes(), file.name
    sentences = [e.sentence for e in history.history(shop)]
    assert sentences[0] == "Heron: client data deleted"
    assert any("D1 washed" in s for s in sentences)


def test_nothing_before_the_deletion_can_be_undone(shop: Shop) -> None:
    piece = heron(shop)
    clients.set_client(shop, piece.tag, name="N. Example")
    clients.forget_client(shop, piece.tag)
    assert isinstance(history.undo(shop), Refused)
    record(shop, "D1", here=piece.tag)
    assert isinstance(history.undo(shop), Done)
    assert isinstance(history.undo(shop), Refused)


def test_a_client_that_was_undone_is_still_wiped_from_the_journal(
    shop: Shop, book_path: Path
) -> None:
    piece = heron(shop)
    clients.set_client(shop, piece.tag, name="N. Example", address=SECRET)
    history.undo(shop)
    assert isinstance(clients.forget_client(shop, piece.tag), Done)
    shop.book.connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    assert SECRET.encode() not in book_path.read_bytes()


def test_no_client_is_told(shop: Shop) -> None:
    assert isinstance(clients.forget_client(shop, heron(shop).tag), Refused)


def raw(book_path: Path) -> bytes:
    """Both files of a book as they lie."""
    wal = book_path.with_name(f"{book_path.name}-wal")
    return book_path.read_bytes() + (wal.read_bytes() if wal.exists() else b"")


def noted(shop: Shop) -> Piece:
    piece = heron(shop)
    for place in range(20):
        clients.set_client(shop, piece.tag, name="N. Example", address=f"{SECRET}\nline {place}")
    return piece


def test_the_tag_of_the_twin_deletes_as_well(shop: Shop, book_path: Path) -> None:
    """One job, two pieces: the client is that of both."""
    piece = noted(shop)
    twin = pieces.mirror(shop, piece.tag)
    assert isinstance(twin, Piece)
    history.undo(shop)
    history.redo(shop)
    assert isinstance(clients.forget_client(shop, twin.tag), Done)
    assert SECRET.encode() not in raw(book_path)
    assert isinstance(clients.forget_client(shop, heron_of_another(shop)), Refused)


def heron_of_another(shop: Shop) -> str:
    return quill(shop).tag


def test_a_client_of_another_job_stays(shop: Shop) -> None:
    piece, other = noted(shop), quill(shop)
    clients.set_client(shop, other.tag, name="N. Example", address="elsewhere")
    said = clients.forget_client(shop, piece.tag)
    assert isinstance(said, Done)
    assert "“N. Example” stands in other records too" in said.sentence
    assert clients.client_of(shop, "Quill")["name"] == "N. Example"
    assert SECRET not in said.sentence


def test_while_another_reads_it_is_not_said_to_be_wiped(shop: Shop, book_path: Path) -> None:
    piece = noted(shop)
    with closing(sqlite3.connect(book_path, isolation_level=None)) as reader:
        reader.execute("BEGIN")
        reader.execute("SELECT count(*) FROM mark").fetchone()
        said = clients.forget_client(shop, piece.tag)
        assert isinstance(said, HalfDone)
        assert "another window or command is reading" in said.sentence
        assert SECRET.encode() in raw(book_path)
        assert clients.client_of(shop, "Heron") == {}
        reader.execute("COMMIT")
    again = clients.forget_client(shop, piece.tag)
    assert isinstance(again, Done) and not isinstance(again, HalfDone)
    assert SECRET.encode() not in raw(book_path)
    assert exchange.check_book(shop) == []


def test_on_a_full_disk_it_is_told_and_done_once_there_is_room(
    shop: Shop, book_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """SQLite itself says that the disk is full: the book may not grow by a page."""
    piece = noted(shop)
    pages = shop.book.connection.execute("PRAGMA page_count").fetchone()[0]
    shop.book.connection.execute(f"PRAGMA max_page_count = {pages}")
    temp = shop.book.connection.execute("PRAGMA temp_store_directory").fetchone()
    assert temp is None or temp
    said = clients.forget_client(shop, piece.tag)
    assert isinstance(said, Done | HalfDone)
    wiped = SECRET.encode() not in raw(book_path)
    assert wiped is isinstance(said, Done)
    shop.book.connection.execute("PRAGMA max_page_count = 1000000")
    assert isinstance(clients.forget_client(shop, piece.tag), Done)
    assert SECRET.encode() not in raw(book_path)


def test_copies_beside_the_book_are_named(shop: Shop, book_path: Path) -> None:
    piece = heron(shop)
    shop.book.save_copy(book_path.with_name("before.partsbench"))
    clients.set_client(shop, piece.tag, name="N. Example", address=SECRET)
    shop.book.save_copy(book_path.with_name("copy.partsbench"))
    folder = book_path.parent / "copies"
    folder.mkdir()
    assert isinstance(copies.choose_folder(shop, folder), Done)
    kept = copies.kept(shop)[0].path
    aside = book_path.with_name(f"{book_path.name}-wal-put-aside")
    aside.write_bytes(b"\0" * 5000 + SECRET.encode())
    book_path.with_name("letter.txt").write_text(SECRET, encoding="utf-8")
    said = clients.forget_client(shop, piece.tag)
    assert isinstance(said, Done)
    assert f"Other books still hold them: {aside.name}, copy.partsbench, {kept}." in said.sentence
    assert "Copies that were saved before keep them" in said.sentence


def test_what_stands_across_two_pieces_that_are_read_is_found() -> None:
    assert _holds([b"..Quin", b"ce-Tree.."], [b"Quince-Tree"])
    assert _holds([b"Q", b"u", b"i", b"n"], [b"Quin"])
    assert not _holds([b"Quin", b".ce"], [b"Quince"])
    assert not _holds([b"Quin"], [])
