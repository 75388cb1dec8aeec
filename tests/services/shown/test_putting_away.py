"""A finished piece is put away and found again; day, plan and export know it."""

from __future__ import annotations

from pathlib import Path

from partsbench.core.outcomes import Done, Refused
from partsbench.services.acts import history
from partsbench.services.books.exchange import export, take_in_export
from partsbench.services.plan.reading import in_hand
from partsbench.services.shop import Shop
from partsbench.services.shown import day
from partsbench.services.shown.putting_away import away, put_away, take_out_again
from tests.support.shops import heron, quill, shop_at


def test_what_is_put_away_is_out_of_day_and_plan_and_comes_back(shop: Shop) -> None:
    piece, other = heron(shop), quill(shop)
    assert set(day.in_hand(shop, shop.clock())) == {piece.tag, other.tag}
    said = put_away(shop, piece.tag)
    assert isinstance(said, Done)
    assert said.sentence.startswith("Heron put away. Not every step is done on it: 4 ready.")
    assert away(shop) == {piece.tag}
    assert day.in_hand(shop, shop.clock()) == [other.tag]
    assert piece.tag not in in_hand(shop, shop.clock()).shop.pieces
    back = take_out_again(shop, piece.tag)
    assert isinstance(back, Done) and back.sentence == "Heron taken out again."
    assert away(shop) == frozenset()
    assert piece.tag in day.in_hand(shop, shop.clock())


def test_it_can_be_undone(shop: Shop) -> None:
    piece = heron(shop)
    put_away(shop, piece.tag)
    history.undo(shop)
    assert away(shop) == frozenset()


def test_twice_is_refused_and_so_is_a_piece_that_is_not_there(shop: Shop) -> None:
    piece = heron(shop)
    refused = take_out_again(shop, piece.tag)
    assert isinstance(refused, Refused) and refused.sentence == "Heron is not put away."
    put_away(shop, piece.tag)
    refused = put_away(shop, piece.tag)
    assert isinstance(refused, Refused) and refused.sentence == "Heron is put away already."
    assert isinstance(put_away(shop, "ZZZZ"), Refused)


def test_it_goes_along_in_an_export(shop: Shop, tmp_path: Path) -> None:
    piece = heron(shop)
    put_away(shop, piece.tag)
    text = export(shop, piece.tag)
    assert isinstance(text, str)
    other = shop_at(tmp_path / "other.partsbench")
    taken = take_in_export(other, text, "Heron")
    assert isinstance(taken, list)
    assert away(other) == {taken[0].tag}
    other.close()
