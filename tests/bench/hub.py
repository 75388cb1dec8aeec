"""How many devices one hub serves: scans over loopback with TLS, each device a scan a second.

`python -m tests.bench.hub [--devices 5 20 50] [--seconds 20]` prints the median, the 99th of a
hundred and the longest answer, in milliseconds, beside the answer to an empty question in the same
run, and how much later than meant a beat of 60 a second came in the hub's own process (where the
window is). The devices are in a process of their own.
"""

from __future__ import annotations

import argparse
import http.client
import json
import multiprocessing
import ssl
import tempfile
import threading
import time
import uuid
from pathlib import Path

from partsbench.hub.routes import COOKIE
from partsbench.hub.server import Hub
from partsbench.services.heard import devices
from partsbench.services.shop import Shop, open_shop
from tests.support.shops import code, lay_out, made

Times = list[float]


def main() -> None:
    parser = argparse.ArgumentParser()
    parser.add_argument("--devices", type=int, nargs="*", default=[5, 20, 50])
    parser.add_argument("--seconds", type=int, default=20)
    asked = parser.parse_args()
    for count in asked.devices:
        with tempfile.TemporaryDirectory() as folder:
            measure(Path(folder) / "b.partsbench", count, asked.seconds)


def measure(book: Path, count: int, seconds: int) -> None:
    shop = open_shop(book)
    assert isinstance(shop, Shop)
    drawers = [f"D{n}" for n in range(1, 8)]
    pieces = [made(lay_out(shop, f"Job {n}", "2 2 3", paths=[("paint", drawers)]))
              for n in range(12)]  # fmt: skip
    labels = [code(piece, drawer) for piece in pieces for drawer in drawers]
    hub = Hub(book, "127.0.0.1", 0)
    assert hub.start() is None
    secrets = []
    for number in range(count):
        paired = devices.pair(shop, f"phone {number}", f"Person {number}")
        assert isinstance(paired, devices.Paired)
        secrets.append(paired.secret)
    context = multiprocessing.get_context("spawn")
    out = context.Queue()
    child = context.Process(target=phones, args=(hub.port, secrets, labels, seconds, out))
    child.start()
    late = beats(seconds + 2)
    answers, empty, recorded = out.get(timeout=seconds + 60)
    child.join()
    made_entries = shop.book.row("SELECT count(*) AS n FROM device_act")
    hub.stop()
    shop.close()
    assert made_entries is not None
    print(f"{count} devices, {len(answers) / seconds:.0f} scans a second: {told(answers)}; "
          f"an empty question {told(empty)}; a beat of the window late by {told(late)}; "
          f"{recorded} recorded, {made_entries['n']} in the book")  # fmt: skip


def beats(seconds: float) -> Times:
    """How late each of 60 beats a second comes, in the process of the hub."""
    late, began = [], time.perf_counter()
    for number in range(int(seconds * 60)):
        due = began + number / 60
        time.sleep(max(0.0, due - time.perf_counter()))
        late.append(time.perf_counter() - due)
    return late


def told(times: Times) -> str:
    ordered = sorted(times)
    median, high = ordered[len(ordered) // 2], ordered[int(len(ordered) * 0.99)]
    return f"median {median * 1e3:.1f} ms, p99 {high * 1e3:.0f} ms, most {ordered[-1] * 1e3:.0f} ms"


def phones(port: int, secrets: list[str], labels: list[str], seconds: int, out: object) -> None:
    """All devices, each in a thread, spread over the second."""
    answers: Times = []
    empty: Times = []
    recorded: list[int] = []
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
