"""A hub on a real book, asked in this process as a phone asks it."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from partsbench.core.piece.piece import Piece
from partsbench.hub.clerk import Clerk
from partsbench.hub.log import HubLog
from partsbench.hub.offer import Offers
from partsbench.hub.routes import Rooms, make_app
from partsbench.services.shop import Shop
from tests.support.clock import SetClock
from tests.support.phone import HOST, Phone
from tests.support.shops import heron


class _Seconds:
    """A clock that counts seconds."""

    def __init__(self, clock: SetClock) -> None:
        self._clock = clock

    def __call__(self) -> float:
        return self._clock.now.timestamp()


@pytest.fixture
def piece(shop: Shop) -> Piece:
    return heron(shop)


@pytest.fixture
def rooms(shop: Shop, clock: SetClock, tmp_path: Path) -> Iterator[Rooms]:
    """The server's own opening of the book; `shop` is the window beside it."""
    clerk = Clerk(tmp_path / "b.partsbench", clock)
    assert clerk.open() is None
    log = HubLog(tmp_path / "hub.log", clock)
    made = Rooms(clerk, log, Offers(f"https://{HOST}/"), frozenset({HOST}))
    made.monotonic = _Seconds(clock)
    with closing(clerk):
        yield made
        made.eyes.close()


@pytest.fixture
def client(rooms: Rooms) -> Iterator[TestClient]:
    with TestClient(make_app(rooms), base_url=f"https://{HOST}", headers={"host": HOST}) as made:  # type: ignore[arg-type]
        yield made


@pytest.fixture
def phone(client: TestClient, rooms: Rooms, piece: Piece) -> Phone:
    """A paired phone, with Heron in the book."""
    made = Phone(client, rooms)
    assert made.pair("the phone", "Tarn").status_code == 200
    return made
