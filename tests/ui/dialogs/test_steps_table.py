"""A path edited as a table in its dialog: by keys, by typing, by dragging, and back again."""

from __future__ import annotations

from datetime import timedelta

import pytest
from PySide6.QtCore import QMimeData, QModelIndex, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit, QPushButton
from pytestqt.qtbot import QtBot

from partsbench.core.finish.steps import FinishPath, Step
from partsbench.services.books import own_paths
from partsbench.services.known import cautions
from partsbench.services.shop import Shop
from partsbench.ui.dialogs.paths_dialog import PathsDialog
from partsbench.ui.dialogs.steps_model import HEADS, Col

ALT = Qt.KeyboardModifier.AltModifier
CTRL = Qt.KeyboardModifier.ControlModifier


@pytest.fixture
def dialog(shop: Shop, qtbot: QtBot) -> PathsDialog:
    """A copy of the shipped path for stain, shown."""
    made = PathsDialog(shop, "")
    qtbot.addWidget(made)
    made.show()
    text = own_paths.copy_text(shop, "stain", "mine", "Mine")
    assert isinstance(text, str)
    made.text.setPlainText(text)
    made.on_text_stood_still()
    made.table.view.setFocus()
    return made


def path(dialog: PathsDialog) -> FinishPath:
    read = own_paths.check(dialog.text.toPlainText()).path
    assert read is not None
    return read


def keys(dialog: PathsDialog) -> list[str]:
    assert dialog.table.model.steps == path(dialog).steps, "table and text are one"
    return [s.key for s in path(dialog).steps]


def step(dialog: PathsDialog, key: str) -> Step:
    found = path(dialog).step(key)
    assert found is not None
    return found


def typed(dialog: PathsDialog, key: str, col: Col, words: str) -> None:
    """As with a keyboard: F2, all of it marked, the words, Enter."""
    view = dialog.table.view
    dialog.table.choose(keys(dialog).index(key), col)
    QTest.keyClick(view, Qt.Key.Key_F2)
    (cell,) = [e for e in view.findChildren(QLineEdit) if e.isVisible()]
    cell.selectAll()
    QTest.keyClicks(cell, words) if words else QTest.keyClick(cell, Qt.Key.Key_Backspace)
    QTest.keyClick(cell, Qt.Key.Key_Return)
    for _ in ("the view takes what was typed", "the path is shown anew"):
        QApplication.processEvents()


def press(dialog: PathsDialog, name: str) -> None:
    button = dialog.findChild(QPushButton, name)
    assert button is not None
    QTest.mouseClick(button, Qt.MouseButton.LeftButton)


def test_alt_and_arrows_move_a_step_that_stays_chosen(dialog: PathsDialog) -> None:
    was, text = keys(dialog), dialog.text.toPlainText()
    dialog.table.choose(1)
    QTest.keyClick(dialog.table.view, Qt.Key.Key_Up, ALT)
    assert keys(dialog) == [was[1], was[0], *was[2:]]
    assert dialog.table.row() == 0
    QTest.keyClick(dialog.table.view, Qt.Key.Key_Down, ALT)
    assert keys(dialog) == was
    assert dialog.table.row() == 1
    for _ in range(2):
        QTest.keyClick(dialog.table.view, Qt.Key.Key_Z, CTRL)
    assert dialog.text.toPlainText() == text


@pytest.mark.parametrize(("came", "gap", "left"), [(0, 2, "1023"), (3, 0, "3012"), (1, 1, "0123")])
def test_a_step_is_dropped_between_others(
    dialog: PathsDialog, came: int, gap: int, left: str
) -> None:
    plain = "\n\n".join(
        ['key = "mine"\nname = "Mine"\nkind = "paint"']
        + [f'[[step]]\nkey = "s{n}"\nname = "S"\ndid = "s"\noperation = "rinse"' for n in range(4)]
    )
    dialog.text.setPlainText(plain)
    dialog.on_text_stood_still()
    model = dialog.table.model
    data = model.mimeData([model.index(came, 0)])
    took = model.dropMimeData(data, Qt.DropAction.MoveAction, gap, 0, QModelIndex())
    QApplication.processEvents()
    assert not took, "the view itself takes no row out"
    assert "".join(k[1] for k in keys(dialog)) == left


def test_what_is_typed_in_a_cell_stands_in_the_text(dialog: PathsDialog) -> None:
    typed(dialog, "rinse", Col.WAIT, "3 h 10 min")
    assert step(dialog, "rinse").earliest == timedelta(hours=3, minutes=10)
    source = step(dialog, "rinse").source_of("earliest")
    assert source is not None
    assert source.status.is_the_users
    typed(dialog, "rinse", Col.MISSED, 'Rinse "again".')
    typed(dialog, "rinse", Col.LATEST, "2 d")
    typed(dialog, "rinse", Col.CAUTIONS, "dust, lead")
    typed(dialog, "rinse", Col.NAME, "Rinse twice")
    rinse = step(dialog, "rinse")
    assert (rinse.name, rinse.cautions) == ("Rinse twice", ("dust", "lead"))
    assert rinse.latest == timedelta(days=2)
    assert rinse.missed is not None
    assert rinse.missed.say == 'Rinse "again".'


def test_cautions_are_shown_and_typed_as_words_and_no_key_is_seen(dialog: PathsDialog) -> None:
    typed(dialog, "rinse", Col.CAUTIONS, "water on  veneer, oily_rags")
    assert step(dialog, "rinse").cautions == ("water_on_veneer", "oily_rags")
    model = dialog.table.model
    shown = [model.words(s, Col.CAUTIONS) for s in path(dialog).steps]
    assert "water on veneer, oily rags" in shown
    assert not any("_" in words for words in shown)


def test_what_is_not_changed_keeps_its_source(dialog: PathsDialog) -> None:
    text = dialog.text.toPlainText()
    typed(dialog, "rinse", Col.WAIT, "12 h")
    assert dialog.text.toPlainText() == text


@pytest.mark.parametrize(
    ("col", "words", "why"),
    [
        (Col.WAIT, "soon", "should be written like"),
        (Col.LATEST, "20 h", "must say what to do when it is missed"),
        (Col.CAUTIONS, "dragons", "There is no caution “dragons”"),
        (Col.NAME, "", "is missing"),
    ],
)
def test_what_the_path_would_not_hold_is_refused(
    dialog: PathsDialog, col: Col, words: str, why: str
) -> None:
    text = dialog.text.toPlainText()
    typed(dialog, "rinse", col, words)
    assert why in dialog.told.text()
    assert dialog.text.toPlainText() == text
    assert keys(dialog), "the table still stands"


def test_a_shipped_path_is_not_edited(dialog: PathsDialog, shop: Shop) -> None:
    text = own_paths.text_of(shop, "stain")
    assert isinstance(text, str)
    dialog.text.setPlainText(text)
    dialog.on_text_stood_still()
    dialog.table.choose(0)
    QTest.keyClick(dialog.table.view, Qt.Key.Key_Delete)
    assert "stays as it is" in dialog.told.text()
    assert dialog.text.toPlainText() == text


def test_optional_is_ticked_but_a_case_keeps_it(dialog: PathsDialog) -> None:
    model = dialog.table.model
    at = keys(dialog).index("rinse")
    checked = Qt.ItemDataRole.CheckStateRole
    assert model.setData(model.index(at, Col.OPTIONAL), Qt.CheckState.Checked.value, checked)
    QApplication.processEvents()
    assert step(dialog, "rinse").optional
    case = next(i for i, s in enumerate(path(dialog).steps) if s.only_when)
    flags = model.flags(model.index(case, Col.OPTIONAL))
    assert not flags & Qt.ItemFlag.ItemIsUserCheckable


def test_every_shipped_step_can_be_added_or_is_refused_with_a_reason(dialog: PathsDialog) -> None:
    text = dialog.text.toPlainText()
    many = len(keys(dialog))
    added = 0
    for place in range(dialog.table.offer.count()):
        dialog.text.setPlainText(text)
        dialog.on_text_stood_still()
        dialog.table.choose(1)
        dialog.table.offer.setCurrentIndex(place)
        press(dialog, "step-add")
        if len(keys(dialog)) == many + 1:
            added += 1
            assert dialog.table.row() == 2
            assert dialog.table.offers[place].step.name == path(dialog).steps[2].name
        else:
            assert "there is no step" in dialog.told.text(), dialog.told.text()
    assert added > dialog.table.offer.count() * 0.8


def test_a_finding_stands_beside_the_step_it_means(dialog: PathsDialog) -> None:
    text = dialog.text.toPlainText().replace("grit = { value = 220", "grit = { value = 400", 1)
    dialog.text.setPlainText(text)
    dialog.on_text_stood_still()
    findings = own_paths.check(text).findings
    assert findings
    model = dialog.table.model
    for row, one in enumerate(model.steps):
        cell = model.index(row, Col.FOUND)
        mine = [f for f in findings if f.where == one.key]
        shown = str(model.data(cell))
        assert shown.count("\n") + bool(shown) == len(mine)
        told = str(model.data(cell, Qt.ItemDataRole.ToolTipRole))
        for finding in mine:
            assert finding.rule in shown
            assert finding.reason in told
    dialog.found.choose(0)
    assert model.steps[dialog.table.row()].key == findings[0].where


def test_each_cell_is_told_with_its_column(dialog: PathsDialog) -> None:
    model = dialog.table.model
    for col, (title, _) in HEADS.items():
        told = model.data(model.index(0, col), Qt.ItemDataRole.AccessibleTextRole)
        assert str(told).startswith(f"{title}: ")
    assert dialog.table.view.accessibleName() == "Steps of the path"


def test_a_text_with_a_fault_has_no_table_and_comes_back(dialog: PathsDialog) -> None:
    many = len(keys(dialog))
    dialog.forms.setCurrentWidget(dialog.text)
    QTest.keyClicks(dialog.text, "= ")
    dialog.on_text_stood_still()
    assert dialog.table.model.steps == ()
    dialog.text.undo()
    dialog.on_text_stood_still()
    assert len(keys(dialog)) == many


def test_a_cell_tells_what_it_has_no_room_for(dialog: PathsDialog) -> None:
    model = dialog.table.model

    def told(key: str, col: Col) -> str:
        row = keys(dialog).index(key)
        return str(model.data(model.index(row, col), Qt.ItemDataRole.ToolTipRole) or "")

    for one in path(dialog).steps:
        assert told(one.key, Col.CAUTIONS) == "\n".join(cautions.words(one.cautions))
        for col, figure in ((Col.WAIT, "earliest"), (Col.LATEST, "latest")):
            source = one.source_of(figure)
            for after in one.after:
                assert f"this step from {after.step}: " in told(one.key, col)
            assert not source or not source.said or source.said in told(one.key, col)
    assert any(told(s.key, Col.CAUTIONS) for s in path(dialog).steps)
    assert any("this step from " in told(s.key, Col.WAIT) for s in path(dialog).steps)
    assert told("stain", Col.NAME) == step(dialog, "stain").name


def test_only_a_step_may_be_dropped_and_only_between_steps(dialog: PathsDialog) -> None:
    was, model = keys(dialog), dialog.table.model
    one, move = model.mimeData([model.index(1, 0)]), Qt.DropAction.MoveAction
    nowhere = QModelIndex()
    words = QMimeData()
    words.setText("2")
    assert model.canDropMimeData(one, move, 0, 0, nowhere)
    assert not model.canDropMimeData(words, move, 0, 0, nowhere)
    assert not model.canDropMimeData(one, Qt.DropAction.CopyAction, 0, 0, nowhere)
    assert model.flags(nowhere) == Qt.ItemFlag.ItemIsDropEnabled
    assert not model.flags(model.index(0, 0)) & Qt.ItemFlag.ItemIsDropEnabled
    model.dropMimeData(words, move, 0, 0, nowhere)
    model.dropMimeData(one, Qt.DropAction.CopyAction, 0, 0, nowhere)
    assert keys(dialog) == was
    model.dropMimeData(one, move, 0, 0, nowhere)
    QApplication.processEvents()
    assert keys(dialog) == [was[1], was[0], *was[2:]]
