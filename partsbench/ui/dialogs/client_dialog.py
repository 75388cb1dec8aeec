"""Who a job is for: kept apart from the parts, never on a label, deleted for good when asked."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QDialogButtonBox,
    QFormLayout,
    QLabel,
    QLineEdit,
    QPlainTextEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from partsbench.core.outcomes import Refused
from partsbench.services.books import clients
from partsbench.services.shop import Shop
from partsbench.ui.fitting import FittingDialog
from partsbench.ui.layout.fields import quiet
from partsbench.ui.theme import grown

KEPT_APART = (
    "Kept apart from the parts and never printed on a label. Deleting takes it out of the book "
    "and its history for good; the history of the parts stays."
)
SURE = "Press again to delete for good"


class ClientDialog(FittingDialog):
    """Four fields, saved or forgotten."""

    helped_by = "pieces"

    settled = Signal(object)
    """Done or Refused: what came of saving or deleting."""

    def __init__(self, shop: Shop, tag: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.shop = shop
        self.tag = tag
        piece = shop.piece(tag)
        self.codename = piece.codename if piece else ""
        self.name = QLineEdit()
        self.contact = QLineEdit()
        self.address = QPlainTextEdit()
        self.note = QPlainTextEdit()
        self.forget = QPushButton("Delete this client's data")
        self.told = QLabel()
        self._sure = False
        self.setObjectName("client-dialog")
        self.setWindowTitle(f"Client of {self.codename}")
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self._build()
        self._fill()

    def _build(self) -> None:
        form = QFormLayout()
        for key, title, widget in (
            ("name", "Name", self.name),
            ("contact", "Telephone or mail", self.contact),
            ("address", "Address", self.address),
            ("note", "Note", self.note),
        ):
            widget.setObjectName(f"client-{key}")
            widget.setAccessibleName(title)
            form.addRow(title, widget)
        for area in (self.address, self.note):
            area.setTabChangesFocus(True)
            area.setFixedHeight(3 * area.fontMetrics().lineSpacing() + 16)
        box = QDialogButtonBox(
            QDialogButtonBox.StandardButton.Save | QDialogButtonBox.StandardButton.Cancel
        )
        self.forget.setObjectName("client-forget")
        self.forget.setAutoDefault(False)
        self.forget.clicked.connect(self.on_forget_asked)
        box.addButton(self.forget, QDialogButtonBox.ButtonRole.ResetRole)
        box.accepted.connect(self.accept)
        box.rejected.connect(self.reject)
        self.told.setObjectName("client-told")
        self.told.setWordWrap(True)
        self.told.hide()
        column = QVBoxLayout(self)
        column.addLayout(form)
        column.addWidget(quiet(KEPT_APART))
        column.addWidget(self.told)
        column.addWidget(box)
        self.setMinimumWidth(grown(480))

    def _fill(self) -> None:
        noted = clients.client_of(self.shop, self.codename)
        self.name.setText(noted.get("name", ""))
        self.contact.setText(noted.get("contact", ""))
        self.address.setPlainText(noted.get("address", ""))
        self.note.setPlainText(noted.get("note", ""))
        self.forget.setEnabled(bool(noted))

    def accept(self) -> None:
        answer = clients.set_client(
            self.shop,
            self.tag,
            name=self.name.text().strip(),
            contact=self.contact.text().strip(),
            address=self.address.toPlainText().strip(),
            note=self.note.toPlainText().strip(),
        )
        if self._settled(answer):
            super().accept()

    def on_forget_asked(self) -> None:
        """The first press asks, the second deletes: this one cannot be undone."""
        if not self._sure:
            self._sure = True
            self.forget.setText(SURE)
            return
        if self._settled(clients.forget_client(self.shop, self.tag)):
            super().accept()

    def _settled(self, answer: object) -> bool:
        if isinstance(answer, Refused):
            self.told.setText(answer.sentence)
            self.told.show()
            return False
        self.settled.emit(answer)
        return True
