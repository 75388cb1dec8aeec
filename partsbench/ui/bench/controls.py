"""Buttons that show their key, a page that scrolls when it must, and a column of both."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from PySide6.QtCore import QEvent, QSize, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QBoxLayout,
    QFrame,
    QLabel,
    QPushButton,
    QScrollArea,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from partsbench.ui.main_button import MainButton
from partsbench.ui.theme import grown, sized

NARROW_HEIGHT = 640
LITTLE = 40
"""So many px less than wanted are taken before the rows turn."""


class KeyButton(QPushButton):
    """One of several buttons, with its key on it; Enter presses it as Space does."""

    def __init__(self, text: str, key: str, pressed: Callable[[], None], *, name: str = "") -> None:
        super().__init__()
        self.key, self.does = key, pressed
        self.setObjectName(name or f"do-{text.lower().replace(' ', '-').rstrip('…')}")
        self.setAutoDefault(True)
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setMinimumHeight(grown(34))
        self.setSizePolicy(QSizePolicy.Policy.MinimumExpanding, QSizePolicy.Policy.Fixed)
        self.show_words(text)
        self.clicked.connect(pressed)

    def show_words(self, text: str) -> None:
        """Other words on the button; its key stays."""
        self.setText(_with_key(text, self.key))
        self.setAccessibleName(text)


class MainKeyButton(MainButton):
    """The button that is pressed most, with its key on it."""

    def __init__(self, text: str, key: str, pressed: Callable[[], None], *, name: str) -> None:
        super().__init__(text, name)
        self.key, self.does = key, pressed
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.show_words(text)
        self.clicked.connect(pressed)

    def show_words(self, text: str) -> None:
        """Other words on the button; its key stays."""
        self.setText(_with_key(text, self.key))
        self.setAccessibleName(text)


def keys_of(buttons: Iterable[KeyButton | MainKeyButton]) -> dict[int, Callable[[], None]]:
    """What the plain keys do that stand on these buttons."""
    return {_key_named(button.key): button.does for button in buttons if button.key}


def _key_named(name: str) -> Qt.Key:
    return Qt.Key[f"Key_{name}"] if len(name) == 1 else Qt.Key.Key_Return


def _with_key(text: str, key: str) -> str:
    return f"{text}  ({key})" if key else text


class Stage(QWidget):
    """Holds a page's content at no less than the size in which all of it can be read.

    A scroll area would else give a content with wrapped words the height that it likes best.
    """

    def __init__(self, content: QWidget, least: QSize) -> None:
        super().__init__()
        self._content = content
        self._least = least
        self.narrow = False
        content.setParent(self)

    def sizeHint(self) -> QSize:
        return self.minimumSizeHint()

    def minimumSizeHint(self) -> QSize:
        around, layout = self.parentWidget(), self._content.layout()
        assert layout is not None
        wide = max(around.width() if around else 0, self._content.minimumSizeHint().width())
        if not self.narrow:
            # Words that wrap need their height, or they would be drawn over their neighbours.
            least = QSize(0, layout.totalMinimumHeightForWidth(wide))
            return self._content.minimumSizeHint().expandedTo(self._least).expandedTo(least)
        return QSize(0, max(NARROW_HEIGHT, layout.totalHeightForWidth(wide)))

    def resizeEvent(self, event: QResizeEvent) -> None:
        self._content.setGeometry(self.rect())

    def event(self, event: QEvent) -> bool:
        if event.type() == QEvent.Type.LayoutRequest:
            self.updateGeometry()
        return super().event(event)


class Scroller(QScrollArea):
    """Scrolls down a page that is too high; rows in `turning` become columns where it is narrow.

    `last_first`: what stands last in a row, at the right, is on top of the column.
    """

    def __init__(
        self,
        content: QWidget,
        least: tuple[int, int],
        turning: Sequence[QBoxLayout],
        last_first: bool = False,
    ) -> None:
        super().__init__()
        way = QBoxLayout.Direction
        self._column = way.BottomToTop if last_first else way.TopToBottom
        self._wide = QSize(*least)
        self._turning = turning
        self._shares = [[row.stretch(i) for i in range(row.count())] for row in turning]
        self._stage = Stage(content, self._wide)
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setWidget(self._stage)

    def resizeEvent(self, event: QResizeEvent) -> None:
        narrow = event.size().width() < self._wide.width() - LITTLE
        for row, shares in zip(self._turning, self._shares, strict=True):
            row.setDirection(self._column if narrow else QBoxLayout.Direction.LeftToRight)
            for place, share in enumerate(shares):
                row.setStretch(place, 0 if narrow else share)
        self._stage.narrow = narrow
        self._stage.updateGeometry()
        super().resizeEvent(event)


def scrolled(
    content: QWidget,
    page: QWidget,
    least: tuple[int, int],
    *turning: QBoxLayout,
    last_first: bool = False,
) -> Scroller:
    """Fill `page` with `content`, of which `least` px is wanted."""
    column = QVBoxLayout(page)
    column.setContentsMargins(0, 0, 0, 0)
    made = Scroller(content, least, turning, last_first)
    column.addWidget(made)
    return made


def words(step: float = 0, *, bold: bool = False, name: str = "") -> QLabel:
    """A label whose words wrap."""
    label = QLabel()
    label.setObjectName(name)
    label.setFont(sized(step, bold))
    label.setWordWrap(True)
    label.setTextFormat(Qt.TextFormat.PlainText)
    return label
