"""The switch of the hub in the window: a code, devices, throwing out."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from pathlib import Path

import pytest
import zxingcpp
from PySide6.QtGui import QImage
from pytestqt.qtbot import QtBot

from partsbench.services.heard import devices
from partsbench.services.shop import Shop
from partsbench.ui.dialogs.hub_dialog import OFF, HubDialog
from partsbench.ui.hub_switch import switch_of
from partsbench.ui.main_window import MainWindow


@pytest.fixture
def dialog(window: MainWindow) -> Iterator[HubDialog]:
    switch = switch_of(window.shop, window)
    switch.turn_on("127.0.0.1", 0)
    made = HubDialog(window.shop, "", window)
    made.show()
    yield made
    switch.turn_off()


def read(dialog: HubDialog, folder: Path) -> str:
    """What a phone reads off the picture of the code."""
    import numpy as np

    picture = dialog.symbol.grab().toImage().convertToFormat(QImage.Format.Format_Grayscale8)
    data = np.frombuffer(picture.constBits(), np.uint8)
    pixels = data.reshape(picture.height(), picture.bytesPerLine())[:, : picture.width()]
    (found,) = zxingcpp.read_barcodes(np.ascontiguousarray(pixels))
    return str(found.text)


def test_the_code_is_the_address_with_a_secret(dialog: HubDialog, tmp_path: Path) -> None:
    hub = dialog.switch.hub
    assert hub is not None
    address, _, secret = read(dialog, tmp_path).partition("#")
    assert address == hub.url
    assert len(secret) >= 32
    assert hub.certificate.hexed in dialog.address.text().replace("\n", "")
    assert hub.certificate.words in dialog.address.text()
    assert "does not prove" in dialog.about.text()


def test_a_paired_device_is_listed_and_the_next_code_shown(
    dialog: HubDialog, shop: Shop, tmp_path: Path
) -> None:
    first = read(dialog, tmp_path)
    assert isinstance(devices.pair(shop, "phone", "Tarn"), devices.Paired)
    dialog.on_beat()
    assert dialog.list.lines() == ["phone of Tarn"]
    assert read(dialog, tmp_path) != first
    dialog.list.choose(0)
    dialog.clients.click()
    assert dialog.list.lines() == ["phone of Tarn, may show clients"]
    dialog.out.click()
    assert dialog.list.lines() == []
    assert dialog.told.text() == "phone of Tarn is thrown out."


def test_off_is_off(dialog: HubDialog) -> None:
    dialog.power.click()
    assert not dialog.switch.is_on
    assert dialog.address.text() == OFF
    assert dialog.power.text() == "Switch on"
    assert not dialog.out.isEnabled()


def test_it_goes_off_with_the_window(dialog: HubDialog, window: MainWindow) -> None:
    assert dialog.switch.is_on
    dialog.reject()
    assert dialog.switch.is_on
    window.close()
    assert not dialog.switch.is_on


def test_what_a_phone_records_is_shown_at_once(
    dialog: HubDialog, window: MainWindow, qtbot: QtBot
) -> None:
    """From the hub's thread, many at once: the window looks at the book once for all of them."""
    hub, looked = dialog.switch.hub, []
    assert hub is not None
    dialog.switch.book_changed.connect(lambda: looked.append(1))
    with qtbot.waitSignal(dialog.switch.book_changed):
        tells = threading.Thread(target=lambda: [hub.recorded() for _ in range(50)])
        tells.start()
        tells.join()
    assert looked == [1]
