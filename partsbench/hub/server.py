"""The hub itself: switched on and off, in a thread of its own; a window has it `apart`."""

from __future__ import annotations

import asyncio
import contextlib
import importlib.util
import socket
import threading
import time
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

from partsbench.core.outcomes import Done, Refused
from partsbench.hub import network
from partsbench.hub.log import HubLog
from partsbench.services.heard import devices
from partsbench.services.heard.devices import Device
from partsbench.services.shop import machine_clock

if TYPE_CHECKING:
    from partsbench.hub.certificate import Certificate
    from partsbench.hub.clerk import Clerk, Counter
    from partsbench.hub.offer import Offers

T = TypeVar("T")
NEEDED = ("starlette", "uvicorn", "cryptography")
MISSING = Refused(
    "Phones and tablets need three more parts: pip install '.[hub]', then switch on again."
)
STARTS_WITHIN = 20.0
ENDS_WITHIN = 5.0
IDLE = 15
"""Seconds after which a connection that asks nothing is closed."""
MOST_AT_ONCE = 300
PROTECTS = (
    "The certificate is this program's own, so the browser warns once. It keeps others on the "
    "network from reading or changing what is sent. It does not prove to the phone that it speaks "
    "to this computer: compare the fingerprint that the browser shows with this one before you "
    "go on. Use it in the shop's own network only."
)


class Hub:
    """One server for one book. `start` and `stop` may be called from any thread."""

    def __init__(
        self,
        book: Path,
        host: str = "",
        port: int = network.PORT,
        clock: Callable[[], datetime] = machine_clock,
        who: str = "",
    ) -> None:
        self.book = book
        self.host = host or network.own_address()
        self.port = port
        self.recorded: Callable[[], None] = lambda: None
        self.log = HubLog(book.with_name(f"{book.name}.hub.log"), clock)
        self._clock = clock
        self._who = who
        self._thread: threading.Thread | None = None

    @property
    def is_on(self) -> bool:
        return self._thread is not None and self._thread.is_alive()

    @property
    def url(self) -> str:
        return f"https://{self.host}:{self.port}/"

    def start(self) -> Refused | None:
        """Switch it on; why it cannot be."""
        if any(importlib.util.find_spec(name) is None for name in NEEDED):
            return MISSING
        listening = network.host_fault(self.host) or self._listen()
        return listening if isinstance(listening, Refused) else self._serve(listening)

    def _listen(self) -> socket.socket | Refused:
        family = socket.AF_INET6 if ":" in self.host else socket.AF_INET
        # With the protocol named, what is accepted sends small answers at once (TCP_NODELAY).
        made = socket.socket(family, socket.SOCK_STREAM, socket.IPPROTO_TCP)
        made.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            made.bind((self.host, self.port))
        except (OSError, OverflowError) as error:
            made.close()
            return Refused(f"The hub cannot listen at {self.host}, port {self.port}: {error}.")
        self.port = made.getsockname()[1]
        return made

    def _serve(self, listening: socket.socket) -> Refused | None:
        from partsbench.hub.certificate import certificate
        from partsbench.hub.clerk import Clerk
        from partsbench.hub.offer import Offers

        file = self.book.with_name(f"{self.book.name}.hub.pem")
        try:
            self.certificate: Certificate = certificate(file, self.host, self._clock())
        except OSError as error:
            listening.close()
            return Refused(f"The hub's certificate cannot be kept at {file}: {error.strerror}.")
        self.clerk: Clerk = Clerk(self.book, self._clock, self._who)
        fault = self.clerk.open()
        if fault:
            self.clerk.close()
            listening.close()
            return fault
        self.offers: Offers = Offers(self.url)
        self._make_server(listening)
        self.log.say(self.host, "", f"on, port {self.port}")
        return None

    def _make_server(self, listening: socket.socket) -> None:
        import uvicorn

        from partsbench.hub.certificate import tls
        from partsbench.hub.patience import Patient
        from partsbench.hub.routes import Rooms, make_app

        names = network.names_of(self.host, self.port)
        self._rooms = Rooms(self.clerk, self.log, self.offers, names, recorded=self._tell)
        config = uvicorn.Config(
            make_app(self._rooms),
            http=Patient,
            ws="none",
            lifespan="off",
            log_config=None,
            access_log=False,
            server_header=False,
            proxy_headers=False,
            timeout_keep_alive=IDLE,
            timeout_graceful_shutdown=1,
            limit_concurrency=MOST_AT_ONCE,
            h11_max_incomplete_event_size=16_384,
        )
        config.load()
        config.ssl = tls(self.certificate)
        self._server = uvicorn.Server(config)
        self._server.install_signal_handlers = lambda: None  # type: ignore[attr-defined]
        self._thread = threading.Thread(
            target=self._run, args=(listening,), name="hub", daemon=True
        )
        self._thread.start()
        until = time.monotonic() + STARTS_WITHIN
        while not self._server.started and self._thread.is_alive() and time.monotonic() < until:
            self._thread.join(0.01)

    def _run(self, listening: socket.socket) -> None:
        asyncio.run(self._serving(listening))

    async def _serving(self, listening: socket.socket) -> None:
        self._loop = asyncio.get_running_loop()
        await self._server.serve([listening])

    def _tell(self) -> None:
        self.recorded()

    def stop(self) -> None:
        """Switch it off: what was taken is in the book, and phones keep what comes after."""
        if self._thread is None:
            return
        with contextlib.suppress(RuntimeError):  # its thread has ended by itself
            self._loop.call_soon_threadsafe(self._rooms.news.end)
        self._server.should_exit = True
        self._thread.join(ENDS_WITHIN)
        if self._thread.is_alive():
            self._server.force_exit = True
            self._thread.join(ENDS_WITHIN)
        self._thread = None
        self._rooms.eyes.close()
        self.clerk.close()
        self.log.say(self.host, "", "off")

    # For the window and the command line

    def offer(self) -> str:
        """The address for a QR code: for one pairing, within ten minutes."""
        return self.offers.make(time.monotonic())

    def withdraw(self) -> None:
        """No code that was shown serves any more."""
        self.offers.close_all()

    def devices(self) -> list[Device]:
        return self._ask(lambda at: devices.all_devices(at.shop))

    def throw_out(self, number: int) -> Done | Refused:
        self.log.say(self.host, self._who, f"throws out device {number}")
        return self._ask(lambda at: at.throw_out(number))

    def _ask(self, work: Callable[[Counter], T]) -> T:
        return self.clerk.ask_now(work)
