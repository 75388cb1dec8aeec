"""What the dialogs of the shop share: a title, a line that says what came of it, and a way out."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from partsbench.core.outcomes import Done, Outcome, Refused
from partsbench.services.shop import Shop
from partsbench.ui.bench.controls import words
from partsbench.ui.fitting import FittingDialog, Scrolling
from partsbench.ui.theme import theme_of

Settled = Outcome | Done | Refused


class ShopDialog(FittingDialog):
    """Fill `content`, add buttons with `add_button`, and pass what services answer to `settle`.

    On a small screen the content scrolls; what came of it and the buttons stay in sight.
    """

    settled = Signal(object)

    def __init__(
        self, shop: Shop, tag: str, parent: QWidget | None, *, name: str, title: str
    ) -> None:
        super().__init__(parent)
        self.shop = shop
        self.tag = tag
        self.setObjectName(name)
        self.setWindowTitle(title)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.content = QVBoxLayout()
        self._whole = False
        self.told = words(0.3, name=f"{name}-told")
        self._foot = QHBoxLayout()
        self._foot.addWidget(self.told, 1)
        whole = QVBoxLayout(self)
        self.body = Scrolling(self.content)
        whole.addWidget(self.body, 1)
        whole.addLayout(self._foot)

    def wanted(self) -> QSize:
        return self.size().expandedTo(self.sizeHint())

    def setVisible(self, visible: bool) -> None:
        """Close is made last, so that the keyboard begins in the content and ends there: a space
        typed into a dialog just opened is no goodbye."""
        if visible and not self._whole:
            self._whole = True
            close = QPushButton("Close")
            close.setAutoDefault(False)
            close.clicked.connect(self.reject)
            self._foot.addWidget(close)
        super().setVisible(visible)

    def add_button(self, text: str, name: str, pressed: object) -> QPushButton:
        """A button at the foot, before Close, which comes when all is there."""
        button = QPushButton(text)
        button.setObjectName(name)
        button.setAutoDefault(False)
        button.clicked.connect(pressed)
        self._foot.addWidget(button)
        return button

    def settle(self, answer: Settled) -> bool:
        """Say what came of it here and in the window; True when the book was changed."""
        self.say(answer.sentence, fault=isinstance(answer, Refused))
        if isinstance(answer, Outcome) and not answer.recorded:
            why = "  ·  ".join(filter(None, (answer.sentence, answer.because, answer.source)))
            self.say(why, fault=True)
        self.settled.emit(answer)
        changed = isinstance(answer, Done) or (isinstance(answer, Outcome) and answer.recorded)
        if changed:
            self.refresh()
        return changed

    def say(self, text: str, *, fault: bool = False) -> None:
        """A line at the foot, in the colour of a stop when it is a fault."""
        self.told.setText(text)
        shade = self.told.palette()
        shade.setColor(self.told.foregroundRole(), theme_of(self).color("stop" if fault else "ink"))
        self.told.setPalette(shade)

    def refresh(self) -> None:
        """Show what the book now has."""
