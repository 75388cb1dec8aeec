"""The gate before everything: who may ask at all, how much they may send, what a browser may do.

Host names are checked (another name that leads here, as in DNS rebinding, is answered by nothing),
and what changes something is taken from our own page only.
"""

from __future__ import annotations

import asyncio
import contextlib
from collections.abc import Collection
from typing import TYPE_CHECKING

from starlette.requests import ClientDisconnect

from partsbench.hub.log import HubLog
from partsbench.hub.network import is_near

if TYPE_CHECKING:
    from starlette.types import ASGIApp, Message, Receive, Scope, Send

MOST_BYTES = {"/api/frame": 1_500_000, "/api/picture": 12_000_000}
"""What may be sent to each address; elsewhere `LEAST_BYTES`."""
LEAST_BYTES = 16_000
LONGEST_BODY = 20.0
"""Seconds in which all that is sent has to be here."""
TYPES = {"/api/frame": "image/jpeg", "/api/picture": "image/jpeg"}
JSON = "application/json"

HEADERS = (
    ("content-security-policy",
     "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob: data:; "
     "connect-src 'self'; media-src 'self' blob: mediastream:; base-uri 'none'; "
     "form-action 'none'; frame-ancestors 'none'; require-trusted-types-for 'script'; "
     "trusted-types partsbench"),
    ("x-content-type-options", "nosniff"),
    ("x-frame-options", "DENY"),
    ("referrer-policy", "no-referrer"),
    ("cross-origin-opener-policy", "same-origin"),
    ("cross-origin-resource-policy", "same-origin"),
    ("permissions-policy", "camera=(self), microphone=(), geolocation=(), screen-wake-lock=(self)"),
    ("cache-control", "no-store"),
)  # fmt: skip


_HEADERS = tuple((name.encode(), value.encode()) for name, value in HEADERS)


class Gate:
    """Lets pass what comes from our own page on the shop's network, with limits."""

    def __init__(self, app: ASGIApp, names: Collection[str], log: HubLog) -> None:
        self._app = app
        self._names = frozenset(names)
        self._log = log

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            if scope["type"] == "lifespan":
                await self._app(scope, receive, send)
            return
        head = {k.decode("latin-1"): v.decode("latin-1") for k, v in scope["headers"]}
        fault = self._fault(scope, head)
        if fault:
            address = scope["client"][0] if scope.get("client") else "?"
            self._log.say(address, "", f"turned away: {fault[1]}")
            await _refuse(send, *fault)
            return
        body = _Body(receive, MOST_BYTES.get(scope["path"], LEAST_BYTES))

        async def sending(message: Message) -> None:
            if body.fault:
                return
            if message["type"] == "http.response.start":
                message["headers"] = [*message.get("headers", ()), *_HEADERS]
            await send(message)

        with contextlib.suppress(ClientDisconnect):
            await self._app(scope, body.receive, sending)
        if body.fault:
            await _refuse(send, *body.fault)

    def _fault(self, scope: Scope, head: dict[str, str]) -> tuple[int, str] | None:
        """Status and sentence of a refusal; None for what may pass."""
        client, host, path = scope.get("client"), head.get("host", ""), scope["path"]
        hosts = [v for k, v in scope["headers"] if k == b"host"]
        if client and client[0] != "testclient" and not is_near(client[0]):
            return 403, "This answers within the shop only."
        if len(hosts) != 1 or host.lower() not in self._names:
            return 421, "This is no name of the hub."
        if head.get("sec-fetch-site", "same-origin") not in _own_sites(path):
            return 403, "Another site may not ask here."
        if scope["method"] == "GET":
            return None
        if scope["method"] != "POST":
            return 405, "Only GET and POST are known here."
        if head.get("origin", "") != f"https://{host}":
            return 403, "Only the hub's own page may change something."
        if head.get("content-type", "").partition(";")[0].strip() != TYPES.get(path, JSON):
            return 415, "That is not what is sent there."
        return _length_fault(head.get("content-length", ""), path)


def _own_sites(path: str) -> frozenset[str]:
    """`none` is somebody who typed the address or opened it from a QR code."""
    if path.startswith("/api/"):
        return frozenset({"same-origin"})
    return frozenset({"same-origin", "none", "cross-site", "same-site"})


def _length_fault(length: str, path: str) -> tuple[int, str] | None:
    if not (length.isascii() and length.isdecimal()):
        return 411, "Say first how much is sent."
    if len(length) > 9 or int(length) > MOST_BYTES.get(path, LEAST_BYTES):
        return 413, "That is too large."
    return None


class _Body:
    """What is received, up to so many bytes and within so long; more is as if nobody were there."""

    def __init__(self, receive: Receive, most: int) -> None:
        self._receive = receive
        self._left = most
        self._ends = asyncio.get_running_loop().time() + LONGEST_BODY
        self._is_whole = False
        self.fault: tuple[int, str] | None = None

    async def receive(self) -> Message:
        if self._is_whole:
            return await self._receive()
        try:
            async with asyncio.timeout_at(self._ends):
                message = await self._receive()
        except TimeoutError:
            return self._cut(408, "That took too long to arrive.")
        if message["type"] == "http.request":
            self._left -= len(message.get("body", b""))
            self._is_whole = not message.get("more_body", False)
        return self._cut(413, "That is too large.") if self._left < 0 else message

    def _cut(self, status: int, sentence: str) -> Message:
        self.fault = status, sentence
        return {"type": "http.disconnect"}


async def _refuse(send: Send, status: int, sentence: str) -> None:
    body = sentence.encode()
    headers = [(b"content-type", b"text/plain; charset=utf-8"),
               (b"content-length", str(len(body)).encode()),
               (b"connection", b"close"),
               *_HEADERS]  # fmt: skip
    await send({"type": "http.response.start", "status": status, "headers": headers})
    await send({"type": "http.response.body", "body": body})
