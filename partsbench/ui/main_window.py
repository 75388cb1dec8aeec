"""The window: pages, the piece at work, scans from anywhere, and the last answer.

It is shown with the piece at work drawn; pages, scanner and the rest are loaded right after that
first picture (`_stand`).
"""

from __future__ import annotations

from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QSize, Qt, QTimer
from PySide6.QtGui import QAction, QCloseEvent, QDragEnterEvent, QDropEvent
from PySide6.QtWidgets import (
    QApplication,
    QHBoxLayout,
    QMainWindow,
    QVBoxLayout,
    QWidget,
)

from partsbench.core.outcomes import Done, Outcome, Refused
from partsbench.services.books.restart import OpenMark, window_opened
from partsbench.services.books.watching import all_pieces, warm_up
from partsbench.services.shop import Shop
from partsbench.ui import actions as tables
from partsbench.ui import theme as themes
from partsbench.ui.answer_bar import AnswerBar
from partsbench.ui.band import Band
from partsbench.ui.camera.switch import CameraSwitch
from partsbench.ui.doors import Doors
from partsbench.ui.file_errands import FileErrands
from partsbench.ui.focus_ring import is_going, show_focus
from partsbench.ui.keeper import Keeper
from partsbench.ui.page_stack import PageStack
from partsbench.ui.page_table import PAGES
from partsbench.ui.piece_chooser import PieceChooser
from partsbench.ui.rail import Rail
from partsbench.ui.settings import Settings
from partsbench.ui.turning_back import TurningBack
from partsbench.ui.view_switches import ViewSwitches

if TYPE_CHECKING:
    from partsbench.ui.history_dock import HistoryDock
    from partsbench.ui.intake import Intake
    from partsbench.ui.listening import Listening
    from partsbench.ui.looking import FileLook
    from partsbench.ui.pages.page import Page
    from partsbench.ui.speech import Speech
    from partsbench.ui.tones import Tones

SMALLEST = QSize(480, 320)
USUAL = QSize(1280, 760)
FRAME = 32
"""So high may the system's title bar be over the window."""
COPIES_MS = 3_600_000
"""So often is looked whether a new day wants a copy."""
LATER_MS = 300
"""So long after the window stands, what the first change needs is loaded."""
WITHOUT_PIECE = ("start", "pieces")
OF_ONE_PIECE = ("teardown", "return")
"""Pages that answer for one piece only."""


def first_size(room: QSize) -> QSize:
    """The size of the first start: as usual, or what a smaller screen leaves free.

    The frame that the system draws round a window is not known before it stands.
    """
    frame = QSize(0, FRAME)
    return USUAL.boundedTo(room - frame).expandedTo(SMALLEST)


class MainWindow(QMainWindow):
    """Owns the pages and passes scans, answers and the piece at work between them."""

    def __init__(self, shop: Shop, settings: Settings) -> None:
        super().__init__()
        self.shop = shop
        self.settings = settings
        self.tag = ""
        self._key = ""
        self._stands = False
        self.mark: OpenMark | None = None
        self.first_words: list[Done | Refused] = [Done(told) for told in shop.told]
        """What is said as soon as the window stands."""
        self.get_back: Path | None = None
        """The copy that is to be the book: the window was closed for that."""
        self._doors = Doors(shop, self)
        self._files = FileErrands(shop, self, self.intake)
        self._back = TurningBack(shop, self)
        switches = ViewSwitches(settings, self, self.tones, self.speech)
        self.camera = CameraSwitch(shop, self, self.intake)
        self.actions_by_key = tables.make_actions(
            self, self._files, self._back, switches, self.camera
        )
        self.page_actions = tables.make_page_actions(self)
        self._stack = PageStack(shop, settings, self)
        self.pages = self._stack.pages
        self._keeper = Keeper(shop, settings, self.pages)
        self.answer_bar = AnswerBar(self)
        self.chooser = PieceChooser(shop, self)
        self._build()
        self._dress()
        self._restore()

    # Pages and pieces

    def page(self) -> Page:
        """The page in front."""
        self._stand()
        return self.pages[self._key]

    def page_key(self) -> str:
        return self._key

    def show_page(self, key: str, tag: str = "") -> None:
        """Bring a page to the front, with the piece of that tag if one is given."""
        self._stand()
        self.tag = tag or self.tag
        self._key = key
        self.page_actions[key].setChecked(True)
        self._stack.bring(key, self.tag)
        self._keeper.at(key, self.tag)
        self._show_header()

    # Scans and answers

    @cached_property
    def listening(self) -> Listening:
        from partsbench.ui.listening import Listening

        made = Listening(self.shop, self, self.settings, self.band, self._stack)
        made.tones.on = self.actions_by_key["sound"].isChecked()
        made.speech.told.connect(self.on_no_voice)
        made.went_off.connect(self.on_verb_went_off)
        made.spoke.connect(self.on_answered)
        made.refused.connect(self.on_answered)
        made.code_scanned.connect(self.on_code_scanned)
        made.intake.code_read.connect(self.take_code)
        made.intake.answered.connect(self.on_answered)
        made.intake.pieces_taken_in.connect(self.on_pieces_taken_in)
        made.intake.pictured.connect(self.answer_bar.glimpse.show_look)
        self.answer_bar.glimpse.clicked.connect(self.actions_by_key["picture"].trigger)
        return made

    def intake(self) -> Intake:
        """What sorts files, pictures and copied texts."""
        return self.listening.intake

    def tones(self) -> Tones:
        """What sounds the answers."""
        return self.listening.tones

    def speech(self) -> Speech:
        """What says the answers."""
        return self.listening.speech

    def last_look(self) -> FileLook | None:
        """The picture that was looked at last."""
        return self.intake().last

    def take_code(self, text: str, *, trigger: bool = False) -> None:
        """Give a code to whatever answers it now; one by a `trigger` may bounce."""
        if not self.tag and self._key in OF_ONE_PIECE:
            self._bring_piece_of(text)
        tag = self.listening.give(text, self.page(), trigger=trigger)
        if tag != self.tag:
            self.show_page(self._key, tag)

    def _bring_piece_of(self, text: str) -> None:
        """With no piece at work, a label brings its own."""
        from partsbench.services.known.identify import KnownLabel, identify

        known = identify(self.shop, text)
        if isinstance(known, KnownLabel):
            self.show_page(self._key, known.piece.tag)

    def on_code_scanned(self, text: str) -> None:
        self.take_code(text, trigger=True)

    def on_seen_again(self, text: str) -> None:
        self.listening.see_again(text, self.page())

    def on_no_voice(self, why: Refused) -> None:
        self.actions_by_key["speech"].setChecked(False)
        self.settings.put("view/speech", False)
        self.on_answered(why)

    def on_verb_went_off(self, answer: Outcome) -> None:
        self.page().take_answer(answer)

    def on_answered(self, answer: Outcome | Done | Refused | str) -> None:
        shown = self._key in self.pages and self.pages[self._key].shows(answer)
        self.answer_bar.show_answer(answer, on_page=shown)
        if not isinstance(answer, str):
            self.listening.sound(answer)

    def on_changed(self) -> None:
        page = self.page()
        self.tag = page.tag or self.tag
        self._keeper.at(self._key, self.tag)
        page.refresh()
        self._show_header()
        self._keeper.keep()

    def on_book_changed_elsewhere(self) -> None:
        self.page().refresh()
        self._show_header()

    # Actions

    def on_page_action_triggered(self, action: QAction) -> None:
        self.show_page(action.objectName().removeprefix("action-"))
        self.answer_bar.show_answer(f"{action.statusTip()}.")

    def on_page_asked(self, key: str, tag: str) -> None:
        if key in self.actions_by_key:
            self.show_page(self._key, tag)
            self.actions_by_key[key].trigger()
        else:
            self.show_page(key, tag)

    def on_piece_chosen(self, tag: str) -> None:
        self.show_page("bench" if self._key in WITHOUT_PIECE else self._key, tag)

    def on_door_asked(self) -> None:
        """The action that asks is named like its line in the table."""
        key = self.sender().objectName().removeprefix("action-")
        self._doors.open(tables.BY_KEY[key], self.tag)

    def on_turned_back(self, turned: Done | Refused) -> None:
        self.listening.undone()
        self.on_answered(turned)
        if isinstance(turned, Done):
            self.on_changed()

    def on_part_found(self, tag: str, short: str) -> None:
        self.show_page("bench", tag)
        self.page().scanned(short)

    def on_scan_field_asked(self) -> None:
        self.answer_bar.field.setFocus(Qt.FocusReason.ShortcutFocusReason)
        self.answer_bar.field.selectAll()

    def on_pieces_taken_in(self, tag: str) -> None:
        self.show_page("layout" if self._key == "start" else self._key, tag)

    @cached_property
    def history_dock(self) -> HistoryDock:
        from partsbench.ui.history_dock import HistoryDock

        made = HistoryDock(self.shop, self)
        made.panel.answered.connect(self.on_answered)
        made.panel.changed.connect(self.on_changed)
        made.visibilityChanged.connect(self.actions_by_key["history"].setChecked)
        self.addDockWidget(Qt.DockWidgetArea.RightDockWidgetArea, made)
        return made

    def on_history_toggled(self, shown: bool) -> None:
        self.history_dock.setVisible(shown)
        self.history_dock.show_piece(self.tag)

    def on_keys_asked(self) -> None:
        from partsbench.ui.keys_dialog import KeysDialog

        KeysDialog(self).open()

    # Qt

    def focusNextPrevChild(self, onward: bool) -> bool:
        """Where the keyboard goes: Tab leads round; from a control that goes away it comes back to
        the page, and never into the field for codes, where the next key would be typed."""
        here = QApplication.focusWidget()
        page = self.pages.get(self._key) if self._stands else None
        if page is None or here is None or not is_going(here):
            return super().focusNextPrevChild(onward)
        if not is_going(page.focusProxy() or page):
            page.setFocus(Qt.FocusReason.OtherFocusReason)
            return True
        moved = super().focusNextPrevChild(onward)
        past_the_field = moved and self.answer_bar.field.hasFocus()
        return super().focusNextPrevChild(onward) if past_the_field else moved

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        if self.listening.intake.takes(event.mimeData()):
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        event.acceptProposedAction()
        self.listening.intake.take(event.mimeData())

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange and hasattr(self, "_stack"):
            self._dress()

    def closeEvent(self, event: QCloseEvent) -> None:
        self._keeper.keep()
        self._keeper.stop()
        self.settings.put_geometry(self.saveGeometry())
        self.settings.write_now()
        if self.mark:
            self.mark.close()
        self.camera.stop()
        self._stack.let_go()
        if "listening" in self.__dict__:
            self.listening.stop()
        super().closeEvent(event)

    # Building

    def _build(self) -> None:
        self.setObjectName("main-window")
        self.setMinimumSize(SMALLEST)
        self.setAcceptDrops(True)
        self.setAnimated(False)
        tables.fill_menus(self.menuBar(), self.actions_by_key, self.page_actions)
        self.addToolBar(tables.make_tools(self, self.chooser, self.actions_by_key))
        whole = QWidget(self)
        self.setCentralWidget(whole)
        self._down = down = QVBoxLayout(whole)
        down.setContentsMargins(0, 0, 0, 0)
        down.setSpacing(0)
        self.band = Band("verb-band", whole)
        down.addWidget(self.band)
        across = QHBoxLayout()
        down.addLayout(across, 1)
        down.addWidget(self.answer_bar)
        across.setSpacing(0)
        self.rail = Rail(self.page_actions.values(), whole)
        across.addWidget(self.rail)
        across.addWidget(self._stack, 1)

    def _dress(self) -> None:
        theme = themes.theme_of(self)
        tables.tint(self.page_actions, PAGES, theme)
        tables.tint(self.actions_by_key, tables.ACTIONS, theme)

    def _restore(self) -> None:
        """Where one was: the page is named, and the piece drawn, before the page is loaded."""
        self.resize(first_size(self.screen().availableSize()))
        self.restoreGeometry(self.settings.geometry())
        self.actions_by_key["dark"].setChecked(themes.theme_of(self) is themes.DARK)
        self.actions_by_key["sound"].setChecked(self.settings.flag("view/sound", True))
        self.actions_by_key["speech"].setChecked(self.settings.flag("view/speech"))
        known = {p.tag for p in all_pieces(self.shop)}
        tag, key = self.settings.text("at/tag"), self.settings.text("at/page")
        if key not in self.page_actions or (tag not in known and key not in WITHOUT_PIECE):
            key = "pieces" if known else "start"
        self.tag, self._key = tag if tag in known else "", key
        self.page_actions[key].setChecked(True)
        self.chooser.show_pieces(self.tag)
        curtain = self._stack.hang_curtain(self.shop.piece(self.tag) if self.tag else None)
        curtain.first_painted.connect(self.on_curtain_painted, Qt.ConnectionType.QueuedConnection)

    def on_curtain_painted(self) -> None:
        self._stand()

    def _stand(self) -> None:
        """Load what the first picture did without; the second time does nothing."""
        if self._stands:
            return
        self._stands = True
        show_focus()
        self._connect_helpers()
        self._stack.answered.connect(self.on_answered)
        self._stack.changed.connect(self.on_changed)
        self._stack.page_asked.connect(self.on_page_asked)
        self._stack.part_asked.connect(self.on_part_found)
        self.show_page(self._key, self.tag)
        self._stack.take_curtain_down()
        _ = self.listening
        self.page_actions[self._key].actionGroup().triggered.connect(self.on_page_action_triggered)
        self.chooser.piece_chosen.connect(self.on_piece_chosen)
        self.answer_bar.code_typed.connect(self.take_code)
        self._keeper.book_changed_elsewhere.connect(self.on_book_changed_elsewhere)
        self._doors.ask_after_restart(self._down)
        self.mark = window_opened(self.shop)
        for answer in self.first_words:
            self.on_answered(answer)
        QTimer.singleShot(LATER_MS, self, self.on_window_stands)

    def _connect_helpers(self) -> None:
        self.camera.over = self._stack
        self.camera.code_read.connect(self.on_code_scanned)
        self.camera.seen_again.connect(self.on_seen_again)
        self.camera.turned.connect(self.actions_by_key["camera"].setChecked)
        for helper in (self._doors, self._files, self.camera):
            helper.answered.connect(self.on_answered)
        self._doors.part_chosen.connect(self.on_part_found)
        self._doors.get_back_asked.connect(self.on_get_back_asked)
        self._doors.closed.connect(self.on_changed)
        self._doors.bench_asked.connect(self.on_bench_asked)
        self._back.turned.connect(self.on_turned_back)

    def on_window_stands(self) -> None:
        if self.isVisible():
            warm_up(self.shop)
            self.listening.begin()
            self.speech().turn(self.actions_by_key["speech"].isChecked())
            self.on_copies_due()
            hourly = QTimer(self)
            hourly.timeout.connect(self.on_copies_due)
            hourly.start(COPIES_MS)

    def on_copies_due(self) -> None:
        """The copy of the day; what is wrong with the copies is said."""
        from partsbench.services.books.copies import daily

        for told in daily(self.shop):
            self.on_answered(Refused(told))

    def on_get_back_asked(self, copy: Path) -> None:
        self.get_back = copy
        self.close()

    def on_bench_asked(self) -> None:
        self.show_page("bench")

    def _show_header(self) -> None:
        if "history_dock" in self.__dict__:
            self.history_dock.show_piece(self.tag)
        self.chooser.show_pieces(self.tag)
        at_work = self.chooser.currentText() if self.tag else ""
        self.setWindowTitle(f"{at_work} · partsbench" if at_work else "partsbench")
        self._back.show_next(self.actions_by_key, tables.BY_KEY)
