"""The hub as those who attack small servers would try it."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from partsbench.core.piece.piece import Piece
from partsbench.hub.gate import HEADERS, LEAST_BYTES, MOST_BYTES
from partsbench.hub.routes import COOKIE, PAGE, Rooms
from partsbench.services.acts.history import history, undo
from partsbench.services.books.clients import set_client
from partsbench.services.heard import devices
from partsbench.services.shop import Shop
from tests.support.clock import SetClock
from tests.support.phone import HOST, ORIGIN, Phone
from tests.support.shops import code, lay_out, made

ASKED = ("/api/me", "/api/news", "/api/map", "/api/day", "/api/find", "/api/client")
SENT = ("/api/act", "/api/frame", "/api/picture")


@pytest.mark.parametrize("path", ASKED)
def test_nobody_but_a_paired_device_is_answered(client: TestClient, path: str) -> None:
    assert client.get(path).status_code == 401
    assert client.get(path, headers={"cookie": f"{COOKIE}=guess"}).status_code == 401


def test_nobody_but_a_paired_device_may_send(client: TestClient) -> None:
    for path in SENT:
        kind = "application/json" if path == "/api/act" else "image/jpeg"
        said = client.post(path, content=b"{}", headers={**ORIGIN, "content-type": kind})
        assert said.status_code == 401, path


@pytest.mark.parametrize("host", ["evil.example", "evil.example:8467", f"{HOST}.evil.example",
                                  "192.168.7.5", "192.168.7.5:80", "", f"x@{HOST}"])  # fmt: skip
def test_another_name_that_leads_here_is_answered_by_nothing(phone: Phone, host: str) -> None:
    for path in ("/", "/api/me"):
        said = phone.client.get(path, headers={**phone.cookie, "host": host})
        assert said.status_code == 421
        assert "partsbench" not in said.text


@pytest.mark.parametrize("others", [("evil.example",), (HOST,)])
def test_two_names_at_once_are_none(client: TestClient, others: tuple[str, ...]) -> None:
    heads = [("host", HOST), *(("host", other) for other in others)]
    app = client.app
    said = TestClient(app, base_url=f"https://{HOST}").get("/", headers=heads)  # type: ignore[arg-type]
    assert said.status_code == 421


@pytest.mark.parametrize(
    "origin",
    [
        None,
        "null",
        "https://evil.example",
        f"http://{HOST}",
        f"https://{HOST}.evil.example",
        "https://192.168.7.5:1",
    ],
)
def test_nothing_is_changed_from_another_site(
    phone: Phone, piece: Piece, shop: Shop, origin: str | None
) -> None:
    phone.scan(code(piece, "D1"))
    before = shop.book.newest()
    headers = {**phone.cookie, **({"origin": origin} if origin else {})}
    act = {"number": 2, "mark": "m", "doing": "push", "push": "Enter"}
    assert phone.client.post("/api/act", json=act, headers=headers).status_code == 403
    assert shop.book.newest() == before


def test_a_form_of_another_site_cannot_send_what_is_taken(phone: Phone) -> None:
    for kind in ("text/plain", "application/x-www-form-urlencoded", "multipart/form-data"):
        said = phone.post("/api/act", content=b"{}", headers={"content-type": kind})
        assert said.status_code == 415


def test_what_another_site_asks_for_is_not_given(phone: Phone) -> None:
    for site in ("cross-site", "same-site", "none"):
        said = phone.client.get("/api/me", headers={**phone.cookie, "sec-fetch-site": site})
        assert said.status_code == 403


def test_only_get_and_post_are_known(phone: Phone) -> None:
    for method in ("PUT", "DELETE", "PATCH", "OPTIONS", "TRACE"):
        assert phone.client.request(method, "/api/me", headers=phone.cookie).status_code == 405


@pytest.mark.parametrize(
    "path",
    [
        "/../pyproject.toml",
        "/%2e%2e/routes.py",
        "/page/index.html",
        "/page.css/../routes.py",
        "/etc/passwd",
        "/..%2fhub.log",
    ],
)
def test_no_file_is_read_by_its_name(client: TestClient, path: str) -> None:
    assert client.get(path).status_code == 404


def test_every_answer_forbids_what_the_page_does_not_need(client: TestClient) -> None:
    for path in (*PAGE, "/api/me", "/nowhere"):
        said = client.get(path)
        for name, value in HEADERS:
            assert said.headers.get_list(name) == [value], path
    policy = dict(HEADERS)["content-security-policy"]
    assert "default-src 'none'" in policy
    assert "unsafe" not in policy
    assert "http" not in policy


def test_the_page_loads_nothing_from_elsewhere(client: TestClient) -> None:
    for path in PAGE:
        text = client.get(path).text.replace("http://www.w3.org/2000/svg", "")
        assert "http:" not in text, path
        assert "https:" not in text, path
        assert "innerHTML" not in text, path


def test_what_is_too_large_is_refused_before_it_is_read(phone: Phone) -> None:
    for path, most in {**MOST_BYTES, "/api/act": LEAST_BYTES}.items():
        kind = "application/json" if path == "/api/act" else "image/jpeg"
        said = phone.post(path, content=b"x" * (most + 1), headers={"content-type": kind})
        assert said.status_code == 413, path


def test_a_length_that_lies_is_cut_off(phone: Phone) -> None:
    def endless() -> object:
        yield from [b"x" * 1000] * 20

    head = {"content-type": "application/json", "content-length": "10"}
    said = phone.post("/api/act", content=endless(), headers=head)
    assert said.status_code == 413
    head = {"content-type": "application/json"}
    said = phone.post("/api/act", content=endless(), headers=head)
    assert said.status_code == 411


GOOD = {"mark": "m", "number": 1, "doing": "scan"}
BAD = (
    *({**GOOD, "number": n} for n in (0, -1, True, 1e300, 1.5, "1", None, 2**60)),
    *({**GOOD, "text": t} for t in (5, None, [], "\0", "\ud800", "x" * 201)),
    *({**GOOD, "mark": m} for m in ("", None, 5, "x" * 65)),
    *({**GOOD, "doing": d} for d in ("", "dance", 5, [])),
    *({**GOOD, "doing": "push", "push": p} for p in ("", "a time", [])),
    *({**GOOD, "doing": "turn", "mode": m} for m in ("", "a verb in force", {})),
    {**GOOD, "seen": -4},
    {**GOOD, "age_ms": -1},
)
NONSENSE = (b"", b"[]", b"{", b"[" * 9000, b"\xff\xfe", b"5", b'{"number": NaN}',
            *(json.dumps(each).encode() for each in BAD))  # fmt: skip


@pytest.mark.parametrize("body", NONSENSE)
def test_nonsense_is_refused_and_nothing_is_done(phone: Phone, shop: Shop, body: bytes) -> None:
    before = shop.book.newest()
    said = phone.post("/api/act", content=body, headers={"content-type": "application/json"})
    assert (said.status_code, said.json()["sentence"]) == (400, "That is no act of the bench.")
    assert shop.book.newest() == before


def test_a_codename_is_text_and_no_script(phone: Phone, shop: Shop) -> None:
    """It goes out as JSON only, and the page puts text into the page as text."""
    name = "<script>alert(1)</script>"
    quill = made(lay_out(shop, name, "2"))
    said = phone.scan(code(quill, "D1"))
    assert name in said["sentence"]
    me = phone.get("/api/me")
    assert me.headers["content-type"] == "application/json"
    assert me.headers["x-content-type-options"] == "nosniff"


def test_who_a_job_is_for_is_told_only_where_it_is_allowed(
    phone: Phone, piece: Piece, shop: Shop
) -> None:
    set_client(shop, piece.tag, name="Alder Quince", contact="1234", address="Mill Lane 9")
    asked = {"params": {"tag": piece.tag}}
    assert phone.get("/api/client", **asked).status_code == 403
    for path in ASKED:
        if path != "/api/client":
            text = phone.get(path, params={"tag": piece.tag, "asked": "D1"}).text
            assert "Quince" not in text, path
            assert "Mill Lane" not in text, path
    (device,) = devices.all_devices(shop)
    devices.show_clients(shop, device.id, True)
    assert phone.get("/api/client", **asked).json()["name"] == "Alder Quince"
    assert any("saw the client" in line for line in phone.rooms.log.newest)


# Pairing


def test_a_secret_is_given_once_and_kept_as_a_sum(phone: Phone, shop: Shop, tmp_path: Path) -> None:
    assert len(phone.secret) >= 43  # 256 bits in base 64
    shop.book.connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    for file in tmp_path.iterdir():
        assert phone.secret.encode() not in file.read_bytes(), file
    assert phone.secret not in "".join(phone.rooms.log.newest)


def test_the_cookie_stays_with_the_hub(client: TestClient, rooms: Rooms) -> None:
    phone = Phone(client, rooms)
    set_cookie = phone.pair("p", "Tarn").headers["set-cookie"].lower()
    for word in ("httponly", "secure", "samesite=strict", "path=/", "__host-"):
        assert word in set_cookie
    assert "domain" not in set_cookie


def test_a_code_serves_once_and_not_for_long(
    client: TestClient, rooms: Rooms, clock: SetClock
) -> None:
    phone = Phone(client, rooms)
    secret = phone.offer()
    assert phone.pair("one", "Tarn", secret).status_code == 200
    assert phone.pair("two", "Tarn", secret).status_code == 403
    late = phone.offer()
    clock.pass_time(minutes=11)
    assert phone.pair("three", "Tarn", late).status_code == 403
    assert phone.pair("four", "Tarn").status_code == 200


def test_tries_at_pairing_are_slowed(client: TestClient, rooms: Rooms, clock: SetClock) -> None:
    phone = Phone(client, rooms)
    said = [phone.pair("x", "y", "guess").status_code for _ in range(5)]
    assert said == [403, 403, 403, 429, 429]
    good = phone.offer()
    assert phone.pair("x", "y", good).status_code == 429
    clock.pass_time(seconds=2)
    assert phone.pair("x", "y", good).status_code == 200


def test_a_device_that_is_thrown_out_is_out_at_once_and_no_undo_lets_it_in(
    phone: Phone, shop: Shop
) -> None:
    (device,) = devices.all_devices(shop)
    devices.throw_out(shop, device.id)
    assert phone.get("/api/me").status_code == 401
    assert phone.send(doing="scan", text="D1").status_code == 401
    undo(shop)
    assert phone.get("/api/me").status_code == 401
    assert devices.all_devices(shop) == []
    assert history(shop, limit=5)[1].sentence == "the phone of Tarn was thrown out"


def test_names_of_devices_are_names(client: TestClient, rooms: Rooms) -> None:
    phone = Phone(client, rooms)
    secret = phone.offer()
    for name in ("", " ", "x" * 41, "a\nb"):
        said = phone.pair(name, "Tarn", secret)
        assert said.status_code == (200 if name == "a\nb" else 400), name
        if name == "a\nb":
            assert said.json()["name"] == "a b"


def test_the_log_says_who_did_what_in_one_line_each(phone: Phone, tmp_path: Path) -> None:
    phone.client.get("/", headers={"host": "evil\texample"})
    phone.client.get("/api/me", headers={"host": "evil.example"})
    lines = (tmp_path / "hub.log").read_text(encoding="utf-8").splitlines()
    assert any("paired as device 1 of Tarn" in line for line in lines)
    assert any("turned away" in line for line in lines)
    assert (tmp_path / "hub.log").stat().st_mode & 0o077 == 0
