"""The picture with what was found in it, and the question before a guess counts as a scan."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
from PySide6.QtCore import QCoreApplication, QEvent, QRect, Qt, QTimer
from PySide6.QtGui import QColor, QImage
from PySide6.QtWidgets import QDialog, QPushButton, QWidget
from pytestqt.qtbot import QtBot

from partsbench.core.piece.codes import Code, Family
from partsbench.core.piece.piece import Piece
from partsbench.reading.found import How
from partsbench.services.books.watching import all_pieces
from partsbench.services.heard.reading import codes_in_use, glance_at, name_of, sort_out, views_of
from partsbench.services.shop import Shop
from partsbench.services.shown.labels import Sheet, make_sheet
from partsbench.ui.dialogs.picture_dialog import (
    AskDialog,
    PictureDialog,
    ask_codes,
    labels_of,
)
from partsbench.ui.looking import FileLook
from partsbench.ui.theme import Theme
from tests.support.labels import label_picture
from tests.support.ruined import ruined
from tests.support.shops import heron, shop_at


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Shop]:
    """One for all: looking at ruined labels takes seconds, and nothing here changes the book."""
    made = shop_at(tmp_path_factory.mktemp("shop") / "b.partsbench")
    heron(made)
    yield made
    made.close()


@pytest.fixture(scope="module")
def piece(shop: Shop) -> Piece:
    made = shop.piece(all_pieces(shop)[0].tag)
    assert made is not None
    return made


def looked(shop: Shop, file: Path) -> FileLook:
    glance = glance_at(file, codes_in_use(shop))
    return FileLook(glance, sort_out(shop, glance), views_of(glance))


@pytest.fixture(scope="module")
def guess(shop: Shop, tmp_path_factory: pytest.TempPathFactory) -> FileLook:
    file = tmp_path_factory.mktemp("guess") / "ruined.png"
    ruined(codes_in_use(shop), file, How.BOOK)
    return looked(shop, file)


@pytest.fixture(scope="module")
def repaired(shop: Shop, tmp_path_factory: pytest.TempPathFactory) -> FileLook:
    file = tmp_path_factory.mktemp("repaired") / "ruined.png"
    ruined(codes_in_use(shop), file, How.KNOWN_MODULES)
    return looked(shop, file)


@pytest.fixture(scope="module")
def sheet(shop: Shop, piece: Piece, tmp_path_factory: pytest.TempPathFactory) -> FileLook:
    made = make_sheet(shop, piece.tag)
    assert isinstance(made, Sheet)
    file = tmp_path_factory.mktemp("sheet") / "sheet.pdf"
    file.write_bytes(made.pdf)
    return looked(shop, file)


@pytest.fixture(autouse=True)
def dressed(theme: Theme) -> None:
    """The program in its theme."""


def shown(dialog: PictureDialog, qtbot: QtBot) -> PictureDialog:
    dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose, False)
    qtbot.addWidget(dialog)
    dialog.show()
    qtbot.waitExposed(dialog)
    return dialog


def pressed(dialog: QWidget, name: str) -> None:
    button = dialog.findChild(QPushButton, name)
    assert button is not None
    button.click()


def test_a_guess_is_a_question(shop: Shop, guess: FileLook, qtbot: QtBot) -> None:
    dialog = shown(AskDialog(shop, guess), qtbot)
    code = guess.seen.probable[0].code
    assert dialog.heading.text() == f"Probably {name_of(shop, code)}?"
    assert dialog.code.text() == code
    said = dialog.how.text()
    assert "compared with the labels of this book" in said
    assert f"{len(guess.glance.symbols[0].repaired)} of 441 modules look other" in said
    assert "once in" in said
    assert "Nothing is recorded unless you confirm" in said


def test_enter_and_escape_are_a_no_to_a_guess(shop: Shop, guess: FileLook, qtbot: QtBot) -> None:
    for key in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space, Qt.Key.Key_Escape):
        dialog = shown(AskDialog(shop, guess), qtbot)
        qtbot.keyClick(dialog.focusWidget() or dialog, key)
        assert dialog.result() == QDialog.DialogCode.Rejected
        assert not dialog.isVisible()


def test_its_own_key_confirms_a_guess(shop: Shop, guess: FileLook, qtbot: QtBot) -> None:
    dialog = shown(AskDialog(shop, guess), qtbot)
    dialog.activateWindow()
    qtbot.waitUntil(dialog.isActiveWindow)
    qtbot.keyClick(dialog, Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)
    qtbot.waitUntil(lambda: dialog.result() == QDialog.DialogCode.Accepted)
    assert dialog.chosen() == [guess.seen.probable[0].code]


def test_a_scan_while_the_question_is_open_counts_instead(
    shop: Shop, guess: FileLook, qtbot: QtBot
) -> None:
    dialog = shown(AskDialog(shop, guess), qtbot)
    assert isinstance(dialog, AskDialog)
    dialog.scanned("K7Q4-D05AK")
    assert dialog.chosen() == ["K7Q4-D05AK"]
    assert dialog.result() == QDialog.DialogCode.Accepted


@pytest.mark.parametrize(("button", "taken"), [("confirm", True), ("refuse", False)])
def test_what_is_asked_gives_the_codes_that_a_person_took(
    shop: Shop, guess: FileLook, qtbot: QtBot, button: str, taken: bool
) -> None:
    over = QWidget()
    qtbot.addWidget(over)
    seen: list[AskDialog] = []

    def press() -> None:
        (dialog,) = over.findChildren(AskDialog)
        seen.append(dialog)
        pressed(dialog, button)

    QTimer.singleShot(0, over, press)
    codes = ask_codes(shop, guess, over)
    assert codes == ([guess.seen.probable[0].code] if taken else [])
    assert len(seen) == 1
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    assert over.findChildren(AskDialog) == []


def test_of_several_labels_those_that_were_ticked_count(
    shop: Shop, sheet: FileLook, qtbot: QtBot
) -> None:
    over = QWidget()
    qtbot.addWidget(over)
    ticked = sheet.seen.codes[1]

    def tick_one() -> None:
        (dialog,) = over.findChildren(AskDialog)
        assert not dialog.confirm.isEnabled()
        row = [label.code for label in dialog.labels].index(ticked)
        dialog.list.model().setData(
            dialog.list.model().index(row, 0), Qt.CheckState.Checked, Qt.ItemDataRole.CheckStateRole
        )
        pressed(dialog, "confirm")

    QTimer.singleShot(0, over, tick_one)
    assert ask_codes(shop, sheet, over) == [ticked]


def test_a_repaired_label_says_how_it_was_read(
    shop: Shop, repaired: FileLook, qtbot: QtBot
) -> None:
    dialog = shown(AskDialog(shop, repaired), qtbot)
    (code,) = repaired.seen.codes
    assert dialog.heading.text() == name_of(shop, code)
    assert "No decoder reads it" in dialog.how.text()
    assert f"{len(repaired.glance.symbols[0].repaired)} of 441 modules were repaired" in (
        dialog.how.text()
    )
    qtbot.keyClick(dialog, Qt.Key.Key_Return)
    assert dialog.result() == QDialog.DialogCode.Accepted


@pytest.mark.parametrize("theme", ["light", "dark"], indirect=True)
def test_each_repaired_module_is_ringed_from_close_by(
    shop: Shop, theme: Theme, repaired: FileLook, qtbot: QtBot
) -> None:
    dialog = shown(AskDialog(shop, repaired), qtbot)
    symbol, outline = repaired.glance.symbols[0], dialog.close_up._outlines[0]
    rings = dialog.close_up.rings_of(outline)
    assert len(rings) == len(symbol.repaired) > 0
    frame = dialog.close_up.place_of(outline)
    assert all(frame.containsPoint(r.center(), Qt.FillRule.OddEvenFill) for r in rings)
    seen = dialog.close_up.grab().toImage()
    line = theme.color(outline.role)
    for ring in rings:
        left, y = round(ring.left()), round(ring.center().y())
        beside = [seen.pixelColor(x, y) for x in range(left - 2, left + 3)]
        # A line of 1.5 px fills three quarters of a pixel, wherever it falls between them.
        assert min(_apart(pixel, line) for pixel in beside) < 0.4 * _apart(
            theme.color("raised"), line
        )


@pytest.mark.parametrize("theme", ["light", "dark"], indirect=True)
def test_the_outline_is_drawn_round_the_label(
    shop: Shop, theme: Theme, guess: FileLook, qtbot: QtBot
) -> None:
    """Its colour is seen on the line, and the symbol inside is not covered."""
    dialog = shown(AskDialog(shop, guess), qtbot)
    outline = _outline_pixels(dialog.picture.grab().toImage(), theme.color("wait").rgb())
    place = dialog.picture.place_of(dialog.picture._outlines[0]).boundingRect()
    ys, xs = np.nonzero(outline)
    chip = ys < place.top() - 8
    assert np.count_nonzero(~chip) > 40
    for low, high, values in (
        (place.left(), place.right(), xs[~chip]),
        (place.top(), place.bottom(), ys[~chip]),
    ):
        assert values.min() == pytest.approx(low, abs=12)
        assert values.max() == pytest.approx(high, abs=12)
    centre = place.center().toPoint()
    assert not outline[centre.y() - 6 : centre.y() + 6, centre.x() - 6 : centre.x() + 6].any()
    assert "?" in dialog.picture.accessibleDescription()


def _apart(one: QColor, other: QColor) -> int:
    pairs = zip(one.getRgb(), other.getRgb(), strict=True)
    return max(abs(a - b) for a, b in pairs)


def _outline_pixels(image: QImage, colour: int) -> np.ndarray:
    return np.array(
        [[image.pixel(x, y) == colour for x in range(image.width())] for y in range(image.height())]
    )


def test_of_several_none_is_ticked_until_a_person_ticks_it(
    shop: Shop, sheet: FileLook, qtbot: QtBot
) -> None:
    dialog = shown(AskDialog(shop, sheet), qtbot)
    assert isinstance(dialog, AskDialog)
    assert dialog.heading.text().startswith(f"{len(sheet.seen.codes)} labels")
    assert dialog.chosen() == []
    dialog.on_all_asked()
    assert tuple(dialog.chosen()) == sheet.seen.codes


def test_the_page_of_the_label_in_hand_is_shown(shop: Shop, sheet: FileLook, qtbot: QtBot) -> None:
    dialog = shown(AskDialog(shop, sheet), qtbot)
    pages = {symbol.text: symbol.page for symbol in sheet.glance.symbols}
    assert set(pages.values()) == {1, 2}
    for row, label in enumerate(dialog.labels):
        dialog.list.setCurrentIndex(dialog.list.model().index(row, 0))
        assert dialog.picture.page() == pages[label.code]
        assert dialog.code.text() == label.code


def test_a_stranger_is_shown_but_cannot_be_ticked(
    shop: Shop, piece: Piece, qtbot: QtBot, tmp_path: Path
) -> None:
    from PIL import Image

    ours, other = str(piece.code(piece.parts[0])), str(Code("ZZZ9", Family.DRAWER, 1))
    both = np.vstack([label_picture(ours), label_picture(other)])
    Image.fromarray(both).save(tmp_path / "two.png")
    look = looked(shop, tmp_path / "two.png")
    dialog = shown(AskDialog(shop, look), qtbot)
    assert isinstance(dialog, AskDialog)
    assert [(label.code, label.stranger) for label in labels_of(shop, look)] == [
        (ours, False),
        (other, True),
    ]
    dialog.on_all_asked()
    assert dialog.chosen() == [ours]


def test_the_last_picture_is_only_to_be_seen(shop: Shop, repaired: FileLook, qtbot: QtBot) -> None:
    dialog = shown(PictureDialog(shop, repaired), qtbot)
    assert [b.text() for b in dialog.findChildren(QPushButton) if b.isVisible()] == ["Close"]
    assert dialog.picture.page() == 1
    none_yet = shown(PictureDialog(shop, None), qtbot)
    assert none_yet.heading.text() == "No label was read in a picture yet."


def test_without_a_picture_the_way_to_one_is_told_and_no_blank_stands(
    shop: Shop, qtbot: QtBot
) -> None:
    dialog = shown(PictureDialog(shop, None), qtbot)
    assert dialog.heading.text() == "No label was read in a picture yet."
    assert "Ctrl+O" in dialog.how.text()
    assert not dialog.picture.isVisible()
    assert not dialog.close_up.isVisible()
    assert dialog.height() < 400


def test_on_a_small_screen_the_question_keeps_its_buttons(
    shop: Shop, sheet: FileLook, qtbot: QtBot
) -> None:
    dialog = shown(AskDialog(shop, sheet), qtbot)
    room = QRect(0, 0, 640, 376)
    dialog.fit_into(room)
    assert room.contains(dialog.frameGeometry())
    assert dialog.rect().contains(dialog.buttons.geometry())
