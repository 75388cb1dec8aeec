"""Pictures of every page and dialog, to be looked at: `python -m tests.support.looks OUT [NAME…]`.

Each is grabbed from the real window, light and dark, at 1280 × 720 and at twice the scale:
`OUT/light-1/sample-return.png`. NAME is the beginning of a picture's name, such as `sample-re`.
"""

from __future__ import annotations

import contextlib
import os
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import timedelta
from pathlib import Path

from PySide6.QtCore import QSize, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget

from partsbench import resources
from partsbench.core.outcomes import Outcome
from partsbench.core.piece.piece import Piece
from partsbench.services.acts import places, returning, teardown
from partsbench.services.books import pieces
from partsbench.services.known.state import piece_state
from partsbench.services.shop import Shop
from partsbench.services.shown import labels
from partsbench.ui import theme as themes
from partsbench.ui.actions import ACTIONS
from partsbench.ui.dialogs.later import Later
from partsbench.ui.main_window import MainWindow
from partsbench.ui.page_table import PAGES
from partsbench.ui.pages.layout_page import LayoutPage
from partsbench.ui.pictures import settle, standing
from tests.support.at_bench import insist, record
from tests.support.clock import SetClock
from tests.support.shops import lay_out, made, shop_at

SIZE = QSize(1280, 720)
SCALES = ("1", "2")
SWAPPED = (("D3", "H4"), ("D4", "H3"))


@dataclass(frozen=True, slots=True)
class Look:
    """One picture: a page of a book, after some scans, or what an act opens over it."""

    name: str
    page: str
    scans: tuple[str, ...] = ()
    act: Callable[[MainWindow], None] | None = None


# Books, each with the piece that is at work


def nothing(shop: Shop) -> None:
    """An empty book."""


def sample(shop: Shop) -> Piece:
    """Heron with its labels handed out, and Quill, whose drawers bear the same numbers."""
    (heron,) = _list(pieces.take_in(shop, resources.sample("heron.toml")))
    _list(pieces.take_in(shop, resources.sample("quill.toml")))
    sheet = labels.make_sheet(shop, heron.tag, homes=True)
    assert isinstance(sheet, labels.Sheet), sheet
    labels.hand_out(shop, sheet)
    return heron


def half_apart(shop: Shop) -> Piece:
    """Six drawers are out."""
    heron = sample(shop)
    _take_out(shop, heron, [p.short for p in heron.present if p.short[0] == "D"][:6])
    return heron


def in_work(shop: Shop) -> Piece:
    """All out, drawers on a rack, the first ones some steps on."""
    heron = sample(shop)
    order = teardown.teardown(piece_state(shop, heron)).order
    _take_out(shop, heron, [p.short for p in order])
    drawers = [p.short for p in heron.present if p.short[0] == "D"]
    places.put(shop, "rack 2", drawers, here=heron.tag)
    for steps, short in enumerate(drawers):
        for _ in range(steps):
            record(shop, short, here=heron.tag)
            _clock(shop).pass_time(hours=30)
    return heron


def half_home(shop: Shop) -> Piece:
    """Some drawers home, two swapped, the small parts not yet."""
    heron = in_work(shop)
    for short, home in (("D1", "H1"), ("D2", "H2"), *SWAPPED):
        returning.bring_home(shop, heron.tag, short, home)
    return heron


def sixty(shop: Shop) -> Piece:
    """Sixty drawers, six across, half of them out."""
    chest = made(pieces.lay_out(shop, "Larch", "6 " * 10, title="chest of sixty", pulls=1, legs=4))
    _take_out(shop, chest, [f"D{n}" for n in range(1, 31)])
    return chest


def sixty_in_work(shop: Shop) -> Piece:
    """Sixty painted drawers, body and legs in the middle of the work: three lag, a few are done."""
    paths = [("paint", [*(f"D{n}" for n in range(1, 61)), "carcase", "legs"])]
    chest = made(
        lay_out(shop, "Larch", "6 " * 10, title="chest of sixty", pulls=1, legs=4, paths=paths)
    )
    _take_out(shop, chest, [f"D{n}" for n in range(1, 55)])
    for number in range(1, 61):
        steps = {7: 1, 22: 0, 51: 2}.get(number, 5 + number % 3)
        for _ in range(20 if number > 54 else steps):
            insist(shop, f"D{number}", here=chest.tag)
    for short in ("D55", "D56"):
        returning.bring_home(shop, chest.tag, short, f"H{short[1:]}")
    for short in ("L1", "L2", "L3", "C1"):
        insist(shop, short, here=chest.tag)
    return chest


# What is looked at in each book


def _history(window: MainWindow) -> None:
    window.actions_by_key["history"].trigger()


def _door(key: str) -> Callable[[MainWindow], None]:
    def opened(window: MainWindow) -> None:
        window.actions_by_key[key].trigger()

    return opened


def _keys(*keys: Qt.Key) -> Callable[[MainWindow], None]:
    def struck(window: MainWindow) -> None:
        for key in keys:
            QTest.keyClick(window.page(), key)

    return struck


def _part(window: MainWindow) -> None:
    page = window.page()
    assert isinstance(page, LayoutPage)
    page.desk.choose(["H3"])
    page.on_part_asked()


def _client(window: MainWindow) -> None:
    page = window.page()
    assert isinstance(page, LayoutPage)
    page.on_client_asked()


def _tab(place: int) -> Callable[[MainWindow], None]:
    def turned(window: MainWindow) -> None:
        page = window.page()
        assert isinstance(page, LayoutPage)
        page.desk.choose(["H3"])
        page.tabs.setCurrentIndex(place)

    return turned


EVERY_PAGE = tuple(Look(e.key, e.key) for e in PAGES)
DIALOGS = (
    *(Look(a.key, "layout", act=_door(a.key)) for a in ACTIONS if a.opens),
    Look("part", "layout", act=_part),
    Look("client", "layout", act=_client),
    Look("find", "bench", act=_door("find")),
    Look("keys", "bench", act=_door("keys")),
    Look("history", "teardown", act=_history),
)
TABS = tuple(Look(f"layout-tab{n}", "layout", act=_tab(n)) for n in range(4))
K = Qt.Key
ASKED = (
    Look("bench-asked", "bench", ("D5",), _keys(K.Key_B)),
    Look("bench-more", "bench", ("D5",), _keys(K.Key_M)),
    Look("return-asked", "return", ("D6",), _keys(K.Key_P)),
    Look("load-asked", "load", act=_keys(K.Key_Return, K.Key_A)),
    Look("load-all", "load", act=_keys(K.Key_M)),
)
BENCH = tuple(Look(f"bench-{s}", "bench", (s,)) for s in ("D1", "D5", "L1", "T1", "P1"))
RETURN = (
    Look("return", "return"),
    Look("return-lit", "return", ("D6",)),
    Look("return-waiting", "return", ("H6",)),
    Look("return-home", "return", ("D6", "H6")),
    Look("return-wrong", "return", ("D6", "H5")),
)
BOOKS: dict[str, tuple[Callable[[Shop], Piece | None], tuple[Look, ...]]] = {
    "empty": (nothing, (*EVERY_PAGE, *DIALOGS[-3:-1])),
    "sample": (sample, (*EVERY_PAGE, *TABS, *DIALOGS)),
    "apart": (
        half_apart,
        (
            Look("teardown", "teardown"),
            Look("out", "teardown", ("D8",)),
            Look("asked", "teardown", ("D8",), _keys(K.Key_N)),
        ),
    ),
    "work": (in_work, (*EVERY_PAGE, *BENCH, *ASKED)),
    "home": (half_home, RETURN),
    "sixty": (sixty, EVERY_PAGE),
    "larch": (sixty_in_work, (*EVERY_PAGE, Look("map-chosen", "map", ("D22",)))),
}


def grab_book(name: str, wanted: Sequence[str], out: Path) -> None:
    """Every look of one book that is wanted, in the theme and scale of this process."""
    make, looks = BOOKS[name]
    chosen = [k for k in looks if not wanted or f"{name}-{k.name}".startswith(tuple(wanted))]
    for look in chosen:
        with looked_at(make, look) as root:
            root.grab().save(str(out / f"{name}-{look.name}.png"))


@contextlib.contextmanager
def looked_at(make: Callable[[Shop], Piece | None], look: Look) -> Iterator[QWidget]:
    """The window as it stands in a look of a fresh book, or the dialog that is open over it."""
    with _book(make) as (shop, tag, folder):
        first = look.page if tag else "start"
        with standing(shop, folder / "looks.ini", tag, first, SIZE) as window:
            window.show_page(look.page, tag)
            for text in look.scans:
                _clock(shop).pass_time(seconds=5)
                window.take_code(text)
            if look.act:
                look.act(window)
            settle()
            over = QApplication.activeModalWidget()
            _let_it_draw(over)
            yield over or window
            if over:
                over.close()


def main(words: Sequence[str]) -> int:
    """OUT [NAME…]; a child process for each theme and scale."""
    out, wanted = Path(words[0]), words[1:]
    if "LOOKS_THEME" not in os.environ:
        return max(_child(words, theme, scale) for theme in themes.THEMES for scale in SCALES)
    app = QApplication.instance() or QApplication(["partsbench"])
    assert isinstance(app, QApplication)
    theme = themes.THEMES[os.environ["LOOKS_THEME"]]
    themes.use(app, theme)
    here = out / f"{theme.name}-{os.environ['QT_SCALE_FACTOR']}"
    here.mkdir(parents=True, exist_ok=True)
    for name in BOOKS:
        grab_book(name, wanted, here)
    return 0


def _child(words: Sequence[str], theme: str, scale: str) -> int:
    told = {"LOOKS_THEME": theme, "QT_SCALE_FACTOR": scale, "QT_QPA_PLATFORM": "offscreen"}
    command = [sys.executable, "-m", "tests.support.looks", *words]
    return subprocess.run(command, env=os.environ | told, check=False).returncode


@contextlib.contextmanager
def _book(make: Callable[[Shop], Piece | None]) -> Iterator[tuple[Shop, str, Path]]:
    """A fresh book, so that one picture cannot change the next."""
    with tempfile.TemporaryDirectory() as folder:
        shop = shop_at(Path(folder) / "looks.partsbench", who="Wren")
        with contextlib.closing(shop):
            piece = make(shop)
            yield shop, piece.tag if piece else "", Path(folder)


def _let_it_draw(over: QWidget | None) -> None:
    """What a dialog draws off the window's thread is waited for."""
    for later in over.findChildren(Later) if over else ():
        later.wait()
    settle()


def _take_out(shop: Shop, piece: Piece, shorts: list[str]) -> None:
    told = teardown.take_out(shop, piece.tag, shorts)
    assert isinstance(told, Outcome) and told.recorded, told
    _clock(shop).now += timedelta(hours=1)


def _clock(shop: Shop) -> SetClock:
    assert isinstance(shop.clock, SetClock)
    return shop.clock


def _list(found: object) -> list[Piece]:
    assert isinstance(found, list), found
    return found


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
