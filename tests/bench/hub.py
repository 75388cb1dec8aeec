"""How many devices one hub serves, and what the window beside it feels of that.

`python -m tests.bench.hub [--devices 5 20 50] [--seconds 20]`: each device scans once a second over
loopback with TLS, from a process of its own; the real window (drawn, without a screen) stands on
the bench and has the hub switched on, which then is in a process of its own. Printed are the
median, the 99th of a hundred and the longest answer in ms, beside the answer to an empty question,
and how late a frame of 60 a second was painted in the window; first with no hub, so that the
machine's mood is told. `--inside` adds the most devices with the hub in the window's process.
"""

from __future__ import annotations

import argparse
import http.client
import json
import multiprocessing
import os
import ssl
import tempfile
import threading
import time
import uuid
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import QObject, Qt, QTimer
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget

from partsbench.core.outcomes import Done
from partsbench.hub.routes import COOKIE
from partsbench.hub.server import Hub
from partsbench.services.heard import devices
from partsbench.services.shop import Shop, open_shop
from partsbench.ui.gathering import Gathering
from partsbench.ui.hub_switch import switch_of
from partsbench.ui.main_window import MainWindow
from partsbench.ui.settings import Settings
from tests.support.shops import code, lay_out, made

Times = list[float]
FRAME = 1 / 60
WARM_MS = 2000
"""The window loads what it needs later; the phones begin a second after they are told to."""


def main() -> None:
    parser = argparse.ArgumentParser()
    parser.add_argument("--devices", type=int, nargs="*", default=[5, 20, 50])
    parser.add_argument("--seconds", type=int, default=20)
    parser.add_argument("--inside", action="store_true")
    asked = parser.parse_args()
    app = QApplication([])
    _ = Gathering(app)
    with tempfile.TemporaryDirectory() as folder:
        measure(app, Path(folder) / "none.partsbench", 0, asked.seconds)
        for count in asked.devices:
            measure(app, Path(folder) / f"{count}.partsbench", count, asked.seconds)
        if asked.inside:
            most = max(asked.devices)
            measure(app, Path(folder) / "inside.partsbench", most, asked.seconds, inside=True)


def measure(
    app: QApplication, book: Path, count: int, seconds: int, *, inside: bool = False
) -> None:
    shop = open_shop(book)
    assert isinstance(shop, Shop)
    drawers = [f"D{n}" for n in range(1, 8)]
    pieces = [made(lay_out(shop, f"Job {n}", "2 2 3", paths=[("paint", drawers)]))
              for n in range(12)]  # fmt: skip
    labels = [code(piece, drawer) for piece in pieces for drawer in drawers]
    secrets = [_paired(shop, number) for number in range(count)]
    window = MainWindow(shop, Settings(book.with_suffix(".ini")))
    window.resize(1280, 720)
    window.show()
    window.show_page("bench", pieces[0].tag)
    window.take_code(labels[0])
    context = multiprocessing.get_context("spawn")
    switch, hub, port = switch_of(shop, window), Hub(book, "127.0.0.1", 0), 0
    if inside:
        assert hub.start() is None
        port = hub.port
    elif count:
        assert isinstance(switch.turn_on("127.0.0.1", 0), Done)
        assert switch.hub is not None
        port = int(switch.hub.url.rstrip("/").rpartition(":")[2])
    out = context.Queue()
    child = context.Process(target=phones, args=(port, secrets, labels, seconds, out))
    child.start()
    QTest.qWait(WARM_MS)
    frames = Frames(window)
    painted_until(app, out, frames, seconds)
    answers, empty, recorded = out.get()
    child.join()
    kept = shop.book.row("SELECT count(*) AS n FROM device_act")
    window.close()
    hub.stop()
    shop.close()
    where = "in the window's process" if inside else "in a process of its own"
    late, paints = frames.late, frames.paints
    print(f"{count} devices, hub {where}:" if count else "no hub:")
    if count:
        print(f"  {len(answers) / seconds:.0f} scans a second: {told(answers)}")
        in_book = kept["n"] if kept else 0
        print(f"  an empty question {told(empty)}; {recorded} recorded, {in_book} in the book")
    print(f"  a frame late by {told(late)}; {sum(t > FRAME for t in late)} of {len(late)} by more "
          f"than a frame; a paint takes {told(paints)}", flush=True)  # fmt: skip


def _paired(shop: Shop, number: int) -> str:
    paired = devices.pair(shop, f"phone {number}", f"Person {number}")
    assert isinstance(paired, devices.Paired)
    return paired.secret


class Frames(QObject):
    """Paints the page 60 times a second, and notes how late and how long."""

    def __init__(self, window: MainWindow) -> None:
        super().__init__(window)
        self._page: QWidget = window.answer_bar
        self.late: Times = []
        self.paints: Times = []
        self._due = time.perf_counter() + FRAME
        self._timer = QTimer(self)
        self._timer.setTimerType(Qt.TimerType.PreciseTimer)
        self._timer.setSingleShot(True)
        self._timer.timeout.connect(self.on_due)
        self._timer.start(round(FRAME * 1000))

    def on_due(self) -> None:
        start = time.perf_counter()
        self.late.append(max(0.0, start - self._due))
        self._page.repaint()
        now = time.perf_counter()
        self.paints.append(now - start)
        # A frame that was missed is not painted later.
        self._due += FRAME * (1 + max(0, int((now - self._due) / FRAME)))
        self._timer.start(max(0, round((self._due - time.perf_counter()) * 1000)))


def painted_until(app: QApplication, out: object, frames: Frames, seconds: int) -> None:
    """The window at work until the phones are done."""
    wait = QTimer()
    wait.setInterval(200)
    wait.timeout.connect(lambda: app.exit() if not out.empty() else None)  # type: ignore[attr-defined]
    wait.start()
    app.exec()
    assert len(frames.late) > 10 * seconds


def told(times: Times) -> str:
    ordered = sorted(times)
    median, high = ordered[len(ordered) // 2], ordered[int(len(ordered) * 0.99)]
    return f"median {median * 1e3:.1f} ms, p99 {high * 1e3:.0f} ms, most {ordered[-1] * 1e3:.0f} ms"


def phones(port: int, secrets: list[str], labels: list[str], seconds: int, out: object) -> None:
    """All devices, each in a thread, spread over the second."""
    answers: Times = []
    empty: Times = []
    recorded: list[int] = []
    if not secrets:
        time.sleep(seconds)
    threads = [
        threading.Thread(target=one, args=(port, secret, labels, seconds, n / len(secrets),
                                           answers, empty, recorded))
        for n, secret in enumerate(secrets)
    ]  # fmt: skip
    for each in threads:
        each.start()
    for each in threads:
        each.join()
    out.put((answers, empty, sum(recorded)))  # type: ignore[attr-defined]


def one(port: int, secret: str, labels: list[str], seconds: int, offset: float,
        answers: Times, empty: Times, recorded: list[int]) -> None:  # fmt: skip
    context = ssl.create_default_context()
    context.check_hostname, context.verify_mode = False, ssl.CERT_NONE
    line = http.client.HTTPSConnection("127.0.0.1", port, context=context, timeout=30)
    origin = f"https://127.0.0.1:{port}"
    head = {"cookie": f"{COOKIE}={secret}", "origin": origin, "content-type": "application/json"}
    line.request("GET", "/icon.svg")
    line.getresponse().read()
    began, seen = time.perf_counter() + offset, 0
    for number in range(1, seconds + 1):
        time.sleep(max(0.0, began + number - time.perf_counter()))
        label = labels[(number // 3 + int(offset * 1009)) % len(labels)]
        act = {"number": number, "mark": uuid.uuid4().hex, "doing": "scan", "text": label,
               "typed": True, "seen": seen}  # fmt: skip
        start = time.perf_counter()
        line.request("POST", "/api/act", json.dumps(act), head)
        reply = json.loads(line.getresponse().read())
        answers.append(time.perf_counter() - start)
        seen = reply["seen"]
        recorded.append(any(o["recorded"] for o in reply["outcomes"]))
        start = time.perf_counter()
        line.request("GET", "/icon.svg")
        line.getresponse().read()
        empty.append(time.perf_counter() - start)
    line.close()


if __name__ == "__main__":
    main()
