"""A first job by hand-holding, at the foot of the window: what to do, and labels to click."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt, QTimer, Signal
from PySide6.QtGui import QIcon, QPixmap, QResizeEvent
from PySide6.QtWidgets import (
    QApplication,
    QDockWidget,
    QHBoxLayout,
    QLabel,
    QMainWindow,
    QPushButton,
    QScrollArea,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from partsbench.services.acts.history import history
from partsbench.services.shop import Shop
from partsbench.services.shown.guide import GuideStep, guide
from partsbench.services.shown.labels import label_pictures
from partsbench.ui.theme import sized

BEAT_MS = 300
LABEL = QSize(160, 82)
SMALL = 96
"""No label is drawn narrower than this, in px: rather they scroll."""
GAP, FRAME = 6, 10


class GuideDock(QDockWidget):
    """Looks at the book, shows the step that is next and brings its page up. Closing leaves it."""

    scanned = Signal(str)
    """The label that was clicked, as a scanner would have sent it."""
    page_asked = Signal(str, str)

    def __init__(self, shop: Shop, parent: QWidget | None = None) -> None:
        super().__init__("A first job", parent)
        self.setObjectName("guide-dock")
        self._shop = shop
        self._seen = -1
        self.step: GuideStep | None = None
        self.labels: dict[str, QToolButton] = {}
        self.title = QLabel()
        self.title.setObjectName("guide-title")
        self.title.setFont(sized(2, bold=True))
        self.title.setWordWrap(True)
        self.says = QLabel()
        self.says.setObjectName("guide-says")
        self.says.setFont(sized(0.4))
        self.says.setWordWrap(True)
        self.there = QPushButton("Show me where")
        self.there.setObjectName("guide-there")
        self.there.clicked.connect(self.on_there_clicked)
        self.leave = QPushButton("Leave the guide")
        self.leave.setObjectName("guide-leave")
        self.leave.clicked.connect(self.close)
        self._lay_out()
        self._beat = QTimer(self, interval=BEAT_MS)
        self._beat.timeout.connect(self.on_beat)
        self._beat.start()

    def _lay_out(self) -> None:
        """Low, so that the page above keeps its room: words, labels at hand, two buttons."""
        self.setTitleBarWidget(QWidget())
        self._words = QWidget()
        down = QVBoxLayout(self._words)
        down.setContentsMargins(0, 0, 0, 0)
        down.addWidget(self.title)
        down.addWidget(self.says)
        down.addStretch(1)
        inside = QWidget()
        self._row = QHBoxLayout(inside)
        self._row.setContentsMargins(0, 0, 0, 0)
        self._row.setSpacing(GAP)
        self._row.addStretch(1)
        self._tray = QScrollArea()
        self._tray.setWidgetResizable(True)
        self._tray.setFrameShape(QScrollArea.Shape.NoFrame)
        self._tray.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._tray.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._tray.setWidget(inside)
        buttons = QVBoxLayout()
        buttons.addWidget(self.there)
        buttons.addWidget(self.leave)
        buttons.addStretch(1)
        whole = QWidget()
        across = QHBoxLayout(whole)
        across.addWidget(self._words, 2)
        across.addWidget(self._tray, 3)
        across.addLayout(buttons)
        self.setWidget(whole)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit_labels()
        self._be_low()

    def _be_low(self) -> None:
        """No higher than its words and labels want; a dock would else keep what it once had."""
        whole, words = self.widget(), self._words.layout()
        across = whole.layout() if whole else None
        if across is None or words is None:
            return
        across.activate()
        high = max(
            words.heightForWidth(self._words.width()),
            self._tray.minimumHeight(),
            self.there.sizeHint().height() + self.leave.sizeHint().height() + GAP,
        )
        margins = across.contentsMargins()
        whole.setFixedHeight(high + margins.top() + margins.bottom())

    def _fit_labels(self) -> None:
        """As large as lets all of them stand side by side, within reason."""
        if not self.labels:
            return
        room = self._tray.viewport().width() // len(self.labels) - GAP - FRAME
        wide = max(SMALL, min(LABEL.width(), room))
        size = QSize(wide, round(wide * LABEL.height() / LABEL.width()))
        for button in self.labels.values():
            button.setIconSize(size)
        bar = self._tray.horizontalScrollBar().sizeHint().height() if room < SMALL else 0
        self._tray.setMinimumHeight(size.height() + FRAME + bar)

    def closeEvent(self, event: object) -> None:
        self._beat.stop()
        super().closeEvent(event)  # type: ignore[arg-type]

    def on_beat(self) -> None:
        """The book has changed: perhaps the step is done. Not behind a dialog."""
        newest = history(self._shop, limit=1)
        version = newest[0].id if newest else 0
        if version == self._seen or QApplication.activeModalWidget() is not None:
            return
        self._seen = version
        step = guide(self._shop)
        if step == self.step:
            return
        moved = self.step is None or step.key != self.step.key
        self.step = step
        place = f"{step.number} of {step.of}:  " if step.number else ""
        self.title.setText(f"{place}{step.title}")
        self.says.setText(step.says)
        self._show_labels(step)
        if moved:
            self.page_asked.emit(step.page, step.tag)

    def _show_labels(self, step: GuideStep) -> None:
        for button in self.labels.values():
            self._row.removeWidget(button)
            button.hide()
            button.deleteLater()
        self.labels = {}
        self._tray.setVisible(bool(step.scans))
        self._tray.setMinimumHeight(0)
        if not step.scans:
            self._be_low()
            return
        pictures = label_pictures(self._shop, step.tag, step.scans)
        for place, (code, png) in enumerate(_in_order(pictures, step.scans)):
            button = self._label(code, png)
            self.labels[code] = button
            self._row.insertWidget(place, button)
            button.show()
        self._fit_labels()
        self._be_low()

    def _label(self, code: str, png: bytes) -> QToolButton:
        picture = QPixmap()
        picture.loadFromData(png, "PNG")
        button = QToolButton()
        button.setObjectName(f"guide-label-{code}")
        button.setAccessibleName(f"Scan the label {code}")
        button.setToolTip(f"Scan {code}")
        button.setIcon(QIcon(picture))
        button.setIconSize(LABEL)
        button.clicked.connect(lambda _=False, text=code: self.scanned.emit(text))
        return button

    def on_there_clicked(self) -> None:
        if self.step is not None:
            self.page_asked.emit(self.step.page, self.step.tag)


def _in_order(pictures: dict[str, bytes], names: tuple[str, ...]) -> list[tuple[str, bytes]]:
    """Homes beside one another, then parts: as the step names them."""
    homes = [(code, png) for code, png in pictures.items() if code[5] == "H"]
    parts = [(code, png) for code, png in pictures.items() if code[5] != "H"]
    return [*homes, *parts]


def stand_by(shop: Shop, window: QMainWindow) -> GuideDock:
    """The guide at the foot of a `MainWindow`, its labels going where typed scans go."""
    dock = GuideDock(shop, window)
    dock.scanned.connect(window.take_code)  # type: ignore[attr-defined]
    dock.page_asked.connect(window.show_page)  # type: ignore[attr-defined]
    window.addDockWidget(Qt.DockWidgetArea.BottomDockWidgetArea, dock)
    dock.on_beat()
    return dock
