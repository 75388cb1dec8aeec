"""A list without lines says so, and what would fill it, instead of standing blank."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QPalette
from PySide6.QtWidgets import QAbstractItemView, QLabel

from partsbench.ui.theme import sized

ROUND = 12
"""Room round the words, px."""


class EmptyHint(QLabel):
    """Quiet words on the ground of `view` while its model, which it must have, has no rows."""

    def __init__(self, view: QAbstractItemView, text: str, step: float = 0.3) -> None:
        super().__init__(text, view.viewport())
        self._view = view
        self.setObjectName("empty-hint")
        self.setFont(sized(step))
        self.setWordWrap(True)
        self.setAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop)
        self.setForegroundRole(QPalette.ColorRole.PlaceholderText)
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        view.viewport().installEventFilter(self)
        model = view.model()
        for changed in (model.modelReset, model.rowsInserted, model.rowsRemoved):
            changed.connect(self.on_rows_changed)
        self.on_rows_changed()

    def on_rows_changed(self) -> None:
        self.setVisible(self._view.model().rowCount() == 0)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() == QEvent.Type.Resize:
            room = self._view.viewport().rect()
            self.setGeometry(room.adjusted(ROUND, ROUND, -ROUND, -ROUND))
        return False
