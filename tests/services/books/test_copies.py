"""Copies are made by themselves and looked through; one is got back with what that loses told."""

from __future__ import annotations

import shutil
from datetime import timedelta
from pathlib import Path

import pytest

from partsbench.core.outcomes import Done, Refused
from partsbench.core.said_often import NOTHING_RECORDED_YET
from partsbench.services.acts.history import history
from partsbench.services.books import clients, copies, pieces
from partsbench.services.shop import Shop, open_shop
from partsbench.store.book import Book, open_book
from partsbench.store.waiting import wal_of
from tests.support.clock import SetClock
from tests.support.cut_off import cut_off


def get_back(shop: Shop, copy: Path) -> Done | Refused:
    """As the program does: the book is closed, and opened again."""
    path = shop.book.path
    shop.book.close()
    done = copies.restore(path, copy, shop.clock, shop.who)
    again = open_book(path)
    assert isinstance(again, Book)
    shop.book = again
    return done


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    made = tmp_path / "second disk"
    made.mkdir()
    return made


@pytest.fixture
def kept(shop: Shop, folder: Path) -> Shop:
    """A shop with a piece and a folder for copies, in which there is one."""
    assert isinstance(pieces.lay_out(shop, "Heron", "2 2"), pieces.Piece)
    told = copies.choose_folder(shop, folder)
    assert isinstance(told, Done), told
    return shop


def names(shop: Shop) -> list[str]:
    return [p.codename for p in pieces.pieces(shop)]


def lay_out(shop: Shop, name: str) -> None:
    assert isinstance(pieces.lay_out(shop, name, "2"), pieces.Piece)


def test_without_a_folder_nothing_is_copied_and_that_is_told(shop: Shop, tmp_path: Path) -> None:
    lay_out(shop, "Heron")
    assert copies.daily(shop) == []
    assert isinstance(copies.make(shop), Refused)
    assert "no folder is chosen" in copies.standing(shop)


def test_choosing_a_folder_makes_a_copy_at_once_and_is_in_the_history(
    kept: Shop, folder: Path
) -> None:
    (copy,) = copies.kept(kept)
    assert copy.path.parent == folder
    assert copy.path.stat().st_mode & 0o777 == 0o600
    assert history(kept)[0].sentence == f"Copies go to {folder}"
    assert "the latest has all that is in the book" in copies.standing(kept)
    assert [f.name for f in folder.iterdir()] == [copy.path.name]


def test_a_folder_that_is_none_is_refused_and_changes_nothing(shop: Shop, tmp_path: Path) -> None:
    lay_out(shop, "Heron")
    before = history(shop)
    assert isinstance(copies.choose_folder(shop, tmp_path / "nowhere"), Refused)
    assert history(shop) == before


def test_one_copy_a_day_and_none_when_nothing_is_new(kept: Shop, clock: SetClock) -> None:
    for _ in range(3):
        assert copies.daily(kept) == []
    assert len(copies.kept(kept)) == 1
    clock.now += timedelta(days=1)
    assert copies.daily(kept) == []
    assert len(copies.kept(kept)) == 1, "nothing is new"
    lay_out(kept, "Quill")
    assert copies.daily(kept) == []
    assert copies.daily(kept) == []
    assert len(copies.kept(kept)) == 2
    lay_out(kept, "Sedge")
    assert copies.daily(kept) == []
    assert len(copies.kept(kept)) == 2, "one of this day is there"


def test_of_two_copies_in_one_second_the_one_written_last_is_the_latest(kept: Shop) -> None:
    for number in range(4):
        lay_out(kept, f"Larch{number}")
        assert isinstance(copies.make(kept), Done)
        assert "has all" in copies.standing(kept)


def test_a_large_change_is_copied_before(kept: Shop, clock: SetClock) -> None:
    clock.now += timedelta(minutes=5)
    tag = pieces.pieces(kept)[0].tag
    lay_out(kept, "Quill")
    pieces.start_over(kept, tag, "3 3 3")
    latest = open_shop(copies.kept(kept)[0].path)
    assert isinstance(latest, Shop)
    assert names(latest) == ["Quill", "Heron"]
    piece = latest.piece(tag)
    assert piece is not None
    assert len(piece.front.openings) == 4
    latest.close()


def test_older_copies_go_by_the_rule_and_other_files_stay(
    kept: Shop, folder: Path, clock: SetClock, tmp_path: Path
) -> None:
    (folder / "shopping list.partsbench").write_text("milk")
    other = open_shop(tmp_path / "b2.partsbench", clock)
    assert isinstance(other, Shop)
    lay_out(other, "Other")
    other.copies_folder = folder
    assert isinstance(copies.make(other), Done)
    for number in range(30):
        clock.now += timedelta(days=1)
        lay_out(kept, f"Piece {number}")
        assert copies.daily(kept) == []
    mine = copies.kept(kept)
    assert 8 <= len(mine) <= 13
    assert len(copies.kept(other)) == 1
    assert (folder / "shopping list.partsbench").read_text() == "milk"
    other.close()


def test_a_folder_that_went_away_is_told_with_the_age_of_the_last_copy(
    kept: Shop, folder: Path, clock: SetClock
) -> None:
    shutil.rmtree(folder)
    folder.write_text("no folder any more")
    lay_out(kept, "Quill")
    clock.now += timedelta(days=9)
    (told,) = copies.daily(kept)
    assert "No copy of today could be made" in told
    assert "There is no copy" in told


def test_an_old_last_copy_is_called_old(
    kept: Shop, clock: SetClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    lay_out(kept, "Quill")
    clock.now += timedelta(days=8)
    monkeypatch.setattr(copies, "make", lambda _: Refused("The disk is full."))
    (told,) = copies.daily(kept)
    assert "It is old: the last good copy is of" in told
    assert "8 days ago" in told
    clock.now -= timedelta(days=2)
    assert "It is old" not in copies.daily(kept)[0]


def test_a_damaged_book_is_no_copy_that_counts_as_good(kept: Shop, clock: SetClock) -> None:
    kept.book.connection.execute("UPDATE job SET codename = 'Hebon'")
    lay_out(kept, "Quill")
    clock.now += timedelta(days=1)
    (told,) = copies.daily(kept)
    assert "The book is damaged" in told
    assert "“Hebon”, and was recorded as “Heron”" in told
    assert len(copies.kept(kept)) == 1


def test_what_getting_one_back_would_lose_is_told(kept: Shop) -> None:
    copy = copies.kept(kept)[0].path
    loss = copies.would_lose(kept, copy)
    assert not isinstance(loss, Refused)
    assert copies.loss_words(loss) == "Nothing would be lost."
    lay_out(kept, "Quill")
    lay_out(kept, "Sedge")
    loss = copies.would_lose(kept, copy)
    assert not isinstance(loss, Refused)
    assert (loss.count, loss.others) == (2, 0)
    assert "Lost would be 2 changes, the last of them “Took in Sedge" in copies.loss_words(loss)


def test_a_copy_got_back_is_the_book_and_what_was_there_is_kept(kept: Shop) -> None:
    copy = copies.kept(kept)[0].path
    before = copy.read_bytes()
    lay_out(kept, "Quill")
    path = kept.book.path
    told = get_back(kept, copy)
    assert isinstance(told, Done), told
    assert names(kept) == ["Heron"]
    assert copy.read_bytes() == before
    (aside,) = path.parent.glob("b.before-*.partsbench")
    assert aside.name in told.sentence
    assert "Got back from a copy" in history(kept)[0].sentence
    lay_out(kept, "Sedge")
    old = open_shop(aside)
    assert isinstance(old, Shop)
    assert names(old) == ["Quill", "Heron"]
    old.close()
    loss = copies.would_lose(kept, aside)
    assert not isinstance(loss, Refused)
    assert (loss.count, loss.others) == (2, 1)


def test_a_copy_got_back_over_what_a_cut_off_window_left(tmp_path: Path, clock: SetClock) -> None:
    path = tmp_path / "shop.partsbench"
    cut_off(path, 0, 2)
    book = open_book(path)
    assert isinstance(book, Book)
    copy = tmp_path / "copy.partsbench"
    assert book.save_copy(copy) is None
    book.close()
    cut_off(path, 2, 7)
    assert wal_of(path).stat().st_size
    told = copies.restore(path, copy, clock, "Wren")
    assert isinstance(told, Done), told
    (aside,) = tmp_path.glob("shop.before-*.partsbench")
    for file, jobs in ((path, 2), (aside, 7)):
        opened = open_book(file)
        assert isinstance(opened, Book)
        assert opened.told == ()
        assert len(opened.rows("SELECT * FROM job")) == jobs
        opened.close()


def test_a_damaged_book_is_replaced_and_kept(kept: Shop, clock: SetClock) -> None:
    copy, path = copies.kept(kept)[0].path, kept.book.path
    kept.close()
    path.write_bytes(path.read_bytes()[:5000])
    assert isinstance(open_shop(path), Refused)
    loss = copies.would_lose(None, copy)
    assert not isinstance(loss, Refused)
    assert "cannot be told" in copies.loss_words(loss)
    assert isinstance(copies.restore(path, copy, clock), Done)
    again = open_shop(path)
    assert isinstance(again, Shop)
    assert names(again) == ["Heron"]
    again.close()
    (aside,) = path.parent.glob("b.before-*.partsbench")
    assert aside.stat().st_size == 5000


def test_a_damaged_copy_is_refused_and_the_book_stays(kept: Shop, clock: SetClock) -> None:
    copy = copies.kept(kept)[0].path
    lay_out(kept, "Quill")
    data = copy.read_bytes()
    copy.write_bytes(data.replace(b"Heron", b"Hebon", 1))
    told = get_back(kept, copy)
    assert isinstance(told, Refused)
    assert "is damaged" in told.sentence
    assert names(kept) == ["Quill", "Heron"]


def test_a_book_that_another_window_has_open_stays(kept: Shop, clock: SetClock) -> None:
    copy = copies.kept(kept)[0].path
    lay_out(kept, "Quill")
    told = copies.restore(kept.book.path, copy, clock)
    assert isinstance(told, Refused)
    assert "Close it first" in told.sentence
    assert names(kept) == ["Quill", "Heron"]
    assert list(kept.book.path.parent.glob("b.before-*")) == []


@pytest.mark.parametrize("copy", ["itself", "nowhere", "a folder"])
def test_what_is_no_copy_is_refused(kept: Shop, clock: SetClock, copy: str) -> None:
    path = kept.book.path
    file = {"itself": path, "nowhere": path.with_name("x"), "a folder": path.parent}[copy]
    assert isinstance(copies.restore(path, file, clock), Refused)
    assert names(kept) == ["Heron"]


def test_a_client_that_is_deleted_is_told_to_stand_in_the_copies(
    kept: Shop, clock: SetClock
) -> None:
    clock.now += timedelta(minutes=1)
    tag = pieces.pieces(kept)[0].tag
    clients.set_client(kept, tag, name="Somebody Else")
    assert isinstance(copies.make(kept), Done)
    told = clients.forget_client(kept, tag)
    assert isinstance(told, Done)
    latest, *_ = copies.kept(kept)
    assert f"Other books still hold them: {latest.path}." in told.sentence


def test_a_new_book_beside_copies_of_an_earlier_one_tells_of_them(
    kept: Shop, tmp_path: Path, clock: SetClock
) -> None:
    (copy,) = copies.kept(kept)
    new = open_shop(tmp_path / "new.partsbench", clock)
    assert isinstance(new, Shop)
    assert copies.daily(new) == []
    new.copies_folder = copy.path.parent
    (told,) = copies.daily(new)
    assert "This book is new and empty" in told
    assert copy.path.name in told
    assert copies.kept(new) == [copy]
    lay_out(new, "Quill")
    assert copies.daily(new) == []
    assert copy not in copies.kept(new)
    new.close()


def test_a_copy_got_back_behind_a_link_leaves_the_link(
    kept: Shop, tmp_path: Path, clock: SetClock
) -> None:
    copy, path = copies.kept(kept)[0].path, kept.book.path
    lay_out(kept, "Quill")
    kept.close()
    link = tmp_path / "link.partsbench"
    link.symlink_to(path)
    assert isinstance(copies.restore(link, copy, clock), Done)
    assert link.is_symlink()
    again = open_shop(path)
    assert isinstance(again, Shop)
    assert names(again) == ["Heron"]
    again.close()


def test_a_copy_put_over_the_book_at_work_is_noticed_before_the_next_done(
    kept: Shop, tmp_path: Path, clock: SetClock
) -> None:
    copy, path = copies.kept(kept)[0].path, kept.book.path
    lay_out(kept, "Quill")
    shutil.copyfile(copy, path)
    told = pieces.lay_out(kept, "Sedge", "2")
    assert isinstance(told, Refused)
    assert told.sentence.startswith("Nothing was changed: its file was moved, removed or replaced")
    kept.close()
    again = open_shop(path, clock)
    assert isinstance(again, Shop)
    assert names(again) == ["Heron"]
    assert "belong to another book" in again.told[0]
    again.close()


def test_before_anything_is_recorded_there_is_nothing_to_copy(shop: Shop, folder: Path) -> None:
    shop.copies_folder = folder
    assert copies.make(shop) == Refused(NOTHING_RECORDED_YET)
    assert list(folder.iterdir()) == []
    assert copies.standing(shop) == f"Copies go to {folder}; there is none of this book yet."
    lay_out(shop, "Heron")
    assert isinstance(copies.make(shop), Done)
    assert copies.standing(shop).endswith("; the latest has all that is in the book.")
    lay_out(shop, "Quill")
    assert "the latest has all" not in copies.standing(shop)


def test_what_a_copy_has_that_the_book_has_not_is_told(kept: Shop, clock: SetClock) -> None:
    copy = copies.kept(kept)[0].path
    elsewhere = open_shop(copy, clock, "Wren")
    assert isinstance(elsewhere, Shop)
    lay_out(elsewhere, "Quill")
    elsewhere.close()
    loss = copies.would_lose(kept, copy)
    assert not isinstance(loss, Refused)
    assert copies.loss_words(loss).endswith("The copy has 1 change that the book has not.")


@pytest.mark.skipif(not Path("/proc").is_dir(), reason="a folder into which nobody can write")
def test_where_nothing_can_be_written_no_copy_is_promised(kept: Shop, folder: Path) -> None:
    before = history(kept)
    said = copies.choose_folder(kept, Path("/proc"))
    assert isinstance(said, Refused)
    assert said.sentence.startswith("Nothing can be written into /proc: ")
    assert copies.folder_of(kept) == folder and history(kept) == before
    assert "could not be written" in str(kept.book.save_copy(Path("/proc/c.partsbench")))
    new = open_book(Path("/proc/b.partsbench"))
    assert isinstance(new, Refused) and new.sentence.startswith("/proc/b.partsbench cannot be made")


def test_a_folder_is_no_copy_to_be_got_back(kept: Shop, folder: Path, clock: SetClock) -> None:
    said = copies.would_lose(kept, folder)
    assert isinstance(said, Refused) and str(folder) in said.sentence
    back = copies.restore(kept.book.path.with_name("other.partsbench"), folder, clock)
    assert isinstance(back, Refused)
    assert names(kept) == ["Heron"]
