from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from partsbench.services.shop import Shop
from tests.support.shops import SetClock, shop_at


@pytest.fixture
def clock() -> SetClock:
    return SetClock()


@pytest.fixture
def book_path(tmp_path: Path) -> Path:
    return tmp_path / "shop.partsbench"


@pytest.fixture
def shop(book_path: Path, clock: SetClock) -> Iterator[Shop]:
    shop = shop_at(book_path, clock)
    yield shop
    shop.close()
