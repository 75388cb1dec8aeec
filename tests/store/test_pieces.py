"""A piece goes into a book and comes back the same, and saving writes only what differs."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from partsbench.core.piece.front import front_from_rows
from partsbench.core.piece.furnish import furnish
from partsbench.core.piece.parts import PAINT
from partsbench.core.piece.piece import Piece
from partsbench.store import journal, pieces
from partsbench.store.book import Book, open_book
from partsbench.store.journal import change
from tests.store.conftest import NOW
from tests.support.some_pieces import pieces as some_pieces


def heron() -> Piece:
    made = furnish("K7Q4", "Heron", front_from_rows((2, 2, 3)), legs=4, pulls=2, top=True)
    assert isinstance(made, Piece)
    return made


def stored(book: Book, piece: Piece) -> None:
    with change(book, "Took in", NOW, "me", piece.tag) as entry:
        pieces.add(entry, book, piece, NOW)


def saved(book: Book, piece: Piece) -> int:
    """Saves, and gives how many rows were written."""
    with change(book, "Changed", NOW, "me", piece.tag) as entry:
        pieces.save(entry, book, piece)
        return len(entry.rows)


def in_order(piece: Piece | None) -> Piece:
    """The piece with parts and openings in the order of their numbers."""
    assert piece is not None
    parts = tuple(sorted(piece.parts, key=lambda p: (p.family, p.number)))
    openings = tuple(sorted(piece.front.openings, key=lambda o: o.number))
    return replace(piece, parts=parts, front=replace(piece.front, openings=openings))


def test_a_piece_comes_back_as_it_went_in(book: Book) -> None:
    stored(book, heron())
    assert pieces.load(book, "K7Q4") == heron()


def test_saving_an_unchanged_piece_writes_nothing(book: Book) -> None:
    stored(book, heron())
    assert saved(book, heron()) == 0
    assert len(journal.entries(book)) == 1


def test_saving_one_changed_face_writes_one_row(book: Book) -> None:
    stored(book, heron())
    piece = heron()
    drawer = piece.part("D3")
    assert drawer is not None
    changed = piece.with_part(drawer.with_path(PAINT, frozenset({"front"})))
    assert saved(book, changed) == 1
    assert pieces.load(book, "K7Q4") == changed


def test_two_pieces_of_one_codename_share_a_job(book: Book) -> None:
    stored(book, heron())
    stored(book, replace(heron(), tag="R2T3"))
    assert book.row("SELECT count(*) AS n FROM job")["n"] == 1
    assert [p.tag for p in pieces.listed(book)] == ["R2T3", "K7Q4"]


def test_a_tag_that_is_not_there_is_none(book: Book) -> None:
    assert pieces.load(book, "ZZZ9") is None


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(first=some_pieces(), second=some_pieces())
def test_any_piece_comes_back_and_any_change_of_it_is_undone(
    tmp_path_factory: pytest.TempPathFactory, first: Piece, second: Piece
) -> None:
    book = open_book(tmp_path_factory.mktemp("pieces") / "shop.partsbench")
    assert isinstance(book, Book)
    stored(book, first)
    assert in_order(pieces.load(book, "K7Q4")) == in_order(first)
    second = replace(second, codename=first.codename)
    written = saved(book, second)
    assert in_order(pieces.load(book, "K7Q4")) == in_order(second)
    if written:
        journal.undo(book, NOW, "me")
    assert in_order(pieces.load(book, "K7Q4")) == in_order(first)
    assert book.faults() == []
    book.close()


@given(st.data())
@settings(max_examples=20, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_numbers_of_parts_are_never_doubled(data: st.DataObject) -> None:
    piece = data.draw(some_pieces())
    shorts = [p.short for p in piece.parts]
    assert len(shorts) == len(set(shorts))
    homes = [o.number for o in piece.front.openings] + [c.number for c in piece.corners]
    assert len(homes) == len(set(homes))
