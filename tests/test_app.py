from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication, QMessageBox, QPushButton

from partsbench import app
from partsbench.core.outcomes import Done
from partsbench.services.books.copies import kept, make
from partsbench.services.books.pieces import lay_out
from partsbench.services.books.watching import all_pieces
from partsbench.services.shop import Shop, open_shop
from partsbench.ui import asking
from partsbench.ui.main_window import MainWindow


def test_each_book_has_a_memory_of_its_own(tmp_path: Path) -> None:
    one, two = app.usual_settings(tmp_path / "a"), app.usual_settings(tmp_path / "b")
    assert one != two
    assert one == app.usual_settings(tmp_path / "a")
    assert app.usual_settings(app.usual_book()).name == "window.ini"


def test_the_window_opens_on_the_book_and_closes_it_behind_itself(
    tmp_path: Path, qapp: QApplication, monkeypatch: pytest.MonkeyPatch
) -> None:
    book = tmp_path / "b.partsbench"
    seen: list[str] = []

    def at_work() -> int:
        windows = [w for w in QApplication.topLevelWidgets() if isinstance(w, MainWindow)]
        window = next(w for w in windows if w.shop.book.path == book)
        seen.append(window.page_key())
        window.page()
        window.close()
        return 0

    monkeypatch.setattr("sys.excepthook", None)
    with monkeypatch.context() as patch:
        patch.setattr(QApplication, "exec", staticmethod(at_work))
        assert app.run(book, settings_file=tmp_path / "w.ini") == 0
    assert seen == ["start"]
    again = open_shop(book)
    assert isinstance(again, Shop)
    assert all_pieces(again) == []
    again.close()


def test_a_file_that_is_no_book_is_refused_in_a_sentence(
    tmp_path: Path, qapp: QApplication, monkeypatch: pytest.MonkeyPatch
) -> None:
    book = tmp_path / "b.partsbench"
    book.write_bytes(b"not a book at all" * 100)
    said: list[str] = []
    with monkeypatch.context() as patch:
        patch.setattr(QMessageBox, "exec", lambda box: said.append(box.text()))
        assert app.run(book, settings_file=tmp_path / "w.ini") == 2
    assert len(said) == 1
    assert str(book) in said[0]
    assert book.read_bytes() == b"not a book at all" * 100


def test_a_copy_takes_the_place_of_a_book_that_cannot_be_opened(
    tmp_path: Path, qapp: QApplication, monkeypatch: pytest.MonkeyPatch
) -> None:
    book, copy = tmp_path / "b.partsbench", tmp_path / "copy.partsbench"
    shop = open_shop(book)
    assert isinstance(shop, Shop)
    lay_out(shop, "Heron", "2 2")
    assert shop.book.save_copy(copy) is None
    shop.close()
    book.write_bytes(book.read_bytes()[:7000])
    said: list[str] = []

    def wants_a_copy(box: QMessageBox) -> None:
        said.append(box.text())
        button = box.findChild(QPushButton, "get-a-copy-back")
        assert button is not None
        button.click()

    def at_work() -> int:
        windows = [w for w in QApplication.topLevelWidgets() if isinstance(w, MainWindow)]
        window = next(w for w in windows if w.shop.book.path == book)
        window.page()
        said.append(window.answer_bar.sentence.text())
        window.close()
        return 0

    monkeypatch.setattr("sys.excepthook", None)
    with monkeypatch.context() as patch:
        patch.setattr(QMessageBox, "exec", wants_a_copy)
        patch.setattr(asking, "ask_book", lambda *_: copy)
        patch.setattr(QApplication, "exec", staticmethod(at_work))
        assert app.run(book, settings_file=tmp_path / "w.ini") == 0
    assert "is damaged" in said[0]
    assert "b.partsbench is now what copy.partsbench was" in said[1]
    again = open_shop(book)
    assert isinstance(again, Shop)
    assert [p.codename for p in all_pieces(again)] == ["Heron"]
    again.close()


def test_a_copy_asked_for_at_the_window_is_the_book_that_it_opens_on_again(
    tmp_path: Path, qapp: QApplication, monkeypatch: pytest.MonkeyPatch
) -> None:
    book, copy = tmp_path / "b.partsbench", tmp_path / "copy.partsbench"
    shop = open_shop(book)
    assert isinstance(shop, Shop)
    lay_out(shop, "Heron", "2 2")
    assert shop.book.save_copy(copy) is None
    lay_out(shop, "Quill", "2 2")
    shop.close()
    seen: list[list[str]] = []

    def at_work() -> int:
        windows = [w for w in QApplication.topLevelWidgets() if isinstance(w, MainWindow)]
        window = next(w for w in windows if w.shop.book.path == book and w.isVisible())
        window.page()
        seen.append([p.codename for p in all_pieces(window.shop)])
        window.on_get_back_asked(copy) if len(seen) == 1 else window.close()
        return 0

    monkeypatch.setattr("sys.excepthook", None)
    with monkeypatch.context() as patch:
        patch.setattr(QApplication, "exec", staticmethod(at_work))
        assert app.run(book, settings_file=tmp_path / "w.ini") == 0
    assert seen == [["Quill", "Heron"], ["Heron"]]


@pytest.mark.parametrize("is_one", [True, False])
def test_a_copy_that_is_opened_as_a_book_says_that_it_is_one(
    tmp_path: Path, qapp: QApplication, monkeypatch: pytest.MonkeyPatch, is_one: bool
) -> None:
    shop = open_shop(tmp_path / "b.partsbench")
    assert isinstance(shop, Shop)
    lay_out(shop, "Heron", "2 2")
    shop.copies_folder = tmp_path / "copies"
    assert isinstance(make(shop), Done)
    book = kept(shop)[0].path if is_one else shop.book.path
    shop.close()
    said: list[str] = []

    def at_work() -> int:
        windows = [w for w in QApplication.topLevelWidgets() if isinstance(w, MainWindow)]
        window = next(w for w in windows if w.shop.book.path == book and w.isVisible())
        window.page()
        said.append(window.answer_bar.sentence.text())
        window.close()
        return 0

    monkeypatch.setattr("sys.excepthook", None)
    with monkeypatch.context() as patch:
        patch.setattr(QApplication, "exec", staticmethod(at_work))
        assert app.run(book, settings_file=tmp_path / "w.ini") == 0
    assert (app.IN_A_COPY in said[0]) is is_one
