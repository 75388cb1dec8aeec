"""One dialog prints everything: what is shown is what is saved, and a printer may be named."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtGui import QPageLayout
from PySide6.QtPrintSupport import QPrinter
from pytestqt.qtbot import QtBot

from partsbench.core.outcomes import Done, Refused
from partsbench.core.piece.piece import Piece
from partsbench.services.acts.history import history
from partsbench.services.shop import Shop
from partsbench.services.sums.habits import habits, set_habit
from partsbench.ui.dialogs import print_dialog
from partsbench.ui.dialogs.labels_dialog import LabelsDialog
from partsbench.ui.dialogs.paper_dialogs import DaySheetDialog, WallDialog
from partsbench.ui.dialogs.print_dialog import NO_PRINTER, PrintDialog
from partsbench.ui.dialogs.print_pane import SheetPane
from partsbench.ui.theme import Theme
from tests.support.paper import text_of
from tests.support.shops import heron


@pytest.fixture
def piece(shop: Shop) -> Piece:
    return heron(shop)


def shown(dialog: PrintDialog, qtbot: QtBot) -> PrintDialog:
    from PySide6.QtCore import Qt

    dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose, False)
    qtbot.addWidget(dialog)
    dialog.show()
    ready(dialog, qtbot)
    return dialog


def ready(dialog: PrintDialog, qtbot: QtBot) -> None:
    qtbot.waitUntil(dialog.save.isEnabled, timeout=20_000)


def test_every_sheet_is_in_the_one_list_and_is_drawn(
    shop: Shop, piece: Piece, theme: Theme, qtbot: QtBot, tmp_path: Path
) -> None:
    dialog = shown(LabelsDialog(shop, piece.tag), qtbot)
    told = [dialog.what.itemText(n) for n in range(dialog.what.count())]
    assert told == ["Labels", "Proof sheet", "Care sheet", "Day sheet", "Verb sheet"]
    settled: list[object] = []
    dialog.settled.connect(settled.append)
    for key in ("proof", "day", "wall"):
        dialog.show_pane(key)
        assert not dialog.save.isEnabled()
        ready(dialog, qtbot)
        assert len(dialog.pages.sheets()) >= 1
        dialog.save_to(tmp_path / f"{key}.pdf")
        assert settled[-1] == Done(f"Saved as {key}.pdf.", piece.tag)
        assert (tmp_path / f"{key}.pdf").read_bytes().startswith(b"%PDF")


@pytest.mark.parametrize(("kind", "key"), [(WallDialog, "wall"), (DaySheetDialog, "day")])
def test_without_a_piece_the_shops_own_sheets_are_left(
    kind: type[PrintDialog], key: str, shop: Shop, theme: Theme, qtbot: QtBot
) -> None:
    dialog = shown(kind(shop, ""), qtbot)  # type: ignore[call-arg, arg-type]
    assert list(dialog.panes) == ["day", "wall"]
    assert dialog.pane().key == key


def test_letter_is_shorter_and_is_offered_where_the_shop_uses_it(
    shop: Shop, piece: Piece, theme: Theme, qtbot: QtBot
) -> None:
    dialog = shown(WallDialog(shop, piece.tag), qtbot)
    pane = dialog.pane()
    assert isinstance(pane, SheetPane)
    before = dialog.pages.sheets()[0].image
    assert before.height() / before.width() == pytest.approx(297 / 210, abs=0.01)
    pane.paper.setCurrentIndex(pane.paper.findData("letter"))
    assert not dialog.save.isEnabled()
    ready(dialog, qtbot)
    after = dialog.pages.sheets()[0].image
    assert after.height() / after.width() == pytest.approx(279.4 / 215.9, abs=0.01)
    assert isinstance(set_habit(shop, "paper", "letter"), Done)
    again = LabelsDialog(shop, piece.tag)
    qtbot.addWidget(again)
    assert again.labels.stock.currentData() == "by-size-letter"
    assert all(
        p.paper.currentData() == "letter" for p in again.panes.values() if isinstance(p, SheetPane)
    )


def test_a_file_that_cannot_be_written_is_told(
    shop: Shop, piece: Piece, theme: Theme, qtbot: QtBot, tmp_path: Path
) -> None:
    dialog = shown(WallDialog(shop, piece.tag), qtbot)
    with qtbot.waitSignal(dialog.settled) as told:
        dialog.save_to(tmp_path / "missing" / "x.pdf")
    assert isinstance(told.args[0], Refused)
    assert "There is no folder" in dialog.told.text()


def test_without_a_printer_only_the_pdf_is_offered(
    shop: Shop, piece: Piece, theme: Theme, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(print_dialog, "printers", list)
    dialog = shown(WallDialog(shop, piece.tag), qtbot)
    assert dialog.to.currentText() == NO_PRINTER
    assert not dialog.print.isEnabled()
    assert dialog.save.isDefault()


def test_printing_goes_to_the_printer_that_is_named_with_no_second_preview(
    shop: Shop,
    piece: Piece,
    theme: Theme,
    qtbot: QtBot,
    monkeypatch: pytest.MonkeyPatch,
    tmp_path: Path,
) -> None:
    """A printer that writes a file stands in for one of metal."""
    asked: list[str] = []

    def on_file(width: float, height: float, name: str = "") -> QPrinter:
        asked.append(name)
        printer = QPrinter()
        printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
        printer.setOutputFileName(str(tmp_path / "printed.pdf"))
        return printer

    monkeypatch.setattr(print_dialog, "printers", lambda: ["bench", "office"])
    monkeypatch.setattr(print_dialog, "printer_for", on_file)
    dialog = shown(LabelsDialog(shop, piece.tag), qtbot)
    dialog.to.setCurrentText("office")
    dialog.print.click()
    assert asked == ["office"]
    assert (tmp_path / "printed.pdf").read_bytes().startswith(b"%PDF")
    assert dialog.told.text() == "Heron: 20 labels printed. Sent to office."
    assert shop.piece(piece.tag).numbers_fixed  # type: ignore[union-attr]


def test_a_printer_that_takes_nothing_is_told_and_nothing_is_noted(
    shop: Shop, piece: Piece, theme: Theme, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(print_dialog, "printers", lambda: ["bench"])
    monkeypatch.setattr(print_dialog, "print_pages", lambda *_: False)
    dialog = shown(LabelsDialog(shop, piece.tag), qtbot)
    before = len(history(shop))
    dialog.print.click()
    assert dialog.told.text() == "bench did not take the pages; nothing was noted."
    assert len(history(shop)) == before


def test_the_printers_offset_is_kept_for_the_next_sheet(
    shop: Shop, piece: Piece, theme: Theme, qtbot: QtBot, tmp_path: Path
) -> None:
    dialog = LabelsDialog(shop, piece.tag)
    shown(dialog, qtbot)
    dialog.labels.down.setValue(-1.5)
    ready(dialog, qtbot)
    dialog.save_to(tmp_path / "l.pdf")
    assert habits(shop).typed["offset down"] == "-1.5 mm"
    assert "offset right" not in habits(shop).typed
    again = LabelsDialog(shop, piece.tag)
    qtbot.addWidget(again)
    assert (again.labels.right.value(), again.labels.down.value()) == (0.0, -1.5)


def test_a_page_that_lies_is_printed_lying(tmp_path: Path, theme: Theme) -> None:
    """A drilling sheet that lies: the printer's page is as wide as the sheet."""
    from partsbench.ui.dialogs.printing import printer_for

    for wide, high in ((297.0, 210.0), (210.0, 297.0), (279.4, 215.9)):
        printer = printer_for(wide, high)
        size = printer.pageLayout().fullRect(QPageLayout.Unit.Millimeter)
        assert (size.width(), size.height()) == pytest.approx((wide, high), abs=0.5)


def test_a_sheet_for_the_client_leaves_hidden_parts_off(
    shop: Shop, piece: Piece, theme: Theme, qtbot: QtBot, tmp_path: Path
) -> None:
    dialog = LabelsDialog(shop, piece.tag)
    dialog.show_pane("proof")
    shown(dialog, qtbot)
    pane = dialog.pane()
    assert isinstance(pane, SheetPane)
    assert pane.client.isVisible()
    dialog.save_to(tmp_path / "shop.pdf")
    pane.client.click()
    qtbot.waitUntil(lambda: not dialog.save.isEnabled())
    ready(dialog, qtbot)
    dialog.save_to(tmp_path / "client.pdf")
    told = [text_of((tmp_path / name).read_bytes()) for name in ("shop.pdf", "client.pdf")]
    assert "Proof of return" in told[0]
    assert "Your piece, part by part" in told[1]
