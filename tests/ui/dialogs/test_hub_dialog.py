"""The switch of the hub in the window: a code, devices, throwing out."""

from __future__ import annotations

import json
import ssl
from collections.abc import Iterator
from pathlib import Path
from urllib.request import Request, urlopen
from uuid import uuid4

import pytest
import zxingcpp
from PySide6.QtGui import QImage
from pytestqt.qtbot import QtBot

from partsbench.core.outcomes import Done, Refused
from partsbench.hub.routes import COOKIE
from partsbench.services.acts.history import history
from partsbench.services.heard import devices
from partsbench.services.shop import Shop
from partsbench.ui.dialogs.hub_dialog import OFF, HubDialog
from partsbench.ui.hub_apart import HubApart
from partsbench.ui.hub_switch import switch_of
from partsbench.ui.main_window import MainWindow
from tests.support.shops import code, heron
from tests.support.wall import verb_named


@pytest.fixture
def dialog(window: MainWindow) -> Iterator[HubDialog]:
    switch = switch_of(window.shop, window)
    assert isinstance(switch.turn_on("127.0.0.1", 0), Done)
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
    assert len(hub.hexed) == 95
    assert hub.hexed in dialog.address.text().replace("\n", "")
    assert hub.words in dialog.address.text()
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
    """A real phone's act, by the hub's own process; of many at once the window looks once."""
    hub, looked = dialog.switch.hub, []
    assert hub is not None
    piece = heron(window.shop)
    drawers = [code(piece, f"D{n}") for n in range(1, 6)]
    paired = devices.pair(window.shop, "phone", "Tarn")
    assert isinstance(paired, devices.Paired)
    dialog.switch.book_changed.connect(lambda: looked.append(1))
    with qtbot.waitSignal(dialog.switch.book_changed, timeout=20_000):
        said = send(hub.url, paired.secret, [verb_named("OUT").code, *drawers])
    assert said == [False, *[True] * 5]
    assert len(looked) < 5
    out = [e.sentence for e in history(window.shop, limit=5)]
    assert len([each for each in out if "out" in each]) == 5


def test_it_goes_off_when_its_process_ends_and_says_so(dialog: HubDialog, qtbot: QtBot) -> None:
    hub = dialog.switch.hub
    assert hub is not None
    hub.kill()
    qtbot.waitUntil(lambda: not dialog.switch.is_on)
    dialog.show_code()
    assert dialog.address.text() == OFF


def test_a_port_that_is_taken_is_told(dialog: HubDialog, window: MainWindow) -> None:
    hub = dialog.switch.hub
    assert hub is not None
    other = HubApart(window)
    port = int(hub.url.rstrip("/").rpartition(":")[2])
    fault = other.start(window.shop.book_path, "127.0.0.1", port, "Wren")
    assert isinstance(fault, Refused)
    assert str(port) in fault.sentence
    assert not other.is_on


def send(url: str, secret: str, texts: list[str]) -> list[bool]:
    """Scans as a phone's page sends them; whether each recorded."""
    context = ssl.create_default_context()
    context.check_hostname, context.verify_mode = False, ssl.CERT_NONE
    said = []
    for number, text in enumerate(texts, 1):
        act = {"number": number, "mark": uuid4().hex, "doing": "scan", "text": text, "typed": True,
               "seen": 10**9}  # fmt: skip
        asked = Request(f"{url}api/act", json.dumps(act).encode(), {
            "cookie": f"{COOKIE}={secret}", "origin": url.rstrip("/"),
            "content-type": "application/json"})  # fmt: skip
        with urlopen(asked, context=context, timeout=20) as answered:
            reply = json.loads(answered.read())
        said.append(any(each["recorded"] for each in reply["outcomes"]))
    return said
