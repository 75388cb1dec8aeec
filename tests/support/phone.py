"""A phone that speaks to the hub as the page does: its acts numbered, each sent until answered."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any
from uuid import uuid4

from starlette.testclient import TestClient

from partsbench.hub.routes import COOKIE, Rooms

HOST = "192.168.7.5:8467"
ORIGIN = {"origin": f"https://{HOST}"}


@dataclass
class Phone:
    """One device; `secret` is its cookie."""

    client: TestClient
    rooms: Rooms
    secret: str = ""
    number: int = 0
    seen: int = 0

    def offer(self) -> str:
        """The secret behind the # of the QR code on the screen."""
        return self.rooms.offers.make(self.rooms.monotonic()).partition("#")[2]

    def pair(self, name: str, person: str, secret: str | None = None) -> Any:
        words = {"secret": self.offer() if secret is None else secret, "name": name,
                 "person": person}  # fmt: skip
        said = self.client.post("/api/pair", json=words, headers=ORIGIN)
        self.secret = said.cookies.get(COOKIE, "")
        self.client.cookies.clear()
        return said

    @property
    def cookie(self) -> dict[str, str]:
        return {"cookie": f"{COOKIE}={self.secret}"}

    def get(self, path: str, **more: Any) -> Any:
        return self.client.get(path, headers=self.cookie, **more)

    def post(self, path: str, **more: Any) -> Any:
        headers = {**ORIGIN, **self.cookie, **more.pop("headers", {})}
        return self.client.post(path, headers=headers, **more)

    def send(self, **act: Any) -> Any:
        """One act with the next number, or with the number given."""
        number = act.pop("number", self.number + 1)
        act.setdefault("seen", self.seen)
        act.setdefault("mark", uuid4().hex)
        return self.post("/api/act", json={"number": number, **act})

    def act(self, **act: Any) -> dict[str, Any]:
        """One act that has to be taken; its reply."""
        said = self.send(**act)
        assert said.status_code == 200, said.text
        reply: dict[str, Any] = said.json()
        self.number, self.seen = reply["number"], reply["seen"]
        return reply

    def scan(self, text: str, **more: Any) -> dict[str, Any]:
        """A scan, and the last that it is answered with."""
        said = self.act(doing="scan", text=text, **more)["outcomes"]
        return dict(said[-1]) if said else {}

    def push(self, push: str, text: str = "", **more: Any) -> dict[str, Any]:
        said = self.act(doing="push", push=push, text=text, **more)["outcomes"]
        return dict(said[-1]) if said else {}

    def twice(self, text: str) -> dict[str, Any]:
        """A scan, and a second where the first asks what has to be so."""
        said = self.scan(text, typed=True)
        return self.scan(text, typed=True) if said["checks"] and not said["recorded"] else said
