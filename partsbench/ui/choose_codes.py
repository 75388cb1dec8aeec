"""A picture with several labels: which of them to take as scans."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtGui import QStandardItem, QStandardItemModel
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QLabel, QListView, QVBoxLayout, QWidget


class ChooseCodes(QDialog):
    """Lists the codes, none of them ticked: a picture of a whole sheet must not record it all."""

    def __init__(self, name: str, codes: Sequence[str], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle("Several labels")
        self._model = QStandardItemModel(self)
        for code in codes:
            item = QStandardItem(code)
            item.setCheckable(True)
            item.setEditable(False)
            self._model.appendRow(item)
        self.list = QListView()
        self.list.setModel(self._model)
        self.list.setAccessibleName("Labels in the picture")
        question = QLabel(f"{name} shows {len(codes)} labels. Which count as scans?")
        question.setWordWrap(True)
        buttons = QDialogButtonBox(
            QDialogButtonBox.StandardButton.Ok | QDialogButtonBox.StandardButton.Cancel
        )
        every = buttons.addButton("Tick all", QDialogButtonBox.ButtonRole.ActionRole)
        every.clicked.connect(self.on_all_asked)
        buttons.accepted.connect(self.accept)
        buttons.rejected.connect(self.reject)
        layout = QVBoxLayout(self)
        for widget in (question, self.list, buttons):
            layout.addWidget(widget)

    def on_all_asked(self) -> None:
        for row in range(self._model.rowCount()):
            self._model.item(row).setCheckState(Qt.CheckState.Checked)

    def chosen(self) -> list[str]:
        """The codes that are ticked, in their order."""
        items = [self._model.item(row) for row in range(self._model.rowCount())]
        return [i.text() for i in items if i.checkState() is Qt.CheckState.Checked]


def choose_codes(parent: QWidget, name: str, codes: Sequence[str]) -> list[str]:
    """Ask; [] when the person thinks better of it."""
    dialog = ChooseCodes(name, codes, parent)
    dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    return dialog.chosen() if dialog.exec() else []
