"""Every change can be undone and done again, in any order of asking, and across restarts."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from partsbench.store import journal
from partsbench.store.book import Book, open_book
from partsbench.store.journal import change
from tests.store.conftest import NOW

MADE_AT = "2026-03-14T09:30:00Z"
TABLES = ("job", "client")


def state(book: Book) -> list[list[tuple[object, ...]]]:
    return [[tuple(r) for r in book.rows(f"SELECT * FROM {t} ORDER BY id")] for t in TABLES]


def take_in(book: Book, name: str) -> None:
    with change(book, f"Took in {name}", NOW, "me", "K7Q4") as entry:
        job = entry.insert("job", {"codename": name, "created_at": MADE_AT})
        entry.insert("client", {"job": job, "name": f"client of {name}"})


def rename(book: Book, name: str) -> None:
    row = book.row("SELECT id FROM job ORDER BY id LIMIT 1")
    if row:
        with change(book, f"Renamed to {name}", NOW, "me") as entry:
            entry.update("job", row["id"], {"codename": name})


def drop(book: Book) -> None:
    row = book.row("SELECT client.id, job FROM client ORDER BY id DESC LIMIT 1")
    if row:
        with change(book, "Dropped a job", NOW, "me") as entry:
            entry.delete("client", row["id"])
            entry.delete("job", row["job"])


def test_undo_takes_back_and_redo_does_again(book: Book) -> None:
    empty = state(book)
    take_in(book, "Heron")
    full = state(book)
    undone = journal.undo(book, NOW, "me")
    assert undone is not None
    assert undone.sentence == "Undone: Took in Heron"
    assert state(book) == empty
    done = journal.redo(book, NOW, "me")
    assert done is not None
    assert done.sentence == "Done again: Took in Heron"
    assert state(book) == full
    assert journal.redo(book, NOW, "me") is None


def test_undo_of_nothing_is_none(book: Book) -> None:
    assert journal.undo(book, NOW, "me") is None
    assert journal.entries(book) == []


def test_a_new_change_empties_what_could_be_done_again(book: Book) -> None:
    take_in(book, "Heron")
    journal.undo(book, NOW, "me")
    take_in(book, "Quill")
    assert journal.redoable(book) is None
    assert journal.undoable(book).sentence == "Took in Quill"


def test_nothing_ever_leaves_the_journal(book: Book) -> None:
    take_in(book, "Heron")
    journal.undo(book, NOW, "me")
    take_in(book, "Quill")
    assert [e.sentence for e in journal.entries(book)] == [
        "Took in Quill",
        "Undone: Took in Heron",
        "Took in Heron",
    ]


def test_a_change_that_fails_leaves_no_trace(book: Book) -> None:
    before = state(book)
    with pytest.raises(ZeroDivisionError), change(book, "Half done", NOW, "me") as entry:
        entry.insert("job", {"codename": "Heron", "created_at": MADE_AT})
        raise ZeroDivisionError
    assert state(book) == before
    assert journal.entries(book) == []


def test_a_change_of_no_row_leaves_no_entry(book: Book) -> None:
    with change(book, "Nothing", NOW, "me"):
        pass
    assert journal.entries(book) == []


def test_the_entry_holds_each_row_before_and_after(book: Book) -> None:
    take_in(book, "Heron")
    rename(book, "Larch")
    latest = journal.entries(book)[0]
    ((table, _, before, after),) = journal.changed_rows(book, latest.id)
    assert table == "job"
    assert (before["codename"], after["codename"]) == ("Heron", "Larch")


STEP = st.one_of(
    st.tuples(st.just("take in"), st.sampled_from("ABCDEFGH")),
    st.tuples(st.just("rename"), st.sampled_from("STUVWXYZ")),
    st.tuples(st.sampled_from(["drop", "undo", "redo", "restart"]), st.just("")),
)


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(steps=st.lists(STEP, max_size=25))
def test_any_changes_then_undo_all_and_redo_all(
    tmp_path_factory: pytest.TempPathFactory, steps: list[tuple[str, str]]
) -> None:
    """The book follows a plain model of two stacks, whatever is done and whenever it restarts."""
    path = tmp_path_factory.mktemp("journal") / "shop.partsbench"
    book = _opened(path)
    past, future, now = [], [], state(book)
    for what, name in steps:
        before = now
        if what == "restart":
            book.close()
            book = _opened(path)
        elif what == "undo":
            assert (journal.undo(book, NOW, "me") is not None) == bool(past)
            if past:
                future.append(now)
                now = past.pop()
        elif what == "redo":
            assert (journal.redo(book, NOW, "me") is not None) == bool(future)
            if future:
                past.append(now)
                now = future.pop()
        else:
            entries = len(journal.entries(book, limit=1000))
            _do(book, what, name)
            now = state(book)
            if len(journal.entries(book, limit=1000)) > entries:
                past.append(before)
                future.clear()
        assert state(book) == now
    last = now
    done = len(past)
    while journal.undo(book, NOW, "me"):
        now = past.pop()
        assert state(book) == now
    assert past == []
    for _ in range(done):
        assert journal.redo(book, NOW, "me") is not None
    assert state(book) == last
    assert book.faults() == []
    book.close()


def _do(book: Book, what: str, name: str) -> None:
    if what == "take in" and not book.row("SELECT 1 FROM job WHERE codename = ?", (name,)):
        take_in(book, name)
    elif what == "rename" and not book.row("SELECT 1 FROM job WHERE codename = ?", (name,)):
        rename(book, name)
    elif what == "drop":
        drop(book)


def _opened(path: Path) -> Book:
    book = open_book(path)
    assert isinstance(book, Book)
    return book
