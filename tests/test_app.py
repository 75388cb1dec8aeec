from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication, QMessageBox

from partsbench import app
from partsbench.services.shop import Shop, open_shop
from partsbench.services.watching import all_pieces
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
        patch.setattr(QMessageBox, "critical", staticmethod(lambda *a: said.append(a[2])))
        assert app.run(book, settings_file=tmp_path / "w.ini") == 2
    assert len(said) == 1
    assert str(book) in said[0]
    assert book.read_bytes() == b"not a book at all" * 100
