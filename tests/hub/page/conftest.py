"""A hub on loopback with the machine's own clock, and a real browser."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from partsbench.core.piece.piece import Piece
from partsbench.hub.server import Hub
from partsbench.services.shop import Shop, open_shop
from tests.support.chromium import Chromium
from tests.support.phone_film import film
from tests.support.phone_page import pin_of
from tests.support.shops import code, heron


@pytest.fixture
def shop(tmp_path: Path) -> Iterator[Shop]:
    """With the machine's own clock: the browser has that too."""
    opened = open_shop(tmp_path / "b.partsbench", who="Wren")
    assert isinstance(opened, Shop)
    yield opened
    opened.close()


@pytest.fixture
def piece(shop: Shop) -> Piece:
    return heron(shop)


@pytest.fixture
def hub(shop: Shop, piece: Piece) -> Iterator[Hub]:
    made = Hub(shop.book.path, "127.0.0.1", 0)
    assert made.start() is None
    yield made
    made.stop()


@pytest.fixture
def browser(hub: Hub, tmp_path: Path) -> Iterator[Chromium]:
    made = Chromium(tmp_path, key_pins=pin_of(hub))
    yield made
    made.close()


@pytest.fixture
def with_camera(hub: Hub, piece: Piece, tmp_path: Path) -> Iterator[Chromium]:
    """Its camera plays a film: an empty bench, D1 held before it, empty again, and so on."""
    scenes = [("", 0.5), (code(piece, "D1"), 2), ("", 1.5)]
    made = Chromium(tmp_path, key_pins=pin_of(hub), film=film(tmp_path / "film.mjpeg", scenes))
    yield made
    made.close()
