"""A client's data can be deleted for good while the history of the parts stays."""

from __future__ import annotations

from pathlib import Path

from partsbench.core.outcomes import Done, Refused
from partsbench.services import clients, history
from partsbench.services.shop import Shop
from tests.support.at_bench import record
from tests.support.shops import heron

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
