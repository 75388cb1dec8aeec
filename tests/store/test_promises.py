"""Promises in an old book, in an export, and the plan that was shown last."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

from partsbench.core.outcomes import Done
from partsbench.services.books.exchange import export, take_in_export
from partsbench.services.plan.asking import note_promise
from partsbench.store import promises
from tests.store.test_migration import old, opened
from tests.support.shops import heron, shop_at

__all__ = ["old"]

AT = datetime(2026, 12, 4, 16, 0, tzinfo=UTC)


def test_an_old_book_takes_a_promise(old: Path) -> None:
    shop = opened(old)
    assert promises.promises(shop.book) == []
    assert isinstance(note_promise(shop, "K7Q4", AT, 3.0), Done)
    (row,) = promises.promises(shop.book)
    assert (row.tag, row.by, row.worth) == ("K7Q4", AT, 3.0)
    shop.close()


def test_a_promise_is_replaced_not_doubled(tmp_path: Path) -> None:
    shop = shop_at(tmp_path / "b.partsbench")
    piece = heron(shop)
    note_promise(shop, piece.tag, AT)
    note_promise(shop, piece.tag, AT + timedelta(days=1))
    assert [p.by for p in promises.promises(shop.book)] == [AT + timedelta(days=1)]
    shop.close()


def test_the_plan_shown_last_is_kept_and_stands_in_no_history(tmp_path: Path) -> None:
    shop = shop_at(tmp_path / "b.partsbench")
    count = shop.book.row("SELECT count(*) FROM journal")[0]
    promises.show(shop.book, AT, "[]")
    promises.show(shop.book, AT, "[1]")
    assert promises.shown(shop.book) == (AT, "[1]")
    assert shop.book.row("SELECT count(*) FROM journal")[0] == count
    shop.close()


def test_a_promise_goes_along_in_an_export(tmp_path: Path) -> None:
    shop = shop_at(tmp_path / "b.partsbench")
    piece = heron(shop)
    note_promise(shop, piece.tag, AT, 4.0)
    text = export(shop, piece.tag)
    assert isinstance(text, str)
    shop.close()
    other = shop_at(tmp_path / "other.partsbench")
    assert isinstance(take_in_export(other, text, "Heron"), list)
    assert [(p.by, p.worth) for p in promises.promises(other.book)] == [(AT, 4.0)]
    other.close()
