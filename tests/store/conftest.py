from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest

from partsbench.store.book import Book, open_book

NOW = datetime(2026, 3, 14, 9, 30, tzinfo=UTC)


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "shop.partsbench"


@pytest.fixture
def book(path: Path) -> Iterator[Book]:
    opened = open_book(path)
    assert isinstance(opened, Book)
    yield opened
    opened.close()
