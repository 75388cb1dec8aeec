"""The codes of the labels in use: all that is there, the newest printing, the latest work first."""

from __future__ import annotations

from partsbench.services.acts.teardown import take_out
from partsbench.services.books.pieces import retire_part
from partsbench.services.shop import Shop
from partsbench.services.shown.labels import Sheet, hand_out, make_sheet
from partsbench.store.codes import current_codes
from tests.support.shops import code, heron, made, quill


def printed(shop: Shop, tag: str, *, reprint: bool = False) -> None:
    sheet = make_sheet(shop, tag, reprint=reprint)
    assert isinstance(sheet, Sheet), sheet
    hand_out(shop, sheet)


def test_each_label_has_the_letter_of_its_latest_printing(shop: Shop) -> None:
    tag = heron(shop).tag
    printed(shop, tag)
    printed(shop, tag, reprint=True)
    piece = shop.piece(tag)
    assert piece is not None
    parts = {str(piece.code(part)) for part in piece.present}
    homes = {str(piece.home_code(n)) for n in range(1, len(piece.front.openings) + 1)}
    corners = {str(piece.home_code(c.number)) for c in piece.corners}
    assert set(current_codes(shop.book, 1000)) == parts | homes | corners
    assert {part.generation for part in piece.present} == {"B"}


def test_a_retired_part_has_no_label_in_use(shop: Shop) -> None:
    piece = heron(shop)
    gone = code(piece, "D7")
    assert gone in current_codes(shop.book, 1000)
    made(retire_part(shop, piece.tag, "D7", "broken"))
    assert gone not in current_codes(shop.book, 1000)


def test_no_more_than_wanted_and_the_piece_last_spoken_of_first(shop: Shop) -> None:
    first = heron(shop)
    quill(shop)
    take_out(shop, first.tag, [code(first, "D5")])
    some = current_codes(shop.book, 10)
    assert len(some) == 10
    assert {text[:4] for text in some} == {first.tag}


def test_an_empty_book_has_none(shop: Shop) -> None:
    assert current_codes(shop.book, 10) == []
