from __future__ import annotations

from typing import TYPE_CHECKING

from partsbench.services.acts.teardown import take_out
from partsbench.services.shop import Shop
from tests.support.shops import heron, quill

if TYPE_CHECKING:
    from partsbench.ui.main_window import MainWindow


def lines(window: MainWindow) -> list[str]:
    model = window.history_dock.panel.model
    return [model.entry(row).sentence for row in range(model.rowCount())]


def test_the_journal_opens_at_the_side_and_follows_the_piece(window: MainWindow) -> None:
    piece, other = heron(window.shop), quill(window.shop)
    window.show_page("teardown", piece.tag)
    window.actions_by_key["history"].trigger()
    assert window.history_dock.isVisible()
    window.take_code("D1")
    assert lines(window)[0] == "Heron D1 taken out"
    window.show_page("teardown", other.tag)
    assert lines(window) == [f"Took in Quill {other.tag}"]


def test_undo_in_the_journal_shows_on_the_page(window: MainWindow) -> None:
    piece = heron(window.shop)
    take_out(window.shop, piece.tag, ["D1"])
    window.show_page("teardown", piece.tag)
    window.actions_by_key["history"].trigger()
    window.history_dock.panel.undo_button.click()
    assert window.page().number.text() == "D1"
    assert window.answer_bar.sentence.text() == "Undone: Heron D1 taken out."


def test_closed_by_its_own_button_the_action_is_off(window: MainWindow) -> None:
    window.actions_by_key["history"].trigger()
    window.history_dock.close()
    assert not window.actions_by_key["history"].isChecked()


def test_undo_of_anothers_change_is_asked_once_and_done_when_pressed_again(
    window: MainWindow,
) -> None:
    piece = heron(window.shop)
    other = Shop(window.shop.book, window.shop.clock, "Robin")
    take_out(other, piece.tag, ["D1"])
    window.show_page("teardown", piece.tag)
    window.actions_by_key["undo"].trigger()
    assert "made by Robin: Heron D1 taken out" in window.answer_bar.sentence.text()
    assert "Undo once more" in window.answer_bar.sentence.text()
    take_out(other, piece.tag, ["D2"])
    window.actions_by_key["undo"].trigger()
    assert "Heron D2 taken out" in window.answer_bar.sentence.text()
    window.actions_by_key["undo"].trigger()
    assert window.answer_bar.sentence.text() == "Undone: Heron D2 taken out."
    window.actions_by_key["history"].trigger()
    panel = window.history_dock.panel
    panel.undo_button.click()
    assert "Undo once more" in window.answer_bar.sentence.text()
    panel.undo_button.click()
    assert window.answer_bar.sentence.text() == "Undone: Heron D1 taken out."
