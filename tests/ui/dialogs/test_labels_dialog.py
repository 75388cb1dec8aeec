"""Labels from the window: what is shown is what is saved and printed, and only that is noted."""

from __future__ import annotations

from collections.abc import Iterator
from math import dist
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, QRect, Qt
from PySide6.QtPrintSupport import QPrinter
from pytestqt.qtbot import QtBot

from partsbench.core.outcomes import Done
from partsbench.core.piece.codes import Family, parse_code
from partsbench.core.piece.piece import Piece
from partsbench.reading.found import Found
from partsbench.reading.pictures import read_file
from partsbench.services.acts import history
from partsbench.services.shop import Shop
from partsbench.services.shown import labels
from partsbench.ui.dialogs.labels_dialog import LabelsDialog
from partsbench.ui.dialogs.printing import print_pages, printer_for
from partsbench.ui.layout.fields import Panel
from partsbench.ui.theme import Theme
from tests.support.shops import heron

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def piece(shop: Shop) -> Piece:
    return heron(shop)


@pytest.fixture
def dialog(shop: Shop, piece: Piece, theme: Theme, qtbot: QtBot) -> Iterator[LabelsDialog]:
    made = LabelsDialog(shop, piece.tag, None, ["D5", "D7"])
    made.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose, False)
    qtbot.addWidget(made)
    made.show()
    qtbot.waitExposed(made)
    ready(qtbot, made)
    yield made


def ready(qtbot: QtBot, dialog: LabelsDialog) -> None:
    qtbot.waitUntil(dialog.save.isEnabled, timeout=20_000)


def unready(qtbot: QtBot, dialog: LabelsDialog) -> None:
    """A change was made: what was drawn before can no longer be handed out."""
    assert not dialog.save.isEnabled()
    ready(qtbot, dialog)


def save_to(dialog: LabelsDialog, path: Path, qtbot: QtBot) -> None:
    def ask() -> Path:
        return path

    dialog.ask_path = ask
    qtbot.mouseClick(dialog.save, LEFT)


def shorts(path: Path) -> list[str]:
    return list(dict.fromkeys(parse_code(found.text).short for found in read_file(path)))


def test_all_parts_are_offered_drawn_and_read_back_at_once(
    dialog: LabelsDialog, piece: Piece
) -> None:
    assert dialog.labels.everything.isChecked()
    assert dialog.told.text() == "20 labels on 3 pages; every code was read back."
    assert len(dialog.pages.sheets()) == 3
    image = dialog.pages.sheets()[0].image
    assert image.width() / image.height() == pytest.approx(210 / 297, abs=0.002)


def test_nothing_is_noted_until_the_sheet_is_saved(
    dialog: LabelsDialog, piece: Piece, shop: Shop, tmp_path: Path, qtbot: QtBot
) -> None:
    before = len(history.history(shop))
    with qtbot.waitSignal(dialog.settled) as handed:
        assert len(history.history(shop)) == before
        save_to(dialog, tmp_path / "labels.pdf", qtbot)
    assert isinstance(handed.args[0], Done)
    assert shop.piece(piece.tag).numbers_fixed
    assert labels.unprinted(shop, piece) == []
    assert sorted(shorts(tmp_path / "labels.pdf")) == sorted(p.short for p in piece.present)


def test_a_file_that_cannot_be_written_is_told_and_nothing_is_noted(
    dialog: LabelsDialog, piece: Piece, shop: Shop, tmp_path: Path, qtbot: QtBot
) -> None:
    save_to(dialog, tmp_path / "no" / "such" / "folder.pdf", qtbot)
    assert "There is no folder" in dialog.told.text()
    assert not shop.piece(piece.tag).numbers_fixed


def test_a_question_called_off_changes_nothing(
    dialog: LabelsDialog, piece: Piece, shop: Shop, qtbot: QtBot
) -> None:
    dialog.ask_path = lambda: None
    qtbot.mouseClick(dialog.save, LEFT)
    assert not shop.piece(piece.tag).numbers_fixed


def test_only_the_chosen_ones_begin_at_the_free_label(
    dialog: LabelsDialog, tmp_path: Path, qtbot: QtBot
) -> None:
    dialog.labels.chosen.click()
    unready(qtbot, dialog)
    where = dialog.labels.picker.label_rect(5).center().toPoint()
    qtbot.mouseClick(dialog.labels.picker, LEFT, pos=where)
    assert dialog.labels.picker.start == 5
    unready(qtbot, dialog)
    save_to(dialog, tmp_path / "two.pdf", qtbot)
    found = read_file(tmp_path / "two.pdf")
    assert {parse_code(f.text).short for f in found} == {"D5", "D7"}
    # Label 5 of 2 x 8 begins two rows of 34 mm below the top margin of 10 mm.
    tops = sorted(min(y for _, y in f.corners) / 200 * 25.4 for f in found)
    assert all(10 + 2 * 34 < top < 10 + 3 * 34 for top in tops)


def test_the_first_free_label_is_reached_by_keys(dialog: LabelsDialog, qtbot: QtBot) -> None:
    picker = dialog.labels.picker
    for key, start in (
        (Qt.Key.Key_Down, 3),
        (Qt.Key.Key_Right, 4),
        (Qt.Key.Key_Up, 2),
        (Qt.Key.Key_Up, 2),
        (Qt.Key.Key_Left, 1),
    ):
        qtbot.keyClick(picker, key)
        assert picker.start == start
    assert picker.accessibleName() == "First free label: 1 of 16"
    ready(qtbot, dialog)


def test_home_labels_come_too(dialog: LabelsDialog, tmp_path: Path, qtbot: QtBot) -> None:
    dialog.labels.homes.click()
    unready(qtbot, dialog)
    save_to(dialog, tmp_path / "homes.pdf", qtbot)
    homes = [s for s in shorts(tmp_path / "homes.pdf") if s.startswith(Family.HOME)]
    assert len(homes) == 11


def test_after_printing_the_rest_is_offered_and_a_reprint_has_the_next_letter(
    dialog: LabelsDialog, shop: Shop, piece: Piece, tmp_path: Path, qtbot: QtBot
) -> None:
    assert not dialog.labels.reprint.isEnabled()
    dialog.labels.chosen.click()
    unready(qtbot, dialog)
    save_to(dialog, tmp_path / "first.pdf", qtbot)
    again = LabelsDialog(shop, piece.tag, None, ["D5"])
    again.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose, False)
    qtbot.addWidget(again)
    again.show()
    ready(qtbot, again)
    assert again.labels.left.isChecked()
    assert again.told.text().startswith("18 labels")
    again.labels.choose_only()
    assert again.labels.reprint.isChecked()
    unready(qtbot, again)
    save_to(again, tmp_path / "second.pdf", qtbot)
    found = {parse_code(f.text) for f in read_file(tmp_path / "second.pdf")}
    assert {(c.short, c.generation) for c in found} == {("D5", "B")}


def test_what_cannot_be_printed_is_told_and_cannot_be_handed_out(
    shop: Shop, piece: Piece, theme: Theme, qtbot: QtBot
) -> None:
    dialog = LabelsDialog(shop, piece.tag, None, ["D99"])
    dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose, False)
    qtbot.addWidget(dialog)
    ready(qtbot, dialog)
    dialog.labels.chosen.click()
    qtbot.waitUntil(lambda: "D99" in dialog.told.text())
    assert not dialog.save.isEnabled()
    assert not dialog.print.isEnabled()


def test_a_drawing_that_is_no_longer_wanted_is_not_handed_out(
    shop: Shop, piece: Piece, theme: Theme, qtbot: QtBot
) -> None:
    """All labels are still being drawn when a part that is not there is asked for."""
    dialog = LabelsDialog(shop, piece.tag, None, ["D99"])
    dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose, False)
    qtbot.addWidget(dialog)
    assert dialog.later.busy
    dialog.labels.chosen.setChecked(True)
    dialog.redraw()
    qtbot.waitUntil(lambda: not dialog.later.busy, timeout=20_000)
    assert "D99" in dialog.told.text()
    assert not dialog.save.isEnabled()


def test_another_stock_changes_pages_and_picture(dialog: LabelsDialog, qtbot: QtBot) -> None:
    dialog.labels.stock.setCurrentIndex(dialog.labels.stock.findData("plain-letter"))
    unready(qtbot, dialog)
    image = dialog.pages.sheets()[0].image
    assert image.width() / image.height() == pytest.approx(215.9 / 279.4, abs=0.002)
    assert dialog.labels.picker.accessibleName() == "First free label: 1 of 14"


def test_printed_pages_have_their_true_size_and_can_be_read(
    dialog: LabelsDialog, piece: Piece, tmp_path: Path
) -> None:
    """A printer that writes a file stands in for one of metal: same painting, same scale."""
    printer = printer_for(210, 297)
    printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
    printer.setOutputFileName(str(tmp_path / "printed.pdf"))
    printer.setResolution(300)
    assert dialog.print_on(printer)
    printed = read_file(tmp_path / "printed.pdf", dpi=200)
    sheet = labels.make_sheet(dialog.shop, piece.tag, stock="by-size-a4")
    (tmp_path / "made.pdf").write_bytes(sheet.pdf)
    made = read_file(tmp_path / "made.pdf", dpi=200)
    small = sum(p.family is Family.PULL for p in piece.present)
    assert len(printed) == len(made) == 2 * len(piece.present) - small
    for ours, theirs in zip(sorted(printed, key=place), sorted(made, key=place), strict=True):
        assert ours.text == theirs.text
        # Pixels at 200 dpi: the decoder finds a symbol's middle to about 0.4 mm.
        assert middle(ours) == pytest.approx(middle(theirs), abs=3)
    ends = [
        [middle(f) for f in sorted(found, key=place) if f.page == 1] for found in (printed, made)
    ]
    reach = [dist(found[0], found[-1]) for found in ends]
    assert reach[0] / reach[1] == pytest.approx(1, abs=0.002)


def middle(found: Found) -> tuple[float, float]:
    xs, ys = zip(*found.corners, strict=True)
    return sum(xs) / 4, sum(ys) / 4


def place(found: Found) -> tuple[int, str, int]:
    return found.page, found.text, round(found.corners[0][0] / 100)


def test_pages_are_never_scaled_to_the_paper_in_the_printer(tmp_path: Path, theme: Theme) -> None:
    """A5 in the printer: the A4 page is cut, not shrunk."""
    from PySide6.QtGui import QImage

    printer = printer_for(148, 210)
    printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
    printer.setOutputFileName(str(tmp_path / "small.pdf"))
    picture = QImage(210, 297, QImage.Format.Format_Grayscale8)
    picture.fill(255)
    for y in range(40, 60):
        for x in range(30, 50):
            picture.setPixel(x, y, 0)
    path = tmp_path / "page.png"
    picture.save(str(path))
    print_pages(printer, [path.read_bytes()], (210, 297))
    png = labels.page_pictures((tmp_path / "small.pdf").read_bytes(), 254)[0]
    seen = QImage.fromData(png)
    assert (seen.width(), seen.height()) == pytest.approx((1480, 2100), abs=2)
    dark = [seen.pixelColor(x, 500).lightness() < 128 for x in range(seen.width())]
    assert dark.index(True) == pytest.approx(300, abs=12)
    assert sum(dark) == pytest.approx(200, abs=12)


def test_the_dialog_is_freed_when_it_closes(
    shop: Shop, piece: Piece, theme: Theme, qtbot: QtBot
) -> None:
    dialog = LabelsDialog(shop, piece.tag)
    dialog.show()
    with qtbot.waitSignal(dialog.destroyed, timeout=20_000):
        dialog.close()


def test_on_a_small_screen_no_word_of_the_choice_is_cut(dialog: LabelsDialog, qtbot: QtBot) -> None:
    dialog.fit_into(QRect(0, 0, 640, 376))
    side = dialog.findChild(Panel, "labels-side")
    assert side is not None
    qtbot.waitUntil(side.verticalScrollBar().isVisible)
    for choice in (
        dialog.labels.everything,
        dialog.labels.homes,
        dialog.labels.reprint,
        dialog.labels.stock,
    ):
        right = choice.mapTo(side.viewport(), QPoint(choice.sizeHint().width(), 0)).x()
        assert right <= side.viewport().width(), choice.objectName()
