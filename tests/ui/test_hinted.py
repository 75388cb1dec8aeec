from __future__ import annotations

from PySide6.QtWidgets import QLineEdit
from pytestqt.qtbot import QtBot

from partsbench.ui.hinted import show_hint


def test_an_example_stands_in_the_empty_field_and_beside_the_pointer(qtbot: QtBot) -> None:
    field = QLineEdit()
    qtbot.addWidget(field)
    show_hint(field, "chip from the back edge of D1")
    assert field.placeholderText() == field.toolTip() == "chip from the back edge of D1"
