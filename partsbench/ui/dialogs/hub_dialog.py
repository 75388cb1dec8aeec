"""Phones and tablets: the switch, the code that pairs one, and those that are paired."""

from __future__ import annotations

from PySide6.QtCore import QRect, QSize, Qt, QTimer
from PySide6.QtGui import QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QSizePolicy, QVBoxLayout, QWidget

from partsbench.core.outcomes import Done, Refused
from partsbench.core.wording import notes
from partsbench.services.heard import devices
from partsbench.services.heard.devices import Device
from partsbench.services.shop import Shop
from partsbench.ui.dialogs.lines import Lines
from partsbench.ui.dialogs.shop_dialog import ShopDialog
from partsbench.ui.hub_switch import HubSwitch, switch_of
from partsbench.ui.layout.fields import heading, quiet

BEAT_MS = 1000
RENEWED_MS = 9 * 60_000
"""A code that stands for longer is replaced before it is too old."""
NOBODY = "No device is paired yet: scan the code with a phone."
OFF = "The hub is off. Nothing listens, and no phone is answered."
SMALLEST_SIDE = 220


class SymbolPicture(QWidget):
    """A QR symbol, as large as there is room; dark on white in every theme, or phones may not
    read it."""

    def __init__(self, name: str) -> None:
        super().__init__()
        self.setObjectName(name)
        self.setAccessibleName("The code that pairs a phone")
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.rows: tuple[tuple[bool, ...], ...] = ()

    def show_address(self, address: str) -> None:
        self.rows = devices.symbol_of(address) if address else ()
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(SMALLEST_SIDE + 80, SMALLEST_SIDE + 80)

    def minimumSizeHint(self) -> QSize:
        return QSize(SMALLEST_SIDE, SMALLEST_SIDE)

    def paintEvent(self, event: QPaintEvent) -> None:
        if not self.rows:
            return
        module = max(1, min(self.width(), self.height()) // len(self.rows))
        pen = QPainter(self)
        pen.fillRect(QRect(0, 0, module * len(self.rows), module * len(self.rows)), QColor("white"))
        for y, row in enumerate(self.rows):
            for x, dark in enumerate(row):
                if dark:
                    pen.fillRect(x * module, y * module, module, module, QColor("black"))
        pen.end()


class HubDialog(ShopDialog):
    """On and off, one code, the list of devices."""

    helped_by = "hub"

    def __init__(self, shop: Shop, tag: str, parent: QWidget | None = None) -> None:
        super().__init__(shop, tag, parent, name="hub-dialog", title="Phones and tablets")
        self.switch: HubSwitch = switch_of(shop, parent or self)
        self.symbol = SymbolPicture("hub-code")
        self.address = self._selectable("hub-address")
        self.about = quiet("")
        self.list = Lines("hub-devices", "Paired devices", empty=NOBODY)
        both = QHBoxLayout()
        both.addLayout(self._left(), 3)
        both.addLayout(self._right(), 2)
        self.content.addLayout(both)
        self.power = self.add_button("Switch on", "hub-power", self.on_power_asked)
        self.clients = self.add_button("May show clients", "hub-clients", self.on_clients_asked)
        self.out = self.add_button("Throw out", "hub-out", self.on_out_asked)
        self._devices: list[Device] = []
        self.list.picked.connect(self.on_picked)
        self._timer = QTimer(self)
        self._timer.setInterval(BEAT_MS)
        self._timer.timeout.connect(self.on_beat)
        self._age = QTimer(self)
        self._age.setInterval(RENEWED_MS)
        self._age.timeout.connect(self.show_code)
        self.resize(860, 560)
        self.refresh()
        self.show_code()
        self._timer.start()
        self._age.start()

    def _left(self) -> QVBoxLayout:
        column = QVBoxLayout()
        column.addWidget(heading("Scan with the phone"))
        column.addWidget(self.symbol, 1)
        column.addWidget(self.address)
        column.addWidget(self.about)
        return column

    def _right(self) -> QVBoxLayout:
        column = QVBoxLayout()
        column.addWidget(heading("Paired devices"))
        column.addWidget(self.list, 1)
        return column

    def _selectable(self, name: str) -> QLabel:
        label = QLabel()
        label.setObjectName(name)
        label.setWordWrap(True)
        label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        return label

    def show_code(self) -> None:
        """A new code, where the hub is on; the one before serves no more."""
        hub = self.switch.hub if self.switch.is_on else None
        self.power.setText("Switch off" if hub else "Switch on")
        self.symbol.setVisible(hub is not None)
        if hub is None:
            self.symbol.show_address("")
            self.address.setText(OFF)
            self.about.setText("")
            return
        from partsbench.hub.server import PROTECTS

        address = hub.offer()
        if isinstance(address, Refused):
            self.symbol.show_address("")
            self.say(address.sentence, fault=True)
            return
        self.symbol.show_address(address)
        half = len(hub.hexed) // 2 + 1  # behind a colon: a label breaks no word of 95 letters
        hexed = f"{hub.hexed[:half]}\n{hub.hexed[half:]}"
        self.address.setText(f"{hub.url}\nFingerprint:\n{hexed}\nIn words: {hub.words}")
        self.about.setText(f"A code pairs one device within ten minutes. {PROTECTS}")

    def refresh(self) -> None:
        self._devices = devices.all_devices(self.shop)
        self.list.show_lines([_line(d) for d in self._devices])
        self.on_picked(self.list.row())

    def on_beat(self) -> None:
        """A device that was paired meanwhile is listed, and the next code shown."""
        before = len(self._devices)
        self.refresh()
        if len(self._devices) > before:
            self.show_code()
            self.say(f"{_line(self._devices[-1])} is paired.")

    def on_picked(self, place: int) -> None:
        there = 0 <= place < len(self._devices)
        self.out.setEnabled(there)
        self.clients.setEnabled(there)
        shows = there and self._devices[place].sees_clients
        self.clients.setText("May not show clients" if shows else "May show clients")

    def on_power_asked(self) -> None:
        if self.switch.is_on:
            self.switch.turn_off()
            said: Done | Refused = Done("The hub is off; phones keep what comes now.")
        else:
            said = self.switch.turn_on()
        self.say(said.sentence, fault=isinstance(said, Refused))
        self.show_code()

    def on_out_asked(self) -> None:
        place = self.list.row()
        if 0 <= place < len(self._devices):
            self.settle(devices.throw_out(self.shop, self._devices[place].id))

    def on_clients_asked(self) -> None:
        place = self.list.row()
        if 0 <= place < len(self._devices):
            chosen = self._devices[place]
            self.settle(devices.show_clients(self.shop, chosen.id, not chosen.sees_clients))


def _line(device: Device) -> str:
    may = "may show clients" if device.sees_clients else ""
    return notes(f"{device.name} of {device.person}", may)
