"""Every column of a table leaves the book with its piece, or is known not to; so with its times.

The names in an export are a form that other programs read, so they are written down apart from the
tables. Here both are held together: a column that is added to a table is missed.
"""

from __future__ import annotations

import contextlib
import sqlite3
from functools import cache

import pytest

from partsbench.store import clock_runs, exchange, finishing_out, measuring_out, promises, schema
from partsbench.store import tries as tries_out

LINKS = {"id", "job", "piece", "part", "face", "load", "cup", "tin"}
"""Row ids of this book; an export names what they point to."""
EXPORTED = {
    "piece": exchange.PIECE,
    "opening": exchange.OPENING,
    "corner": exchange.CORNER,
    "part": exchange.PART,
    "face": exchange.FACE,
    "label": exchange.LABEL,
    "mark": exchange.MARK,
    "movement": exchange.MOVEMENT,
    "fit": exchange.FIT,
    "cup": (*finishing_out.CUP, finishing_out.CLASS),
    "load": finishing_out.LOAD,
    "mask": finishing_out.MASK,
    "fact": finishing_out.FACT,
    "own_path": finishing_out.PATH,
    "tin": measuring_out.TIN,
    "tin_use": measuring_out.TIN_USE,
    "weighed": next(iter(measuring_out.WEIGHED.values())),
    "tried": tries_out.OUT,
    "promised": next(iter(promises.COLUMNS.values())),
    **{kept.table: kept.columns for kept in measuring_out.KEPT},
}
OF_THE_SHOP = {
    "answered", "client", "climate", "clock_said", "device", "device_act", "habit", "job",
    "journal", "journal_row", "load_face", "person", "place", "plan_shown", "power_cut", "tin_card",
    "worked",
}  # fmt: skip
"""Tables that no piece takes along: codename, history and the faces of a load are told apart."""
NO_MOMENT_OF_WORK = {("journal", "at"), ("plan_shown", "at"), ("device", "paired_at"),
                     ("device", "out_at")}  # fmt: skip
"""Times that no wait rests on: a wrong clock in them is not asked about."""


@cache
def tables() -> dict[str, list[str]]:
    with contextlib.closing(sqlite3.connect(":memory:")) as book:
        for _, migrate in schema.MIGRATIONS:
            migrate(book)
        found = book.execute("SELECT name FROM sqlite_master WHERE type = 'table'").fetchall()
        return {t: [r[1] for r in book.execute(f"PRAGMA table_info({t})")] for (t,) in found}


def test_each_table_leaves_with_its_piece_or_is_of_the_shop() -> None:
    assert not EXPORTED.keys() & OF_THE_SHOP
    assert EXPORTED.keys() | OF_THE_SHOP == tables().keys()


@pytest.mark.parametrize("table", sorted(EXPORTED))
def test_each_column_of_it_leaves_too(table: str) -> None:
    assert set(EXPORTED[table]) - LINKS - {"faces"} >= set(tables()[table]) - LINKS


def test_each_moment_can_be_put_right_after_a_wrong_clock() -> None:
    moments = {
        (table, column)
        for table, columns in tables().items()
        for column in columns
        if column.endswith("_at") or column in ("at", "begun", "ended")
    }
    known = {(table, column) for table, columns in clock_runs.TIMES.items() for column in columns}
    assert moments - known == NO_MOMENT_OF_WORK
    assert not known - moments
