"""The switch of the hub: on as long as the window stands, off with it."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, QTimer, Signal
from PySide6.QtWidgets import QWidget

from partsbench.core.outcomes import Done, Refused
from partsbench.services.shop import Shop
from partsbench.ui.hub_apart import HubApart

SOON_MS = 100
IN_MEMORY = Refused("Phones and tablets need a book in a file.")


class HubSwitch(QObject):
    """Holds the hub of a window; it tells when something was recorded by a phone."""

    book_changed = Signal()
    """A phone recorded something; of many at once it is said once."""

    def __init__(self, shop: Shop, window: QWidget) -> None:
        super().__init__(window)
        self.setObjectName("hub-switch")
        self._shop = shop
        self.hub: HubApart | None = None
        self._soon = QTimer(self)
        self._soon.setSingleShot(True)
        self._soon.setInterval(SOON_MS)
        self._soon.timeout.connect(self.book_changed)
        heeds = getattr(window, "on_book_changed_elsewhere", None)
        if heeds is not None:
            self.book_changed.connect(heeds)
        window.installEventFilter(self)

    def on_recorded(self) -> None:
        if not self._soon.isActive():
            self._soon.start()

    @property
    def is_on(self) -> bool:
        return self.hub is not None and self.hub.is_on

    def turn_on(self, host: str = "", port: int | None = None) -> Done | Refused:
        """Switch it on; the sentence for the window."""
        from partsbench.hub.network import PORT

        if str(self._shop.book_path) == ":memory:":
            return IN_MEMORY
        made = HubApart(self)
        fault = made.start(self._shop.book_path, host, PORT if port is None else port,
                           self._shop.who)  # fmt: skip
        if fault:
            return fault
        made.recorded.connect(self.on_recorded)
        self.hub = made
        return Done(f"Phones and tablets are answered at {made.url}")

    def turn_off(self) -> None:
        """What was taken is in the book; phones keep what comes after."""
        if self.hub is not None:
            self.hub.stop()
            self.hub = None

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() == QEvent.Type.Close:
            self.turn_off()
        return super().eventFilter(watched, event)


def switch_of(shop: Shop, window: QWidget) -> HubSwitch:
    """The switch of a window; made when it is first asked for."""
    found = window.findChild(HubSwitch)
    return found if isinstance(found, HubSwitch) else HubSwitch(shop, window)
