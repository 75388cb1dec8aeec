from __future__ import annotations

from pathlib import Path

import pytest


@pytest.fixture
def book_path(tmp_path: Path) -> Path:
    """Where the book of `shop` lies, for a second window on it."""
    return tmp_path / "b.partsbench"
