"""What a story can set up, do and ask: the real window, with a scanner and a person at its keys."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QLineEdit
from pytestqt.qtbot import QtBot

from partsbench.core.outcomes import Refused
from partsbench.core.piece.piece import Piece
from partsbench.services.acts.history import history
from partsbench.services.acts.returning import missing
from partsbench.services.books.pieces import give_path
from partsbench.services.known.state import PieceState, part_state, piece_state
from partsbench.services.shop import Shop, open_shop
from partsbench.services.shown.labels import hand_out, make_sheet
from partsbench.ui.main_window import MainWindow
from partsbench.ui.settings import Settings
from tests.support.clock import SetClock
from tests.support.scanner import AT_ONCE_MS, BETWEEN_MS, Typist
from tests.support.shops import code, lay_out

PATHS = {"painted": "paint", "stained": "stain", "cleared": "clear"}


class Story:
    """One shop and its window. Pieces are called by their codenames."""

    def __init__(self, folder: Path, clock: SetClock, qtbot: QtBot) -> None:
        self.folder = folder
        self.clock = clock
        self.qtbot = qtbot
        self.shop = self._opened()
        self.window: MainWindow | None = None
        self.hands: Typist | None = None
        self.tags: dict[str, str] = {}
        self.old_labels: dict[str, str] = {}
        self.at_work = ""
        self.entries = 0
        self._gone: list[Shop] = []

    # Setting up

    def _opened(self) -> Shop:
        shop = open_shop(self.folder / "shop.partsbench", self.clock, "Wren")
        assert isinstance(shop, Shop), shop
        return shop

    def open_window(self) -> None:
        window = MainWindow(self.shop, Settings(self.folder / "window.ini"))
        self.qtbot.addWidget(window)
        window.resize(1280, 720)
        window.show()
        self.qtbot.waitExposed(window)
        window.page()  # what the first picture does without is loaded now
        self.window = window
        now = self.hands.now if self.hands else 100_000
        self.hands = Typist(window.windowHandle())
        self.hands.now = now

    def seconds(self) -> float:
        return self.hands.seconds() if self.hands else 0.0

    def power_cut(self) -> None:
        """The window is gone without a word; another is opened on the same book."""
        assert self.window is not None
        self.window._keeper.stop()
        self.window.listening.stop()
        assert self.window.mark is not None
        self.window.mark.let_go()  # as the system does for a program that died
        self.window.hide()
        self._gone.append(self.shop)
        self.shop = self._opened()
        self.open_window()

    def close(self) -> None:
        if self.window:
            self.window.close()
        for shop in (*self._gone, self.shop):
            shop.close()

    def take_in(self, codename: str, rows: str, legs: int, equal: bool, pulls: int) -> None:
        piece = lay_out(self.shop, codename, rows, legs=legs, equal_legs=equal, pulls=pulls)
        assert isinstance(piece, Piece), piece
        self.tags[codename] = piece.tag
        self.at_work = self.at_work or codename

    def plan(self, how: str, shorts: list[str]) -> None:
        made = give_path(self.shop, self.tags[self.at_work], PATHS[how], shorts)
        assert isinstance(made, Piece), made

    def print_again(self, short: str) -> None:
        """The label is printed twice over; the first printing is now old."""
        self.old_labels[short] = self.label(short)
        for _ in range(2):
            sheet = make_sheet(self.shop, self.tags[self.at_work], only=[short], reprint=True)
            assert not isinstance(sheet, Refused), sheet
            hand_out(self.shop, sheet)

    # Doing

    def go_to(self, page: str) -> None:
        assert self.window is not None
        self.window.show_page(page.lower(), self.tags[self.at_work])
        self.mark()

    def mark(self) -> None:
        """What is recorded from here on is asked for by `recorded`."""
        self.entries = len(history(self.shop))

    def scan(self, text: str, *, at_once: bool = False) -> None:
        assert self.hands is not None
        self.mark()
        if not at_once:
            self.clock.pass_time(seconds=2)
        self.hands.scan(text, AT_ONCE_MS if at_once else BETWEEN_MS)

    def type(self, text: str) -> None:
        """Keys struck by a person; the window has given them all out when this returns."""
        assert self.hands is not None and self.window is not None
        self.mark()
        self.hands.type(text)
        self.window.listening.scans.on_time_was_up()

    def press(self, key: str) -> None:
        assert self.hands is not None
        if len(key) == 1:
            self.type(key.lower())
            return
        self.mark()
        named = {"Enter": Qt.Key.Key_Return, "Escape": Qt.Key.Key_Escape}
        self.hands.press(named[key])

    def act(self, action: str) -> None:
        """Undo, Redo: an action of the window."""
        assert self.window is not None
        self.mark()
        self.window.actions_by_key[action.lower()].trigger()

    # Asking

    def piece(self, codename: str = "") -> Piece:
        piece = self.shop.piece(self.tags[codename or self.at_work])
        assert piece is not None
        return piece

    def label(self, short: str, codename: str = "") -> str:
        return code(self.piece(codename), short)

    def state(self) -> PieceState:
        return piece_state(self.shop, self.piece())

    def steps(self, short: str) -> list[str]:
        """The steps recorded on the first face of a part that gets a finish."""
        piece = self.piece()
        part = piece.part(short)
        assert part is not None
        faces = part_state(self.shop, piece, part).faces
        return [m.step for f in faces if f.path.steps for m in f.marks if f.name == "front"]

    def missing(self) -> list[str]:
        return [m.part.short for m in missing(self.state())]

    def recorded(self) -> int:
        """How many changes the last act made."""
        return len(history(self.shop)) - self.entries

    def said(self) -> str:
        """The word and sentences at the foot of the window."""
        assert self.window is not None
        bar = self.window.answer_bar
        return f"{bar.word.text()} {bar.sentence.text()} {bar.because.text()}"

    def field(self) -> QLineEdit:
        """The field that the keyboard is in."""
        assert self.window is not None
        found = QApplication.focusWidget() or self.window.focusWidget()
        assert isinstance(found, QLineEdit), found
        return found
