from __future__ import annotations

import contextlib
from datetime import datetime
from pathlib import Path

from partsbench.services.books import pieces
from partsbench.services.shop import Shop, open_shop
from tests.cli.conftest import Call, parts_of
from tests.support.clock import SetClock


def test_history_is_one_object_a_change(good: Call, tag: str) -> None:
    good("out", tag, "D1")
    good("scan", "D1", "--piece", tag, "--record", "--confirm")
    entries = good("history", "--json").json
    assert [e["kind"] for e in entries] == ["do"] * 3
    assert [e["id"] for e in entries] == sorted((e["id"] for e in entries), reverse=True)
    assert all(datetime.fromisoformat(e["at"]).tzinfo for e in entries)
    assert good("history", "Heron", "--json").json == entries
    assert len(good("history", "--limit", "2", "--json").json) == 2


def test_json_holds_the_whole_history(good: Call, tag: str, book: Path, clock: SetClock) -> None:
    shop = open_shop(book, clock)
    assert isinstance(shop, Shop)
    with contextlib.closing(shop):
        for number in range(250):
            pieces.rename(shop, tag, f"chest {number}")
    assert len(good("history", "--json").json) == 251
    assert len(good("history").out.splitlines()) == 40


def test_undo_and_redo_print_what_they_did(good: Call, call: Call, tag: str) -> None:
    good("out", tag, "D1")
    assert good("undo").out == "Undone: Heron D1 taken out.\n"
    assert parts_of(good, tag)["D1"]["where"] == "in the piece"
    assert good("redo").out == "Done again: Heron D1 taken out.\n"
    assert parts_of(good, tag)["D1"]["where"] == "out"
    ran = call("redo")
    assert (ran.code, "nothing to redo" in ran.err) == (2, True)


def test_that_was_d6_not_d5(good: Call, tag: str) -> None:
    good("out", tag, "D5")
    good("correct", tag, "D5", "D6")
    parts = parts_of(good, tag)
    assert (parts["D5"]["where"], parts["D6"]["where"]) == ("in the piece", "out")
    assert "that was D6, not D5" in good("history").out


def test_a_copy_is_whole_and_never_goes_over_a_file(
    good: Call, call: Call, tag: str, tmp_path: Path
) -> None:
    copy = tmp_path / "copy.partsbench"
    good("save-copy", copy)
    assert good("--book", copy, "parts", tag, "--json").out == good("parts", tag, "--json").out
    before = copy.read_bytes()
    assert call("save-copy", copy).code == 2
    assert copy.read_bytes() == before


def test_a_sound_book_is_told(good: Call, tag: str, book: Path) -> None:
    assert good("check-book", "--json").json == {"book": str(book), "faults": []}
    assert "is sound" in good("check-book").out


def test_a_book_with_a_row_astray_answers_no(call: Call, tag: str, book: Path) -> None:
    import sqlite3
    from contextlib import closing

    with closing(sqlite3.connect(book)) as raw:
        raw.execute("PRAGMA foreign_keys = OFF")
        raw.execute("UPDATE part SET piece = 999 WHERE number = 7 AND family = 'D'")
        raw.commit()
    ran = call("check-book")
    assert ran.code == 1
    assert "not there" in ran.out


def test_undo_of_anothers_change_asks_for_its_number(call: Call, good: Call, tag: str) -> None:
    good("out", tag, "D1", "--who", "Robin")
    asked = call("undo", "--who", "Wren")
    assert asked.code == 2 and "made by Robin: Heron D1 taken out" in asked.err
    number = asked.err.split("--of ")[1].rstrip(".\n")
    assert call("undo", "--who", "Wren", "--of", "1").code == 2
    assert good("undo", "--who", "Wren", "--of", number).out == "Undone: Heron D1 taken out.\n"
