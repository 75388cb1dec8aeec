"""What was read in a picture and where; and, before it counts as a scan, whether it is so."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path
from typing import Protocol, cast

from PySide6.QtCore import QModelIndex, Qt
from PySide6.QtGui import QKeySequence, QStandardItem, QStandardItemModel
from PySide6.QtWidgets import (
    QDialogButtonBox,
    QFrame,
    QHBoxLayout,
    QLabel,
    QListView,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from partsbench.core.piece.codes import Code, parse_code
from partsbench.services.heard.reading import Symbol, name_of, told
from partsbench.services.shop import Shop
from partsbench.ui.dialogs.seen_picture import Outline, SeenPicture
from partsbench.ui.fitting import FittingDialog
from partsbench.ui.looking import FileLook
from partsbench.ui.theme import grown, sized

WORDS_WIDE = 350
CLOSE_TALL = 190
BUTTON_TALL = 40
CONFIRM_KEY = "Ctrl+Return"
"""A scanner never strikes it, and neither does a thumb that closes a dialog by Enter."""
LOOK_FIRST = "Compare it with the part itself. Nothing is recorded unless you confirm."


@dataclass(frozen=True, slots=True)
class LabelSeen:
    """One label of the picture: its code, its name, and its symbols."""

    code: str
    name: str
    symbols: tuple[Symbol, ...]
    probable: bool = False
    stranger: bool = False

    @property
    def short(self) -> str:
        """What is written beside it in the picture."""
        parsed = parse_code(self.code)
        short = parsed.short if isinstance(parsed, Code) and not self.stranger else self.code
        return f"{short}?" if self.probable else short

    @property
    def heading(self) -> str:
        if self.stranger:
            return "Of no job in this book"
        return f"Probably {self.name}?" if self.probable else self.name


class PictureDialog(FittingDialog):
    """The picture with outlines, one label from close by, and how it was read."""

    helped_by = "scanning"

    def __init__(self, shop: Shop, look: FileLook | None, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("picture-dialog")
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self._look = look
        self.labels = labels_of(shop, look) if look else []
        self.picture = SeenPicture("The picture that was looked at")
        self.close_up = SeenPicture("The label from close by")
        self.close_up.setMinimumHeight(grown(CLOSE_TALL))
        self.heading = _words("picture-heading", 2.5)
        self.code = _words("picture-code", 0.5)
        self.how = _words("picture-how", 0.0)
        self.list = QListView()
        self._model = QStandardItemModel(self)
        self.buttons = QDialogButtonBox()
        self._fill_list()
        self._arrange()
        self._add_buttons()
        self.setWindowTitle(Path(look.glance.file).name if look else "The last picture")
        self._show_label(0)
        if self.labels:
            self.resize(940, 580)

    def on_row_changed(self, current: QModelIndex, _before: QModelIndex) -> None:
        self._show_label(current.row())

    def _add_buttons(self) -> None:
        self.buttons.addButton(QDialogButtonBox.StandardButton.Close)
        self.buttons.rejected.connect(self.reject)

    def _fill_list(self) -> None:
        for label in self.labels:
            item = QStandardItem(f"{label.heading}   {label.code}")
            item.setEditable(False)
            self._model.appendRow(item)
        self.list.setModel(self._model)
        self.list.setAccessibleName("Labels in the picture")
        self.list.setMinimumHeight(grown(120))
        self.list.selectionModel().currentChanged.connect(self.on_row_changed)

    def _arrange(self) -> None:
        several = len(self.labels) > 1
        (self.close_up if several else self.list).hide()
        words = QWidget()
        down = QVBoxLayout(words)
        down.setContentsMargins(0, 0, 6, 0)
        down.addWidget(self.heading)
        down.addWidget(self.code)
        down.addWidget(self.close_up, 1)
        down.addWidget(self.how)
        down.addWidget(self.list, 1)
        scroll = QScrollArea()
        scroll.setFrameShape(QFrame.Shape.NoFrame)
        scroll.setWidgetResizable(True)
        scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        scroll.setWidget(words)
        scroll.setMinimumWidth(grown(WORDS_WIDE))
        across = QHBoxLayout()
        across.setSpacing(16)
        across.addWidget(self.picture, 3)
        across.addWidget(scroll, 2)
        whole = QVBoxLayout(self)
        whole.addLayout(across, 1)
        whole.addWidget(self.buttons)

    def _show_label(self, row: int) -> None:
        if not 0 <= row < len(self.labels) or self._look is None:
            self.heading.setText("No label was read in a picture yet.")
            self.how.setText("Drop one on the window, paste it, or open it (Ctrl+O).")
            self.picture.hide()
            self.close_up.hide()
            return
        label, views = self.labels[row], self._look.views
        self.heading.setText(self._heading(label))
        self.code.setText(label.code)
        self.how.setText("\n\n".join(self._said(label)))
        outlines = [o for n, one in enumerate(self.labels) for o in _outlines(one, n == row)]
        pages = [view for view in views.pages if view.page == label.symbols[0].page]
        self.picture.show_view(pages[0] if pages else None, outlines)
        self.close_up.show_view(views.close, [replace(o, word=label.short) for o in outlines])

    def _heading(self, label: LabelSeen) -> str:
        return label.heading

    def _said(self, label: LabelSeen) -> list[str]:
        return list(dict.fromkeys(line for symbol in label.symbols for line in told(symbol)))


class AskDialog(PictureDialog):
    """Asks which labels count as scans. Of several none is ticked: it may be a whole sheet."""

    def __init__(self, shop: Shop, look: FileLook, parent: QWidget | None = None) -> None:
        self._scanned = ""
        self.taken: list[str] = []
        super().__init__(shop, look, parent)
        self.show_whether_any_is_ticked()
        self._model.itemChanged.connect(self.show_whether_any_is_ticked)

    def chosen(self) -> list[str]:
        """The codes to take as scans as things stand; `taken` holds them after the dialog."""
        if self._scanned:
            return [self._scanned]
        if len(self.labels) == 1:
            return [label.code for label in self.labels if not label.stranger]
        items = [self._model.item(row) for row in range(self._model.rowCount())]
        ticked = [item.checkState() is Qt.CheckState.Checked for item in items]
        return [one.code for one, on in zip(self.labels, ticked, strict=True) if on]

    def scanned(self, text: str) -> None:
        """A label that a scanner reads meanwhile counts, and no guess any more."""
        self._scanned = text
        self.accept()

    def done(self, result: int) -> None:
        """The list goes with the dialog, so what was ticked is noted before."""
        self.taken = self.chosen() if result else []
        super().done(result)

    def show_whether_any_is_ticked(self) -> None:
        """Nothing ticked is nothing to take."""
        self.confirm.setEnabled(len(self.labels) == 1 or bool(self.chosen()))

    def on_all_asked(self) -> None:
        """Tick all that was read; what is only probable a person ticks one by one."""
        for row, label in enumerate(self.labels):
            if not label.probable and not label.stranger:
                self._model.item(row).setCheckState(Qt.CheckState.Checked)

    def _heading(self, label: LabelSeen) -> str:
        count = len(self.labels)
        return label.heading if count == 1 else f"{count} labels. Which count as scans?"

    def _said(self, label: LabelSeen) -> list[str]:
        return [*([LOOK_FIRST] if label.probable else []), *super()._said(label)]

    def _fill_list(self) -> None:
        super()._fill_list()
        for row, label in enumerate(self.labels):
            if not label.stranger:
                self._model.item(row).setCheckable(True)

    def _add_buttons(self) -> None:
        role = QDialogButtonBox.ButtonRole
        guess = len(self.labels) == 1 and self.labels[0].probable
        yes = QPushButton("Confirm (Ctrl+Enter)" if guess else "Take as a scan (Ctrl+Enter)")
        self.confirm = yes
        no = QPushButton("No" if guess else "Cancel")
        if len(self.labels) > 1:
            yes.setText("Take what is ticked (Ctrl+Enter)")
            every = self.buttons.addButton("Tick all", role.ActionRole)
            every.setMinimumHeight(grown(BUTTON_TALL))
            every.clicked.connect(self.on_all_asked)
        yes.setShortcut(QKeySequence(CONFIRM_KEY))
        for button in (yes, no):
            button.setMinimumHeight(grown(BUTTON_TALL))
        yes.setObjectName("confirm")
        no.setObjectName("refuse")
        self.buttons.addButton(yes, role.AcceptRole)
        self.buttons.addButton(no, role.RejectRole)
        yes.setAutoDefault(not guess)
        yes.setDefault(not guess)
        no.setDefault(guess)
        if guess:
            no.setFocus()
        self.buttons.accepted.connect(self.accept)
        self.buttons.rejected.connect(self.reject)


class HasLooked(Protocol):
    """A window that has looked at pictures."""

    def last_look(self) -> FileLook | None:
        """The picture that was looked at last."""


class LastPicture(PictureDialog):
    """The picture that was looked at last, to be seen again."""

    def __init__(self, shop: Shop, _tag: str, window: QWidget) -> None:
        super().__init__(shop, cast(HasLooked, window).last_look(), window)


def ask_codes(shop: Shop, look: FileLook, parent: QWidget) -> list[str]:
    """Ask; [] when the person thinks better of it."""
    dialog = AskDialog(shop, look, parent)
    dialog.exec()
    return dialog.taken


def labels_of(shop: Shop, look: FileLook) -> list[LabelSeen]:
    """The labels of a picture: those of this book, then what is probable, then strangers."""
    seen = look.seen
    found: dict[str, list[Symbol]] = {}
    for symbol in look.glance.symbols:
        found.setdefault(symbol.text, []).append(symbol)
    return [
        LabelSeen(code, name_of(shop, code), tuple(found[code]), probable, stranger)
        for codes, probable, stranger in (
            (seen.codes, False, False),
            ([guess.code for guess in seen.probable], True, False),
            (seen.strangers, False, True),
        )
        for code in codes
    ]


def _outlines(label: LabelSeen, strong: bool) -> list[Outline]:
    line, role = Qt.PenStyle.SolidLine, "accent"
    if label.probable:
        line, role = Qt.PenStyle.DashLine, "wait"
    elif label.stranger:
        line, role = Qt.PenStyle.DotLine, "foreign"
    return [
        Outline(s.page, s.corners, label.short, line, role, strong, s.repaired)
        for s in label.symbols
    ]


def _words(name: str, step: float) -> QLabel:
    label = QLabel()
    label.setObjectName(name)
    label.setFont(sized(step, bold=step > 1))
    label.setWordWrap(True)
    label.setTextFormat(Qt.TextFormat.PlainText)
    return label
