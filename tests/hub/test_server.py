"""The hub switched on for real: TLS over loopback, in its own thread beside the window's book."""

from __future__ import annotations

import http.client
import json
import socket
import ssl
import threading
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from partsbench.core.outcomes import Refused
from partsbench.core.piece.piece import Piece
from partsbench.hub import patience, server
from partsbench.hub.routes import COOKIE
from partsbench.hub.server import Hub
from partsbench.services.heard import devices
from partsbench.services.shop import Shop
from tests.support.at_bench import record
from tests.support.clock import SetClock
from tests.support.shops import code, heron


@pytest.fixture
def piece(shop: Shop) -> Piece:
    return heron(shop)


@pytest.fixture
def hub(shop: Shop, clock: SetClock, piece: Piece) -> Iterator[Hub]:
    made = Hub(shop.book.path, "127.0.0.1", 0)
    assert made.start() is None
    yield made
    made.stop()


def trusting(hub: Hub) -> ssl.SSLContext:
    """Takes this certificate and no other, as a phone after its owner looked at it."""
    context = ssl.create_default_context(cafile=str(hub.certificate.file))
    context.verify_flags &= ~ssl.VERIFY_X509_STRICT
    return context


def ask(hub: Hub, path: str, secret: str = "", body: dict[str, Any] | None = None) -> Any:
    line = http.client.HTTPSConnection("127.0.0.1", hub.port, context=trusting(hub), timeout=40)
    head = {"cookie": f"{COOKIE}={secret}", "origin": f"https://127.0.0.1:{hub.port}",
            "content-type": "application/json"}  # fmt: skip
    line.request("POST" if body else "GET", path, json.dumps(body) if body else None, head)
    said = line.getresponse()
    data = said.read()
    line.close()
    return said.status, json.loads(data) if said.headers["content-type"] == JSON else data.decode()


JSON = "application/json"


def paired(shop: Shop) -> str:
    made = devices.pair(shop, "phone", "Tarn")
    assert isinstance(made, devices.Paired)
    return made.secret


def test_it_answers_over_tls_under_its_own_certificate(hub: Hub) -> None:
    status, page = ask(hub, "/")
    assert (status, "partsbench" in page) == (200, True)
    assert ask(hub, "/api/me")[0] == 401
    with pytest.raises(ssl.SSLCertVerificationError):
        http.client.HTTPSConnection("127.0.0.1", hub.port, timeout=9).connect()


def test_a_phone_that_pairs_by_the_code_is_let_in(hub: Hub) -> None:
    secret = hub.offer().partition("#")[2]
    body = {"secret": secret, "name": "phone", "person": "Tarn"}
    assert ask(hub, "/api/pair", body=body) == (200, {"name": "phone", "person": "Tarn"})
    assert [d.person for d in hub.devices()] == ["Tarn"]
    hub.withdraw()


def test_a_code_that_was_withdrawn_serves_no_more(hub: Hub) -> None:
    secret = hub.offer().partition("#")[2]
    hub.withdraw()
    assert ask(hub, "/api/pair", body={"secret": secret, "name": "a", "person": "b"})[0] == 403


def test_the_window_and_the_phone_hear_of_each_other(hub: Hub, shop: Shop, piece: Piece) -> None:
    secret, heard = paired(shop), threading.Event()
    hub.recorded = heard.set
    newest = shop.book.newest()
    said: list[Any] = []
    waiting = threading.Thread(
        target=lambda: said.append(ask(hub, f"/api/news?after={newest}", secret))
    )
    waiting.start()
    assert record(shop, code(piece, "D1")).recorded  # at the window
    waiting.join(30)
    assert [e["who"] for e in said[0][1]["entries"]] == ["Wren"]
    for number in (1, 2, 3):
        act = {"number": number, "mark": str(number), "doing": "scan", "typed": True,
               "text": code(piece, "D3"), "seen": shop.book.newest()}  # fmt: skip
        reply = ask(hub, "/api/act", secret, act)[1]
        if reply["outcomes"][0]["recorded"]:
            break
    assert heard.wait(10)
    assert shop.book.newest() == reply["seen"]


def test_who_waits_for_news_is_told_that_it_is_out(hub: Hub, shop: Shop) -> None:
    secret = paired(shop)
    said: list[Any] = []
    newest = shop.book.newest()
    waiting = threading.Thread(
        target=lambda: said.append(ask(hub, f"/api/news?after={newest}", secret))
    )
    waiting.start()
    hub.throw_out(hub.devices()[0].id)
    waiting.join(30)
    assert said[0][0] == 401


def test_off_is_off_and_on_again_is_the_same_place(hub: Hub) -> None:
    port, hexed = hub.port, hub.certificate.hexed
    hub.stop()
    assert not hub.is_on
    with pytest.raises(ConnectionRefusedError):
        socket.create_connection(("127.0.0.1", port), 5)
    again = Hub(hub.book, "127.0.0.1", port)
    assert again.start() is None
    assert again.certificate.hexed == hexed
    again.stop()


def test_what_hinders_it_is_told(hub: Hub, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    taken = Hub(hub.book, "127.0.0.1", hub.port).start()
    assert isinstance(taken, Refused)
    assert f"cannot listen at 127.0.0.1, port {hub.port}" in taken.sentence
    outside = Hub(hub.book, "8.8.8.8", 0).start()
    assert isinstance(outside, Refused)
    assert "no address of a private network" in outside.sentence
    text = tmp_path / "text"
    text.write_text("no book at all, only words", encoding="utf-8")
    assert isinstance(Hub(text, "127.0.0.1", 0).start(), Refused)
    monkeypatch.setattr(server, "NEEDED", ("starlette", "a_part_that_nobody_has"))
    assert Hub(hub.book, "127.0.0.1", 0).start() == server.MISSING


def test_who_only_holds_the_line_is_hung_up_on(hub: Hub, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(patience, "FIRST_WORD", 0.2)
    plain = socket.create_connection(("127.0.0.1", hub.port), 10)
    with trusting(hub).wrap_socket(plain, server_hostname="127.0.0.1") as line:
        line.sendall(b"GET / HTTP/1.1\r\nHost: ")
        line.settimeout(20)
        assert line.recv(10) == b""
