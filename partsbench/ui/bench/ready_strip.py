"""When the faces shown are ready for what: up to six times of day in one row."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from PySide6.QtWidgets import QLabel, QWidget

from partsbench.core.finish.clocks import ReadyAt
from partsbench.core.finish.products import Ready
from partsbench.services.rules.clocks import ready_words
from partsbench.services.rules.ready import short_time
from partsbench.ui.bench.flow import Flow
from partsbench.ui.theme import sized

TITLES = {
    Ready.SAND: "Sand",
    Ready.RECOAT: "Recoat",
    Ready.TAPE: "Tape",
    Ready.HANDLE: "Handle",
    Ready.TOUCH: "Touch or stack",
    Ready.SERVICE: "Service",
}
GAP = 22


class ReadyStrip(QWidget):
    """Hidden while nothing on the part has to dry. Each cell tells why, and whose figure it is."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("ready-strip")
        self.setAccessibleName("Ready for")
        flow = Flow(self, GAP)
        self._lead = QLabel("Ready to")
        self._cells = {ready: QLabel() for ready in Ready}
        flow.addWidget(self._lead)
        for ready, cell in self._cells.items():
            cell.setObjectName(f"ready-{ready.value}")
            flow.addWidget(cell)

    def show_ready(self, answers: Sequence[ReadyAt], now: datetime) -> None:
        known = [a for a in answers if a.at is not None or a.tried_not]
        self.setVisible(bool(known))
        for answer in answers:
            cell = self._cells[answer.ready]
            time = short_time(answer, now)
            cell.setVisible(answer in known)
            mark = "✓ " if time == "now" else ""
            cell.setFont(sized(0.4, bold=answer.at is not None))
            cell.setText(f"{mark}{TITLES[answer.ready]} {time}")
            cell.setToolTip(ready_words(answer, now))
            cell.setAccessibleDescription(ready_words(answer, now))

    def text(self) -> str:
        """What is shown, in one line."""
        return " · ".join(c.text() for c in self._cells.values() if not c.isHidden())
